#include "piece/drawings.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

std::vector<Vec2> circle(Vec2 const& middle, double radius) {
    std::vector<Vec2> points;
    points.reserve(32);
    for (int i = 0; i < 32; ++i)
        points.push_back(middle + radius * Vec2(std::cos(kTwoPi * i / 32), std::sin(kTwoPi * i / 32)));
    return points;
}

std::vector<Vec2> rectangle(Vec2 const& low, Vec2 const& high) { return {low, {high.x, low.y}, high, {low.x, high.y}}; }

void add_centre(LineDrawing& drawing, Vec2 const& at, double size) {
    drawing.shapes.push_back({circle(at, size), Pen::ink, true, false, false});
    drawing.shapes.push_back({{at - Vec2(1.6 * size, 0), at + Vec2(1.6 * size, 0)}, Pen::ink, false, false, false});
    drawing.shapes.push_back({{at - Vec2(0, 1.6 * size), at + Vec2(0, 1.6 * size)}, Pen::ink, false, false, false});
}

// The piece turned about the rim that touches.
struct Lean {
    Vec2 pivot{0, 0};
    double sine = 0, cosine = 1;
    explicit Lean(HangingAnswer const& h) {
        double const angle = radians(std::clamp(h.state.lean_deg, -60.0, 60.0));
        pivot = h.state.contact == Contact::top_pressed ? Vec2(0, h.rig.high_mm) : Vec2(0, -h.rig.low_mm);
        sine = std::sin(angle);
        cosine = std::cos(angle);
    }
    Vec2 operator()(Vec2 const& p) const {
        Vec2 const d = p - pivot;
        return pivot + Vec2(d.x * cosine + d.y * sine, d.y * cosine - d.x * sine);
    }
};

} // namespace

Box2 LineDrawing::box() const {
    Box2 box;
    for (DrawnShape const& shape : shapes)
        for (Vec2 const& p : shape.points) box.add(p);
    return box;
}

LineDrawing hanging_side(HangingAnswer const& h, bool lugs) {
    LineDrawing d;
    HangingRig const& rig = h.rig;
    Lean const lean(h);
    Vec2 const lug = lean({rig.lug_y_mm, rig.lug_z_mm});
    double const off = rig.lug_y_mm - rig.hook_y_mm;
    double const wire = std::hypot(rig.half_span_mm, rig.rise_mm, off);
    double const across = std::hypot(rig.half_span_mm, lug.x - rig.hook_y_mm);
    Vec2 const hook{rig.hook_y_mm, lug.y + std::sqrt(std::max(1.0, wire * wire - across * across))};
    double const top = std::max(rig.high_mm, hook.y) + 25;
    d.shapes.push_back({rectangle({-14, -rig.low_mm - 20}, {0, top}), Pen::wall, true, true, false});
    std::vector<Vec2> ring;
    for (Vec2 const& p : h.outer_section) ring.push_back(lean(p));
    for (auto p = h.inner_section.rbegin(); p != h.inner_section.rend(); ++p) ring.push_back(lean(*p));
    d.shapes.push_back({std::move(ring), Pen::clay, true, true, false});
    double const lug_radius = lugs ? 9 : 3;
    d.shapes.push_back({circle(lug, lug_radius), Pen::clay, true, lugs, false});
    d.shapes.push_back({{lug, hook}, Pen::wire, false, false, false});
    d.shapes.push_back({{{-14, hook.y}, hook, hook + Vec2(0, 6)}, Pen::ink, false, false, false});
    Vec2 const centre = lean({rig.centre_y_mm, rig.centre_z_mm});
    d.shapes.push_back({{centre, {centre.x, -rig.low_mm - 20}}, Pen::soft, false, false, true});
    add_centre(d, centre, 5);
    d.words.push_back({hook + Vec2(8, 4), "hook", 1});
    d.words.push_back({lug + Vec2(lug_radius + 4, -2), lugs ? "lug" : "hole", 1});
    d.words.push_back({centre + Vec2(10, 6), fmt::format("weight {:.0f} N", rig.weight_N), 1});
    return d;
}

