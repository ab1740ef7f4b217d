// What there is to cut, as outlines in the flat.
#include "base/units.h"
#include "piece/clay_answer.h"
#include "piece/cutting_plan.h"
#include "piece/cutting_sizes.h"
#include "piece/number_place.h"
#include "rows/feature_form.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr int kRoundPoints = 64;
constexpr double kCrossArm_mm = 12; // of the mark at the slab's middle

CutItem item_of(CutKind kind, int number, std::string name, std::string label, double thickness_mm) {
    CutItem item;
    item.kind = kind;
    item.number = number;
    item.name = std::move(name);
    item.label = std::move(label);
    item.thickness_mm = thickness_mm;
    return item;
}

CutItem with_outline(CutItem item, Polygon outline) {
    item.outline_mm = std::move(outline);
    item.area_mm2 = area(item.outline_mm);
    item.number_room_mm =
        0.4 * std::min(bounds(item.outline_mm.outer).size().x, bounds(item.outline_mm.outer).size().y);
    return item;
}

Ring rectangle(double length_mm, double width_mm) {
    double const x = 0.5 * length_mm, y = 0.5 * width_mm;
    return {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
}

// A round of exactly that area.
Ring round_of_area(double area_mm2) {
    double const corner = kTwoPi / kRoundPoints;
    double const radius = std::sqrt(2 * area_mm2 / (kRoundPoints * std::sin(corner)));
    Ring ring;
    for (int i = 0; i < kRoundPoints; ++i) ring.push_back(radius * Vec2(std::cos(corner * i), std::sin(corner * i)));
    return ring;
}

CutItem slab_item(SlabAnswer const& slab, double thickness_mm) {
    CutItem item =
        with_outline(item_of(CutKind::slab, 1, "slab", "Slab", thickness_mm), {counter_clockwise(slab.outline_mm), {}});
    for (SlabCutAnswer const& cut : slab.cuts)
        if (cut.notch_mm.size() > 2) item.marks.push_back({cut.notch_mm, true});
    item.number_mm = {0, -3 * kCrossArm_mm};
    item.number_room_mm = 16;
    item.marks.push_back({{{-kCrossArm_mm, 0}, {kCrossArm_mm, 0}}, false});
    // The upright line, with an arrow head: which way the slab goes on the former.
    item.marks.push_back({{{0, -kCrossArm_mm}, {0, 3 * kCrossArm_mm}}, false});
    item.marks.push_back({{{-4, 3 * kCrossArm_mm - 6}, {0, 3 * kCrossArm_mm}, {4, 3 * kCrossArm_mm - 6}}, false});
    return item;
}

CutItem leaf_item(LaidLeaf const& laid, std::shared_ptr<LeafPattern const> pattern, NumberPlace const& number) {
    LeafPlacement const& placement = laid.placement;
    CutItem item = item_of(CutKind::leaf, placement.id, fmt::format("leaf {}", placement.id),
                           std::to_string(placement.id), laid.thickness_mm);
    item.row = placement.row;
    item.pattern = std::move(pattern);
    item.scale = placement.scale;
    item.flipped = placement.flipped;
    item = with_outline(item, shape_of(item).outline_mm);
    item.number_mm = item.scale * Vec2(item.flipped ? -number.at.x : number.at.x, number.at.y);
    item.number_room_mm = item.scale * number.clear_mm;
    return item;
}

void add_lugs(Plan const& plan, std::vector<CutItem>& items) {
    double const volume = lug_volume_mm3(plan.piece.hanging);
    if (volume <= 0) return;
    double const thickness = plan.piece.slab.thickness_mm;
    for (int i = 1; i <= 2; ++i)
        items.push_back(
            with_outline(item_of(CutKind::lug, i, fmt::format("lug {}", i), fmt::format("Lug {}", i), thickness),
                         {round_of_area(0.5 * volume / thickness), {}}));
}

// Half the way round an ellipse's middle line, twice (Ramanujan 1914, first formula: 0.1 % up to 5 : 1).
double ellipse_round_mm(double a, double b) { return kPi * (3 * (a + b) - std::sqrt((3 * a + b) * (a + 3 * b))); }

// The lip's clay as a strip once round its middle, in equal lengths that fit the sheet.
void add_strips(Plan const& plan, double longest_mm, std::vector<CutItem>& items) {
    double const thickness = plan.piece.slab.thickness_mm;
    int number = 0;
    for (LaidFeature const& laid : plan.features) {
        Feature const& f = laid.feature;
        double const volume = f.kind == FeatureKind::opening ? feature_volume_mm3(f) : 0;
        if (volume <= 0) continue;
        double const round =
            ellipse_round_mm(0.5 * (f.width_mm + form::kLipWidth_mm), 0.5 * (f.height_mm + form::kLipWidth_mm));
        int const parts = std::max(1, static_cast<int>(std::ceil(round / longest_mm)));
        double const width = volume / (thickness * round);
        for (int i = 0; i < parts; ++i) {
            ++number;
            items.push_back(with_outline(item_of(CutKind::strip, number, fmt::format("strip {}", number),
                                                 fmt::format("Strip {}", number), thickness),
                                         {rectangle(round / parts, width), {}}));
        }
    }
}

void add_bars(Plan const& plan, std::vector<CutItem>& items) {
    for (int i = 1; i <= plan.piece.cutting.test_bars; ++i) {
        CutItem bar = with_outline(
            item_of(CutKind::bar, i, fmt::format("bar {}", i), fmt::format("Bar {}", i), plan.piece.slab.thickness_mm),
            {rectangle(kBarLength_mm, kBarWidth_mm), {}});
        bar.number_mm = {0, -8};
        bar.number_room_mm = 5.5;
        double const end = 0.5 * kBarLine_mm;
        bar.marks.push_back({{{-end, 0}, {end, 0}}, false});
        for (double const x : {-end, end}) bar.marks.push_back({{{x, -5}, {x, 5}}, false});
        items.push_back(std::move(bar));
    }
}

} // namespace

