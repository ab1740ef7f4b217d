// Knead and roll: the clay body, how much of it, and the slab.
#include "bench/after_inputs.h"
#include "bench/cutting_view.h"

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

void parts_of_clay(Worktop const& top) {
    ClayAnswer const& clay = top.plan->clay;
    Card const card(top.ui);
    answer(top.ui, "Clay to knead", quantity_text(clay.knead_g.value, Quantity::mass, top.units()));
    std::string const range = range_text(clay.knead_g, Quantity::mass, top.units());
    if (!range.empty()) soft(top.ui, fmt::format("Between {}, by what is known of this clay.", range));
    double const whole = std::max(1.0, clay.knead_g.value);
    struct Part {
        char const* label;
        Figure const& figure;
    };
    for (Part const& part : {Part{"Slab", clay.slab_g}, Part{"Leaves", clay.leaves_g},
                             Part{"Features", clay.features_g}, Part{"Lugs", clay.lugs_g}, Part{"Slip", clay.slip_g},
                             Part{"Offcuts of leaves", clay.offcuts_g}, Part{"Spare", clay.spare_g}}) {
        if (part.figure.value <= 0) continue;
        part_bar(top.ui, part.label, quantity_text(part.figure.value, Quantity::mass, top.units()),
                 part.figure.value / whole);
    }
}

void body_choice(Worktop const& top) {
    std::vector<BodyEntry> const entries = body_entries();
    std::string const clay = top.piece.body.clay;
    std::string shown = clay;
    for (BodyEntry const& entry : entries)
        if (clay == "body:" + entry.name) shown = entry.label;
    ImGui::SetNextItemWidth(-FLT_MIN);
    if (!ImGui::BeginCombo("##body", shown.c_str(), ImGuiComboFlags_HeightLarge)) return;
    for (BodyEntry const& entry : entries) {
        if (!ImGui::Selectable(entry.label.c_str(), clay == "body:" + entry.name, 0, {0, 1.7F * top.ui.theme.em}))
            continue;
        auto body = body_of(entry.name);
        if (!body) continue;
        body->kneading_spare = top.piece.body.kneading_spare;
        top.intents.emplace_back(Commit{SetBody{*body}});
    }
    ImGui::EndCombo();
}

// A figure of the clay: where it comes from, and a slider for what the maker measured.
Touch body_figure(Worktop const& top, char const* label, Figure& figure, Quantity quantity, Limits range) {
    double value = figure.value;
    Touch const touch = value_row(top.ui, label, value, quantity, range);
    if (touch != Touch::none) figure = {value, value, value, FigureFrom::measured};
    std::string const spread = range_text(figure, quantity, top.units());
    soft(top.ui,
         spread.empty() ? std::string(from_text(figure.from)) : fmt::format("{}, {}", spread, from_text(figure.from)));
    return touch;
}

void body_figures(Worktop const& top) {
    BodySpec body = top.piece.body;
    soft(top.ui, "Type test tiles under Tiles, or move a slider to what you know; the range then closes.");
    Touch touch = body_figure(top, "Water, of the dry clay", body.water_dry_basis, Quantity::share, {0.1, 0.45});
    touch = touch | body_figure(top, "Shrinkage in drying", body.drying_shrinkage, Quantity::share, {0, 0.15});
    touch = touch | body_figure(top, "Shrinkage in firing", body.firing_shrinkage, Quantity::share, {0, 0.15});
    touch = touch | body_figure(top, "Loss in firing", body.loss_on_ignition, Quantity::share, {0, 0.2});
    touch = touch | body_figure(top, "Water taken up when fired", body.absorption, Quantity::share, {0, 0.25});
    send(top.intents, touch, SetBody{body});
    std::string name = body.clay;
    if (name.starts_with("body:")) name.erase(0, 5);
    if (!button(top.ui, "Back to the usual figures", ButtonLook::plain, -1)) return;
    auto usual = body_of(name);
    if (!usual) return;
    usual->kneading_spare = body.kneading_spare;
    top.intents.emplace_back(Commit{SetBody{*usual}});
}

} // namespace

