#include "drying/clay_map.h"

#include "base/units.h"
#include "rows/stack_cells.h"

#include <algorithm>
#include <cmath>
#include <tbb/parallel_for.h>

namespace leafwright {

namespace {

constexpr int kLinesPerCell = 4;
constexpr int kBlock = 16;
constexpr float kSliver = 0.02F; // share below which a cell is left out

// Where the line y crosses the ring, in order of x.
void crossings_of(Ring const& ring, double y, std::vector<double>& out) {
    out.clear();
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
        if ((ring[i].y > y) == (ring[j].y > y)) continue;
        double const t = (y - ring[j].y) / (ring[i].y - ring[j].y);
        out.push_back(ring[j].x + t * (ring[i].x - ring[j].x));
    }
    std::sort(out.begin(), out.end());
}

// Adds the part of [from, to] that lies in each cell of a row, in cells.
void add_span(double from, double to, float* row, int columns, float weight) {
    from = std::clamp(from, 0.0, static_cast<double>(columns));
    to = std::clamp(to, 0.0, static_cast<double>(columns));
    for (int i = static_cast<int>(from); i < columns && i < to; ++i) {
        double const part = std::min(to, i + 1.0) - std::max(from, static_cast<double>(i));
        if (part > 0) row[i] += weight * static_cast<float>(part);
    }
}

CellBox in_blocks(CellBox const& box) {
    auto const floor_of = [](int i) { return (i >= 0 ? i : i - kBlock + 1) / kBlock * kBlock; };
    int const left = floor_of(box.left);
    int const low = floor_of(box.low);
    return {left, low, floor_of(box.left + box.columns + kBlock - 1) - left,
            floor_of(box.low + box.rows + kBlock - 1) - low};
}

Box2 box_of(HeightPatch const& patch) {
    Box2 box;
    if (patch.columns == 0 || patch.rows == 0) return box;
    Vec2 const half(0.5 * patch.cell_mm);
    box.add(patch.origin_mm - half);
    box.add(patch.origin_mm + patch.cell_mm * Vec2(patch.columns - 1, patch.rows - 1) + half);
    return box;
}

// A difference along one axis that does not reach over the rim, where the surface turns.
struct Difference {
    std::size_t from = 0;
    std::size_t to = 0;
    double per_mm = 0; // 1 over the distance; 0 when there is no neighbour
};

Difference difference(FaceMap const& map, std::size_t here, bool has_before, bool has_after, std::size_t stride) {
    auto const alike = [&](std::size_t there) { return (map.inside[there] > 0.5F) == (map.inside[here] > 0.5F); };
    Difference d{here, here, 0};
    if (has_before && alike(here - stride)) d.from = here - stride;
    if (has_after && alike(here + stride)) d.to = here + stride;
    auto const steps = (d.to - d.from) / stride;
    if (steps > 0) d.per_mm = 1 / (map.cell_mm * static_cast<double>(steps));
    return d;
}

void set_shape(FaceMap& map, int column, int row) {
    std::size_t const i = map.index(column, row);
    Difference const x = difference(map, i, column > 0, column + 1 < map.columns, 1);
    Difference const y = difference(map, i, row > 0, row + 1 < map.rows, static_cast<std::size_t>(map.columns));
    map.along_xx[i] = map.along_yy[i] = 1;
    map.along_xy[i] = map.bend_per_mm[i] = map.twist_per_mm2[i] = 0;
    if (x.per_mm == 0 || y.per_mm == 0) return;
    Vec3 const xu = (map.position[x.to] - map.position[x.from]) * x.per_mm;
    Vec3 const xv = (map.position[y.to] - map.position[y.from]) * y.per_mm;
    Vec3 const nu = (map.normal[x.to] - map.normal[x.from]) * x.per_mm;
    Vec3 const nv = (map.normal[y.to] - map.normal[y.from]) * y.per_mm;
    Vec3 const n = map.normal[i];
    double const area = glm::dot(glm::cross(xu, xv), n);
    if (!(area > 0.2)) return; // folded by a sharp turn: leave it plane
    // The inverse of a 2 x 2 matrix is its adjugate over its determinant, area^2; scaled to determinant 1.
    map.along_xx[i] = static_cast<float>(glm::dot(xv, xv) / area);
    map.along_xy[i] = static_cast<float>(-glm::dot(xu, xv) / area);
    map.along_yy[i] = static_cast<float>(glm::dot(xu, xu) / area);
    if (!(map.inside[i] > 0)) return; // tips over the turn to the board stand free of it: no curvature under them
    map.bend_per_mm[i] = static_cast<float>(glm::dot(glm::cross(xu, nv) + glm::cross(nu, xv), n) / area);
    map.twist_per_mm2[i] = static_cast<float>(glm::dot(glm::cross(nu, nv), n) / area);
}

// A cell on the rim whose middle lies beyond it has the shape of the turn to the board: give it that of the slab.
void borrow_shape(FaceMap& map, int column, int row) {
    std::size_t const i = map.index(column, row);
    if (!(map.inside[i] > 0 && map.inside[i] <= 0.5F)) return;
    std::size_t best = i;
    for (int y = std::max(0, row - 1); y <= std::min(map.rows - 1, row + 1); ++y)
        for (int x = std::max(0, column - 1); x <= std::min(map.columns - 1, column + 1); ++x)
            if (map.inside[map.index(x, y)] > map.inside[best]) best = map.index(x, y);
    if (map.inside[best] <= 0.5F) return;
    for (auto* v : {&map.along_xx, &map.along_xy, &map.along_yy, &map.bend_per_mm, &map.twist_per_mm2})
        (*v)[i] = (*v)[best];
}

void resize_all(FaceMap& map) {
    map.position.resize(map.size());
    map.normal.resize(map.size());
    for (auto* v : {&map.along_xx, &map.along_xy, &map.along_yy, &map.bend_per_mm, &map.twist_per_mm2})
        v->resize(map.size());
}

// Mean height of the pile over a cell, and the share of it where there is any.
struct PileReader {
    HeightPatch const& patch;
    double cell_mm;
    int fine; // stack cells along a side of ours
    int left, low;

