// Pieces that were put down by hand.
#include "piece/cutting_plan.h"

namespace leafwright {

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
                shape.outline = item.outline_mm;
                shape.turn_play_deg = 180;
                shape.pinned = {{put.sheet - 1, put.turn_deg, false, {put.x_mm, put.y_mm}}};
                job.shapes.push_back(std::move(shape));
            }
    }
    Outcome<NestResult> const laid = first_nest(job);
    if (laid) return {};
    return laid.problem().sentence();
}

} // namespace leafwright
