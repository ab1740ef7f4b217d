// Reading JSON by the tables of fields.h, for the .cpp files that read a kind of file alone: it brings in the JSON
// library.
#pragma once

#include "piece/fields.h"

#include <nlohmann/json.hpp>

#include <cmath>
#include <fmt/format.h>

namespace leafwright {

// "a list", "true": what stands where something else was needed.
std::string type_in_words(nlohmann::json const& value);

// Parses the text of a file that says "leafwright": `word`, and takes that and its version out. Problems: those of
// check_json(), "type", "not-a-WORD", "missing", "version".
Outcome<nlohmann::json> json_of_file(std::string_view text, std::string const& word);

// Walks the tables of fields.h over one JSON value and fills in what is there. Keys that are missing leave the value as
// it was. Self derives from it, and may read some kinds of values in its own way or know more of them.
template <class Self> class JsonReader {
public:
    using Json = nlohmann::json;
    // `file`: what the file is called in sentences, "a piece".
    JsonReader(Json const& json, char const* file) : json_(&json), file_(file) {}
    MaybeProblem problem;

    void number(std::string_view key, double& value, Range) {
        if (Json const* j = of_type(key, &Json::is_number, "a number")) value = j->get<double>();
    }
    void angle(std::string_view key, double& value) { number(key, value, kAngleRange); }
    void whole(std::string_view key, int& value, Range range, Need need = Need::optional) {
        Json const* j = of_type(key, &Json::is_number, "a whole number", need);
        if (!j) return;
        double const read = j->get<double>();
        if (read != std::floor(read)) return fault("type", key, "is " + in_words(read) + "; a whole number is needed");
        if (in_range(key, read, range)) value = static_cast<int>(read);
    }
    void seed(std::string_view key, std::uint64_t& value) {
        if (Json const* j = of_type(key, &Json::is_number, "a whole number")) {
            if (!j->is_number_unsigned())
                return fault("range", key,
                             "is " + j->dump() + "; the range is 0 to 18446744073709551615, whole numbers");
            value = j->get<std::uint64_t>();
        }
    }
    void flag(std::string_view key, bool& value) {
        if (Json const* j = of_type(key, &Json::is_boolean, "true or false")) value = j->get<bool>();
    }
    void text(std::string_view key, std::string& value, std::size_t, Need need) {
        if (Json const* j = of_type(key, &Json::is_string, "a text", need)) value = j->get<std::string>();
    }
    template <class Names> void choice(std::string_view key, std::string& value, Names const& names) {
        Json const* j = of_type(key, &Json::is_string, "a text");
        if (j && is_known(key, j->get_ref<std::string const&>(), {names.begin(), names.end()}))
            value = j->get<std::string>();
    }
    template <class Enum, class Words> void word(std::string_view key, Enum& value, Words const& words, Need need) {
        Json const* j = of_type(key, &Json::is_string, "a text", need);
        if (!j) return;
        std::vector<std::string_view> names;
        names.reserve(std::size(words));
        for (auto const& word : words) names.push_back(word.name);
        std::string const& read = j->get_ref<std::string const&>();
        if (!is_known(key, read, names)) return;
        for (auto const& word : words)
            if (word.name == read) value = word.value;
    }
    void words(std::string_view key, std::vector<std::string>& value, std::size_t most) {
        Json const* j = list_of(key, most);
        if (!j) return;
        value.clear();
        for (std::size_t i = 0; i < j->size() && !problem; ++i) {
            if ((*j)[i].is_string())
                value.push_back((*j)[i].get<std::string>());
            else
                wrong_type(item_key(key, i), (*j)[i], "a text");
        }
    }
    // A bare number is a list of one.
    void numbers(std::string_view key, std::vector<double>& value, Range, std::size_t most) {
        Json const* one = member(key);
        if (!one) return;
        if (one->is_number()) return void(value = {one->get<double>()});
        Json const* j = list_of(key, most);
        if (!j) return;
        value.clear();
        for (std::size_t i = 0; i < j->size() && !problem; ++i) {
            if ((*j)[i].is_number())
                value.push_back((*j)[i].get<double>());
            else
                wrong_type(item_key(key, i), (*j)[i], "a number");
        }
    }
    void points(std::string_view key, std::vector<Vec2>& value, Range, std::size_t most) {
        Json const* j = list_of(key, most);
        if (!j) return;
        value.clear();
        for (std::size_t i = 0; i < j->size() && !problem; ++i) {
            Json const& p = (*j)[i];
            bool const pair = p.is_array() && p.size() == 2 && p[0].is_number() && p[1].is_number();
            if (pair)
                value.emplace_back(p[0].get<double>(), p[1].get<double>());
            else
                wrong_type(item_key(key, i), p, "a list of two numbers [x, y]");
        }
    }
    // A bare number was measured by the maker and is taken as exact.
    void figure(std::string_view key, Figure& value, Range range) {
        Json const* j = member(key);
        if (!j) return;
        if (j->is_number()) {
            double const read = j->get<double>();
            value = {read, read, read, FigureFrom::measured};
            return;
        }
        if (!j->is_object()) return wrong_type(key, *j, "a number, or an object with value, low and high");
        inside(key, *j, [&] { figure_members(value, range); });
    }
    template <class S> void object(std::string_view key, S& value) {
        Json const* j = of_type(key, &Json::is_object, "an object");
        if (j) inside(key, *j, [&] { fields(self(), value); });
    }
    template <class S> void list(std::string_view key, std::vector<S>& value, std::size_t most) {
        Json const* j = list_of(key, most);
        if (!j) return;
        value.clear();
        for (std::size_t i = 0; i < j->size() && !problem; ++i) {
            if (!(*j)[i].is_object()) return wrong_type(item_key(key, i), (*j)[i], "an object");
            value.emplace_back();
            inside(item_key(key, i), (*j)[i], [&] { fields(self(), value.back()); });
        }
    }
    // The whole: call once, for the outermost object.
    template <class S> void whole_of(S& value) {
        fields(self(), value);
        refuse_unknown();
    }

protected:
    // The keys asked for so far, of the object that is being read.
    std::vector<std::string_view> const& known() const { return known_; }
    template <class Work> void inside(std::string_view key, Json const& json, Work work) {
        Json const* const outer = std::exchange(json_, &json);
        std::vector<std::string_view> outer_known = std::exchange(known_, {});
        std::size_t const was = path_.enter(key);
        work();
        refuse_unknown();
        path_.leave(was);
        json_ = outer;
        known_ = std::move(outer_known);
    }

    Json const* member(std::string_view key) {
        known_.push_back(key);
        if (problem) return nullptr;
        auto const found = json_->find(std::string(key));
        return found == json_->end() ? nullptr : &*found;
    }
    Json const* of_type(std::string_view key, bool (Json::*is)() const noexcept, char const* needed,
                        Need need = Need::optional) {
        Json const* j = member(key);
        if (!j && !problem && (need == Need::required || required_)) fault("missing", key, "is missing");
        if (!j) return nullptr;
        if ((j->*is)()) return j;
        wrong_type(key, *j, needed);
        return nullptr;
    }
    Json const* list_of(std::string_view key, std::size_t most) {
        Json const* j = of_type(key, &Json::is_array, "a list");
        if (!j || j->size() <= most) return j;
        fault("too-many", key,
              "holds " + std::to_string(j->size()) + " entries; at most " + std::to_string(most) + " are read");
        return nullptr;
    }
    bool in_range(std::string_view key, double value, Range range) {
        if (value >= range.low && value <= range.high) return true;
        fault("range", key,
              fmt::format("is {}; the range is {} to {}", in_words(value), in_words(range.low), in_words(range.high)));
        return false;
    }
    static std::string item_key(std::string_view key, std::size_t index) {
        return std::string(key) + '[' + std::to_string(index) + ']';
    }
    bool is_known(std::string_view key, std::string const& read, std::vector<std::string_view> const& names) {
        if (std::find(names.begin(), names.end(), read) != names.end()) return true;
        std::string const near = nearest_word(read, names);
        fault("word", key, fmt::format("is {}; known are {}", quoted_word(read), listed(names)),
              near.empty() ? "" : fmt::format("Did you mean \"{}\"", near));
        return false;
    }
    void wrong_type(std::string_view key, Json const& found, std::string const& needed) {
        fault("type", key, "is " + type_in_words(found) + "; " + needed + " is needed");
    }
    void fault(std::string code, std::string_view key, std::string what, std::string hint = "") {
        if (!problem) problem = Problem{std::move(code), path_.with(key), std::move(what), std::move(hint)};
    }

private:
    Self& self() { return static_cast<Self&>(*this); }
    void figure_members(Figure& value, Range range) {
        Figure read{0, 0, 0, FigureFrom::measured};
        required_ = true;
        number("value", read.value, range);
        required_ = false;
        read.low = read.high = read.value;
        number("low", read.low, range);
        number("high", read.high, range);
        static constexpr std::array kFrom = {Word<FigureFrom>{FigureFrom::computed, "computed"},
                                             Word<FigureFrom>{FigureFrom::measured, "measured"},
                                             Word<FigureFrom>{FigureFrom::by_default, "default"}};
        word("from", read.from, kFrom, Need::optional);
        value = read;
    }

    void refuse_unknown() {
        if (problem) return;
        for (auto const& [key, ignored] : json_->items()) {
            if (std::find(known_.begin(), known_.end(), key) != known_.end()) continue;
            std::string const near = nearest_word(key, known_);
            return fault("key.unknown", plain_word(key), std::string("is not a key of ") + file_,
                         near.empty() ? "Known here: " + listed(known_) : fmt::format("Did you mean \"{}\"", near));
        }
    }

    Json const* json_;
    char const* file_;
    FieldPath path_;
    std::vector<std::string_view> known_;
    bool required_ = false;
};

} // namespace leafwright