    PileReader(HeightPatch const& p, double cell)
        : patch(p),
          cell_mm(cell),
          fine(std::max(1, static_cast<int>(std::lround(cell / p.cell_mm)))),
          left(static_cast<int>(std::lround(p.origin_mm.x / p.cell_mm - 0.5))),
          low(static_cast<int>(std::lround(p.origin_mm.y / p.cell_mm - 0.5))) {}

    void read(int i, int j, float& mean, float& share) const {
        double sum = 0;
        int there = 0;
        for (int y = j * fine - low; y < (j + 1) * fine - low; ++y)
            for (int x = i * fine - left; x < (i + 1) * fine - left; ++x) {
                if (x < 0 || y < 0 || x >= patch.columns || y >= patch.rows) continue;
                float const h = patch.height_mm[static_cast<std::size_t>(y) * static_cast<std::size_t>(patch.columns) +
                                                static_cast<std::size_t>(x)];
                sum += static_cast<double>(h);
                there += h > 0.2F ? 1 : 0; // thinner than that is the rounded edge running out
            }
        mean = static_cast<float>(sum / (fine * fine));
        share = static_cast<float>(there) / static_cast<float>(fine * fine);
    }
};

void add_lumps(FaceMap const& face, std::span<BackLump const> lumps, std::vector<float>& back_mm) {
    constexpr int kPoints = 48;
    for (BackLump const& lump : lumps) {
        double const r = lump.radius_mm * std::sqrt(kTwoPi / kPoints / std::sin(kTwoPi / kPoints)); // same area
        Ring disc;
        for (int k = 0; k < kPoints; ++k)
            disc.push_back(lump.chart + r * Vec2(std::cos(kTwoPi * k / kPoints), std::sin(kTwoPi * k / kPoints)));
        auto const share = covered_share(disc, face.cell_mm, face.left, face.low, face.columns, face.rows);
        for (std::size_t i = 0; i < share.size(); ++i)
            if (face.inside[i] > 0) back_mm[i] += share[i] * static_cast<float>(lump.thick_mm);
    }
}

} // namespace

bool FaceMap::covers(FaceMap const& other) const {
    return cell_mm == other.cell_mm && left <= other.left && low <= other.low &&
           left + columns >= other.left + other.columns && low + rows >= other.low + other.rows;
}

std::vector<float> covered_share(Ring const& ring, double cell_mm, int left, int low, int columns, int rows) {
    std::vector<float> share(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows), 0.0F);
    if (ring.size() < 3) return share;
    Box2 const box = bounds(ring);
    std::vector<double> at;
    for (int row = 0; row < rows; ++row) {
        if ((low + row + 1) * cell_mm < box.low.y || (low + row) * cell_mm > box.high.y) continue;
        for (int line = 0; line < kLinesPerCell; ++line) {
            crossings_of(ring, (low + row + (line + 0.5) / kLinesPerCell) * cell_mm, at);
            float* const cells = share.data() + static_cast<std::size_t>(row) * static_cast<std::size_t>(columns);
            for (std::size_t k = 0; k + 1 < at.size(); k += 2)
                add_span(at[k] / cell_mm - left, at[k + 1] / cell_mm - left, cells, columns, 1.0F / kLinesPerCell);
        }
    }
    return share;
}

