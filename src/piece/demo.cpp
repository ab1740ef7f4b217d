#include "base/assets.h"
#include "piece/fields.h"
#include "piece/piece_json.h"

#include <cassert>

namespace leafwright {

namespace {

RowRule rule(int row, std::vector<std::string> kinds) {
    RowRule made;
    made.row = row;
    made.kinds = std::move(kinds);
    return made;
}

constexpr std::string_view kDemoFolder = "assets/demo/";
constexpr std::string_view kPieceEnding = ".piece.json";

} // namespace

Piece new_piece() {
    Piece piece;
    Outcome<BodySpec> body = body_of("stoneware");
    assert(body.ok());
    piece.body = *body;
    piece.leaf_kinds = {{"hornbeam", "drawer:hornbeam", 80, 5},
                        {"hazel", "drawer:hazel", 90, 5},
                        {"field-maple", "drawer:field-maple", 80, 5}};
    piece.rows.rules = {rule(1, {"hornbeam"}), rule(2, {"hazel", "field-maple"})};
    piece.firing = {{"first", 1000}, {"last", 1220}};
    return piece;
}

std::vector<std::string> demo_names() {
    std::vector<std::string> names;
    for (Asset const& asset : assets()) {
        if (!asset.path.starts_with(kDemoFolder) || !asset.path.ends_with(kPieceEnding)) continue;
        std::string_view name = asset.path.substr(kDemoFolder.size());
        names.emplace_back(name.substr(0, name.size() - kPieceEnding.size()));
    }
    return names;
}

Outcome<Piece> demo_piece(std::string_view name) {
    std::string_view const text = asset_text(std::string(kDemoFolder) + std::string(name) + std::string(kPieceEnding));
    if (text.data() != nullptr) return piece_from_json(text);
    std::string known;
    for (std::string const& demo : demo_names()) known += (known.empty() ? "" : ", ") + demo;
    return Problem{"demo.unknown", "", "there is no demo piece " + quoted_word(name), "There are: " + known};
}

} // namespace leafwright
