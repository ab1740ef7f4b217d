// Reading JSON by the tables of fields.h, for all kinds of files of ours. The JSON library itself stays in
// json_reader.cpp.
#pragma once

#include "piece/fields.h"

#include <nlohmann/json_fwd.hpp>

namespace leafwright {

// Parses the text of a file that says "leafwright": `word`, and takes that and its version out. Problems: those of
// check_json(), "type", "not-a-WORD", "missing", "version".
Outcome<nlohmann::json> json_of_file(std::string_view text, std::string const& word);

// The members of one JSON object, and of the objects within it. A member that is missing leaves the value as it was;
// the first fault is kept in `problem`, and nothing is read after it.
class JsonFields {
public:
    using Json = nlohmann::json;
    MaybeProblem problem;

    void number(std::string_view key, double& value, Range);
    void angle(std::string_view key, double& value);
    void whole(std::string_view key, int& value, Range range, Need need = Need::optional);
    void seed(std::string_view key, std::uint64_t& value);
    void flag(std::string_view key, bool& value);
    void text(std::string_view key, std::string& value, std::size_t, Need need);
    void words(std::string_view key, std::vector<std::string>& value, std::size_t most);
    void numbers(std::string_view key, std::vector<double>& value, Range,
                 std::size_t most); // a bare one: a list of one
    void points(std::string_view key, std::vector<Vec2>& value, Range, std::size_t most);
    void figure(std::string_view key, Figure& value, Range range); // a bare number was measured and is exact

protected:
    // `file`: what the file is called in sentences, "a piece".
    JsonFields(Json const& json, char const* file) : json_(&json), file_(file) {}

    enum class Kind { number, text, flag, list, object };
    // Null when it is missing or of another kind; that is then told.
    Json const* of_kind(std::string_view key, Kind kind, char const* needed, Need need = Need::optional);
    Json const* list_of(std::string_view key, std::size_t most);
    static std::size_t size_of(Json const& list);
    static Json const& item(Json const& list, std::size_t index);
    static std::string item_key(std::string_view key, std::size_t index); // "pieces[2]"
    static std::string const& text_in(Json const& text);
    bool is_kind(std::string_view key, Json const& json, Kind kind, char const* needed); // else it is told
    bool is_known(std::string_view key, std::string const& read, std::vector<std::string_view> const& names);
    bool in_range(std::string_view key, double value, Range range);
    void fault(std::string code, std::string_view key, std::string what, std::string hint = "");
    // Whether the object holds any of the members asked for so far.
    bool holds_any() const;
    void refuse_unknown();

    // Work on the object of that key; unknown members of it are refused afterwards.
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

private:
    Json const* member(std::string_view key);
    void figure_members(Figure& value, Range range);

    Json const* json_;
    char const* file_;
    FieldPath path_;
    std::vector<std::string_view> known_;
    bool required_ = false;
};

// Walks the tables. Self derives from it, and may read some kinds of values in its own way or know more of them.
template <class Self> class JsonReader : public JsonFields {
public:
    JsonReader(Json const& json, char const* file) : JsonFields(json, file) {}

    template <class Names> void choice(std::string_view key, std::string& value, Names const& names) {
        Json const* const j = of_kind(key, Kind::text, "a text");
        if (j && is_known(key, text_in(*j), {names.begin(), names.end()})) value = text_in(*j);
    }
    template <class Enum, class Words> void word(std::string_view key, Enum& value, Words const& words, Need need) {
        Json const* const j = of_kind(key, Kind::text, "a text", need);
        if (!j) return;
        std::vector<std::string_view> names;
        names.reserve(std::size(words));
        for (auto const& word : words) names.push_back(word.name);
        if (!is_known(key, text_in(*j), names)) return;
        for (auto const& word : words)
            if (word.name == text_in(*j)) value = word.value;
    }
    template <class S> void object(std::string_view key, S& value) {
        Json const* const j = of_kind(key, Kind::object, "an object");
        if (j) inside(key, *j, [&] { fields(self(), value); });
    }
    template <class S> void list(std::string_view key, std::vector<S>& value, std::size_t most) {
        Json const* const j = list_of(key, most);
        if (!j) return;
        value.clear();
        for (std::size_t i = 0; i < size_of(*j) && !problem; ++i) {
            if (!is_kind(item_key(key, i), item(*j, i), Kind::object, "an object")) return;
            value.emplace_back();
            inside(item_key(key, i), item(*j, i), [&] { fields(self(), value.back()); });
        }
    }
    // The whole: call once, for the outermost object.
    template <class S> void whole_of(S& value) {
        fields(self(), value);
        refuse_unknown();
    }

private:
    Self& self() { return static_cast<Self&>(*this); }
};

} // namespace leafwright
