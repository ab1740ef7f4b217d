#include "leaf/clay_leaf.h"

#include "base/units.h"
#include "leaf/ring_thinning.h"
#include "leaf/ring_union.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr std::size_t kMostSpots = 20;
constexpr double kFar = 1e18;
constexpr double kPointReach = 1.5; // thicknesses

struct Grid {
    Vec2 low{0, 0};
    double cell = 0.25;
    int columns = 0;
    int rows = 0;
    std::size_t index(int c, int r) const {
        return static_cast<std::size_t>(r) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(c);
    }
    std::size_t size() const { return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows); }
    Vec2 middle(int c, int r) const { return low + cell * Vec2{c + 0.5, r + 0.5}; }
};

// Squared distances along one line, in cells: the lower envelope of parabolas (Felzenszwalb and Huttenlocher, Theory of
// Computing 8 (2012) 415).
void envelope(std::vector<double> const& f, std::vector<double>& out, std::vector<int>& at, std::vector<double>& from) {
    int const n = static_cast<int>(f.size());
    int k = 0;
    at.assign(f.size() + 1, 0);
    from.assign(f.size() + 2, 0);
    from[0] = -kFar;
    from[1] = kFar;
    for (int q = 1; q < n; ++q) {
        auto const meet = [&](int p) {
            return ((f[static_cast<std::size_t>(q)] + 1.0 * q * q) - (f[static_cast<std::size_t>(p)] + 1.0 * p * p)) /
                   (2.0 * (q - p));
        };
        double s = meet(at[static_cast<std::size_t>(k)]);
        while (s <= from[static_cast<std::size_t>(k)] && k > 0) s = meet(at[static_cast<std::size_t>(--k)]);
        at[static_cast<std::size_t>(++k)] = q;
        from[static_cast<std::size_t>(k)] = s;
        from[static_cast<std::size_t>(k) + 1] = kFar;
    }
    k = 0;
    for (int q = 0; q < n; ++q) {
        while (from[static_cast<std::size_t>(k) + 1] < q) ++k;
        double const d = q - at[static_cast<std::size_t>(k)];
        out[static_cast<std::size_t>(q)] = d * d + f[static_cast<std::size_t>(at[static_cast<std::size_t>(k)])];
    }
}

// Distance of every cell's middle to the nearest cell of the set, mm.
std::vector<double> distances(Grid const& grid, std::vector<char> const& set) {
    std::vector<double> d(grid.size());
    for (std::size_t i = 0; i < d.size(); ++i) d[i] = set[i] ? 0 : 1e12;
    std::vector<double> line;
    std::vector<double> out;
    std::vector<int> at;
    std::vector<double> from;
    auto const sweep = [&](int lines, int length, auto place) {
        line.resize(static_cast<std::size_t>(length));
        out.resize(line.size());
        for (int k = 0; k < lines; ++k) {
            for (int i = 0; i < length; ++i) line[static_cast<std::size_t>(i)] = d[place(k, i)];
            envelope(line, out, at, from);
            for (int i = 0; i < length; ++i) d[place(k, i)] = out[static_cast<std::size_t>(i)];
        }
    };
    sweep(grid.columns, grid.rows, [&](int c, int r) { return grid.index(c, r); });
    sweep(grid.rows, grid.columns, [&](int r, int c) { return grid.index(c, r); });
    for (double& v : d) v = grid.cell * std::sqrt(v);
    return d;
}

std::vector<char> covered(Grid const& grid, Polygon const& outline) {
    std::vector<char> inside(grid.size(), 0);
    std::vector<double> cuts;
    for (int r = 0; r < grid.rows; ++r) {
        double const y = grid.middle(0, r).y;
        cuts.clear();
        auto const add = [&](Ring const& ring) {
            for (std::size_t i = 0; i < ring.size(); ++i) {
                Vec2 const& a = ring[i];
                Vec2 const& b = ring[(i + 1) % ring.size()];
                if ((a.y > y) != (b.y > y)) cuts.push_back(a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y)));
            }
        };
        add(outline.outer);
        for (Ring const& hole : outline.holes) add(hole);
        std::ranges::sort(cuts);
        for (std::size_t i = 0; i + 1 < cuts.size(); i += 2)
            for (int c = std::max(0, static_cast<int>(std::ceil((cuts[i] - grid.low.x) / grid.cell - 0.5)));
                 c < grid.columns && grid.middle(c, r).x < cuts[i + 1]; ++c)
                inside[grid.index(c, r)] = 1;
    }
    return inside;
}