LineDrawing hanging_back(Plan const& plan, HangingAnswer const& h) {
    LineDrawing d;
    double const factor = plan.stages.empty() ? 1 : plan.stages.back().length_factor.value;
    ClaySurface const& face = *plan.outer_face;
    std::vector<Vec2> rim;
    for (int i = 0; i < 120; ++i) {
        double const azimuth = kTwoPi * i / 120;
        Vec3 const p = face.at({azimuth, face.rim_from_crown_mm(azimuth)}).position;
        rim.emplace_back(-factor * p.x, factor * p.y);
    }
    d.shapes.push_back({std::move(rim), Pen::clay, true, true, false});
    HangingRig const& rig = h.rig;
    bool const lugs = plan.piece.hanging.kind == "lugs";
    Vec2 const hook{0, rig.lug_z_mm + rig.rise_mm};
    d.shapes.push_back({{{0, -rig.low_mm}, {0, rig.high_mm}}, Pen::soft, false, false, true});
    for (double side : {-1.0, 1.0}) {
        Vec2 const lug{side * rig.half_span_mm, rig.lug_z_mm};
        d.shapes.push_back({circle(lug, lugs ? factor * kLugRoot_mm / 2 : 4), Pen::ink, true, false, false});
        d.shapes.push_back({{lug, hook}, Pen::wire, false, false, false});
    }
    d.shapes.push_back({circle(hook, 4), Pen::ink, true, false, false});
    add_centre(d, {-h.centre_mm.x, h.centre_mm.y}, 5);
    d.words.push_back({hook + Vec2(8, 4), "hook", 1});
    d.words.push_back({{0, rig.lug_z_mm - 26}, fmt::format("{:.0f} mm apart", 2 * rig.half_span_mm), 0});
    return d;
}

LineDrawing kiln_drawing(SecondHalf const& half, std::size_t index) {
    LineDrawing d;
    KilnSpec const& kiln = half.plan->piece.kiln;
    StageAnswer const& s =
        half.plan->stages[static_cast<std::size_t>(index == 0 ? Stage::bone_dry : Stage::first_firing)];
    KilnFit const& fit = half.fits[index];
    bool const stands = fit.place == KilnPlace::standing;
    double const deep = kiln.shape == KilnShape::round ? kiln.width_mm : kiln.depth_mm;
    Vec2 const room{kiln.width_mm, stands ? kiln.height_mm : deep};
    double const clear = kiln.clearance_mm;
    bool const round = kiln.shape == KilnShape::round && !stands;
    auto const wall = [&](double in) {
        return round ? circle(0.5 * room, 0.5 * room.x - in) : rectangle(Vec2(in, in), room - Vec2(in, in));
    };
    d.shapes.push_back({wall(0), Pen::wall, true, true, false});
    d.shapes.push_back({wall(clear), Pen::soft, true, false, true});
    // Turned a quarter on the shelf where that leaves more room.
    bool const turned =
        !stands && !round &&
        std::min(room.x - s.width_mm, room.y - s.height_mm) < std::min(room.x - s.height_mm, room.y - s.width_mm);
    Vec2 const size = turned ? Vec2(s.height_mm, s.width_mm) : Vec2(s.width_mm, s.height_mm);
    Vec2 const middle = stands ? Vec2(room.x / 2, clear + size.y / 2) : 0.5 * room;
    ClaySurface const& face = *half.plan->outer_face;
    Box2 plain;
    std::vector<Vec2> rim;
    for (int i = 0; i < 120; ++i) {
        double const azimuth = kTwoPi * i / 120;
        Vec3 const p = face.at({azimuth, face.rim_from_crown_mm(azimuth)}).position;
        rim.push_back(turned ? Vec2(-p.y, p.x) : Vec2(p.x, p.y));
        plain.add(rim.back());
    }
    // The rim stretched to the size with the leaves' tips.
    for (Vec2& p : rim) p = middle + (p - plain.centre()) * size / plain.size();
    d.shapes.push_back({std::move(rim), Pen::clay, true, true, false});
    d.words.push_back({middle, stands ? "stands" : "lies", 0});
    return d;
}

} // namespace leafwright
