#include "piece/json_writer.h"
#include "piece/leaf_file.h"
#include "piece/piece_json.h"

namespace leafwright {

namespace {

// What is empty in most pieces is left out.
class Writer : public JsonWriter<Writer> {
public:
    using JsonWriter::list;
    using JsonWriter::object;
    void object(std::string_view key, TileSet const& value) {
        if (value != TileSet{}) out.add(key, text_of(value));
    }
    void object(std::string_view key, FormerSpec const& value) {
        JsonText text = text_of(value);
        if (!scan.empty()) text.add("scan", scan.members().front().second);
        out.add(key, std::move(text));
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
};

} // namespace

std::string piece_to_json(Piece const& piece) {
    Writer writer;
    writer.head("piece");
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
    writer.head("leaf");
    fields(writer, leaf);
    return writer.out.str();
}

} // namespace leafwright