// Connected parts of a set, four ways; 0 for what is not in it.
std::vector<int> parts_of(Grid const& grid, std::vector<char> const& set, int& count) {
    std::vector<int> part(grid.size(), 0);
    std::vector<std::pair<int, int>> todo;
    count = 0;
    for (int r = 0; r < grid.rows; ++r)
        for (int c = 0; c < grid.columns; ++c) {
            if (!set[grid.index(c, r)] || part[grid.index(c, r)]) continue;
            part[grid.index(c, r)] = ++count;
            todo.assign(1, {c, r});
            while (!todo.empty()) {
                auto const [x, y] = todo.back();
                todo.pop_back();
                for (auto const& [dx, dy] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
                    int const nx = x + dx;
                    int const ny = y + dy;
                    if (nx < 0 || ny < 0 || nx >= grid.columns || ny >= grid.rows) continue;
                    if (!set[grid.index(nx, ny)] || part[grid.index(nx, ny)]) continue;
                    part[grid.index(nx, ny)] = count;
                    todo.emplace_back(nx, ny);
                }
            }
        }
    return part;
}

struct Found {
    FineSpot spot;
    std::vector<Vec2> ridge; // middles of the fine place
};

std::vector<Found> find_fine(Polygon const& outline, double thickness_mm) {
    std::vector<Found> found;
    if (outline.outer.size() < 3 || !(thickness_mm > 0)) return found;
    double const radius = 0.5 * thickness_mm;
    Box2 const box = bounds(outline.outer);
    Grid grid;
    grid.cell = std::clamp(0.1 * thickness_mm, 0.15, 0.5);
    grid.cell = std::max(grid.cell, std::max(box.size().x, box.size().y) / 1200);
    double const margin = radius + 3 * grid.cell;
    grid.low = box.low - margin;
    grid.columns = static_cast<int>((box.size().x + 2 * margin) / grid.cell) + 1;
    grid.rows = static_cast<int>((box.size().y + 2 * margin) / grid.cell) + 1;
    std::vector<char> const inside = covered(grid, outline);
    std::vector<char> outside(inside.size());
    for (std::size_t i = 0; i < inside.size(); ++i) outside[i] = !inside[i];
    std::vector<double> const depth = distances(grid, outside);
    // A cell's middle lies half a cell inside the set that its neighbour is out of.
    std::vector<char> core(inside.size());
    for (std::size_t i = 0; i < inside.size(); ++i) core[i] = depth[i] - 0.5 * grid.cell >= radius;
    std::vector<double> const from_core = distances(grid, core);
    std::vector<char> fine(inside.size());
    for (std::size_t i = 0; i < inside.size(); ++i) fine[i] = inside[i] && from_core[i] > radius + 0.75 * grid.cell;
    int cores = 0;
    int fines = 0;
    std::vector<char> held(inside.size());
    for (std::size_t i = 0; i < inside.size(); ++i) held[i] = inside[i] && !fine[i];
    std::vector<int> const held_part = parts_of(grid, held, cores);
    std::vector<int> const part = parts_of(grid, fine, fines);

    std::vector<Found> all(static_cast<std::size_t>(fines));
    std::vector<std::vector<int>> touches(all.size());
    std::vector<double> reach(all.size(), 0);
    std::vector<double> widest(all.size(), 0);
    for (int r = 1; r + 1 < grid.rows; ++r)
        for (int c = 1; c + 1 < grid.columns; ++c) {
            std::size_t const i = grid.index(c, r);
            if (!part[i]) continue;
            auto const k = static_cast<std::size_t>(part[i] - 1);
            double const beyond = from_core[i] > 1e5 ? kPointReach * thickness_mm * 2 : from_core[i] - radius;
            reach[k] = std::max(reach[k], beyond);
            widest[k] = std::max(widest[k], depth[i]);
            // On the ridge the depth falls off to both sides.
            double const slope_x = depth[grid.index(c + 1, r)] - depth[grid.index(c - 1, r)];
            double const slope_y = depth[grid.index(c, r + 1)] - depth[grid.index(c, r - 1)];
            if (std::hypot(slope_x, slope_y) < 1.3 * grid.cell) all[k].ridge.push_back(grid.middle(c, r));
            for (std::size_t const n :
                 {grid.index(c + 1, r), grid.index(c - 1, r), grid.index(c, r + 1), grid.index(c, r - 1)})
                if (held_part[n] && std::ranges::find(touches[k], held_part[n]) == touches[k].end())
                    touches[k].push_back(held_part[n]);
        }
    for (std::size_t k = 0; k < all.size(); ++k) {
        bool const neck = touches[k].size() > 1;
        if ((!neck && reach[k] < kPointReach * thickness_mm) || all[k].ridge.empty()) continue;
        Vec2 middle{0, 0};
        for (Vec2 const& p : all[k].ridge) middle += p;
        middle /= static_cast<double>(all[k].ridge.size());
        Vec2 nearest = all[k].ridge[0];
        for (Vec2 const& p : all[k].ridge)
            if (glm::length(p - middle) < glm::length(nearest - middle)) nearest = p;
        all[k].spot = {nearest, std::max(0.0, 2 * widest[k] - grid.cell), reach[k], neck};
        found.push_back(std::move(all[k]));
    }
    std::ranges::stable_sort(found, {}, [](Found const& f) { return -f.spot.reach_mm; });
    if (found.size() > kMostSpots) found.resize(kMostSpots);
    return found;
}

} // namespace

