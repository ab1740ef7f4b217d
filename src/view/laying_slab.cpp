#include "view/laying_slab.h"

#include "base/units.h"
#include "view/stage_space.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace leafwright {
namespace {

constexpr std::size_t kAround = 180, kAlong = 40; // samples of the meridians
constexpr double kHang_per_mm = 0.0009;           // how far the free part sinks, by its length squared
constexpr double kFolds = 11;                     // round the rim
constexpr double kFoldShare = 0.30;               // of the folds that the whole surplus would throw
constexpr int kTrimRings = 2;

double smooth(double low, double high, double x) {
    double const t = std::clamp((x - low) / (high - low), 0.0, 1.0);
    return t * t * (3 - 2 * t);
}

Vec2 outward(double azimuth) { return {std::cos(azimuth), std::sin(azimuth)}; }

// Radius of a ring round the origin at each of 720 azimuths.
std::vector<double> radii_of(Ring const& ring) {
    constexpr std::size_t kCount = 720;
    std::vector<double> radius(kCount, 0);
    for (Vec2 const& p : ring) {
        double const turn = std::atan2(p.y, p.x) / kTwoPi;
        auto const i = static_cast<std::size_t>(std::lround((turn + 1) * kCount)) % kCount;
        radius[i] = std::max(radius[i], glm::length(p));
    }
    for (std::size_t pass = 0; pass < 2; ++pass)
        for (std::size_t i = 0; i < kCount; ++i)
            if (radius[i] <= 0) radius[i] = radius[(i + kCount - 1) % kCount];
    return radius;
}

} // namespace

LayingSlab::LayingSlab(Plan const& plan) {
    if (!plan.slab || !plan.slab->map || !plan.outer_face) return;
    SlabMap const& map = *plan.slab->map;
    board_mm_ = -lift_mm(plan);
    rolled_mm_ = plan.piece.slab.thickness_mm;
    for (SlabMapPoint const& p : map.points)
        points_.push_back({p.flat_mm, p.laid_mm, p.spot.azimuth_rad, p.rim_share, 0, p.thickness_mm});
    for (auto const& t : map.triangles)
        triangles_.push_back(
            {static_cast<std::uint32_t>(t[0]), static_cast<std::uint32_t>(t[1]), static_cast<std::uint32_t>(t[2])});
    ClaySurface const& face = *plan.outer_face;
    for (std::size_t i = 0; i < kAround; ++i) {
        double const azimuth = kTwoPi * static_cast<double>(i) / kAround, rim = face.rim_from_crown_mm(azimuth);
        std::vector<Front> line;
        for (std::size_t k = 0; k <= kAlong; ++k) {
            LaidPoint const at = face.at({azimuth, rim * static_cast<double>(k) / kAlong});
            line.push_back({at.position - 0.5 * rolled_mm_ * at.normal, {outward(azimuth), 0}, at.normal});
        }
        for (std::size_t k = 1; k <= kAlong; ++k) {
            Vec3 const step = line[std::min(k + 1, kAlong)].place - line[k - 1].place;
            line[k].along = glm::normalize(step);
        }
        meridians_.push_back(std::move(line));
    }
    find_edges();
    add_trim(plan);
    edges_.clear();
    find_edges();
}

void LayingSlab::find_edges() {
    std::map<std::pair<std::uint32_t, std::uint32_t>, int> seen;
    for (auto const& t : triangles_)
        for (std::size_t k = 0; k < 3; ++k) ++seen[{t[k], t[(k + 1) % 3]}];
    for (auto const& [edge, count] : seen)
        if (!seen.contains({edge.second, edge.first})) edges_.push_back({edge.first, edge.second});
}

// Strips beyond every edge of the rim, out to the outline that is cut.
void LayingSlab::add_trim(Plan const& plan) {
    std::vector<double> const radius = radii_of(plan.slab->outline_mm);
    std::map<std::uint32_t, std::uint32_t> first; // rim vertex -> its first trim vertex
    auto const is_rim = [&](std::uint32_t v) { return points_[v].share > 1 - 1e-9; };
    auto const trim_of = [&](std::uint32_t v) {
        if (auto const found = first.find(v); found != first.end()) return found->second;
        auto const at = static_cast<std::uint32_t>(points_.size());
        first[v] = at;
        Point const rim = points_[v];
        double const turn = std::atan2(rim.flat.y, rim.flat.x) / kTwoPi;
        double const reach = radius[static_cast<std::size_t>(std::lround((turn + 1) * 720)) % 720];
        double const beyond = std::max(0.5, reach - glm::length(rim.flat));
        for (int k = 1; k <= kTrimRings; ++k) {
            Point p = rim;
            p.beyond_mm = beyond * k / kTrimRings;
            p.flat += p.beyond_mm * glm::normalize(rim.flat);
            p.laid = {Vec2(rim.laid) + (0.5 * rolled_mm_ + p.beyond_mm) * glm::normalize(Vec2(rim.laid)),
                      board_mm_ + 0.5 * rolled_mm_};
            p.thickness_mm = rolled_mm_;
            points_.push_back(p);
        }
        return at;
    };
    for (auto const& [a, b] : edges_) {
        if (!is_rim(a) || !is_rim(b)) continue;
        std::uint32_t inner_a = a, inner_b = b;
        std::uint32_t const trim_a = trim_of(a), trim_b = trim_of(b);
        for (std::uint32_t k = 0; k < kTrimRings; ++k) {
            triangles_.push_back({inner_b, inner_a, trim_a + k});
            triangles_.push_back({inner_b, trim_a + k, trim_b + k});
            inner_a = trim_a + k;
            inner_b = trim_b + k;
        }
    }
}

