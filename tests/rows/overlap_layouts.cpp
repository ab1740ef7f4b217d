#include "overlap_layouts.h"

#include "base/units.h"

#include <cmath>

namespace leafwright::layouts {

namespace {

double radius_of(LeafForm form, double phi) {
    switch (form) {
    case LeafForm::lobed:
        return 1.0 + 0.22 * std::cos(7.0 * phi);
    case LeafForm::serrated:
        return 1.0 + 0.05 * std::cos(30.0 * phi) + 0.08 * std::cos(phi);
    case LeafForm::plain:
    case LeafForm::holed:
        return 1.0 + 0.1 * std::cos(phi);
    }
    return 1.0;
}

Vec2 posed(Pose const& pose, Vec2 const& p) {
    double const c = std::cos(pose.turn_rad) * pose.scale;
    double const s = std::sin(pose.turn_rad) * pose.scale;
    return pose.at + Vec2{c * p.x - s * p.y, s * p.x + c * p.y};
}

Ring hole_at(Pose const& pose, double x) {
    Ring ring;
    for (int i = 0; i < 12; ++i) {
        double const phi = -kTwoPi * i / 12.0;
        ring.push_back(posed(pose, {x + 6.0 * std::cos(phi), 6.0 * std::sin(phi)}));
    }
    return ring;
}

LeafForm form_of(int number) { return static_cast<LeafForm>(number % 4); }

} // namespace

Polygon leaf_of(LeafForm form, Pose const& pose) {
    Polygon leaf;
    for (int i = 0; i < kLeafPoints; ++i) {
        double const phi = kTwoPi * i / kLeafPoints;
        double const r = radius_of(form, phi);
        leaf.outer.push_back(posed(pose, {35.0 * r * std::cos(phi), 20.0 * r * std::sin(phi)}));
    }
    if (form == LeafForm::holed) leaf.holes = {hole_at(pose, -12), hole_at(pose, 10)};
    return leaf;
}

OverlapLeaf as_leaf(int id, Polygon polygon) { return {id, std::make_shared<Polygon const>(std::move(polygon))}; }

std::shared_ptr<Ring const> ellipse(Vec2 const& centre, Vec2 const& half_size, int points) {
    Ring ring;
    for (int i = 0; i < points; ++i) {
        double const phi = kTwoPi * i / points;
        ring.push_back(centre + half_size * Vec2{std::cos(phi), std::sin(phi)});
    }
    return std::make_shared<Ring const>(std::move(ring));
}

Pose random_pose(Random& random, double radius_mm) {
    double const r = radius_mm * std::sqrt(random.unit());
    double const phi = random.between(0, kTwoPi);
    return {{r * std::cos(phi), r * std::sin(phi)}, random.between(0, kTwoPi), random.between(0.8, 1.2)};
}

namespace {

Layout spread(int count, std::uint64_t seed, double radius_mm) {
    Random random(seed);
    Layout layout;
    layout.zone.rim = ellipse({0, 0}, {radius_mm, radius_mm}, 360);
    layout.zone.keep_clear = {ellipse({0.1 * radius_mm, 0}, {30, 20}, 96),
                              ellipse({0.1 * radius_mm + 35, 5}, {20, 25}, 96), ellipse({0, radius_mm}, {25, 15}, 96)};
    for (int i = 0; i < count; ++i)
        layout.leaves.push_back(as_leaf(i + 1, leaf_of(form_of(i), random_pose(random, radius_mm))));
    return layout;
}

} // namespace

Layout scattered(int count, std::uint64_t seed, double cover) {
    constexpr double leaf_mm2 = 2200; // about
    return spread(count, seed, std::sqrt(count * leaf_mm2 / (cover * kPi)));
}

Layout crowded(int count, std::uint64_t seed) { return spread(count, seed, 220); }

Layout lattice(int count, std::uint64_t seed) {
    Random random(seed);
    Layout layout;
    layout.zone.rim = std::make_shared<Ring const>(Ring{{0, 0}, {60, 0}, {60, 60}, {0, 60}});
    layout.zone.keep_clear = {std::make_shared<Ring const>(Ring{{20, 20}, {40, 20}, {40, 40}, {20, 40}}),
                              std::make_shared<Ring const>(Ring{{40, 20}, {70, 20}, {70, 30}, {40, 30}})};
    for (int i = 0; i < count; ++i) {
        Vec2 const at{5.0 * random.below(12), 5.0 * random.below(12)};
        double const size = 5.0 * (1 + random.below(4));
        Polygon square{{at, at + Vec2{size, 0}, at + Vec2{size, size}, at + Vec2{0, size}}, {}};
        Vec2 const in{5, 5};
        if (size == 20) square.holes = {{at + in, at + Vec2{5, 15}, at + Vec2{15, 15}, at + Vec2{15, 5}}};
        layout.leaves.push_back(as_leaf(count - i, std::move(square)));
    }
    return layout;
}

Layout repeated(int count, std::uint64_t seed) {
    Random random(seed);
    Layout layout = spread(0, seed, 150);
    Pose pose;
    for (int i = 0; i < count; ++i) {
        switch (i % 5) {
        case 0:
            pose = random_pose(random, 140);
            break;
        case 2:
            pose.scale *= 0.6;
            break;
        case 3:
            pose.at += 10.0 * Vec2{std::cos(pose.turn_rad), std::sin(pose.turn_rad)};
            break;
        default:
            break; // the same again
        }
        layout.leaves.push_back(as_leaf(1 + (i * 7) % count, leaf_of(form_of(i / 5), pose)));
    }
    return layout;
}

} // namespace leafwright::layouts
