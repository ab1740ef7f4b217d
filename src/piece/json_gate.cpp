#include "piece/json_gate.h"

#include "piece/fields.h"

#include <nlohmann/json.hpp>

#include <set>

namespace leafwright {

namespace {

constexpr std::size_t kMostBytes = 64u << 20;
constexpr int kMostLevels = 64;

// "line 3, column 14" of the byte before `end`.
std::string place(std::string_view text, std::size_t end) {
    end = std::min(end, text.size());
    std::size_t line = 1;
    std::size_t column = 0;
    for (std::size_t i = 0; i < end; ++i) {
        bool const inside_character = (static_cast<unsigned char>(text[i]) & 0xC0) == 0x80;
        if (!inside_character) ++column;
        if (text[i] == '\n' && i + 1 < end) ++line, column = 0;
    }
    return "line " + std::to_string(line) + ", column " + std::to_string(std::max<std::size_t>(column, 1));
}

// Counted before parsing, so that a file of brackets costs nothing.
MaybeProblem check_depth(std::string_view text) {
    int level = 0;
    bool in_text = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        char const c = text[i];
        if (in_text) {
            if (c == '\\')
                ++i;
            else if (c == '"')
                in_text = false;
        } else if (c == '"')
            in_text = true;
        else if (c == ']' || c == '}')
            --level;
        else if ((c == '[' || c == '{') && ++level > kMostLevels)
            return Problem{"too-deep", place(text, i + 1),
                           "brackets are nested more than " + std::to_string(kMostLevels) + " deep",
                           "No file of this program is nested so deep; choose another file"};
    }
    return {};
}

// The end of what was read last, safe to print on one line.
std::string last_word(std::string const& token) {
    std::size_t const gap = token.find_last_of(" \t\r\n:,[{");
    std::string word = gap == std::string::npos || gap + 1 == token.size() ? token : token.substr(gap + 1);
    if (word.size() > 24) word = word.substr(word.size() - 24);
    for (char& c : word)
        if (static_cast<unsigned char>(c) < 32 || static_cast<unsigned char>(c) > 126) c = '?';
    return word;
}

class Gate : public nlohmann::json_sax<nlohmann::json> {
public:
    explicit Gate(std::string_view text) : text_(text) {}
    MaybeProblem problem;

    bool null() override { return value(); }
    bool boolean(bool) override { return value(); }
    bool number_integer(number_integer_t) override { return value(); }
    bool number_unsigned(number_unsigned_t) override { return value(); }
    bool number_float(number_float_t, string_t const&) override { return value(); }
    bool string(string_t&) override { return value(); }
    bool binary(binary_t&) override { return value(); }
    bool start_object(std::size_t) override { return open(false); }
    bool end_object() override { return close(); }
    bool start_array(std::size_t) override { return open(true); }
    bool end_array() override { return close(); }

    bool key(string_t& name) override {
        Level& level = levels_.back();
        level.key = name;
        if (level.seen.insert(name).second) return true;
        problem = Problem{"key.twice", path(), "is given twice", "Keep one of the two"};
        return false;
    }

    bool parse_error(std::size_t position, std::string const& token, nlohmann::json::exception const& fault) override {
        std::string const where = place(text_, position);
        if (fault.id == 406) {
            problem = Problem{"number", where, "the number " + last_word(token) + " is too large",
                              "Write a number that the range of its key allows"};
        } else if (position > text_.size() || token.empty() || token == "<end of input>") {
            problem = Problem{"syntax", where, "the text ends too early",
                              "A bracket or a quote is left open, or the file was cut short"};
        } else {
            problem = Problem{"syntax", where, "this is not JSON: \"" + last_word(token) + "\" can not stand here",
                              hint(last_word(token))};
        }
        return false;
    }

private:
    struct Level {
        bool list = false;
        std::size_t index = 0;
        std::string key;
        std::set<std::string> seen;
    };

    static std::string hint(std::string const& word) {
        bool const meant_as_number =
            word.ends_with('N') || word.ends_with('I') || word.ends_with("nan") || word.ends_with("in");
        if (meant_as_number) return "Numbers must be finite: NaN and Infinity are not JSON";
        return "Look for a missing or superfluous comma, quote or bracket at this place";
    }

    bool value() {
        if (!levels_.empty()) ++levels_.back().index;
        return true;
    }
    bool open(bool list) {
        levels_.push_back({list, 0, {}, {}});
        return true;
    }
    bool close() {
        levels_.pop_back();
        return value();
    }
    std::string path() const {
        FieldPath path;
        for (Level const& level : levels_) {
            if (level.list)
                path.enter(level.index);
            else
                path.enter(plain_word(level.key));
        }
        return path.text();
    }

    std::string_view text_;
    std::vector<Level> levels_;
};

} // namespace

MaybeProblem check_json(std::string_view text) {
    if (text.size() > kMostBytes)
        return Problem{"too-large", "", "the file is larger than 64 MB",
                       "No file of this program is so large; choose another file"};
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
        return Problem{"syntax", "", "the file is empty", "Choose another file"};
    if (MaybeProblem deep = check_depth(text)) return deep;
    Gate gate(text);
    if (!nlohmann::json::sax_parse(text, &gate)) {
        assert(gate.problem);
        return gate.problem;
    }
    return {};
}

} // namespace leafwright
