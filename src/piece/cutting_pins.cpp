// Pieces that were put down by hand.
#include "piece/cutting_plan.h"
#include "piece/cutting_sizes.h"

#include <algorithm>

namespace leafwright {

namespace {

// The pinned pieces as a layout of their own.
NestResult lying(NestJob const& job) {
    NestResult result;
    for (std::size_t k = 0; k < job.shapes.size(); ++k) {
        NestPose const& pose = job.shapes[k].pinned.front();
        result.placements.push_back({static_cast<int>(k), 0, pose});
        auto const sheet = static_cast<std::size_t>(pose.sheet);
        if (result.used_mm.size() <= sheet) result.used_mm.resize(sheet + 1, 0);
        Polygon const outline = posed(job.shapes[k].outline, pose);
        result.used_mm[sheet] = std::max(result.used_mm[sheet], bounds(outline.outer).high.x + job.edge_gap_mm);
        result.area_mm2 += area(outline);
    }
    for (double const used : result.used_mm) result.length_mm += used;
    result.density = result.area_mm2 / (job.sheets.width_mm * std::max(1e-9, result.length_mm));
    return result;
}

} // namespace

CutPin pin_of(CuttingAnswer const& answer, CutSheet const& sheet, CutPlace const& place) {
    return {answer.item_of(place).name, sheet.in_group, place.pose.at_mm.x, place.pose.at_mm.y, place.pose.turn_deg};
}

std::optional<std::string> pin_fault(CuttingAnswer const& answer, CutSheet const& sheet, CutPin const& pin) {
    CuttingSpec const& spec = answer.plan->piece.cutting;
    std::vector<CutPin> pins = spec.pins;
    std::erase_if(pins, [&](CutPin const& old) { return old.cut == pin.cut; });
    pins.push_back(pin);
    NestJob job;
    job.sheets = {sheet.size_mm.y, spec.table_length_mm, 0};
    job.gap_mm = spec.gap_mm;
    job.edge_gap_mm = sheet.edge_mm;
    for (CutItem const& item : *answer.items) {
        if (item.thickness_mm != sheet.thickness_mm) continue;
        for (CutPin const& put : pins)
            if (put.cut == item.name) {
                NestShape shape;
                shape.name = item.name;
                shape.outline = nest_outline(item);
                shape.turn_play_deg = 180;
                shape.pinned = {{put.sheet - 1, put.turn_deg, false, {put.x_mm, put.y_mm}}};
                job.shapes.push_back(std::move(shape));
            }
    }
    std::vector<std::string> const faults = nest_faults(job, lying(job));
    if (faults.empty()) return {};
    return faults.front();
}

} // namespace leafwright
