// How big to make it, and slip.
#include "bench/after_inputs.h"

#include <fmt/format.h>

namespace leafwright {
namespace {

FormerSpec scaled(FormerSpec former, double factor) {
    former.outline.width_mm *= factor;
    former.outline.height_mm *= factor;
    for (Vec2& p : former.outline.points_mm) p *= factor;
    former.profile.crown_mm *= factor;
    former.profile.tape_across_mm *= factor;
    former.profile.tape_along_mm *= factor;
    return former;
}

void size_card(Worktop const& top) {
    UiState& ui = top.ui;
    Card const card(ui);
    heading(ui, "Make it this big, so that it ends at that");
    if (!top.plan || top.plan->stages.empty()) return;
    StageAnswer const& wet = top.plan->stages.front();
    StageAnswer const& fired = top.plan->stages.back();
    double& wished = ui.after.finished_mm;
    if (wished <= 0) wished = fired.height_mm;
    value_row(ui, "Height on the wall", wished, Quantity::length, {100, 1000});
    figure_answer(top, "Height when wet", plastic_length_mm(wished, fired.length_factor), Quantity::length);
    answer(ui, "Now it is, wet", quantity_text(wet.height_mm, Quantity::length, top.units()),
           fmt::format("and ends at {}", quantity_text(fired.height_mm, Quantity::length, top.units())));
    double const factor = wet.height_mm > 0 ? wished / fired.length_factor.value / wet.height_mm : 1;
    bool const other = std::abs(factor - 1) > 0.002;
    if (button(
            ui, "Make the former so big", ButtonLook::strong, -1, other,
            "Width, height and crown of the former in the same proportion. Leaves keep their size: lay the rows anew "
            "afterwards."))
        top.intents.emplace_back(Commit{SetFormer{scaled(top.piece.former, factor)}});
    if (other)
        soft(ui, fmt::format("The former becomes {:.1f} % of what it is. Lay the rows anew afterwards.", 100 * factor));
}

void slip_card(Worktop const& top) {
    UiState& ui = top.ui;
    Card const card(ui);
    heading(ui, "Slip");
    if (top.plan) figure_answer(top, "For the joints of this piece", top.plan->clay.slip_g, Quantity::mass);
    value_row(ui, "To mix", ui.after.slip_litres, Quantity::litres, {0.1, 10});
    value_row(ui, "A litre is to weigh", ui.after.slip_g_per_litre, Quantity::litre_mass, {1100, 1850},
              "About 1700 g for scored joints, thinner for brushing. Common practice, no source.");
    BodySpec const& body = top.piece.body;
    Outcome<SlipMix> const mix = slip_mix(ui.after.slip_litres, ui.after.slip_g_per_litre,
                                          body.particle_density_g_cm3.value, body.water_dry_basis.value);
    if (!mix) {
        std::string const words = mix.problem().sentence();
        remark(ui, MarkKind::caution, words, "");
        return;
    }
    answer(ui, "Clay as you use it", quantity_text(mix->clay_g, Quantity::mass, top.units()), "torn small");
    answer(ui, "Water", quantity_text(mix->water_g, Quantity::mass, top.units()),
           "poured on, left a day, stirred and sieved");
    answer(ui, "Of it dry matter", quantity_text(mix->dry_g, Quantity::mass, top.units()), "by Brongniart's formula");
}

} // namespace

void size_page(Worktop const& top) {
    size_card(top);
    slip_card(top);
}

} // namespace leafwright
