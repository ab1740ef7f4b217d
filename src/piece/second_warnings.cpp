#include "piece/second_warnings.h"

#include <fmt/format.h>

namespace leafwright {

namespace {

Warning warning(std::string code, std::string stage, std::string const& text, std::string const& hint) {
    return {std::move(code), std::move(stage), text + '.', hint + '.', false};
}

} // namespace

std::string firing_stage(std::size_t index) { return index == 0 ? "First firing" : "Last firing"; }

void warn_of_drying(DryingAnswer const& drying, std::vector<Warning>& out) {
    if (!drying.finished && drying.dry_g > 0)
        out.push_back(warning("drying.long", "Dry",
                              fmt::format("It is not dry after {:.0f} days", drying.moments.back().hour / 24),
                              "Take the cover off for some hours a day, or warm the room"));
    if (drying.crack.found == CrackClass::high)
        out.push_back(warning("drying.crack", "Dry",
                              fmt::format("The risk of cracks is high about day {:.0f} (not calibrated). {}",
                                          drying.crack.day, drying.crack.why),
                              drying.crack.help));
}

void warn_of_firing(FiringAnswer const& firing, std::size_t index, bool own_kiln, std::vector<Warning>& out) {
    if (firing.fit.place == KilnPlace::none)
        out.push_back({"kiln.small", firing_stage(index), firing.fit.words + '.',
                       own_kiln ? "Make the piece smaller, or find a larger kiln."
                                : "Tell the size of your kiln, or make the piece smaller.",
                       own_kiln});
    for (FiringFinding const& f : firing.findings) out.push_back(warning(f.code, firing_stage(index), f.text, f.hint));
}

void warn_of_finish(SecondHalf const& half, std::vector<Warning>& out) {
    if (!half.plan->piece.finish.outdoors || half.outdoors.fit == Outdoors::likely) return;
    out.push_back(
        warning("finish.frost", "Finish",
                fmt::format("Out of doors: {} (absorption group {} of ISO 13006)",
                            half.outdoors.fit == Outdoors::unlikely ? "too porous for frost" : "frost may harm it",
                            half.outdoors.group),
                "Test a tile of the same firing, fire the body until it is dense, or hang it indoors"));
}

void warn_of_hanging(HangingAnswer const& hanging, std::vector<Warning>& out) {
    for (HangingFinding const& f : hanging.findings) out.push_back(warning(f.code, "Hang", f.text, f.hint));
}

} // namespace leafwright
