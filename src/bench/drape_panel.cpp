// Drape: the former, its plan outline and its profile.
#include "bench/slab_panel.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr std::size_t kPointsLeast = 4;
constexpr int kPointsAtFirst = 8;

struct OutlineChoice {
    OutlineKind kind;
    char const* label;
};
constexpr OutlineChoice kOutlines[] = {{OutlineKind::round, "Round"},
                                       {OutlineKind::oval, "Oval"},
                                       {OutlineKind::egg, "Egg"},
                                       {OutlineKind::rounded, "Rounded"},
                                       {OutlineKind::free, "Free"}};
struct ProfileChoice {
    ProfileKind kind;
    char const* label;
    char const* words;
};
constexpr ProfileChoice kProfiles[] = {{ProfileKind::dome, "Dome", "Upright at the rim, round on top."},
                                       {ProfileKind::saucer, "Saucer", "One shallow curve from rim to rim."},
                                       {ProfileKind::full, "Full", "Flat on top with rounded shoulders."},
                                       {ProfileKind::tape, "By tape", "Fitted to a tape laid over the crown."}};

template <class Choice, std::size_t N, class Kind, class Icon>
bool choose(Worktop const& top, Choice const (&choices)[N], std::size_t columns, Kind& kind, Icon const& icon) {
    float const em = top.ui.theme.em;
    float const gap = ImGui::GetStyle().ItemSpacing.x;
    float const width =
        (ImGui::GetContentRegionAvail().x - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    bool changed = false;
    for (std::size_t i = 0; i < N; ++i) {
        if (i % columns) ImGui::SameLine();
        auto const draw = [&](ImDrawList& list, ImVec2 low, ImVec2 high) { icon(list, choices[i].kind, low, high); };
        if (!picture_button(top.ui, choices[i].label, kind == choices[i].kind, {width, 5.4F * em}, draw)) continue;
        changed = kind != choices[i].kind;
        kind = choices[i].kind;
    }
    return changed;
}

// A free outline starts as what was there.
void start_free(OutlineSpec& spec, Plan const* plan) {
    if (spec.kind != OutlineKind::free || spec.points_mm.size() >= kPointsLeast) return;
    if (plan && plan->former) spec.points_mm = plan->former->outline().ring(kPointsAtFirst);
    if (spec.points_mm.size() >= kPointsLeast) return;
    for (int i = 0; i < kPointsAtFirst; ++i) {
        double const t = kTwoPi * i / kPointsAtFirst;
        spec.points_mm.emplace_back(spec.width_mm / 2 * std::cos(t), spec.height_mm / 2 * std::sin(t));
    }
}

// The plan drawing of a free outline, its points to be dragged.
Touch free_drawing(Worktop const& top, OutlineSpec& spec) {
    float const em = top.ui.theme.em;
    float const side = ImGui::GetContentRegionAvail().x;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    double reach = 50;
    for (Vec2 const& p : spec.points_mm) reach = std::max({reach, std::abs(p.x), std::abs(p.y)});
    double const scale = static_cast<double>(0.5F * side - 1.2F * em) / (std::ceil(reach / 100) * 100);
    auto const on_paper = [&](Vec2 const& p) {
        return ImVec2(at.x + 0.5F * side + static_cast<float>(p.x * scale),
                      at.y + 0.5F * side - static_cast<float>(p.y * scale));
    };
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled(at, {at.x + side, at.y + side}, paint::panel, 0.4F * em);
    draw.AddLine({at.x, at.y + 0.5F * side}, {at.x + side, at.y + 0.5F * side}, paint::border);
    draw.AddLine({at.x + 0.5F * side, at.y}, {at.x + 0.5F * side, at.y + side}, paint::border);
    OutlineSpec shown = spec;
    if (auto const outline = Outline::make(shown)) {
        std::vector<ImVec2> line;
        for (Vec2 const& p : outline->ring(120)) line.push_back(on_paper(p));
        draw.AddPolyline(line.data(), static_cast<int>(line.size()), paint::clay_dark, ImDrawFlags_Closed, 0.12F * em);
    }
    Touch touch = Touch::none;
    for (std::size_t i = 0; i < spec.points_mm.size(); ++i) {
        ImVec2 const dot = on_paper(spec.points_mm[i]);
        ImGui::SetCursorScreenPos({dot.x - 0.9F * em, dot.y - 0.9F * em});
        ImGui::PushID(static_cast<int>(i));
        ImGui::InvisibleButton("point", {1.8F * em, 1.8F * em});
        bool const lit = ImGui::IsItemHovered() || ImGui::IsItemActive();
        if (ImGui::IsItemActive() && ImGui::IsMouseDragging(0, 1)) {
            ImVec2 const mouse = ImGui::GetIO().MousePos;
            spec.points_mm[i] = {static_cast<double>(mouse.x - at.x - 0.5F * side) / scale,
                                 static_cast<double>(at.y + 0.5F * side - mouse.y) / scale};
            touch = touch | Touch::moving;
        }
        if (ImGui::IsItemDeactivated()) touch = Touch::done;
        draw.AddCircleFilled(dot, lit ? 0.6F * em : 0.45F * em, lit ? paint::leaf : paint::card);
        draw.AddCircle(dot, lit ? 0.6F * em : 0.45F * em, paint::leaf_dark, 0, 0.1F * em);
        ImGui::PopID();
    }
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy({side, side});
    return touch;
}

// The widest gap between two neighbours gets a point in its middle.
void add_point(std::vector<Vec2>& points) {
    std::size_t widest = 0;
    double most = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        double const gap = glm::distance(points[i], points[(i + 1) % points.size()]);
        if (gap > most) {
            most = gap;
            widest = i;
        }
    }
    Vec2 const middle = 0.5 * (points[widest] + points[(widest + 1) % points.size()]);
    points.insert(points.begin() + static_cast<std::ptrdiff_t>(widest) + 1, middle * 1.03);
}

