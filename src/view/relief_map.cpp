#include "view/relief_map.h"

#include "view/blur.h"
#include "view/noise.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kFinest_mm = 0.28;
constexpr int kMostTexels = 512;
constexpr double kMargin_mm = 2;

struct Canvas {
    Vec2 low;
    double texel_mm;
    int columns;
    int rows;

    Canvas(Box2 const& box, double finest_mm) : low(box.low - Vec2{kMargin_mm}) {
        Vec2 const size = box.size() + Vec2{2 * kMargin_mm};
        texel_mm = std::max(finest_mm, std::max(size.x, size.y) / kMostTexels);
        columns = std::clamp(static_cast<int>(std::ceil(size.x / texel_mm)), 4, kMostTexels);
        rows = std::clamp(static_cast<int>(std::ceil(size.y / texel_mm)), 4, kMostTexels);
    }
    std::size_t count() const { return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows); }
    std::size_t at(int i, int j) const {
        return static_cast<std::size_t>(j) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(i);
    }
    Vec2 middle(int i, int j) const { return low + texel_mm * Vec2{i + 0.5, j + 0.5}; }
};

// For each texel: how deep the veins' print is there, and how far the nearest main or side vein is.
struct VeinFields {
    std::vector<float> print_mm;
    std::vector<float> away_mm;
};

constexpr double kReach_mm = 9;

double width_shown(Vein const& vein, double share) {
    double const width = vein.root_width_mm + (vein.end_width_mm - vein.root_width_mm) * share;
    return std::max(width, vein.order <= 1 ? 0.75 : 0.6);
}

// A groove with soft shoulders: -1 at the vein's middle, a little above 0 beside it.
double groove(double away_in_widths) {
    double const u = away_in_widths * away_in_widths;
    return -std::exp(-2.6 * u) + 0.22 * std::exp(-0.9 * (away_in_widths - 1.5) * (away_in_widths - 1.5));
}

void draw_segment(Canvas const& canvas, VeinFields& fields, Vein const& vein, std::size_t k) {
    Vec2 const a = vein.line_mm[k], b = vein.line_mm[k + 1], ab = b - a;
    double const length2 = std::max(glm::dot(ab, ab), 1e-12);
    double const segments = static_cast<double>(vein.line_mm.size() - 1);
    double const reach = vein.order <= 2 ? kReach_mm : 2.0;
    int const i0 = std::max(0, static_cast<int>((std::min(a.x, b.x) - reach - canvas.low.x) / canvas.texel_mm));
    int const j0 = std::max(0, static_cast<int>((std::min(a.y, b.y) - reach - canvas.low.y) / canvas.texel_mm));
    int const i1 =
        std::min(canvas.columns - 1, static_cast<int>((std::max(a.x, b.x) + reach - canvas.low.x) / canvas.texel_mm));
    int const j1 =
        std::min(canvas.rows - 1, static_cast<int>((std::max(a.y, b.y) + reach - canvas.low.y) / canvas.texel_mm));
    for (int j = j0; j <= j1; ++j)
        for (int i = i0; i <= i1; ++i) {
            Vec2 const ap = canvas.middle(i, j) - a;
            double const t = std::clamp(glm::dot(ap, ab) / length2, 0.0, 1.0);
            double const away = glm::length(ap - t * ab);
            std::size_t const at = canvas.at(i, j);
            if (vein.order <= 2) fields.away_mm[at] = std::min(fields.away_mm[at], static_cast<float>(away));
            double const width = width_shown(vein, (static_cast<double>(k) + t) / segments);
            if (away > 3 * width) continue;
            double const depth = std::clamp(0.42 * width, 0.16, 0.75);
            float const print = static_cast<float>(depth * groove(away / width));
            float& kept = fields.print_mm[at];
            kept = print < 0 || kept < 0 ? std::min(kept, print) : std::max(kept, print);
        }
}

VeinFields draw_veins(Canvas const& canvas, LeafShape const& shape) {
    VeinFields fields{std::vector<float>(canvas.count(), 0.0f),
                      std::vector<float>(canvas.count(), static_cast<float>(kReach_mm))};
    for (Vein const& vein : shape.veins)
        for (std::size_t k = 0; k + 1 < vein.line_mm.size(); ++k) draw_segment(canvas, fields, vein, k);
    return fields;
}

// The net of the finest veins: borders of cells about 2 mm across. 0 on a border, rising to 1 within.
float net(Vec2 const& p_mm) {
    float const x = static_cast<float>(p_mm.x / 2.1 + 400), y = static_cast<float>(p_mm.y / 1.7 + 400);
    int const cx = static_cast<int>(x), cy = static_cast<int>(y);
    float first = 9, second = 9;
    for (int j = cy - 1; j <= cy + 1; ++j)
        for (int i = cx - 1; i <= cx + 1; ++i) {
            auto const ui = static_cast<std::uint32_t>(i), uj = static_cast<std::uint32_t>(j);
            float const dx = static_cast<float>(i) + lattice(ui, uj, 11) - x;
            float const dy = static_cast<float>(j) + lattice(ui, uj, 12) - y;
            float const d = std::sqrt(dx * dx + dy * dy);
            second = std::min(second, std::max(first, d));
            first = std::min(first, d);
        }
    return std::min(1.0f, (second - first) * 3.0f);
}

