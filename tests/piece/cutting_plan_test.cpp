#include "base/parse_json.h"
#include "near.h"
#include "piece/clay_answer.h"
#include "piece/commands.h"
#include "piece/cutting_plan.h"
#include "piece/number_place.h"
#include "piece/planner.h"
#include "sample_piece.h"

#include <geos_c.h>
#include <nlohmann/json.hpp>

#include <map>
#include <set>

using namespace leafwright;

namespace {

std::shared_ptr<Plan const> planned(Piece const& piece) {
    Planner planner;
    Outcome<std::shared_ptr<Plan const>> plan = planner.plan(piece);
    REQUIRE(plan.ok());
    return *plan;
}

std::shared_ptr<CuttingAnswer const> laid_out(std::shared_ptr<Plan const> const& plan, double seconds = 0) {
    CuttingOptions options;
    options.seconds = seconds;
    Task task;
    return plan_cutting(plan, options, task);
}

// A polygon library that shares nothing with the nesting.
class Geos {
public:
    Geos() : context_(GEOS_init_r()) {}
    ~Geos() {
        for (GEOSGeometry* shape : shapes_) GEOSGeom_destroy_r(context_, shape);
        GEOS_finish_r(context_);
    }
    GEOSGeometry const* polygon(Polygon const& p) {
        std::vector<GEOSGeometry*> holes;
        for (Ring const& hole : p.holes) holes.push_back(ring(hole));
        GEOSGeometry* shape =
            GEOSGeom_createPolygon_r(context_, ring(p.outer), holes.data(), static_cast<unsigned>(holes.size()));
        shapes_.push_back(shape);
        return shape;
    }
    double distance(GEOSGeometry const* a, GEOSGeometry const* b) {
        double d = 0;
        GEOSDistance_r(context_, a, b, &d);
        return d;
    }
    double common(GEOSGeometry const* a, GEOSGeometry const* b) {
        GEOSGeometry* both = GEOSIntersection_r(context_, a, b);
        double area = 0;
        if (both) GEOSArea_r(context_, both, &area);
        if (both) GEOSGeom_destroy_r(context_, both);
        return area;
    }

private:
    GEOSGeometry* ring(Ring const& r) {
        auto const n = static_cast<unsigned>(r.size());
        GEOSCoordSequence* points = GEOSCoordSeq_create_r(context_, n + 1, 2);
        for (unsigned i = 0; i <= n; ++i) {
            GEOSCoordSeq_setX_r(context_, points, i, r[i % n].x);
            GEOSCoordSeq_setY_r(context_, points, i, r[i % n].y);
        }
        return GEOSGeom_createLinearRing_r(context_, points);
    }
    GEOSContextHandle_t context_;
    std::vector<GEOSGeometry*> shapes_;
};

// No overlap, gaps kept, everything within its sheet and clear of its edges.
void check_sheets(CuttingAnswer const& answer) {
    double const gap = answer.plan->piece.cutting.gap_mm;
    for (CutSheet const& sheet : answer.sheets) {
        Geos geos;
        std::vector<GEOSGeometry const*> shapes;
        std::vector<Box2> boxes;
        for (CutPlace const& place : sheet.places) {
            CutItem const& item = answer.item_of(place);
            CHECK(item.thickness_mm == sheet.thickness_mm);
            Polygon const path = posed(item.outline_mm, place.pose);
            Box2 const box = bounds(path.outer);
            CHECK(box.low.x >= sheet.edge_mm - 1e-6);
            CHECK(box.low.y >= sheet.edge_mm - 1e-6);
            CHECK(box.high.x <= sheet.size_mm.x - sheet.edge_mm + 1e-6);
            CHECK(box.high.y <= sheet.size_mm.y - sheet.edge_mm + 1e-6);
            shapes.push_back(geos.polygon(path));
            boxes.push_back(box);
        }
        double overlap = 0;
        double nearest = 1e9;
        for (std::size_t i = 0; i < shapes.size(); ++i)
            for (std::size_t j = i + 1; j < shapes.size(); ++j) {
                Box2 wide = boxes[i];
                wide.low -= gap;
                wide.high += gap;
                if (!wide.overlaps(boxes[j])) continue;
                nearest = std::min(nearest, geos.distance(shapes[i], shapes[j]));
                overlap += geos.common(shapes[i], shapes[j]);
            }
        CHECK(nearest >= gap - 1e-6);
        CHECK(overlap <= 1e-9 * sheet.rolled_mm2());
        CHECK(sheet.size_mm.x <= answer.plan->piece.cutting.table_length_mm + 1e-6);
    }
}

// Every leaf of the piece once, as large as its kind's drawing at its scale.
void check_leaves(CuttingAnswer const& answer) {
    Plan const& plan = *answer.plan;
    std::map<int, double> areas;
    std::multiset<std::string> names;
    for (CutSheet const& sheet : answer.sheets)
        for (CutPlace const& place : sheet.places) {
            CutItem const& item = answer.item_of(place);
            names.insert(item.name);
            if (item.kind == CutKind::leaf) areas[item.number] = std::abs(area(posed(item.outline_mm, place.pose)));
        }
    for (std::string const& name : names) CHECK(names.count(name) == 1);
    CHECK(names.count("slab") == 1);
    CHECK(areas.size() == plan.piece.leaves.size());
    for (LeafPlacement const& leaf : plan.piece.leaves) {
        double const own = area(plan.pattern_of(leaf)->shape.outline_mm) * leaf.scale * leaf.scale;
        CHECK_REL(areas[leaf.id], own, 1e-9);
    }
}

Piece small_piece() {
    Piece piece = sample::clad_piece(1); // 40 leaves
    piece.leaves.resize(24);
    return piece;
}

} // namespace

