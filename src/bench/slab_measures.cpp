// Width and height of the slab to cut, drawn beside it when it lies flat.
#include "bench/slab_panel.h"
#include "view/stage_space.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kClear_mm = 22;        // from the slab's edge
constexpr double kBesideGuides_mm = 64; // guides lie either side while it is rolled

struct Sight {
    Desk const& desk;
    double z;

    std::optional<ImVec2> at(Vec2 const& p) const {
        UiState const& ui = desk.ui;
        auto const seen = project(ui.cameras[ui.look == Look::flat ? 1 : 0], ui.picture, Vec3(p, z));
        if (!seen) return std::nullopt;
        return ImVec2(static_cast<float>(seen->x + ui.picture.x), static_cast<float>(seen->y + ui.picture.y));
    }
};

void draw_arrow(ImDrawList& draw, ImVec2 from, ImVec2 to, float em) {
    float const dx = to.x - from.x, dy = to.y - from.y, length = std::hypot(dx, dy);
    if (length < em) return;
    ImVec2 const d{dx / length * 0.6F * em, dy / length * 0.6F * em};
    draw.AddLine(from, to, paint::ink, 0.09F * em);
    draw.AddTriangleFilled(to, {to.x - d.x - 0.4F * d.y, to.y - d.y + 0.4F * d.x},
                           {to.x - d.x + 0.4F * d.y, to.y - d.y - 0.4F * d.x}, paint::ink);
}

// A dimension between two places, `off` beside them.
void draw_measure(Sight const& sight, ImDrawList& draw, Vec2 const& a, Vec2 const& b, Vec2 const& off,
                  std::string const& words) {
    UiState const& ui = sight.desk.ui;
    float const em = ui.theme.em;
    auto const edge_a = sight.at(a), edge_b = sight.at(b), from = sight.at(a + off), to = sight.at(b + off);
    if (!edge_a || !edge_b || !from || !to) return;
    for (auto const& [near, far] : {std::pair{*edge_a, *from}, std::pair{*edge_b, *to}})
        draw.AddLine(near, far, faded(paint::ink, 0.5F), 0.06F * em);
    ImVec2 const middle{0.5F * (from->x + to->x), 0.5F * (from->y + to->y)};
    draw_arrow(draw, middle, *from, em);
    draw_arrow(draw, middle, *to, em);
    ImVec2 const size = text_size(ui.theme.strong, words);
    ImVec2 const low{middle.x - 0.5F * size.x, middle.y - 0.5F * size.y};
    draw.AddRectFilled({low.x - 0.35F * em, low.y - 0.2F * em},
                       {low.x + size.x + 0.35F * em, low.y + size.y + 0.2F * em}, faded(paint::panel, 0.94F),
                       0.25F * em);
    draw.AddText(ui.theme.strong, em, low, paint::ink, words.c_str());
}

} // namespace

void draw_slab_measures(Desk const& desk, ImDrawList& draw) {
    UiState const& ui = desk.ui;
    if (!desk.state.plan || !desk.state.plan->slab || ui.look_change || ui.look == Look::cutting) return;
    if (!scene_of(scene_options(desk)).flat_slab) return;
    SlabAnswer const& slab = *desk.state.plan->slab;
    Box2 const box = bounds(slab.outline_mm);
    Sight const sight{desk, desk.state.plan->piece.slab.thickness_mm};
    auto const words = [&](double mm) { return quantity_text(mm, Quantity::length, ui.settings.units); };
    double const aside = ui.stage == MakingStage::roll ? kBesideGuides_mm : kClear_mm;
    draw_measure(sight, draw, box.low, {box.high.x, box.low.y}, {0, -kClear_mm}, words(slab.bounds_mm.x));
    draw_measure(sight, draw, {box.high.x, box.low.y}, box.high, {aside, 0}, words(slab.bounds_mm.y));
}

} // namespace leafwright
