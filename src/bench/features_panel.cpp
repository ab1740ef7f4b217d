// Features: mounds and openings that the rows frame.
#include "bench/panels.h"

#include <fmt/format.h>

namespace leafwright {
namespace {

struct FeatureChoice {
    FeatureKind kind;
    char const* label;
    double width_mm;
    double height_mm;
    double rise_mm;
};
constexpr FeatureChoice kFeatures[] = {
    {FeatureKind::boss, "Boss", 60, 60, 25},      {FeatureKind::ridge, "Ridge", 90, 25, 15},
    {FeatureKind::opening, "Opening", 90, 90, 8}, {FeatureKind::eye, "Eye", 40, 26, 12},
    {FeatureKind::nose, "Nose", 40, 70, 30},      {FeatureKind::mouth, "Mouth", 70, 24, 12},
    {FeatureKind::ear, "Ear", 40, 90, 20},        {FeatureKind::petal, "Petal", 40, 60, 12}};

void add_buttons(Worktop const& top) {
    Card const card(top.ui);
    heading(top.ui, "Add a feature");
    soft(top.ui, "It is set on the crown; drag it where it belongs.");
    float const em = top.ui.theme.em;
    float const gap = ImGui::GetStyle().ItemSpacing.x;
    float const width = (ImGui::GetContentRegionAvail().x - 3 * gap) / 4;
    int column = 0;
    for (FeatureChoice const& choice : kFeatures) {
        if (column++ % 4) ImGui::SameLine();
        auto const draw = [&](ImDrawList& list, ImVec2 low, ImVec2 high) {
            draw_feature_icon(list, choice.kind, low, high);
        };
        if (!picture_button(top.ui, choice.label, false, {width, 4.6F * em}, draw)) continue;
        Feature feature;
        feature.kind = choice.kind;
        feature.width_mm = choice.width_mm;
        feature.height_mm = choice.height_mm;
        feature.rise_mm = choice.rise_mm;
        top.intents.emplace_back(Commit{AddFeature{feature}});
        top.intents.emplace_back(PickUpFeature{static_cast<int>(top.piece.features.size())});
    }
}

void list(Worktop const& top) {
    if (top.piece.features.empty()) return;
    Card const card(top.ui);
    heading(top.ui, "On this piece");
    for (std::size_t i = 0; i < top.piece.features.size(); ++i) {
        Feature const& feature = top.piece.features[i];
        bool const chosen = top.ui.selected_feature == static_cast<int>(i);
        std::string const words = fmt::format("{}{}, {}##{}", chosen ? "✓ " : "", feature_label(feature.kind),
                                              size_text(feature.width_mm, feature.height_mm, top.units()), i);
        if (ImGui::Selectable(words.c_str(), chosen, 0, {0, 1.8F * top.ui.theme.em}))
            top.intents.emplace_back(PickUpFeature{static_cast<int>(i)});
        mark(top.ui, fmt::format("feature.{}", i));
    }
}

void card_of(Worktop const& top, int index) {
    Feature feature = top.piece.features[static_cast<std::size_t>(index)];
    bool const opening = feature.kind == FeatureKind::opening;
    Card const card(top.ui);
    heading(top.ui, feature_label(feature.kind));
    Touch touch = value_row(top.ui, "Width", feature.width_mm, Quantity::length, {5, 600});
    touch = touch | value_row(top.ui, "Height", feature.height_mm, Quantity::length, {5, 600});
    touch = touch |
            value_row(top.ui, opening ? "Lip" : "Rise", feature.rise_mm, Quantity::length, {0, 120}, "Above the slab.");
    touch = touch | value_row(top.ui, "Turned", feature.turn_deg, Quantity::angle, {-180, 180});
    touch = touch | value_row(top.ui, "From the crown", feature.from_crown_mm, Quantity::length, {0, 600},
                              "Along the surface.");
    touch = touch | value_row(top.ui, "Towards", feature.azimuth_deg, Quantity::angle, {0, 360},
                              "0° is right, 90° up, 180° left, 270° down.");
    send(top.intents, touch, SetFeature{index, feature});
    soft(top.ui, fmt::format("Clay of it: {:.0f} cm³.", feature_volume_mm3(feature) / 1000));
    if (button(top.ui, "Take it off", ButtonLook::plain, -1)) top.intents.emplace_back(DoAct{Act::remove});
}

} // namespace

char const* feature_label(FeatureKind kind) {
    for (FeatureChoice const& choice : kFeatures)
        if (choice.kind == kind) return choice.label;
    return "Feature";
}

void features_panel(Worktop const& top) {
    int const index = top.ui.selected_feature;
    if (!top.ui.selected.empty()) leaf_card(top);
    if (index >= 0 && index < static_cast<int>(top.piece.features.size())) card_of(top, index);
    list(top);
    add_buttons(top);
    if (top.plan && !top.plan->features.empty()) {
        Card const card(top.ui);
        answer(top.ui, "Clay of all features",
               quantity_text(top.plan->clay.features_g.value, Quantity::mass, top.units()),
               range_text(top.plan->clay.features_g, Quantity::mass, top.units()));
    }
    sentence("Hollow a feature from behind where it is thicker than the rest: thick places dry and fire last.");
}

} // namespace leafwright