TEST_CASE("every piece lies once on a sheet, apart from the others, by GEOS") {
    std::shared_ptr<CuttingAnswer const> const first = laid_out(planned(small_piece()));
    CHECK(first->left_out.empty());
    CHECK(first->warnings.empty());
    check_sheets(*first);
    check_leaves(*first);
    std::shared_ptr<CuttingAnswer const> const better = laid_out(planned(small_piece()), 0.5);
    check_sheets(*better);
    check_leaves(*better);
    CHECK(better->density >= first->density);
}

TEST_CASE("leaves along the rolling direction point that way, either way round") {
    Piece piece = small_piece();
    piece.cutting.grain = Grain::along;
    piece.cutting.grain_play_deg = 10;
    std::shared_ptr<CuttingAnswer const> const answer = laid_out(planned(piece), 0.3);
    check_sheets(*answer);
    for (CutSheet const& sheet : answer->sheets)
        for (CutPlace const& place : sheet.places) {
            if (answer->item_of(place).kind != CutKind::leaf) continue;
            // A leaf's tip points up in its own drawing; along the sheet is to the right or to the left.
            double const off = std::abs(std::remainder(place.pose.turn_deg - 90, 180.0));
            CHECK(off <= 10 + 1e-6);
        }
}

TEST_CASE("the sums of the sheets are those of their pieces, and the clay adds up") {
    std::shared_ptr<Plan const> const plan = planned(small_piece());
    std::shared_ptr<CuttingAnswer const> const a = laid_out(plan);
    double rolled_mm3 = 0, cut_mm3 = 0, rolled_mm2 = 0, cut_mm2 = 0;
    for (CutSheet const& sheet : a->sheets) {
        rolled_mm2 += sheet.size_mm.x * sheet.size_mm.y;
        rolled_mm3 += sheet.size_mm.x * sheet.size_mm.y * sheet.thickness_mm;
        for (CutPlace const& place : sheet.places) {
            double const own = std::abs(area(a->item_of(place).outline_mm));
            cut_mm2 += own;
            cut_mm3 += own * sheet.thickness_mm;
        }
    }
    CHECK_REL(a->rolled_mm2, rolled_mm2, 1e-12);
    CHECK_REL(a->cut_mm2, cut_mm2, 1e-9);
    CHECK_REL(a->density, cut_mm2 / rolled_mm2, 1e-9);
    // Slab, leaves and lugs weigh what the plan says; one bar of 130 x 30 mm as thick as the slab comes on top.
    ClayAnswer const& clay = plan->clay;
    double const bar_g = plastic_density(plan->piece.body).value * 130 * 30 * plan->piece.slab.thickness_mm / 1000;
    CHECK_REL(a->bars_g.value, bar_g, 1e-9);
    CHECK_REL(a->cut_g.value, clay.slab_g.value + clay.leaves_g.value + clay.lugs_g.value + bar_g, 1e-6);
    CHECK_REL(a->offcut_g.value, a->rolled_g.value - a->cut_g.value, 1e-9);
    CHECK_REL(a->rolled_g.value, plastic_density(plan->piece.body).value * rolled_mm3 / 1000, 1e-9);
    CHECK_REL(a->cut_g.value, plastic_density(plan->piece.body).value * cut_mm3 / 1000, 1e-9);
    ClayAnswer const& with = a->clay;
    double const parts = with.slab_g.value + with.leaves_g.value + with.features_g.value + with.lugs_g.value +
                         with.slip_g.value + with.offcuts_g.value;
    CHECK_REL(with.knead_g.value, parts * (1 + plan->piece.body.kneading_spare), 1e-9);
}