std::vector<LayingSlab::Front> LayingSlab::fronts(double share) const {
    double const at = std::clamp(share, 0.0, 1.0) * kAlong;
    auto const k = std::min(static_cast<std::size_t>(at), kAlong - 1);
    double const part = at - static_cast<double>(k);
    std::vector<Front> out;
    for (auto const& line : meridians_) {
        Front const &a = line[k], &b = line[k + 1];
        out.push_back({glm::mix(a.place, b.place, part), glm::normalize(glm::mix(a.along, b.along, part)),
                       glm::normalize(glm::mix(a.up, b.up, part))});
    }
    return out;
}

Vec3 LayingSlab::free_place(Point const& p, std::vector<Front> const& fronts, double share) const {
    double turn = p.azimuth_rad / kTwoPi;
    turn = (turn - std::floor(turn)) * kAround;
    auto const i = static_cast<std::size_t>(turn) % kAround, next = (i + 1) % kAround;
    double const part = turn - std::floor(turn);
    Vec3 const place = glm::mix(fronts[i].place, fronts[next].place, part);
    Vec3 const along = glm::normalize(glm::mix(fronts[i].along, fronts[next].along, part));
    Vec3 const up = glm::normalize(glm::mix(fronts[i].up, fronts[next].up, part));
    Vec2 const out = outward(p.azimuth_rad);
    // What of the flat place lies beyond the front.
    double const rest = p.share > 0 ? 1 - share / p.share : 0;
    double const trimmed = glm::dot(p.flat, out) - p.beyond_mm;
    double const ahead = trimmed * rest + p.beyond_mm, aside = cross(out, p.flat) * rest;
    Vec3 at = place + ahead * along + aside * Vec3(-out.y, out.x, 0);
    // Round the rim there is more clay than way: it folds.
    double const way = std::hypot(at.x, at.y), clay = std::max(1.0, glm::length(p.flat));
    double const surplus = std::clamp(1 - way / clay, 0.0, 0.5);
    double const height = kFoldShare * clay * kTwoPi / kFolds * std::sqrt(surplus) / kPi * smooth(0.0, 1.0, rest * 2.2);
    at += height * std::cos(kFolds * p.azimuth_rad) * up;
    at.z -= kHang_per_mm * ahead * ahead * smooth(0, 0.2, share);
    return at;
}

std::vector<Vec3> LayingSlab::places(double laid) const {
    double const share = std::clamp(laid, 0.0, 1.0);
    std::vector<Front> const front = fronts(share);
    double const settles = smooth(0.80, 1.0, share);
    std::vector<Vec3> out;
    out.reserve(points_.size());
    for (Point const& p : points_) {
        if (p.beyond_mm <= 0 && p.share <= share) {
            out.push_back(p.laid);
            continue;
        }
        Vec3 at = free_place(p, front, share);
        if (p.beyond_mm > 0) at = glm::mix(at, p.laid, settles);
        at.z = std::max(at.z, board_mm_ + 0.5 * rolled_mm_);
        out.push_back(at);
    }
    return out;
}

Mesh LayingSlab::mesh(double laid) const {
    Mesh out;
    if (points_.empty()) return out;
    std::vector<Vec3> const at = places(laid);
    std::vector<Vec3> normal(at.size(), Vec3{0, 0, 0});
    for (auto const& t : triangles_) {
        Vec3 const n = glm::cross(at[t[1]] - at[t[0]], at[t[2]] - at[t[0]]);
        for (std::uint32_t const v : t) normal[v] += n;
    }
    double const share = std::clamp(laid, 0.0, 1.0);
    for (double const side : {1.0, -1.0})
        for (std::size_t v = 0; v < at.size(); ++v) {
            double const length = glm::length(normal[v]);
            Vec3 const unit = length > 0 ? normal[v] / length : Vec3{0, 0, 1};
            double const half = 0.5 * side * ((1 - share) * rolled_mm_ + share * points_[v].thickness_mm);
            MeshVertex vertex;
            vertex.position = floats(at[v] + half * unit);
            vertex.flat = floats({points_[v].flat, half});
            vertex.normal = packed(side * unit, side > 0 ? 1 : 0.6);
            vertex.flat_normal = vertex.normal;
            vertex.uv = {static_cast<float>(points_[v].flat.x), static_cast<float>(points_[v].flat.y)};
            out.vertices.push_back(vertex);
        }
    auto const under = static_cast<std::uint32_t>(at.size());
    for (auto const& t : triangles_) {
        for (std::size_t const k : {0u, 1u, 2u}) out.indices.push_back(t[k]);
        for (std::size_t const k : {0u, 2u, 1u}) out.indices.push_back(under + t[k]);
    }
    // The edge with vertices of its own, facing outward.
    for (auto const& [a, b] : edges_) {
        auto const first = static_cast<std::uint32_t>(out.vertices.size());
        Vec3 const away = glm::cross(at[b] - at[a], normal[a] + normal[b]);
        double const length = glm::length(away);
        for (std::uint32_t const v : {a, b, under + b, under + a}) {
            MeshVertex vertex = out.vertices[v];
            if (length > 0) vertex.normal = packed(away / length, 0.9);
            vertex.flat_normal = vertex.normal;
            out.vertices.push_back(vertex);
        }
        for (std::uint32_t const k : {0u, 3u, 2u, 0u, 2u, 1u}) out.indices.push_back(first + k);
    }
    return out;
}

} // namespace leafwright
