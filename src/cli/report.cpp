#include "cli/commands.h"
#include "piece/making_line.h"
#include "sheet/words.h"

#include <fmt/format.h>

namespace leafwright {

namespace {

std::string line(char const* name, std::string const& value) { return fmt::format("  {:<16}{}\n", name, value); }

std::string sides(UnitWords const& words, double a, double b) {
    std::string const second = words.length(b);
    std::string first = words.length(a);
    first.resize(first.find(' ')); // the unit stands once
    return fmt::format("{} x {}", first, second);
}

std::string thickness(UnitWords const& words, double mm) {
    return words.inches ? fmt::format("{:.2f} in", mm / 25.4) : fmt::format("{:g} mm", mm);
}

std::string leaves(LeavesAnswer const& answer) {
    if (answer.count == 0) return "none laid";
    return fmt::format("{} in {} row{}", answer.count, answer.rows, answer.rows == 1 ? "" : "s");
}

std::string bare(UnitWords const& words, double mm2) {
    if (mm2 <= 1) return "none";
    return mm2 < 100 && !words.inches ? fmt::format("{:.0f} mm²", mm2) : words.area(mm2);
}

// An empty text when the plan does not come so far.
std::string weight(UnitWords const& words, Plan const& plan, MakingStage stage) {
    StageAnswer const* const state = state_at(plan, stage);
    return state ? words.mass(state->mass_g) : "";
}

std::string size(UnitWords const& words, Plan const& plan, MakingStage stage) {
    StageAnswer const* const state = state_at(plan, stage);
    return state ? sides(words, state->width_mm, state->height_mm) + ", " + words.length(state->depth_mm) + " deep"
                 : "";
}

} // namespace

std::string report_of(Plan const& plan, bool inches) {
    UnitWords const words{inches};
    SlabAnswer const& slab = *plan.slab;
    std::string text = plan.piece.name + "\n\n";
    text += line("Clay to knead", words.mass(plan.clay.knead_g));
    text += line("Slab to roll", sides(words, slab.bounds_mm.x, slab.bounds_mm.y) + ", " +
                                     thickness(words, slab.thickness_mm.rolled) + " thick");
    text += line("Leaves", leaves(plan.leaves));
    text += line("Bare clay", bare(words, plan.leaves.overlap.bare_mm2));
    text += line("Wet weight", weight(words, plan, MakingStage::features));
    text += line("Wet size", size(words, plan, MakingStage::features));
    text += line("Wall weight", weight(words, plan, MakingStage::hang));
    text += line("Wall size", size(words, plan, MakingStage::hang));
    if (!plan.warnings.empty()) text += '\n';
    for (Warning const& warning : plan.warnings)
        text += fmt::format("  {}: {} {}\n", warning.stage, warning.text, warning.hint);
    return text;
}

} // namespace leafwright