TEST_CASE("kneading by the sheets gives the plan the offcuts of the sheets, and undo takes it back") {
    Piece const piece = small_piece();
    std::shared_ptr<Plan const> const plan = planned(piece);
    std::shared_ptr<CuttingAnswer const> const a = laid_out(plan);
    CHECK(plan->clay.offcuts_by == ClayAnswer::OffcutsBy::usual_share);
    Piece const used = apply(piece, UseNest{a->share, a->piece_mm2});
    std::shared_ptr<Plan const> const by_sheets = planned(used);
    CHECK(by_sheets->clay.offcuts_by == ClayAnswer::OffcutsBy::sheets);
    CHECK_REL(by_sheets->clay.offcuts_g.value, a->offcut_g.value + a->bars_g.value, 1e-6);
    CHECK_REL(by_sheets->clay.knead_g.value, a->clay.knead_g.value, 1e-6);
    Piece fewer = used;
    fewer.leaves.pop_back();
    CHECK(planned(fewer)->clay.offcuts_by == ClayAnswer::OffcutsBy::sheets_of_before);
    CHECK(apply(used, UseNest{}) == piece);
}

TEST_CASE("leaves as thick as the slab are cut from the slab's own offcut") {
    Piece piece = small_piece();
    for (LeafKindSpec& kind : piece.leaf_kinds) kind.thickness_mm = piece.slab.thickness_mm;
    std::shared_ptr<CuttingAnswer const> const together = laid_out(planned(piece));
    check_sheets(*together);
    check_leaves(*together);
    CHECK(together->beside_slab > 0);
    // Of its bounding rectangle a round slab leaves 1 - pi/4 = 21 %: leaves lie in what would be offcut.
    for (LeafKindSpec& kind : piece.leaf_kinds) kind.thickness_mm = piece.slab.thickness_mm - 1;
    std::shared_ptr<CuttingAnswer const> const apart = laid_out(planned(piece));
    CHECK(apart->beside_slab == 0);
    CHECK(together->rolled_mm2 < apart->rolled_mm2);
}

