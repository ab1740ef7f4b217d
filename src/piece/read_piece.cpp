#include "piece/json_reader.h"
#include "piece/json_text.h"
#include "piece/leaf_file.h"
#include "piece/piece_json.h"

#include <nlohmann/json.hpp>

#include <fmt/format.h>

namespace leafwright {

namespace {

using Json = nlohmann::json;

class Reader : public JsonReader<Reader> {
public:
    using JsonReader::JsonReader;
};

// Takes what is kept unread, for later versions, out of the file.
std::string take_kept(Json& root) {
    Json kept = Json::object();
    auto const former = root.find("former");
    if (former != root.end() && former->is_object()) {
        auto const scan = former->find("scan");
        if (scan != former->end()) {
            kept["former.scan"] = std::move(*scan);
            former->erase(scan);
        }
    }
    return kept.empty() ? "" : JsonText::parsed(kept.dump()).str();
}

// Figures that the file leaves out are those of the clay it names.
MaybeProblem start_body(Json const& root, BodySpec& body) {
    std::string clay = body.clay;
    auto const member = root.find("body");
    if (member != root.end() && member->is_object()) {
        auto const named = member->find("clay");
        if (named != member->end() && named->is_string()) clay = named->get<std::string>();
    }
    if (!clay.starts_with("body:"))
        return Problem{"body.unknown", "body.clay", fmt::format("is {}; a clay is named body:NAME", quoted_word(clay)),
                       ""};
    Outcome<BodySpec> named = body_of(std::string_view(clay).substr(5));
    if (!named) {
        Problem problem = named.problem();
        problem.where = "body.clay";
        problem.what = fmt::format("no clay body is called {}", quoted_word(clay));
        return problem;
    }
    body = *named;
    body.clay = clay;
    return {};
}

} // namespace

Outcome<Piece> piece_from_json(std::string_view text) {
    Outcome<Json> root = json_of_file(text, "piece");
    if (!root) return root.problem();

    Piece piece;
    piece.kept_json = take_kept(*root);
    if (MaybeProblem problem = start_body(*root, piece.body)) return *problem;
    Reader reader(*root, "a piece");
    reader.whole_of(piece);
    if (reader.problem) return *reader.problem;
    OutlineSpec& outline = piece.former.outline;
    if (outline.kind == OutlineKind::round) outline.height_mm = outline.width_mm;
    if (MaybeProblem problem = check_ranges(piece)) return *problem;
    for (OwnLeaf& leaf : piece.own_leaves) leaf = upright(std::move(leaf));
    if (MaybeProblem problem = check_piece(piece)) return *problem;
    return piece;
}

Outcome<OwnLeaf> own_leaf_from_json(std::string_view text) {
    Outcome<Json> root = json_of_file(text, "leaf");
    if (!root) return root.problem();
    OwnLeaf leaf;
    Reader reader(*root, "a leaf");
    reader.whole_of(leaf);
    if (reader.problem) return *reader.problem;
    if (MaybeProblem problem = check_ranges(leaf)) return *problem;
    leaf = upright(std::move(leaf));
    if (MaybeProblem problem = check_leaf_values(leaf)) return *problem;
    return leaf;
}

} // namespace leafwright
