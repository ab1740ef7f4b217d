#include "cli/commands.h"
#include "piece/second_half.h"

#include <fmt/format.h>

namespace leafwright {

namespace {

std::string line(char const* name, std::string const& value) { return fmt::format("  {:<16}{}\n", name, value); }

std::string days(Figure const& f) {
    if (f.is_exact()) return fmt::format("{:.0f} days", f.value);
    return fmt::format("{:.0f} days ({:.0f} to {:.0f})", f.value, f.low, f.high);
}

std::string grams(Figure const& f) {
    if (f.is_exact()) return fmt::format("{:.0f} g", f.value);
    return fmt::format("{:.0f} g ({:.0f} to {:.0f})", f.value, f.low, f.high);
}

std::string firing_words(FiringAnswer const& f) {
    return fmt::format("{}: {:.0f} degC, {:.1f} h up, {:.0f} h down, {:.0f} kWh", f.name, f.top_degC, f.hours_up,
                       f.hours_down, f.kWh);
}

std::string hanging_words(HangingAnswer const& h) {
    std::string const lean =
        h.state.contact == Contact::flush ? "flush" : fmt::format("leans {:.1f} degrees", h.state.lean_deg);
    return fmt::format("{}; wire pull {:.0f} N, breaks at {:.1f} times that", lean, h.state.tension_N, h.factor);
}

std::string money(CostSpec const& spec, Figure const& f) {
    return fmt::format("{:.0f} ({:.0f} to {:.0f}){}{}", f.value, f.low, f.high, spec.currency.empty() ? "" : " ",
                       spec.currency);
}

} // namespace

std::string report_of(SecondHalf const& second) {
    DryingAnswer const& d = *second.drying;
    std::string text = "\n";
    text += line("Bone dry after", days(d.days_to_bone_dry));
    text += line("Former out", fmt::format("day {:.0f}", d.former_out_day));
    text += line("Crack risk", fmt::format("{} (not calibrated)", crack_class_name(d.crack.found)));
    for (FiringAnswer const& f : second.firings) text += line("Firing", firing_words(f));
    text += line("Finish", fmt::format("{} of {}", grams(second.finish.dry_g), finish_name(second.finish.kind)));
    text += line("Out of doors", second.outdoors.words);
    if (second.hanging) text += line("Hanging", hanging_words(*second.hanging));
    text += line("Hours of work", fmt::format("{:.0f}", second.cost.hours_total));
    text += line("Cost", money(second.plan->piece.cost, second.cost.total));
    if (!second.warnings.empty()) text += '\n';
    for (Warning const& warning : second.warnings)
        text += fmt::format("  {}: {} {}\n", warning.stage, warning.text, warning.hint);
    return text;
}

} // namespace leafwright