TEST_CASE("a pinned piece stays where it was put, and what cannot lie there is told") {
    Piece piece = small_piece();
    std::shared_ptr<CuttingAnswer const> const before = laid_out(planned(piece));
    CutSheet const* leaves = nullptr;
    for (CutSheet const& sheet : before->sheets)
        if (before->item_of(sheet.places.front()).kind == CutKind::leaf) leaves = &sheet;
    REQUIRE(leaves);
    // In the middle of the sheet, at a turn of its own.
    CutPlace moved = leaves->places.front();
    moved.pose.turn_deg = 33;
    moved.pose.at_mm = {};
    CutItem const& item = before->item_of(moved);
    Vec2 const middle = bounds(posed(item.outline_mm, moved.pose).outer).centre();
    moved.pose.at_mm = 0.5 * leaves->size_mm - middle;
    CutPin const pin = pin_of(*before, *leaves, moved);
    CHECK_FALSE(pin_fault(*before, *leaves, pin));
    std::shared_ptr<CuttingAnswer const> const after = laid_out(planned(apply(piece, PinCut{pin})), 0.3);
    check_sheets(*after);
    check_leaves(*after);
    bool found = false;
    for (CutSheet const& sheet : after->sheets)
        for (CutPlace const& place : sheet.places) {
            if (after->item_of(place).name != item.name) continue;
            found = true;
            CHECK(place.pinned);
            CHECK_NEAR(place.pose.at_mm.x, pin.x_mm, 1e-9);
            CHECK_NEAR(place.pose.at_mm.y, pin.y_mm, 1e-9);
            CHECK_NEAR(place.pose.turn_deg, 33, 1e-9);
            CHECK(sheet.in_group == pin.sheet);
        }
    CHECK(found);
    // Half beyond the edge.
    CutPin outside = pin;
    outside.x_mm = -30;
    CHECK(pin_fault(*before, *leaves, outside));
    // On top of another pinned piece.
    Piece const two = apply(piece, PinCut{pin});
    std::shared_ptr<CuttingAnswer const> const with_pin = laid_out(planned(two));
    CutPin other = pin;
    for (CutItem const& candidate : *with_pin->items)
        if (candidate.kind == CutKind::leaf && candidate.name != pin.cut &&
            candidate.thickness_mm == leaves->thickness_mm)
            other.cut = candidate.name;
    CHECK(pin_fault(*with_pin, *leaves, other));
    // In the file it overlaps all the same: told, and laid anew without pins.
    Piece bad = apply(two, PinCut{other});
    std::shared_ptr<CuttingAnswer const> const anew = laid_out(planned(bad));
    check_sheets(*anew);
    check_leaves(*anew);
    REQUIRE(anew->warnings.size() == 1);
    CHECK(anew->warnings.front().code == "cutting.pins");
}

TEST_CASE("after a piece was put down elsewhere the rest lies about where it lay") {
    Piece piece = small_piece();
    std::shared_ptr<CuttingAnswer const> const before = laid_out(planned(piece), 0.5);
    CutSheet const* leaves = nullptr;
    for (CutSheet const& sheet : before->sheets)
        if (before->item_of(sheet.places.front()).kind == CutKind::leaf) leaves = &sheet;
    REQUIRE(leaves);
    CutPlace moved = leaves->places.back();
    moved.pose.at_mm.x += moved.pose.at_mm.x < 0.5 * leaves->size_mm.x ? 4 : -4;
    CutPin const pin = pin_of(*before, *leaves, moved);
    CuttingOptions options;
    options.from = before;
    options.seconds = 0;
    Task task;
    std::shared_ptr<CuttingAnswer const> const after = plan_cutting(planned(apply(piece, PinCut{pin})), options, task);
    check_sheets(*after);
    check_leaves(*after);
    std::map<std::string, NestPose> lay;
    for (CutSheet const& sheet : before->sheets)
        for (CutPlace const& place : sheet.places) lay[before->item_of(place).name] = place.pose;
    int stayed = 0, all = 0, pinned = 0;
    for (CutSheet const& sheet : after->sheets)
        for (CutPlace const& place : sheet.places) {
            NestPose const& was = lay[after->item_of(place).name];
            ++all, pinned += place.pinned;
            stayed += glm::length(was.at_mm - place.pose.at_mm) < 15 && was.sheet == place.pose.sheet;
        }
    CHECK(pinned == 1);
    CAPTURE(all);
    CHECK(stayed > all / 2);
}

TEST_CASE("what fits no sheet is left out and told as a refusal") {
    Piece piece = small_piece();
    piece.slab.sheet_width_mm = 300; // the slab is about 400 mm across
    std::shared_ptr<CuttingAnswer const> const answer = laid_out(planned(piece));
    REQUIRE(answer->left_out.size() == 1);
    CHECK((*answer->items)[static_cast<std::size_t>(answer->left_out.front())].kind == CutKind::slab);
    REQUIRE_FALSE(answer->warnings.empty());
    CHECK(answer->warnings.front().refusal);
    check_sheets(*answer);
}

TEST_CASE("the same piece and rounds give the same sheets on any number of threads") {
    std::shared_ptr<Plan const> const plan = planned(small_piece());
    auto const run = [&](int threads) {
        CuttingOptions options;
        options.rounds = 2;
        options.threads = threads;
        Task task;
        return cutting_to_json(*plan_cutting(plan, options, task));
    };
    std::string const one = run(1);
    CHECK(run(2) == one);
}

