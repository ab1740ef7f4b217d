#include "slab/flat_outline.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr int kOutlinePoints = 720;

Vec2 place(std::span<Vec2 const> flat, int vertex) { return flat[static_cast<std::size_t>(vertex)]; }

// A point half way in every gap, by cubics; parabolas at the ends of an open line.
std::vector<Vec2> halved(std::vector<Vec2> const& p, bool closed) {
    std::size_t const n = p.size(), gaps = closed ? n : n - 1;
    std::vector<Vec2> out;
    out.reserve(2 * n);
    for (std::size_t i = 0; i < gaps; ++i) {
        Vec2 const &b = p[i], &c = p[(i + 1) % n];
        Vec2 const a = closed || i > 0 ? p[(i + n - 1) % n] : 3.0 * b - 3.0 * c + p[(i + 2) % n];
        Vec2 const d = closed || i + 2 < n ? p[(i + 2) % n] : 3.0 * c - 3.0 * b + p[(i + n - 1) % n];
        out.push_back(b);
        out.push_back((9.0 * (b + c) - a - d) / 16.0);
    }
    if (!closed) out.push_back(p.back());
    return out;
}

std::vector<Vec2> smooth(std::vector<Vec2> const& p, bool closed) { return halved(halved(p, closed), closed); }

bool is_cut(DrapeMesh const& mesh, int spoke) { return mesh.tip_ring(static_cast<std::size_t>(spoke)) < mesh.rings; }

// Rim lines between cuts; the first begins at the first cut spoke, `from`. One closed line when nothing is cut.
struct RimLine {
    int from = 0; // spoke
    std::vector<Vec2> points;
    bool closed = false;
};

std::vector<RimLine> rim_lines(DrapeMesh const& mesh, std::span<Vec2 const> flat) {
    int first = 0;
    while (first < mesh.sectors() && !is_cut(mesh, first)) ++first;
    bool const whole = first == mesh.sectors();
    std::vector<RimLine> lines;
    for (int i = 0; i < mesh.sectors(); ++i) {
        int const sector = (first + i) % mesh.sectors();
        if (i == 0 || (!whole && is_cut(mesh, sector))) lines.push_back({sector, {}, whole});
        std::vector<int> const rim = mesh.rim_of(sector);
        if (!lines.back().points.empty()) lines.back().points.pop_back();
        for (int v : rim) lines.back().points.push_back(place(flat, v));
    }
    if (whole) lines.back().points.pop_back();
    for (RimLine& line : lines) line.points = smooth(line.points, whole);
    return lines;
}

// From the rim's lower side in to the tip, and out again to the upper side, the rim's own points left out.
void append_notch(DrapeMesh const& mesh, int spoke, std::span<Vec2 const> flat, Ring& ring) {
    int const tip = mesh.tip_ring(static_cast<std::size_t>(spoke));
    for (int k = mesh.rings - 1; k >= tip; --k)
        ring.push_back(place(flat, mesh.vertex(k, spoke * k, DrapeMesh::Side::lower)));
    for (int k = tip + 1; k < mesh.rings; ++k) ring.push_back(place(flat, mesh.vertex(k, spoke * k)));
}

// The farthest the ring reaches at each of the azimuths; its edges are short, so all rays of an edge's span are tried.
std::vector<double> radii(Ring const& ring) {
    std::vector<double> out(kOutlinePoints, 0);
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const a = ring[i], b = ring[(i + 1) % ring.size()];
        double const from = std::atan2(a.y, a.x), turn = std::atan2(cross(a, b), glm::dot(a, b));
        double const low = std::min(from, from + turn) * (kOutlinePoints / kTwoPi) - 1e-9;
        double const high = std::max(from, from + turn) * (kOutlinePoints / kTwoPi) + 1e-9;
        for (int k = static_cast<int>(std::ceil(low)); k <= high; ++k) {
            Vec2 const ray(std::cos(kTwoPi * k / kOutlinePoints), std::sin(kTwoPi * k / kOutlinePoints));
            double const across = cross(ray, b - a);
            double const r = std::abs(across) > 0 ? cross(a, b) / across : std::max(glm::length(a), glm::length(b));
            double& most = out[static_cast<std::size_t>((k % kOutlinePoints + kOutlinePoints) % kOutlinePoints)];
            most = std::max(most, r);
        }
    }
    return out;
}

Ring from_radii(std::vector<double> const& radius) {
    Ring ring;
    for (std::size_t i = 0; i < radius.size(); ++i) {
        double const azimuth = kTwoPi * static_cast<double>(i) / static_cast<double>(radius.size());
        ring.push_back(radius[i] * Vec2(std::cos(azimuth), std::sin(azimuth)));
    }
    return ring;
}