std::uint8_t byte_of(double unit) { return static_cast<std::uint8_t>(std::lround(std::clamp(unit, 0.0, 1.0) * 255)); }

// Modelling marks of a feature, mm, in its own plane.
double feature_detail_mm(Feature const& feature, Vec2 const& p) {
    double const w = feature.width_mm / 2, h = feature.height_mm / 2;
    Vec2 const q{p.x / w, p.y / h};
    double const size = std::min(w, h);
    auto const cut = [](double away_mm, double width_mm, double depth_mm) {
        return -depth_mm * std::exp(-(away_mm * away_mm) / (width_mm * width_mm));
    };
    switch (feature.kind) {
    case FeatureKind::eye: {
        double const r = glm::length(p);
        double const pupil = 0.17 * size;
        double const iris = cut(r - 0.36 * size, 0.035 * size, 0.035 * size);
        return iris - 0.16 * size * std::clamp((pupil - r) / (0.06 * size), 0.0, 1.0);
    }
    case FeatureKind::petal: {
        double const rib = cut(p.x, 0.055 * w + 0.5, 0.07 * size + 0.3);
        double const fan = 0.3 * std::cos(q.x * 9 / std::max(0.35, 1 - 0.45 * q.y));
        return rib + fan * std::clamp(1 - std::abs(q.y), 0.0, 0.6);
    }
    case FeatureKind::nose: {
        double const nostril = glm::length(Vec2{(std::abs(q.x) - 0.42) / 0.2, (q.y + 0.66) / 0.14});
        return -0.12 * size * std::clamp(1.4 - nostril, 0.0, 1.0);
    }
    default:
        return 0;
    }
}

} // namespace

ReliefMap relief_of_heights(std::vector<float> const& height_mm, int columns, int rows, double texel_mm,
                            Vec2 const& low_mm, double hollow_at_mm) {
    ReliefMap map{columns, rows, texel_mm, low_mm, {}};
    int const radius = std::max(1, static_cast<int>(1.1 / texel_mm));
    std::vector<float> const around = box_blurred(height_mm, columns, rows, radius);
    map.texels.resize(height_mm.size() * 4);
    auto const height = [&](int i, int j) {
        return static_cast<double>(
            height_mm[static_cast<std::size_t>(std::clamp(j, 0, rows - 1)) * static_cast<std::size_t>(columns) +
                      static_cast<std::size_t>(std::clamp(i, 0, columns - 1))]);
    };
    for (int j = 0; j < rows; ++j)
        for (int i = 0; i < columns; ++i) {
            std::size_t const at =
                static_cast<std::size_t>(j) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(i);
            std::uint8_t* texel = map.texels.data() + 4 * at;
            texel[0] = byte_of(0.5 + (height(i + 1, j) - height(i - 1, j)) / (4 * texel_mm));
            texel[1] = byte_of(0.5 + (height(i, j + 1) - height(i, j - 1)) / (4 * texel_mm));
            texel[2] = byte_of(static_cast<double>(around[at] - height_mm[at]) / hollow_at_mm);
            texel[3] = 255;
        }
    return map;
}

ReliefMap leaf_relief_map(LeafShape const& shape) {
    Canvas const canvas(bounds(shape.outline_mm.outer), kFinest_mm);
    VeinFields const veins = draw_veins(canvas, shape);
    std::vector<float> height(canvas.count());
    for (int j = 0; j < canvas.rows; ++j)
        for (int i = 0; i < canvas.columns; ++i) {
            std::size_t const at = canvas.at(i, j);
            Vec2 const p = canvas.middle(i, j);
            float const puffed = 1.0f * (1 - std::exp(-veins.away_mm[at] / 2.6f));
            float const clear = std::min(1.0f, veins.away_mm[at] / 1.5f);
            float const uneven =
                0.35f * smooth_noise(static_cast<float>(p.x) / 7 + 90, static_cast<float>(p.y) / 7 + 90, 3);
            height[at] = veins.print_mm[at] + puffed + 0.075f * clear * net(p) + uneven;
        }
    return relief_of_heights(height, canvas.columns, canvas.rows, canvas.texel_mm, canvas.low, 0.55);
}

ReliefMap feature_relief_map(Feature const& feature) {
    switch (feature.kind) {
    case FeatureKind::boss:
    case FeatureKind::ridge:
    case FeatureKind::opening:
    case FeatureKind::mouth:
    case FeatureKind::ear:
        return {};
    default:
        break;
    }
    Canvas const canvas(bounds(feature_footprint(feature)), 0.25);
    std::vector<float> height(canvas.count());
    for (int j = 0; j < canvas.rows; ++j)
        for (int i = 0; i < canvas.columns; ++i)
            height[canvas.at(i, j)] = static_cast<float>(feature_detail_mm(feature, canvas.middle(i, j)));
    return relief_of_heights(height, canvas.columns, canvas.rows, canvas.texel_mm, canvas.low, 1.2);
}

} // namespace leafwright