namespace {

char const* offcuts_words(Worktop const& top) {
    bool const now = top.plan && top.plan->clay.offcuts_by == ClayAnswer::OffcutsBy::sheets;
    return now ? "Offcuts are those of your cutting sheets (at Roll)."
               : "Offcuts go by cutting sheets of an earlier arrangement: lay them out again at Roll.";
}

void clay_page(Worktop const& top) {
    if (top.plan) parts_of_clay(top);
    {
        Card const card(top.ui);
        heading(top.ui, "More to knead");
        BodySpec body = top.piece.body;
        send(top.intents, value_row(top.ui, "Spare", body.kneading_spare, Quantity::share, {0, 0.5}), SetBody{body});
        ExtraClaySpec extra = top.piece.extra;
        Touch touch = value_row(top.ui, "Slip for the joints", extra.slip_g_per_m2, Quantity::slip, {0, 3000},
                                "Of leaf area. Common practice, no source.");
        if (top.piece.cutting.nested_share > 0)
            soft(top.ui, offcuts_words(top));
        else
            touch = touch | value_row(top.ui, "Leaf sheet that becomes leaves", extra.cutting_density, Quantity::share,
                                      {0.2, 0.95},
                                      "The usual share, until you knead by cutting sheets (at Roll). The rest goes "
                                      "back into the bucket, but is kneaded too.");
        send(top.intents, touch, SetExtra{extra});
    }
    Card const card(top.ui);
    heading(top.ui, "The clay");
    body_choice(top);
    body_figures(top);
}

} // namespace

void knead_panel(Worktop const& top) {
    char const* const pages[] = {"Clay", "Tiles", "Size", "Cost"};
    int page = static_cast<int>(top.ui.after.page);
    segmented(top.ui, "page", pages, page, ImGui::GetContentRegionAvail().x);
    top.ui.after.page = static_cast<KneadPage>(page);
    switch (top.ui.after.page) {
    case KneadPage::clay:
        clay_page(top);
        break;
    case KneadPage::tiles:
        tiles_page(top);
        break;
    case KneadPage::size:
        size_page(top);
        break;
    case KneadPage::cost:
        cost_page(top);
        break;
    }
    if (top.ui.after.page == KneadPage::cost) return;
    remark(top.ui, MarkKind::caution, "Clay dust harms the lungs.",
           "Wipe and wash, do not sweep dry; wear a fitting mask when mixing dry clay.");
}

namespace {

void slab_cards(Worktop const& top) {
    SlabSpec slab = top.piece.slab;
    {
        Card const card(top.ui);
        heading(top.ui, "The slab");
        Touch touch = value_row(top.ui, "Thickness", slab.thickness_mm, Quantity::length, {3, 25},
                                "As thick as your rolling guides.");
        touch = touch | value_row(top.ui, "Trim allowance", slab.trim_allowance_mm, Quantity::length, {0, 60},
                                  "Left all round, trimmed off on the former.");
        touch =
            touch | value_row(top.ui, "Widest sheet you can roll", slab.sheet_width_mm, Quantity::length, {100, 1500});
        send(top.intents, touch, SetSlab{slab});
    }
    if (!top.plan || !top.plan->slab) return;
    SlabAnswer const& flat = *top.plan->slab;
    {
        Card const card(top.ui);
        heading(top.ui, "To cut from the flat");
        answer(top.ui, "Size", size_text(flat.bounds_mm.x, flat.bounds_mm.y, top.units()));
        answer(top.ui, "Area", quantity_text(flat.flat_mm2, Quantity::area, top.units()));
        answer(top.ui, "Weight", quantity_text(top.plan->clay.slab_g.value, Quantity::mass, top.units()),
               range_text(top.plan->clay.slab_g, Quantity::mass, top.units()));
        answer(top.ui, "Trimmed off later",
               fmt::format("{:.0f} %", 100 * flat.trimmed_mm3 / std::max(1.0, flat.volume_mm3)));
    }
    Card const card(top.ui);
    heading(top.ui, "Once it is laid");
    answer(top.ui, "Thinnest place", quantity_text(flat.thickness_mm.least, Quantity::length, top.units()));
    answer(top.ui, "On average", quantity_text(flat.thickness_mm.mean, Quantity::length, top.units()));
    answer(top.ui, "Thickest place", quantity_text(flat.thickness_mm.most, Quantity::length, top.units()));
    answer(top.ui, "Pushed together, may pucker", quantity_text(flat.pucker_mm2, Quantity::area, top.units()));
}

} // namespace

void roll_panel(Worktop const& top) {
    if (top.ui.look == Look::cutting) return cutting_cards(top), slab_cards(top);
    slab_cards(top);
    cutting_cards(top);
}

} // namespace leafwright
