// Bare clay as polygons: the pieces of outline on which it borders, joined end to start.
#include "rows/overlap_bare.h"

#include <algorithm>
#include <cmath>

namespace leafwright::overlap {

namespace {

constexpr double kSamePlace_mm = 1e-5; // both outlines of a crossing tell it to about 1e-9 mm
constexpr double kNoArea_mm2 = 1e-6;

bool borders(Region const& region, Cover const& cover) {
    if (cover.leaves() > 0 || cover.in_keep_clear()) return false;
    return region.kind == RegionKind::rim || cover.in_rim();
}

Vec2 place(Outline const& outline, double key) {
    auto const edge = std::min(static_cast<std::size_t>(key), outline.points.size() - 2);
    return glm::mix(outline.points[edge], outline.points[edge + 1], key - static_cast<double>(edge));
}

// The walk from one key to another.
Ring stretch(Outline const& outline, double from, double to) {
    Ring points{place(outline, from)};
    for (auto k = static_cast<std::size_t>(from) + 1; static_cast<double>(k) < to; ++k)
        points.push_back(outline.points[k]);
    points.push_back(place(outline, to));
    return points;
}

// Open pieces, and rings that border on bare clay all round, bare clay on the left.
struct Pieces {
    std::vector<Ring> open;
    std::vector<Ring> rings;

    void add(Region const& region, Ring piece) {
        bool const all_round = piece.front() == piece.back();
        if (region.kind != RegionKind::rim) std::ranges::reverse(piece); // their inside is not bare
        if (all_round) piece.pop_back();
        (all_round ? rings : open).push_back(std::move(piece));
    }
    void take(Region const& region, std::span<Region const> regions, Cover& cover);
};

void Pieces::take(Region const& region, std::span<Region const> regions, Cover& cover) {
    Outline const& outline = region.outline;
    auto const end = static_cast<double>(outline.edges());
    cover.start(region, regions);
    bool const bare_at_start = borders(region, cover);
    double from = 0;
    double first_end = end; // of the piece that holds the start of the walk
    for (Event const& event : region.events) {
        bool const was = borders(region, cover);
        cover.toggle(event.other);
        bool const is = borders(region, cover);
        if (was == is) continue;
        if (is)
            from = event.key;
        else if (from == 0 && bare_at_start && first_end == end)
            first_end = event.key;
        else
            add(region, stretch(outline, from, event.key));
    }
    if (!bare_at_start) return;
    if (first_end == end) return add(region, stretch(outline, 0, end));
    Ring last = stretch(outline, from, end);
    Ring const first = stretch(outline, 0, first_end);
    last.insert(last.end(), first.begin() + 1, first.end());
    add(region, std::move(last));
}

// Joins open pieces. Which of several that start at one place is taken does not change the sum of areas.
void join(Pieces& pieces) {
    std::vector<std::size_t> by_x(pieces.open.size());
    for (std::size_t k = 0; k < by_x.size(); ++k) by_x[k] = k;
    auto const start_x = [&](std::size_t k) { return pieces.open[k].front().x; };
    std::ranges::sort(by_x, {}, start_x);
    std::vector<char> used(by_x.size(), 0);
    auto const next_at = [&](Vec2 const& end) {
        std::size_t nearest = by_x.size();
        double least = kSamePlace_mm;
        for (auto at = std::ranges::lower_bound(by_x, end.x - kSamePlace_mm, {}, start_x);
             at != by_x.end() && start_x(*at) <= end.x + kSamePlace_mm; ++at) {
            double const apart = glm::distance(pieces.open[*at].front(), end);
            if (used[*at] != 0 || apart > least) continue;
            least = apart;
            nearest = *at;
        }
        return nearest;
    };
    for (std::size_t k = 0; k < by_x.size(); ++k) {
        if (used[k] != 0) continue;
        Ring ring;
        for (std::size_t piece = k; piece < by_x.size(); piece = next_at(pieces.open[piece].back())) {
            used[piece] = 1;
            ring.insert(ring.end(), pieces.open[piece].begin(), pieces.open[piece].end() - 1);
        }
        pieces.rings.push_back(std::move(ring));
    }
}

std::vector<Polygon> nested(std::vector<Ring> rings) {
    std::vector<Polygon> polygons;
    for (Ring& ring : rings)
        if (signed_area(ring) > kNoArea_mm2) polygons.push_back({std::move(ring), {}});
    for (Ring& ring : rings) {
        if (ring.empty() || signed_area(ring) >= -kNoArea_mm2) continue;
        Polygon* around = nullptr;
        double least = 1e300;
        for (Polygon& polygon : polygons) {
            double const size = signed_area(polygon.outer);
            if (size >= least || !contains(polygon.outer, ring.front())) continue;
            around = &polygon;
            least = size;
        }
        if (around != nullptr) around->holes.push_back(std::move(ring));
    }
    return polygons;
}

} // namespace

std::vector<Polygon> bare_polygons(std::span<Region const> regions) {
    Pieces pieces;
    Cover cover;
    cover.fit_slots(regions.size());
    for (Region const& region : regions)
        if (region.alive && !region.outline.points.empty() && region.parts.bare != 0)
            pieces.take(region, regions, cover);
    join(pieces);
    return nested(std::move(pieces.rings));
}

} // namespace leafwright::overlap