std::shared_ptr<FaceMap const> face_map(ClaySurface const& face, Ring const& rim, HeightPatch const& also,
                                        double cell_mm) {
    CellBox const box = in_blocks(united(cells_of(bounds(rim), cell_mm, 2), cells_of(box_of(also), cell_mm, 2)));
    auto map = std::make_shared<FaceMap>();
    map->cell_mm = cell_mm;
    map->left = box.left;
    map->low = box.low;
    map->columns = box.columns;
    map->rows = box.rows;
    map->inside = covered_share(rim, cell_mm, box.left, box.low, box.columns, box.rows);
    resize_all(*map);
    tbb::parallel_for(0, map->rows, [&](int row) {
        for (int column = 0; column < map->columns; ++column) {
            LaidPoint const point = face.at_chart(map->middle(column, row));
            map->position[map->index(column, row)] = point.position;
            map->normal[map->index(column, row)] = point.normal;
        }
    });
    tbb::parallel_for(0, map->rows, [&](int row) {
        for (int column = 0; column < map->columns; ++column) set_shape(*map, column, row);
    });
    for (int row = 0; row < map->rows; ++row)
        for (int column = 0; column < map->columns; ++column) borrow_shape(*map, column, row);
    return map;
}

Ring opening_hole(ClaySurface const& surface, Feature const& opening) {
    constexpr int kPoints = 96;
    Ring local;
    for (int i = 0; i < kPoints; ++i)
        local.push_back(0.5 * Vec2{opening.width_mm * std::cos(kTwoPi * i / kPoints),
                                   opening.height_mm * std::sin(kTwoPi * i / kPoints)});
    Ring chart;
    for (LaidPoint const& point : lay_feature_points(surface, opening, local)) chart.push_back(point.chart);
    return chart;
}

HeightPatch pile_clay(StackField const& stack) {
    HeightPatch pile = stack.height;
    std::vector<float> clay(pile.height_mm.size(), 0.0F);
    std::vector<float> top(pile.height_mm.size(), 0.0F);
    auto const columns = static_cast<std::size_t>(pile.columns);
    for (auto const& leaf : stack.leaves) {
        HeightPatch const& upper = leaf->top;
        int const x0 = static_cast<int>(std::lround((upper.origin_mm.x - pile.origin_mm.x) / pile.cell_mm));
        int const y0 = static_cast<int>(std::lround((upper.origin_mm.y - pile.origin_mm.y) / pile.cell_mm));
        for (int y = std::max(0, -y0); y < std::min(upper.rows, pile.rows - y0); ++y)
            for (int x = std::max(0, -x0); x < std::min(upper.columns, pile.columns - x0); ++x) {
                auto const from =
                    static_cast<std::size_t>(y) * static_cast<std::size_t>(upper.columns) + static_cast<std::size_t>(x);
                float const thick = upper.height_mm[from] - leaf->bottom.height_mm[from];
                if (!(thick > 0)) continue;
                std::size_t const to = static_cast<std::size_t>(y + y0) * columns + static_cast<std::size_t>(x + x0);
                clay[to] += thick;
                top[to] = std::max(top[to], upper.height_mm[from]);
            }
    }
    for (std::size_t i = 0; i < clay.size(); ++i)
        pile.height_mm[i] = clay[i] + std::max(0.0F, pile.height_mm[i] - top[i]); // a mound is built up last
    return pile;
}

ClayMap clay_map(std::shared_ptr<FaceMap const> face, double slab_thickness_mm, HeightPatch const& pile,
                 std::span<Ring const> holes, std::span<BackLump const> lumps) {
    ClayMap map;
    map.slab_thickness_mm = slab_thickness_mm;
    std::size_t const n = face->size();
    map.slab_mm.resize(n);
    map.pile_mm.resize(n);
    map.back_mm.assign(n, 0.0F);
    map.open.resize(n);
    std::vector<float> solid = face->inside;
    for (Ring const& hole : holes) {
        auto const gone = covered_share(hole, face->cell_mm, face->left, face->low, face->columns, face->rows);
        for (std::size_t i = 0; i < n; ++i) solid[i] = std::max(0.0F, solid[i] - gone[i]);
    }
    add_lumps(*face, lumps, map.back_mm);
    PileReader const reader(pile, face->cell_mm);
    double const area = face->cell_mm * face->cell_mm;
    double const t = slab_thickness_mm;
    for (int row = 0; row < face->rows; ++row)
        for (int column = 0; column < face->columns; ++column) {
            std::size_t const i = face->index(column, row);
            float leaf = 0;
            reader.read(face->left + column, face->low + row, map.pile_mm[i], leaf);
            // The slab's volume counts downward from its outer face, where it narrows on a dome.
            double const true_mm = t - static_cast<double>(face->bend_per_mm[i]) * t * t / 2 +
                                   static_cast<double>(face->twist_per_mm2[i]) * t * t * t / 3;
            map.slab_mm[i] = solid[i] * static_cast<float>(true_mm);
            map.open[i] = std::min(1.0F, std::max(solid[i], leaf));
            if (map.open[i] < kSliver) map.slab_mm[i] = map.pile_mm[i] = map.back_mm[i] = map.open[i] = 0;
            map.volume_mm3 += area * static_cast<double>(map.clay_mm(i));
            map.open_mm2 += area * static_cast<double>(map.open[i]);
        }
    map.face = std::move(face);
    return map;
}

} // namespace leafwright