Touch free_inputs(Worktop const& top, OutlineSpec& spec) {
    soft(top.ui, "Drag the points. Seen from the front, as it hangs.");
    Touch touch = free_drawing(top, spec);
    if (button(top.ui, "Add a point")) {
        add_point(spec.points_mm);
        touch = Touch::done;
    }
    ImGui::SameLine();
    if (button(top.ui, "Take one off", ButtonLook::plain, 0, spec.points_mm.size() > kPointsLeast)) {
        spec.points_mm.pop_back();
        touch = Touch::done;
    }
    return touch;
}

Touch outline_inputs(Worktop const& top, OutlineSpec& spec) {
    if (spec.kind == OutlineKind::free) return free_inputs(top, spec);
    bool const round = spec.kind == OutlineKind::round;
    Touch touch = value_row(top.ui, round ? "Across" : "Width", spec.width_mm, Quantity::length, {40, 1200});
    if (!round) touch = touch | value_row(top.ui, "Height", spec.height_mm, Quantity::length, {40, 1200});
    if (spec.kind == OutlineKind::egg)
        touch = touch | value_row(top.ui, "Above the widest line", spec.upper_share, Quantity::share, {0.2, 0.8});
    if (spec.kind == OutlineKind::rounded)
        touch = touch | value_row(top.ui, "Squareness", spec.squareness, Quantity::plain, {2, 8},
                                  "2 is an oval, 8 nearly square.");
    return touch;
}

// The first tape lengths are those of the profile that was there.
void start_tape(ProfileSpec& profile, Plan const* plan) {
    if (profile.kind != ProfileKind::tape || (profile.tape_across_mm > 0 && profile.tape_along_mm > 0) || !plan) return;
    profile.tape_across_mm = std::round(plan->former_measures.tape_across_mm);
    profile.tape_along_mm = std::round(plan->former_measures.tape_along_mm);
}

Touch profile_inputs(Worktop const& top, ProfileSpec& profile) {
    Touch touch = value_row(top.ui, "Rise at the crown", profile.crown_mm, Quantity::length, {3, 500},
                            "From the board to the highest place.");
    if (profile.kind == ProfileKind::dome || profile.kind == ProfileKind::full)
        touch = touch | value_row(top.ui, "Fullness", profile.fullness, Quantity::plain, {1.5, 8},
                                  "2 is a plain dome; more is fuller.");
    if (profile.kind != ProfileKind::tape) return touch;
    touch = touch | value_row(top.ui, "Tape across", profile.tape_across_mm, Quantity::length, {40, 2000},
                              "Over the crown, left rim to right rim.");
    touch = touch | value_row(top.ui, "Tape up and down", profile.tape_along_mm, Quantity::length, {40, 2000},
                              "Over the crown, lower rim to upper rim.");
    return touch;
}

void measures(Worktop const& top) {
    if (!top.plan) return;
    FormerMeasures const& m = top.plan->former_measures;
    Card const card(top.ui);
    heading(top.ui, "This former");
    answer(top.ui, "Surface", quantity_text(m.surface_mm2, Quantity::area, top.units()));
    answer(top.ui, "Seen from the front", quantity_text(m.plan_mm2, Quantity::area, top.units()));
    answer(top.ui, "Rim", quantity_text(m.rim_mm, Quantity::length, top.units()));
    answer(top.ui, "Tape across", quantity_text(m.tape_across_mm, Quantity::length, top.units()));
    answer(top.ui, "Tape up and down", quantity_text(m.tape_along_mm, Quantity::length, top.units()));
}

} // namespace

void drape_panel(Worktop const& top) {
    FormerSpec former = top.piece.former;
    Touch touch = Touch::none;
    {
        Card const card(top.ui);
        heading(top.ui, "Outline");
        if (choose(top, kOutlines, 3, former.outline.kind, draw_outline_icon)) touch = Touch::done;
        start_free(former.outline, top.plan);
        touch = touch | outline_inputs(top, former.outline);
    }
    {
        Card const card(top.ui);
        heading(top.ui, "Profile");
        if (choose(top, kProfiles, 2, former.profile.kind, draw_profile_icon)) touch = Touch::done;
        for (ProfileChoice const& choice : kProfiles)
            if (choice.kind == former.profile.kind) soft(top.ui, choice.words);
        start_tape(former.profile, top.plan);
        touch = touch | profile_inputs(top, former.profile);
    }
    send(top.intents, touch, SetFormer{former});
    map_choice(top);
    laying_card(top);
    slab_cards_at_drape(top);
    measures(top);
}

} // namespace leafwright
