#include "cutting/layout.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

TurnedShape const& turned_of(NestModel const& model, int piece, PiecePose const& pose, TurnedShape& scratch) {
    if (pose.number >= 0) return model.turned[static_cast<std::size_t>(pose.number)];
    int const shape = model.pieces[static_cast<std::size_t>(piece)].shape;
    return scratch = turned_shape(model.shapes[static_cast<std::size_t>(shape)], shape, pose.turn_deg, pose.mirrored);
}

int sheet_of(NestModel const& model, double x) {
    if (model.sheets.length_mm == 0) return 0;
    return static_cast<int>(std::floor(x / sheet_start(model, 1)));
}

NestResult result_of(NestModel const& model, Layout const& layout) {
    NestResult result;
    TurnedShape scratch;
    for (std::size_t k = 0; k < layout.poses.size(); ++k) {
        NestPiece const& piece = model.pieces[k];
        PiecePose const& pose = layout.poses[k];
        int const sheet = sheet_of(model, pose.at.x);
        if (pose.number == PiecePose::kUnplaced || (model.sheets.at_most > 0 && sheet >= model.sheets.at_most)) {
            result.unplaced.push_back({piece.shape, piece.copy, {}});
            continue;
        }
        TurnedShape const& t = turned_of(model, static_cast<int>(k), pose, scratch);
        Vec2 const at = pose.at - Vec2(sheet_start(model, sheet), 0);
        result.placements.push_back({piece.shape, piece.copy, {sheet, t.turn_deg, t.mirrored, at + t.origin}});
        if (result.used_mm.size() <= static_cast<std::size_t>(sheet))
            result.used_mm.resize(static_cast<std::size_t>(sheet) + 1, 0);
        double& used = result.used_mm[static_cast<std::size_t>(sheet)];
        used = std::max(used, at.x + t.box.high.x + model.edge_gap_mm);
        result.area_mm2 += model.shapes[static_cast<std::size_t>(piece.shape)].area_mm2;
    }
    for (double used : result.used_mm) result.length_mm += used;
    if (result.length_mm > 0) result.density = result.area_mm2 / (model.sheets.width_mm * result.length_mm);
    return result;
}

Layout layout_of(NestModel const& model, std::vector<NestPlacement> const& placements) {
    Layout layout{std::vector<PiecePose>(model.pieces.size())};
    for (std::size_t k = 0; k < model.pieces.size(); ++k) {
        NestPiece const& piece = model.pieces[k];
        auto const found = std::ranges::find_if(
            placements, [&](NestPlacement const& p) { return p.shape == piece.shape && p.copy == piece.copy; });
        if (found == placements.end()) continue;
        NestPose const& pose = found->pose;
        TurnedShape const t = turned_shape(model.shapes[static_cast<std::size_t>(piece.shape)], piece.shape,
                                           pose.turn_deg, pose.mirrored);
        layout.poses[k] = {PiecePose::kOwnTurn, pose.turn_deg, pose.mirrored,
                           pose.at_mm - t.origin + Vec2(sheet_start(model, pose.sheet), 0)};
    }
    return layout;
}

double row_length(NestModel const& model, Layout const& layout) {
    double end = 0;
    TurnedShape scratch;
    for (std::size_t k = 0; k < layout.poses.size(); ++k)
        end = std::max(end, layout.poses[k].at.x +
                                turned_of(model, static_cast<int>(k), layout.poses[k], scratch).box.high.x);
    return end + model.edge_gap_mm;
}

} // namespace leafwright
