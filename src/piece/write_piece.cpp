#include "piece/fields.h"
#include "piece/json_text.h"
#include "piece/leaf_file.h"
#include "piece/piece_json.h"

namespace leafwright {

namespace {

class Writer {
public:
    JsonText out = JsonText::object();

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
    void object(std::string_view key, TileSet const& value) {
        if (value != TileSet{}) out.add(key, text_of(value));
    }
    void object(std::string_view key, FormerSpec const& value) {
        JsonText text = text_of(value);
        if (!scan.empty()) text.add("scan", scan.members().front().second);
        out.add(key, std::move(text));
    }
    template <class S> void list(std::string_view key, std::vector<S> const& list, std::size_t) {
        JsonText items = JsonText::list();
        for (S const& item : list) items.add(text_of(item));
        out.add(key, std::move(items));
    }

    void list(std::string_view key, std::vector<OwnLeaf> const& leaves, std::size_t) {
        if (leaves.empty()) return;
        JsonText items = JsonText::list();
        for (OwnLeaf const& leaf : leaves) items.add(text_of(leaf));
        out.add(key, std::move(items));
    }
    void list(std::string_view key, std::vector<Ring> const& holes, std::size_t) {
        if (holes.empty()) return;
        JsonText items = JsonText::list();
        for (Ring const& hole : holes) items.add(text_of(hole));
        out.add(key, std::move(items));
    }

    JsonText scan = JsonText::list(); // the kept "former.scan", when there is one

private:
    template <class S> static JsonText text_of(S const& value) {
        Writer part;
        fields(part, value);
        return std::move(part.out);
    }
};

} // namespace

std::string piece_to_json(Piece const& piece) {
    Writer writer;
    writer.out.add("leafwright", JsonText::text("piece"));
    writer.out.add("version", JsonText::whole(1));
    JsonText const kept = piece.kept_json.empty() ? JsonText::object() : JsonText::parsed(piece.kept_json);
    for (auto const& [key, value] : kept.members())
        if (key == "former.scan") writer.scan.add(value);
    fields(writer, piece);
    for (auto const& [key, value] : kept.members())
        if (key != "former.scan") writer.out.add(key, value);
    return writer.out.str();
}

std::string own_leaf_to_json(OwnLeaf const& leaf) {
    Writer writer;
    writer.out.add("leafwright", JsonText::text("leaf"));
    writer.out.add("version", JsonText::whole(1));
    fields(writer, leaf);
    return writer.out.str();
}

} // namespace leafwright