double clay_volume_mm3(Polygon const& outline, double thickness_mm) { return area(outline) * thickness_mm; }

double cut_length_mm(double finished_mm, double shrinkage) { return finished_mm / (1 - shrinkage); }

double finished_length_mm(double cut_mm, double shrinkage) { return cut_mm * (1 - shrinkage); }

std::vector<FineSpot> fine_spots(Polygon const& outline, double thickness_mm) {
    std::vector<FineSpot> spots;
    for (Found const& found : find_fine(outline, thickness_mm)) spots.push_back(found.spot);
    return spots;
}

OwnLeaf thickened(OwnLeaf const& given, double thickness_mm) {
    OwnLeaf leaf = upright(given);
    std::vector<Found> const found = find_fine(leaf.outline_mm, thickness_mm);
    if (found.empty()) return leaf;
    std::vector<Ring> rings{leaf.outline_mm.outer};
    rings.insert(rings.end(), leaf.outline_mm.holes.begin(), leaf.outline_mm.holes.end());
    constexpr int kSides = 24;
    double const radius = 0.52 * thickness_mm; // a little over, so that the grid finds it wide enough
    for (Found const& fine : found) {
        std::vector<Vec2> kept; // discs need not lie closer than this
        for (Vec2 const& p : fine.ridge) {
            if (std::ranges::any_of(kept, [&](Vec2 const& q) { return glm::length(p - q) < 0.12 * thickness_mm; }))
                continue;
            kept.push_back(p);
            Ring disc;
            for (int i = 0; i < kSides; ++i) {
                double const t = kTwoPi * i / kSides;
                disc.push_back(p + radius / std::cos(kPi / kSides) * Vec2{std::cos(t), std::sin(t)});
            }
            rings.push_back(std::move(disc));
        }
    }
    std::vector<Polygon> const filled = filled_regions(rings, FillRule::nonzero);
    if (filled.empty()) return leaf;
    OwnLeaf fuller = leaf;
    fuller.outline_mm = thinned_polygon(filled[0], kMostOwnPoints, kMostOwnPoints);
    fuller.outline_mm.outer = thinned_ring(fuller.outline_mm.outer, 0.05);
    std::erase_if(fuller.outline_mm.holes, [](Ring const& hole) { return std::abs(signed_area(hole)) < 1; });
    if (fuller.outline_mm.holes.size() > kMostOwnHoles) fuller.outline_mm.holes.resize(kMostOwnHoles);
    fuller = upright(std::move(fuller));
    return check_own_leaf(fuller) ? leaf : fuller;
}

} // namespace leafwright