bool operator==(CutItem const& a, CutItem const& b) {
    return a.name == b.name && a.row == b.row && a.thickness_mm == b.thickness_mm && a.outline_mm == b.outline_mm &&
           a.marks == b.marks && (a.pattern == nullptr) == (b.pattern == nullptr) &&
           (!a.pattern || a.pattern->spec == b.pattern->spec);
}

LeafShape shape_of(CutItem const& leaf) {
    LeafShape const shape = scaled(leaf.pattern->shape, leaf.scale);
    return leaf.flipped ? mirrored(shape) : shape;
}

double usable_width_mm(Piece const& piece) {
    double const mat = piece.cutting.mat_width_mm;
    return mat > 0 ? std::min(mat, piece.slab.sheet_width_mm) : piece.slab.sheet_width_mm;
}

std::vector<CutItem> cut_items(Plan const& plan) {
    std::vector<CutItem> items;
    items.push_back(slab_item(*plan.slab, plan.piece.slab.thickness_mm));
    std::vector<NumberPlace> numbers;
    for (auto const& pattern : plan.patterns) numbers.push_back(number_place(pattern->shape.outline_mm));
    for (auto const& laid : plan.laid)
        for (std::size_t k = 0; k < plan.patterns.size(); ++k)
            if (plan.patterns[k]->spec.id == laid->placement.kind)
                items.push_back(leaf_item(*laid, plan.patterns[k], numbers[k]));
    add_lugs(plan, items);
    CuttingSpec const& cutting = plan.piece.cutting;
    double const longest = std::max(cutting.table_length_mm, usable_width_mm(plan.piece)) - 2 * cutting.edge_mm;
    add_strips(plan, std::max(50.0, longest), items);
    add_bars(plan, items);
    return items;
}

} // namespace leafwright
