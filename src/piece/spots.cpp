#include "piece/spots.h"

#include "base/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kLeastThickSpot_mm2 = 4.0;
constexpr int kScanLines = 7;

// The middle of the longest run inside on a few level lines; the centroid where that lies inside and serves as well.
Vec2 well_inside(Polygon const& polygon) {
    Box2 const box = bounds(polygon.outer);
    Vec2 best = polygon.outer.front();
    double longest = -1;
    for (int line = 1; line <= kScanLines; ++line) {
        double const y = box.low.y + box.size().y * line / (kScanLines + 1.0);
        std::vector<double> crossings;
        auto const scan = [&](Ring const& ring) {
            for (std::size_t i = 0; i < ring.size(); ++i) {
                Vec2 const& a = ring[i];
                Vec2 const& b = ring[(i + 1) % ring.size()];
                if ((a.y <= y) != (b.y <= y)) crossings.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
            }
        };
        scan(polygon.outer);
        for (Ring const& hole : polygon.holes) scan(hole);
        std::ranges::sort(crossings);
        for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
            if (crossings[k + 1] - crossings[k] <= longest) continue;
            longest = crossings[k + 1] - crossings[k];
            best = {0.5 * (crossings[k] + crossings[k + 1]), y};
        }
    }
    Vec2 const middle = centroid(polygon.outer);
    return contains(polygon, middle) ? middle : best;
}

// Cells higher than the limit, without those in features.
class HighCells {
public:
    HighCells(HeightPatch const& patch, double limit_mm) : patch_(&patch), high_(patch.height_mm.size()) {
        auto const limit = static_cast<float>(limit_mm);
        for (std::size_t i = 0; i < high_.size(); ++i) high_[i] = patch.height_mm[i] > limit ? 1 : 0;
    }

    void clear_inside(Ring const& ring) {
        Box2 const box = bounds(ring);
        int const first = std::max(0, row_of(box.low.y));
        int const last = std::min(patch_->rows - 1, row_of(box.high.y) + 1);
        std::vector<double> crossings;
        for (int row = first; row <= last; ++row) {
            double const y = patch_->origin_mm.y + row * patch_->cell_mm;
            crossings.clear();
            for (std::size_t i = 0; i < ring.size(); ++i) {
                Vec2 const& a = ring[i];
                Vec2 const& b = ring[(i + 1) % ring.size()];
                if ((a.y <= y) != (b.y <= y)) crossings.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
            }
            std::ranges::sort(crossings);
            for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) clear_row(row, crossings[k], crossings[k + 1]);
        }
    }

    std::vector<ThickSpot> patches(ClaySurface const& face, double slab_mm) {
        std::vector<ThickSpot> spots;
        for (std::size_t i = 0; i < high_.size(); ++i) {
            if (high_[i] == 0) continue;
            flood(i);
            double const area = static_cast<double>(cells_.size()) * patch_->cell_mm * patch_->cell_mm;
            if (area < kLeastThickSpot_mm2) continue;
            std::size_t const top =
                *std::ranges::max_element(cells_, {}, [&](std::size_t c) { return patch_->height_mm[c]; });
            spots.push_back(
                {face.from_chart(middle(top)), slab_mm + static_cast<double>(patch_->height_mm[top]), area});
        }
        std::ranges::stable_sort(spots, std::greater<>(), &ThickSpot::thickness_mm);
        return spots;
    }

private:
    int row_of(double y) const { return static_cast<int>(std::floor((y - patch_->origin_mm.y) / patch_->cell_mm)); }
    std::size_t columns() const { return static_cast<std::size_t>(patch_->columns); }
    Vec2 middle(std::size_t cell) const {
        std::size_t const row = cell / columns();
        return patch_->origin_mm +
               patch_->cell_mm * Vec2(static_cast<double>(cell % columns()), static_cast<double>(row));
    }
    void clear_row(int row, double from_x, double to_x) {
        double const from = std::ceil((from_x - patch_->origin_mm.x) / patch_->cell_mm);
        double const to = std::floor((to_x - patch_->origin_mm.x) / patch_->cell_mm);
        for (double c = std::max(0.0, from); c <= std::min(to, patch_->columns - 1.0); ++c)
            high_[static_cast<std::size_t>(row) * columns() + static_cast<std::size_t>(c)] = 0;
    }
    // Takes the patch that holds the cell off the map, into cells_.
    void flood(std::size_t start) {
        cells_.assign(1, start);
        high_[start] = 0;
        for (std::size_t k = 0; k < cells_.size(); ++k) {
            std::size_t const cell = cells_[k];
            auto const visit = [&](bool there, std::size_t next) {
                if (!there || high_[next] == 0) return;
                high_[next] = 0;
                cells_.push_back(next);
            };
            visit(cell % columns() > 0, cell - 1);
            visit(cell % columns() + 1 < columns(), cell + 1);
            visit(cell >= columns(), cell - columns());
            visit(cell + columns() < high_.size(), cell + columns());
        }
    }

    HeightPatch const* patch_;
    std::vector<char> high_;
    std::vector<std::size_t> cells_;
};

} // namespace

std::vector<BareSpot> bare_spots_of(std::vector<Polygon> const& polygons, ClaySurface const& face) {
    std::vector<BareSpot> spots;
    for (Polygon const& polygon : polygons) {
        double const area_mm2 = area(polygon);
        if (area_mm2 < kLeastBareSpot_mm2) continue;
        spots.push_back({face.from_chart(well_inside(polygon)), area_mm2, polygon.outer});
    }
    std::ranges::stable_sort(spots, std::greater<>(), &BareSpot::area_mm2);
    return spots;
}

std::vector<ThickSpot> thick_spots_of(Plan const& plan) {
    double const slab = plan.piece.slab.thickness_mm;
    if (plan.stack->most_mm <= kStackLimit * slab) return {};
    HighCells cells(plan.stack->height, kStackLimit * slab);
    for (auto const& ring : plan.zone.keep_clear) cells.clear_inside(*ring);
    return cells.patches(*plan.outer_face, slab);
}

std::string place_words(Plan const& plan, Spot const& spot) {
    static constexpr std::array<char const*, 8> kPlaces = {
        "at the right", "at the upper right", "at the top",    "at the upper left",
        "at the left",  "at the lower left",  "at the bottom", "at the lower right"};
    Vec2 const p = plan.outer_face->to_chart(spot);
    double const middle = 0.25 * std::sqrt(plan.leaves.overlap.zone_mm2 / kPi);
    if (glm::length(p) < middle) return "in the middle";
    return kPlaces[static_cast<std::size_t>(std::lround(std::atan2(p.y, p.x) / (kTwoPi / 8)) + 8) % 8];
}

} // namespace leafwright
