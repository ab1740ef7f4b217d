#include "leaf/leaf_measures.h"

#include "base/units.h"
#include "leaf/leaf_margin.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kLevels = 200;

struct Chord {
    double left = 0;
    double right = 0;
    double width() const { return right - left; }
};

Chord chord_at(Ring const& ring, double y) {
    Chord chord{1e300, -1e300};
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const& a = ring[i];
        Vec2 const& b = ring[(i + 1) % ring.size()];
        if ((a.y > y) == (b.y > y)) continue;
        double const x = a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
        chord.left = std::min(chord.left, x);
        chord.right = std::max(chord.right, x);
    }
    return chord.right < chord.left ? Chord{} : chord;
}

// Angle at `corner` from the margin on the left over the side of `toward` (up or down) to the margin on the right.
double opening_deg(Vec2 const& corner, Chord const& chord, double y) {
    Vec2 const left = Vec2{chord.left, y} - corner;
    Vec2 const right = Vec2{chord.right, y} - corner;
    return degrees(std::abs(std::atan2(left.x, std::abs(left.y))) + std::abs(std::atan2(right.x, std::abs(right.y))));
}

} // namespace

LeafMeasures measures(OwnLeaf const& given) {
    OwnLeaf const leaf = upright(given);
    Ring const& ring = leaf.outline_mm.outer;
    LeafMeasures m;
    if (ring.size() < 3) return m;
    Box2 const box = bounds(ring);
    double const foot = leaf.stalk_mm;
    double const top = box.high.y;
    m.length_mm = top - foot;
    m.width_mm = box.size().x;
    m.area_mm2 = area(leaf.outline_mm);
    m.perimeter_mm = perimeter(ring);
    if (!(m.length_mm > 0 && m.width_mm > 0)) return m;
    m.shape_factor = m.area_mm2 / (m.length_mm * m.width_mm);

    std::array<double, kLevels> widths{};
    double widest = 0;
    for (int k = 0; k < kLevels; ++k) {
        widths[static_cast<std::size_t>(k)] = chord_at(ring, foot + (k + 0.5) / kLevels * m.length_mm).width();
        widest = std::max(widest, widths[static_cast<std::size_t>(k)]);
    }
    // The middle of all that is as good as widest.
    double sum = 0;
    int count = 0;
    for (int k = 0; k < kLevels; ++k)
        if (widths[static_cast<std::size_t>(k)] >= 0.985 * widest) sum += (k + 0.5) / kLevels, ++count;
    m.widest_share = count ? sum / count : 0.5;
    auto const third = std::minmax_element(widths.begin() + kLevels / 3, widths.begin() + 2 * kLevels / 3);
    bool const oblong = *third.first > 0.97 * widest;

    Vec2 const tip = leaf.tip_mm();
    m.notch_share = std::max(0.0, top - tip.y) / (0.5 * m.length_mm);
    m.apex_deg = opening_deg(tip, chord_at(ring, top - 0.25 * m.length_mm), top - 0.25 * m.length_mm);
    double const low = foot + 0.25 * m.length_mm;
    m.base_deg = opening_deg({0, foot}, chord_at(ring, low), low);
    // A blade that reaches below its foot, beside the stalk: the angle goes round by its lowest points.
    if (box.low.y < foot - 0.03 * m.length_mm && leaf.stalk_mm == 0) {
        double reflex = 180;
        for (Vec2 const& p : ring)
            if (p.y < foot) reflex = std::max(reflex, 180 + 2 * degrees(std::atan2(foot - p.y, std::abs(p.x))));
        m.base_deg = std::min(reflex, 359.0);
    }
    m.shape = shape_name(m.length_mm / m.width_mm, m.widest_share, oblong);
    m.apex = apex_name(m.apex_deg, m.notch_share);
    m.base = base_name(m.base_deg);
    m.size = size_class(m.area_mm2);
    LeafMargin margin = margin_of(leaf);
    m.margin = std::move(margin.word);
    m.teeth = margin.teeth;
    return m;
}

std::string shape_name(double ratio, double widest_share, bool oblong) {
    double const narrow = std::sqrt(3.0 * 2.0);
    double const wide = std::sqrt(1.5 * 1.2);
    double const round = std::sqrt(1.2 * 1.0);
    if (oblong && ratio >= std::sqrt(12.0 * 6.0)) return "linear";
    if (oblong && ratio >= wide) return ratio >= narrow ? "narrowly oblong" : "oblong";
    if (ratio >= 12) return "linear";
    int const grade = ratio >= narrow ? 0 : ratio >= wide ? 1 : ratio >= round ? 2 : 3;
    if (widest_share < 0.4)
        return std::array{"lanceolate", "ovate", "widely ovate", "very widely ovate"}[static_cast<std::size_t>(grade)];
    if (widest_share > 0.6)
        return std::array{"oblanceolate", "obovate", "widely obovate",
                          "very widely obovate"}[static_cast<std::size_t>(grade)];
    return std::array{"narrowly elliptic", "elliptic", "widely elliptic", "circular"}[static_cast<std::size_t>(grade)];
}

std::string size_class(double area_mm2) {
    if (area_mm2 < 25) return "leptophyll";
    if (area_mm2 < 225) return "nanophyll";
    if (area_mm2 < 2025) return "microphyll";
    if (area_mm2 < 4500) return "notophyll";
    if (area_mm2 < 18225) return "mesophyll";
    return area_mm2 < 164025 ? "macrophyll" : "megaphyll";
}

std::string apex_name(double angle_deg, double notch_share) {
    if (notch_share > 0.25) return "cleft";
    if (notch_share > 0.125) return "obcordate";
    if (notch_share > 0.0625) return "emarginate";
    if (notch_share > 0.01) return "retuse";
    return angle_deg < 45 ? "acuminate" : angle_deg <= 90 ? "acute" : "obtuse";
}

std::string base_name(double angle_deg) { return angle_deg < 90 ? "acute" : angle_deg <= 180 ? "obtuse" : "reflex"; }

double gielis_radius(GielisForm const& form, double azimuth) {
    double const t = 0.25 * form.m * azimuth;
    double const sum =
        std::pow(std::abs(std::cos(t) / form.a), form.n2) + std::pow(std::abs(std::sin(t) / form.b), form.n3);
    return std::pow(sum, -1 / form.n1);
}

OwnLeaf gielis_leaf(GielisForm const& form, double length_mm, int points) {
    OwnLeaf leaf;
    leaf.source = LeafSource::drawn;
    double low = 1e300;
    double high = -1e300;
    for (int i = 0; i < points; ++i) {
        double const t = kTwoPi * i / points;
        double const r = gielis_radius(form, t); // azimuth 0 is the tip
        leaf.outline_mm.outer.emplace_back(-r * std::sin(t), r * std::cos(t));
        low = std::min(low, r * std::cos(t));
        high = std::max(high, r * std::cos(t));
    }
    double const scale = length_mm / (high - low);
    for (Vec2& p : leaf.outline_mm.outer) p = scale * Vec2{p.x, p.y - low};
    leaf.midrib_mm = {{0, 0}, {0, length_mm}};
    return upright(std::move(leaf));
}

} // namespace leafwright
