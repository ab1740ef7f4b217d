// Writing JSON by the tables of fields.h, the other way of json_reader.h.
#pragma once

#include "piece/fields.h"
#include "piece/json_text.h"

namespace leafwright {

// Writes the tables of fields.h as JSON. Self derives from it, and may write some kinds of values in its own way or
// know more of them.
template <class Self> class JsonWriter {
public:
    JsonText out = JsonText::object();

    // What every file of ours begins with.
    void head(char const* word) {
        out.add("leafwright", JsonText::text(word));
        out.add("version", JsonText::whole(1));
    }

    void number(std::string_view key, double value, Range) { out.add(key, JsonText::number(value)); }
    void angle(std::string_view key, double value) { out.add(key, JsonText::number(value)); }
    void whole(std::string_view key, int value, Range, Need = Need::optional) { out.add(key, JsonText::whole(value)); }
    void seed(std::string_view key, std::uint64_t value) { out.add(key, JsonText::natural(value)); }
    void flag(std::string_view key, bool value) { out.add(key, JsonText::flag(value)); }
    void text(std::string_view key, std::string const& value, std::size_t, Need) {
        out.add(key, JsonText::text(value));
    }
    template <class Names> void choice(std::string_view key, std::string const& value, Names const&) {
        out.add(key, JsonText::text(value));
    }
    template <class Enum, class Words> void word(std::string_view key, Enum value, Words const& words, Need) {
        for (auto const& word : words)
            if (word.value == value) out.add(key, JsonText::text(word.name));
    }
    void words(std::string_view key, std::vector<std::string> const& list, std::size_t) {
        JsonText items = JsonText::list();
        for (std::string const& item : list) items.add(JsonText::text(item));
        out.add(key, std::move(items));
    }
    void numbers(std::string_view key, std::vector<double> const& list, Range, std::size_t) {
        if (list.empty()) return;
        if (list.size() == 1) return void(out.add(key, JsonText::number(list.front())));
        JsonText items = JsonText::list();
        for (double value : list) items.add(JsonText::number(value));
        out.add(key, std::move(items));
    }
    void points(std::string_view key, std::vector<Vec2> const& list, Range, std::size_t) {
        if (list.empty()) return;
        JsonText items = JsonText::list();
        for (Vec2 const& p : list)
            items.add(std::move(JsonText::list().add(JsonText::number(p.x)).add(JsonText::number(p.y))));
        out.add(key, std::move(items));
    }
    void figure(std::string_view key, Figure const& figure, Range) {
        bool const bare = figure.is_exact() && figure.from == FigureFrom::measured;
        out.add(key, bare ? JsonText::number(figure.value) : figure_text(figure));
    }
    template <class S> void object(std::string_view key, S const& value) { out.add(key, text_of(value)); }
    template <class S> void list(std::string_view key, std::vector<S> const& list, std::size_t) {
        JsonText items = JsonText::list();
        for (S const& item : list) items.add(text_of(item));
        out.add(key, std::move(items));
    }

protected:
    template <class S> static JsonText text_of(S const& value) {
        Self part;
        fields(part, value);
        return std::move(part.out);
    }
};

} // namespace leafwright
