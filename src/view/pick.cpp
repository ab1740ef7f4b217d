#include "view/scene.h"
#include "view/stage_space.h"

#include "base/units.h"
#include "piece/slab_maps.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kStep_mm = 1.0;  // of height, from the top of the stack downward
constexpr double kReach_mm = 1.5; // along the surface between two trials
constexpr int kHalvings = 10;

// What lies on top at a place of the chart, and how high.
struct Top {
    double height_mm = 0;
    int leaf = -1;    // index or -1
    int feature = -1; // index or -1
};

// The scene of one pick: the ray in the plan's own size.
struct Sight {
    Plan const& plan;
    SceneOptions const& options;
    StageScene scene;
    Ray ray;
    bool flat;
    std::vector<Box2> boxes; // of the leaves

    Top top_at(Vec2 const& chart) const {
        if (scene.leaves)
            for (std::size_t i = plan.laid.size(); i-- > 0;)
                if (boxes[i].contains(chart) && contains(plan.laid[i]->chart, chart))
                    return {leaf_top(i, chart), static_cast<int>(i), -1};
        if (scene.features)
            for (std::size_t i = plan.features.size(); i-- > 0;)
                if (contains(plan.features[i].chart, chart))
                    return {plan.stack ? plan.stack->height.at(chart) : 0, -1, static_cast<int>(i)};
        return {};
    }

    double leaf_top(std::size_t index, Vec2 const& chart) const {
        if (!plan.stack || index >= plan.stack->leaves.size()) return plan.laid[index]->thickness_mm;
        return plan.stack->leaves[index]->top.at(chart);
    }

    // Where the ray meets the outer face lifted by a height. Lifting the face along the normal is lowering the ray: the
    // normal is found in three rounds.
    std::optional<Vec2> chart_at(double height_mm) const {
        if (flat) return flat_chart_at(height_mm);
        std::optional<Spot> spot = plan.outer_face->hit(ray.from, ray.direction);
        for (int round = 0; round < 3 && height_mm > 0; ++round) {
            Vec3 const normal = spot ? plan.outer_face->at(*spot).normal : Vec3{0, 0, 1};
            spot = plan.outer_face->hit(ray.from - height_mm * normal, ray.direction);
        }
        if (!spot) return std::nullopt;
        return plan.outer_face->to_chart(*spot);
    }

    std::optional<Vec2> flat_chart_at(double height_mm) const {
        double const fall = flat_base_mm(plan) + height_mm - ray.from.z;
        if (std::abs(ray.direction.z) < 1e-12 || fall / ray.direction.z <= 0) return std::nullopt;
        return Vec2(ray.from + (fall / ray.direction.z) * ray.direction);
    }
};

double highest_mm(Plan const& plan, StageScene const& scene) {
    if (!scene.leaves && !scene.features) return 0;
    if (plan.stack) return plan.stack->most_mm + 0.5;
    double most = 0;
    for (auto const& leaf : plan.laid) most = std::max(most, leaf->thickness_mm);
    return most;
}

// The height at which the ray dips beneath what lies there; between two trials it is found by halving.
double meeting_height(Sight const& sight, double above, double below) {
    for (int k = 0; k < kHalvings; ++k) {
        double const middle = (above + below) / 2;
        auto const chart = sight.chart_at(middle);
        (chart && sight.top_at(*chart).height_mm >= middle ? below : above) = middle;
    }
    return below;
}

std::optional<double> first_height(Sight const& sight) {
    double above = highest_mm(sight.plan, sight.scene);
    std::optional<Vec2> before = sight.chart_at(above);
    while (above > 0) {
        double below = std::max(0.0, above - kStep_mm);
        std::optional<Vec2> chart = sight.chart_at(below);
        // A ray that grazes the surface goes far in one step: shorter ones then.
        for (int k = 0; k < 6 && before && chart && glm::distance(*before, *chart) > kReach_mm; ++k) {
            below = (above + below) / 2;
            chart = sight.chart_at(below);
        }
        if (chart && sight.top_at(*chart).height_mm >= below) return meeting_height(sight, above, below);
        above = below;
        before = chart;
        if (above < 1e-3) break;
    }
    return sight.chart_at(0) ? std::optional(0.0) : std::nullopt;
}

Hit named(Sight const& sight, Vec2 const& chart, double height_mm) {
    Plan const& plan = sight.plan;
    Top const top = sight.top_at(chart);
    Spot const spot = plan.outer_face->from_chart(chart);
    Vec3 const point = scene_point(plan, sight.options, spot, height_mm);
    if (top.leaf >= 0) return LeafHit{plan.laid[static_cast<std::size_t>(top.leaf)]->placement.id, spot, point};
    if (top.feature >= 0) return FeatureHit{top.feature, spot, point};
    if (spot.from_crown_mm <= plan.outer_face->rim_from_crown_mm(spot.azimuth_rad)) return SlabHit{spot, point};
    return BoardHit{spot, point};
}

Hit pick_board(Ray const& ray) {
    if (ray.direction.z >= 0 || ray.from.z <= 0) return NothingHit{};
    Vec3 const point = ray.from - (ray.from.z / ray.direction.z) * ray.direction;
    return BoardHit{{std::atan2(point.y, point.x), std::hypot(point.x, point.y)}, point};
}

// On the slab as rolled out. The trim beyond the rim has no spot: it is told by azimuth and distance.
Hit pick_flat_slab(Plan const& plan, Ray const& ray) {
    double const fall = (plan.piece.slab.thickness_mm - ray.from.z) / ray.direction.z;
    if (plan.slab && ray.direction.z < 0 && fall > 0) {
        Vec3 const point = ray.from + fall * ray.direction;
        Spot const beyond{std::atan2(point.y, point.x), std::hypot(point.x, point.y)};
        if (contains(plan.slab->outline_mm, Vec2(point)))
            return SlabHit{laid_spot(plan, Vec2(point)).value_or(beyond), point};
    }
    return pick_board(ray);
}

} // namespace

Hit pick(Plan const& plan, Camera const& camera, Viewport const& viewport, SceneOptions const& options,
         Vec2 const& pixel) {
    Ray ray = ray_through(camera, viewport, pixel);
    StageScene const scene = scene_of(options);
    if (scene.flat_slab) return pick_flat_slab(plan, ray);
    if (!scene.slab || !plan.outer_face) return pick_board(ray);
    if (laid_of(options) < 1) return NothingHit{}; // it moves
    ray.from /= scale_at(plan, options.stage);
    bool const flat = flatness_of(options) > 0.5;
    if (!flat) ray.from.z -= lift_mm(plan);
    Sight sight{plan, options, scene, ray, flat, {}};
    for (auto const& leaf : plan.laid) sight.boxes.push_back(bounds(leaf->chart.outer));
    auto const height = first_height(sight);
    if (!height) return NothingHit{};
    auto const chart = sight.chart_at(*height);
    return chart ? named(sight, *chart, *height) : Hit{NothingHit{}};
}

} // namespace leafwright