Ring moved_outward(Ring const& ring, double by_mm) {
    Ring out;
    std::size_t const n = ring.size();
    for (std::size_t i = 0; i < n; ++i) {
        Vec2 const along = glm::normalize(ring[(i + 1) % n] - ring[(i + n - 1) % n]);
        out.push_back(ring[i] + by_mm * Vec2(along.y, -along.x));
    }
    return out;
}

} // namespace

// The integral of r^2/2, by equal steps all round.
double unrolled_area(MeridianTable const& middle, double beyond_mm) {
    double sum = 0;
    for (int i = 0; i < middle.columns(); ++i) {
        double const r = middle.rim_mm(kTwoPi * i / middle.columns()) + beyond_mm;
        sum += 0.5 * r * r;
    }
    return sum * kTwoPi / middle.columns();
}

// The chords would cut off a little.
Ring unrolled_outline(MeridianTable const& middle, double beyond_mm, double area_mm2) {
    std::vector<double> radius;
    for (int i = 0; i < kOutlinePoints; ++i) radius.push_back(middle.rim_mm(kTwoPi * i / kOutlinePoints) + beyond_mm);
    Ring ring = from_radii(radius);
    double const grow = std::sqrt(area_mm2 / signed_area(ring));
    for (Vec2& p : ring) p *= grow;
    return ring;
}

Ring rim_with_notches(DrapeMesh const& whole, std::span<Vec2 const> flat) {
    Ring ring;
    for (RimLine const& line : rim_lines(whole, flat)) {
        if (!line.closed) append_notch(whole, line.from, flat, ring);
        ring.insert(ring.end(), line.points.begin(), line.points.end());
    }
    return ring;
}

Ring rim_without_notches(DrapeMesh const& whole, std::span<Vec2 const> flat) {
    Ring ring;
    for (RimLine const& line : rim_lines(whole, flat)) ring.insert(ring.end(), line.points.begin(), line.points.end());
    return ring;
}

SlabCutAnswer notch_at(DrapeMesh const& whole, std::size_t spoke, std::span<Vec2 const> flat) {
    SlabCutAnswer answer;
    int const s = static_cast<int>(spoke), tip = whole.tip_ring(spoke), rings = whole.rings;
    answer.tip_mm = place(flat, whole.vertex(tip, s * tip));
    for (int k = tip; k <= rings; ++k)
        answer.notch_mm.push_back(place(flat, whole.vertex(k, s * k, DrapeMesh::Side::lower)));
    for (int k = rings; k > tip; --k) answer.notch_mm.push_back(place(flat, whole.vertex(k, s * k)));
    answer.opening_mm = glm::distance(place(flat, whole.vertex(rings, s * rings, DrapeMesh::Side::lower)),
                                      place(flat, whole.vertex(rings, s * rings)));
    return answer;
}

Ring outline_to_cut(Ring const& a, Ring const& b, double beyond_mm) {
    std::vector<double> radius = radii(a);
    std::vector<double> const other = radii(b);
    for (std::size_t i = 0; i < radius.size(); ++i) radius[i] = std::max(radius[i], other[i]);
    if (beyond_mm > 0) radius = radii(moved_outward(from_radii(radius), beyond_mm));
    return from_radii(radius);
}

// It has an edge of the hull on one side.
Strip narrowest_strip(Ring const& ring) {
    Ring const hull = convex_hull(ring);
    Strip least{{1, 0}, 0, 1e300};
    for (std::size_t i = 0; i < hull.size(); ++i) {
        Vec2 const edge = glm::normalize(hull[(i + 1) % hull.size()] - hull[i]), across(-edge.y, edge.x);
        double width = 0;
        for (Vec2 const& p : hull) width = std::max(width, glm::dot(p - hull[i], across));
        if (width < least.width) least = {across, glm::dot(hull[i], across), width};
    }
    return least;
}

MaybeProblem check_width(Ring const& outline, double sheet_width_mm) {
    double const width = narrowest_strip(outline).width;
    if (width <= sheet_width_mm) return std::nullopt;
    return Problem{"slab.too-wide", "slab.sheet_width_mm",
                   fmt::format("is {:g} mm, but the slab measures {:.0f} mm across its narrowest direction",
                               sheet_width_mm, width),
                   "Roll a wider sheet, join two, or choose a smaller or flatter former", ProblemKind::refusal};
}

} // namespace leafwright