TEST_CASE("better answers come one by one, and a cancel gives the best so far") {
    std::shared_ptr<Plan const> const plan = planned(small_piece());
    CuttingOptions options;
    options.seconds = 60;
    Task task;
    std::vector<double> lengths;
    std::shared_ptr<CuttingAnswer const> const answer =
        plan_cutting(plan, options, task, [&](std::shared_ptr<CuttingAnswer const> const& better) {
            lengths.push_back(better->rolled_mm2);
            check_sheets(*better);
            if (lengths.size() == 2) task.cancel();
        });
    REQUIRE(lengths.size() >= 2);
    for (std::size_t i = 1; i < lengths.size(); ++i) CHECK(lengths[i] < lengths[i - 1]);
    CHECK(answer->rolled_mm2 <= lengths.back() + 1e-9);
    CHECK(answer->improved);
    // Gone on from there it is never worse.
    CuttingOptions further;
    further.from = answer;
    further.rounds = 1;
    Task more;
    CHECK(plan_cutting(plan, further, more)->rolled_mm2 <= answer->rolled_mm2 + 1e-6);
}

TEST_CASE("the JSON holds every path with its number, and the sums") {
    std::shared_ptr<CuttingAnswer const> const answer = laid_out(planned(small_piece()));
    nlohmann::json const cutting = parse_json(cutting_to_json(*answer)).at("cutting");
    CHECK(cutting.at("density").get<double>() == answer->density);
    CHECK(cutting.at("rolled_mm2").get<double>() == answer->rolled_mm2);
    CHECK(cutting.at("offcut_g").at("value").get<double>() == answer->offcut_g.value);
    std::size_t pieces = 0;
    for (auto const& sheet : cutting.at("sheets"))
        for (auto const& piece : sheet.at("pieces")) {
            ++pieces;
            Ring ring;
            for (auto const& p : piece.at("outline_mm")) ring.emplace_back(p[0].get<double>(), p[1].get<double>());
            CHECK_REL(std::abs(signed_area(ring)), piece.at("area_mm2").get<double>(), 1e-6);
        }
    CHECK(pieces == answer->items->size());
}

TEST_CASE("an opening's lip becomes strips of the same clay, as thick as the slab") {
    Piece piece = small_piece();
    Feature opening;
    opening.kind = FeatureKind::opening;
    opening.width_mm = 120;
    opening.height_mm = 120;
    opening.rise_mm = 12;
    piece.features = {opening};
    std::shared_ptr<Plan const> const plan = planned(piece);
    double volume = 0;
    for (CutItem const& item : cut_items(*plan))
        if (item.kind == CutKind::strip) volume += item.area_mm2 * item.thickness_mm;
    CHECK_REL(volume, feature_volume_mm3(opening), 1e-9);
    CHECK_REL(cut_area_mm2(*plan), laid_out(plan)->piece_mm2, 1e-9);
}

TEST_CASE("a number stands where the outline leaves most room") {
    // In a square it is the middle, half the side from every edge.
    Polygon const square{{{0, 0}, {40, 0}, {40, 40}, {0, 40}}, {}};
    NumberPlace const middle = number_place(square);
    CHECK_NEAR(middle.at.x, 20, 0.5);
    CHECK_NEAR(middle.at.y, 20, 0.5);
    CHECK_NEAR(middle.clear_mm, 20, 0.5);
    // Its right half covered, what shows is 20 x 40: 10 from three sides.
    Polygon const cover{{{20, -5}, {50, -5}, {50, 45}, {20, 45}}, {}};
    Polygon const* const covers[] = {&cover};
    NumberPlace const left = number_place(square, covers);
    CHECK_NEAR(left.at.x, 10, 0.5);
    CHECK_NEAR(left.clear_mm, 10, 0.5);
    Polygon const all{{{-5, -5}, {50, -5}, {50, 45}, {-5, 45}}, {}};
    Polygon const* const whole[] = {&all};
    CHECK(number_place(square, whole).clear_mm == 0);
}
