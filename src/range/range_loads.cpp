// From planned pieces to what goes into the kiln, and the loads of every firing.
#include "range/range_parts.h"

#include <algorithm>
#include <fmt/format.h>

namespace leafwright {

namespace {

StageAnswer const& stage_before(Plan const& plan, std::size_t firing) {
    return plan.stages[static_cast<std::size_t>(firing == 0 ? Stage::bone_dry : Stage::first_firing)];
}

Ring scaled_ring(Ring ring, double factor) {
    for (Vec2& p : ring) p *= factor;
    return ring;
}

LoadPiece piece_for(RangeEntry const& entry, std::size_t firing) {
    LoadPiece piece;
    piece.name = entry.name;
    piece.copies = 0;
    piece.firing = static_cast<int>(firing);
    if (firing >= entry.second->firings.size()) return piece; // has no such firing
    StageAnswer const& stage = stage_before(*entry.plan, firing);
    FiringAnswer const& fired = entry.second->firings[firing];
    piece.copies = entry.copies;
    piece.outline_mm = scaled_ring(entry.silhouette_mm, stage.length_factor.value);
    piece.size = {stage.width_mm, stage.height_mm, stage.depth_mm, 0};
    piece.mass_g = stage.mass_g.value;
    piece.firing_name = fired.name;
    piece.top_degC = fired.top_degC;
    piece.hours_up = fired.hours_up;
    piece.hours_down = fired.hours_down;
    piece.kWh = fired.kWh;
    piece.ware_kWh = fired.ware_kWh;
    if (!fired.proposed) piece.own_segments = fired.segments;
    return piece;
}

std::vector<LoadPiece> pieces_for(RangePlan const& plan, std::size_t firing) {
    std::vector<LoadPiece> pieces;
    for (RangeEntry const& entry : plan.entries) pieces.push_back(piece_for(entry, firing));
    return pieces;
}

} // namespace

void plan_loads(RangePlan& plan) {
    std::size_t firings = 0;
    for (RangeEntry const& entry : plan.entries) firings = std::max(firings, entry.second->firings.size());
    // A piece too large is told once, at its first firing, when it is largest.
    std::vector<char> out(plan.entries.size(), 0);
    for (std::size_t f = 0; f < firings; ++f) {
        std::vector<LoadPiece> pieces = pieces_for(plan, f);
        for (std::size_t e = 0; e < pieces.size(); ++e)
            if (out[e]) pieces[e].copies = 0;
        LoadOptions options;
        options.seed = plan.spec.seed;
        RangeFiring firing{static_cast<int>(f), fill_kiln(plan.kiln, plan.spec.shelves, pieces, options)};
        for (KilnMisfit const& misfit : firing.answer.misfits) {
            char& seen = out[static_cast<std::size_t>(misfit.kind)];
            if (!seen)
                plan.warnings.push_back({"kiln.fit", pieces[static_cast<std::size_t>(misfit.kind)].name,
                                         misfit.why + '.', misfit.hint + '.', true});
            seen = 1;
        }
        plan.firings.push_back(std::move(firing));
    }
    for (RangeFiring const& firing : plan.firings)
        plan.loads.insert(plan.loads.end(), firing.answer.loads.begin(), firing.answer.loads.end());
}

} // namespace leafwright
