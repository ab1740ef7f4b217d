#include "rows/lay_result.h"

#include "base/units.h"
#include "rows/overlap.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <set>

namespace leafwright {

namespace {

constexpr int kRimPoints = 720;

double order_key(double azimuth_deg, bool mirror) {
    if (mirror) return std::abs(std::remainder(azimuth_deg + 90.0, 360.0));
    // A first leaf that was nudged a little back from straight down still is the first.
    double const turned = azimuth_deg + 90.0 + 4.0;
    return turned - 360.0 * std::floor(turned / 360.0);
}

} // namespace

std::vector<OrderedLeaf> leaves_in_order(LayState const& state) {
    bool const mirror = state.scene().mirror;
    std::vector<OrderedLeaf> ordered;
    for (std::size_t k = 0; k < state.units().size(); ++k) {
        LayUnit const& unit = state.unit(k);
        // Both of a pair get one key, so that they stay together.
        double const key = order_key(degrees(unit.pose.middle.azimuth_rad), mirror);
        ordered.push_back({placement_of(state.scene(), unit, false), k, key});
        if (unit.paired) ordered.push_back({placement_of(state.scene(), unit, true), k, key});
    }
    std::stable_sort(ordered.begin(), ordered.end(), [&](OrderedLeaf const& a, OrderedLeaf const& b) {
        if (a.placement.row != b.placement.row) return a.placement.row < b.placement.row;
        int const a_late = state.unit(a.unit).late;
        int const b_late = state.unit(b.unit).late;
        return a_late != b_late ? a_late < b_late : a.key < b.key;
    });
    return ordered;
}

std::vector<LeafPlacement> ordered_leaves(LayState const& state, LayRequest const& request) {
    std::set<int> taken;
    for (LeafPlacement const& pinned : request.pinned) taken.insert(pinned.id);
    int next = 1;
    std::vector<LeafPlacement> leaves;
    for (OrderedLeaf& leaf : leaves_in_order(state)) {
        LeafPlacement& placement = leaf.placement;
        if (placement.pinned) {
            for (LeafPlacement const& pinned : request.pinned)
                if (pinned.id == placement.id) placement = pinned;
        } else {
            while (taken.count(next) != 0) ++next;
            placement.id = next++;
        }
        leaves.push_back(std::move(placement));
    }
    return leaves;
}

double exact_bare_mm2(LayRequest const& request, std::span<LeafPlacement const> leaves) {
    CladZone zone;
    zone.rim = std::make_shared<Ring>(request.surface->rim_chart(kRimPoints));
    for (Feature const& feature : request.features)
        zone.keep_clear.push_back(std::make_shared<Ring>(lay_feature(*request.surface, feature).chart));
    std::vector<OverlapLeaf> laid;
    for (LeafPlacement const& leaf : leaves) {
        auto const pattern = std::find_if(request.patterns.begin(), request.patterns.end(),
                                          [&](LeafPattern const& p) { return p.spec.id == leaf.kind; });
        laid.push_back({leaf.id, std::make_shared<Polygon>(lay_leaf(*request.surface, *pattern, leaf).chart)});
    }
    OverlapEngine engine;
    return engine.update(zone, laid).bare_mm2;
}

namespace {

constexpr double kLapTolerance = 0.05;
constexpr double kBareTolerance_mm2 = 1.0;
constexpr int kFewLeaves = 3; // make no row yet

std::string number(double value, int digits) {
    char text[32];
    std::snprintf(text, sizeof text, "%.*f", digits, value);
    return text;
}

Problem remark(std::string code, int row, std::string what, std::string hint) {
    return {std::move(code), "Row " + std::to_string(row), std::move(what), std::move(hint), ProblemKind::refusal};
}

double mean_width_mm(LayScene const& scene, int row) {
    double sum = 0;
    for (int const kind : scene.kinds_of(row)) sum += scene.kinds[static_cast<std::size_t>(kind)].width_mm;
    return sum / static_cast<double>(scene.kinds_of(row).size());
}

// Least and even side lap of a row, shares of the leaves' width.
struct SideLaps {
    double least = 1;
    double even = 1;
};

SideLaps side_laps(LayScene const& scene, CourseRow const& row, std::span<LeafPlacement const> leaves) {
    double const width = mean_width_mm(scene, row.row);
    SideLaps laps;
    if (row.leaves > 0) laps.even = 1.0 - row.run_mm / row.leaves / width;
    std::vector<Vec3> middles;
    for (LeafPlacement const& leaf : leaves)
        if (leaf.row == row.row)
            middles.push_back(scene.field.surface().at({radians(leaf.azimuth_deg), leaf.from_crown_mm}).position);
    for (std::size_t k = 0; k < middles.size(); ++k) {
        double nearest = 1e300;
        for (std::size_t j = 0; j < middles.size(); ++j)
            if (j != k) nearest = std::min(nearest, glm::distance(middles[k], middles[j]));
        laps.least = std::min(laps.least, 1.0 - nearest / width);
    }
    return laps;
}

// Rows that share a remark: "row 2", "rows 2, 3".
class RowList {
public:
    void add(int row) {
        if (first_ == 0) first_ = row;
        numbers_ += (numbers_.empty() ? "" : ", ") + std::to_string(row);
    }
    bool empty() const { return first_ == 0; }
    int first() const { return first_; }
    std::string words() const { return (numbers_.find(',') == std::string::npos ? "row " : "rows ") + numbers_; }

private:
    int first_ = 0;
    std::string numbers_;
};

void append_closer(RowList const& rows, double most, std::vector<Problem>& remarks) {
    if (rows.empty()) return;
    remarks.push_back(
        remark("rows.closer", rows.first(),
               "leaves lap up to " + number(100.0 * most, 0) +
                   " % of their width, more than the side lap asks for, so that no clay shows between them (" +
                   rows.words() + ")",
               "Choose a broader leaf, or allow more overhang or head lap"));
}

void append_wider(RowList const& rows, std::vector<Problem>& remarks) {
    if (rows.empty()) return;
    remarks.push_back(remark("rows.side-lap", rows.first(),
                             "neighbours stand further apart than the side lap asks for at single places (" +
                                 rows.words() + "); other leaves cover the clay there",
                             "Look there, and set a leaf by hand if a gap shows"));
}

void append_empty(RowList const& rows, std::vector<Problem>& remarks) {
    if (rows.empty()) return;
    remarks.push_back(remark("rows.empty", rows.first(), "has no room between the rows round it (" + rows.words() + ")",
                             "Choose shorter leaves for the rows further out, or raise their head lap"));
}

int count_in_row(std::span<LeafPlacement const> leaves, int row) {
    return static_cast<int>(std::ranges::count(leaves, row, &LeafPlacement::row));
}

// Each kind of remark in one sentence for all its rows.
void append_row_remarks(LayScene const& scene, std::span<CourseRow const> rows, std::span<LeafPlacement const> leaves,
                        std::vector<Problem>& remarks) {
    RowList closer;
    RowList wider;
    RowList empty;
    double most = 0;
    int last = 0;
    for (LeafPlacement const& leaf : leaves) last = std::max(last, leaf.row);
    for (CourseRow const& row : rows) {
        int const there = count_in_row(leaves, row.row);
        if (there == 0 && row.row < last) empty.add(row.row);
        if (there < kFewLeaves || row.leaves < kFewLeaves) continue;
        double const rule = scene.rule(row.row).side_lap;
        SideLaps const laps = side_laps(scene, row, leaves);
        // Rounding the count up alone makes the lap a little more than the rule's.
        if (laps.even > rule + kLapTolerance + 1.0 / std::max(8, row.leaves)) {
            closer.add(row.row);
            most = std::max(most, laps.even);
        } else if (laps.least < rule - 2.0 * kLapTolerance) {
            wider.add(row.row);
        }
    }
    append_empty(empty, remarks);
    append_closer(closer, most, remarks);
    append_wider(wider, remarks);
}

} // namespace

std::vector<Problem> rule_remarks(LayScene const& scene, Proposal const& proposal,
                                  std::span<LeafPlacement const> leaves, double bare_mm2) {
    std::vector<Problem> remarks;
    if (proposal.plan.reach_out_mm > 0) {
        double const rule = scene.rule(1).overhang_mm;
        remarks.push_back(remark("rows.overhang", 1,
                                 "tips reach " + number(rule + proposal.plan.reach_out_mm, 0) +
                                     " mm beyond the rim instead of " + number(rule, 0) +
                                     " mm, so that no clay shows between them",
                                 "Allow more overhang, or choose a leaf with a broader tip"));
    }
    if (proposal.plan.extra_rows > 0)
        remarks.push_back(remark("rows.head-lap", 2,
                                 "and further rows lie closer than the head lap asks for, " +
                                     std::to_string(proposal.rows.size()) + " rows in all",
                                 "Raise the head lap, or choose a broader leaf"));
    append_row_remarks(scene, proposal.rows, leaves, remarks);
    if (bare_mm2 > kBareTolerance_mm2)
        remarks.push_back({"rows.bare", "rows", number(bare_mm2, 0) + " mm2 of clay stay bare",
                           "Add a smaller leaf kind, or move features apart", ProblemKind::refusal});
    return remarks;
}

} // namespace leafwright
