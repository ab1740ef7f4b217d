#include "range/kiln_loads.h"

#include "base/random.h"
#include "base/units.h"
#include "near.h"
#include "range/load_bound.h"
#include "range/silhouette.h"

#include <algorithm>
#include <numeric>

using namespace leafwright;

namespace {

Ring rectangle(double w, double d) { return {{0, 0}, {w, 0}, {w, d}, {0, d}}; }
Ring disc(double radius, int points = 48) {
    Ring ring;
    for (int i = 0; i < points; ++i)
        ring.push_back(radius * Vec2(std::cos(kTwoPi * i / points), std::sin(kTwoPi * i / points)));
    return ring;
}

LoadPiece piece(Ring outline, double high, int copies = 1) {
    LoadPiece p;
    p.name = "Plaque";
    p.firing_name = "first";
    Vec2 const size = bounds(outline).size();
    p.outline_mm = std::move(outline);
    p.size = {size.x, size.y, high, 0};
    p.copies = copies;
    p.mass_g = 1000;
    p.kWh = 40;
    p.ware_kWh = 1;
    return p;
}

KilnSpec kiln(double w, double d, double h, KilnShape shape = KilnShape::box) {
    KilnSpec k;
    k.shape = shape;
    k.width_mm = w + 20;
    k.depth_mm = d + 20;
    k.height_mm = h + 20;
    k.clearance_mm = 10;
    return k;
}

ShelfSpec shelves(double shelf, double post, double gap) {
    ShelfSpec s;
    s.shelf_thickness_mm = shelf;
    s.post_gap_mm = post;
    s.piece_gap_mm = gap;
    return s;
}

double to_segment(Vec2 const& p, Vec2 const& a, Vec2 const& b) {
    double const along = std::clamp(glm::dot(p - a, b - a) / glm::dot(b - a, b - a), 0.0, 1.0);
    return glm::length(p - a - along * (b - a));
}

double apart(Ring const& a, Ring const& b) {
    if (contains(a, b[0]) || contains(b, a[0])) return -1;
    double least = 1e300;
    for (auto const& [points, edges] : {std::pair{&a, &b}, std::pair{&b, &a}})
        for (Vec2 const& p : *points)
            for (std::size_t i = 0; i < edges->size(); ++i)
                least = std::min(least, to_segment(p, (*edges)[i], (*edges)[(i + 1) % edges->size()]));
    return least;
}

// What is wrong with a filling, by plain measuring.
std::vector<std::string> faults_of(KilnSpec const& k, ShelfSpec const& s, std::vector<LoadPiece> const& pieces,
                                   LoadsAnswer const& answer) {
    std::vector<std::string> faults;
    std::vector<int> placed(pieces.size(), 0);
    Vec2 const room{k.width_mm - 2 * k.clearance_mm,
                    (k.shape == KilnShape::round ? k.width_mm : k.depth_mm) - 2 * k.clearance_mm};
    for (KilnLoad const& load : answer.loads) {
        std::vector<int> here(pieces.size(), 0);
        double base = 0;
        for (KilnShelf const& shelf : load.shelves) {
            if (std::abs(shelf.base_mm - base) > 1e-6) faults.push_back("a shelf hangs in the air");
            base += shelf.height_mm + s.post_gap_mm + s.shelf_thickness_mm;
            if (shelf.base_mm + shelf.height_mm > k.height_mm - 2 * k.clearance_mm + 1e-6) faults.push_back("too high");
            for (std::size_t i = 0; i < shelf.places.size(); ++i) {
                ShelfPlace const& p = shelf.places[i];
                ++here[static_cast<std::size_t>(p.kind)];
                PieceSize const& size = pieces[static_cast<std::size_t>(p.kind)].size;
                if ((p.standing ? size.height_mm : size.depth_mm) > shelf.height_mm + 1e-9)
                    faults.push_back("higher than its shelf");
                double const area_now = std::abs(signed_area(p.outline_mm.outer));
                double const area_asked =
                    p.standing ? size.width_mm * size.depth_mm
                               : std::abs(signed_area(pieces[static_cast<std::size_t>(p.kind)].outline_mm));
                if (std::abs(area_now - area_asked) > 1e-6 * area_asked) faults.push_back("another outline");
                for (Vec2 const& q : p.outline_mm.outer) {
                    bool const within = k.shape == KilnShape::round ? glm::length(q - 0.5 * room) <= 0.5 * room.x + 1e-3
                                                                    : q.x >= -1e-5 && q.y >= -1e-5 &&
                                                                          q.x <= room.x + 1e-5 && q.y <= room.y + 1e-5;
                    if (!within) faults.push_back("beyond the floor");
                }
                for (std::size_t j = 0; j < i; ++j)
                    if (apart(p.outline_mm.outer, shelf.places[j].outline_mm.outer) < s.piece_gap_mm - 1e-4)
                        faults.push_back("too near");
            }
        }
        if (here != load.of_kind) faults.push_back("other copies than told");
        for (std::size_t e = 0; e < here.size(); ++e) placed[e] += here[e];
    }
    for (std::size_t e = 0; e < pieces.size(); ++e) {
        bool const out =
            std::ranges::any_of(answer.misfits, [&](KilnMisfit const& m) { return m.kind == static_cast<int>(e); });
        if (placed[e] != (out ? 0 : pieces[e].copies)) faults.push_back("copies are missing");
    }
    if (static_cast<int>(answer.loads.size()) < answer.least) faults.push_back("fewer loads than possible");
    return faults;
}

// Fewest bins for these weights, by trying every share.
int bins_by_trying(std::vector<double> const& weights, double capacity, std::size_t at, std::vector<double>& bins,
                   int best) {
    if (static_cast<int>(bins.size()) >= best) return best;
    if (at == weights.size()) return static_cast<int>(bins.size());
    for (std::size_t b = 0; b < bins.size(); ++b) {
        if (bins[b] + weights[at] > capacity + 1e-9) continue;
        bins[b] += weights[at];
        best = std::min(best, bins_by_trying(weights, capacity, at + 1, bins, best));
        bins[b] -= weights[at];
    }
    bins.push_back(weights[at]);
    best = std::min(best, bins_by_trying(weights, capacity, at + 1, bins, best));
    bins.pop_back();
    return best;
}

// The same with pairs on a shelf: every way to pair, then every way to stack. A shelf weighs its highest piece and gap.
int loads_by_trying(std::vector<double> left, std::vector<double> shelf_weights, double gap, double capacity,
                    int best) {
    if (left.empty()) {
        std::vector<double> bins;
        return bins_by_trying(shelf_weights, capacity, 0, bins, best);
    }
    double const first = left.back();
    left.pop_back();
    shelf_weights.push_back(first + gap);
    best = std::min(best, loads_by_trying(left, shelf_weights, gap, capacity, best));
    for (std::size_t i = 0; i < left.size(); ++i) {
        std::vector<double> rest = left;
        rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
        shelf_weights.back() = std::max(first, left[i]) + gap;
        best = std::min(best, loads_by_trying(rest, shelf_weights, gap, capacity, best));
    }
    return best;
}

} // namespace

TEST_CASE("plates that fill a shelf are stacked as high as the kiln is") {
    // 100 high, 30 between: 4 x 100 + 3 x 30 = 490 of 500; nine plates are three loads.
    KilnSpec const k = kiln(400, 400, 500);
    ShelfSpec const s = shelves(18, 12, 0);
    std::vector<LoadPiece> const pieces = {piece(rectangle(390, 390), 100, 9)};
    LoadsAnswer const a = fill_kiln(k, s, pieces);
    CHECK(a.loads.size() == 3);
    CHECK(a.least == 3);
    CHECK(a.least_by_shelves == 3);
    CHECK(a.loads[0].shelves.size() == 4);
    CHECK_NEAR(a.loads[0].used_height_mm, 490, 1e-9);
    CHECK(faults_of(k, s, pieces, a) == std::vector<std::string>{});
    CHECK(a.loads[0].mass_g == 4000);
}

TEST_CASE("four squares share a floor of twice their side") {
    KilnSpec const k = kiln(412, 412, 100);
    ShelfSpec const s = shelves(18, 12, 8);
    std::vector<LoadPiece> const pieces = {piece(rectangle(200, 200), 100, 4)};
    LoadsAnswer const a = fill_kiln(k, s, pieces);
    CHECK(a.loads.size() == 1);
    CHECK(faults_of(k, s, pieces, a) == std::vector<std::string>{});
}

TEST_CASE("a long piece fits across the corner only, and is laid so") {
    // 520 x 20 in 400 x 400: the diagonal is 565.7.
    KilnSpec const k = kiln(400, 400, 100);
    std::vector<LoadPiece> const pieces = {piece(rectangle(520, 20), 50)};
    LoadsAnswer const a = fill_kiln(k, shelves(18, 12, 8), pieces);
    REQUIRE(a.loads.size() == 1);
    CHECK(faults_of(k, shelves(18, 12, 8), pieces, a) == std::vector<std::string>{});
    // By 45 degrees its box is (520 + 20)/sqrt 2 = 381.8 wide; 560 long it is 410.1.
    CHECK(fill_kiln(k, shelves(18, 12, 8), {piece(rectangle(560, 20), 50)}).misfits.size() == 1);
}

TEST_CASE("a round floor takes what its circle holds") {
    // Two discs of radius r lie in a circle of radius 2 r; four in (1 + sqrt 2) r = 2.414 r; seven in 3 r (Graham
    // 1968).
    ShelfSpec const s = shelves(18, 12, 0);
    for (auto const& round : {std::pair{2, 2.06}, std::pair{4, 2.5}, std::pair{7, 3.15}}) {
        int const copies = round.first;
        double const radius = round.second;
        KilnSpec const k = kiln(2 * radius * 100, 0, 100, KilnShape::round);
        std::vector<LoadPiece> const pieces = {piece(disc(100), 100, copies)};
        LoadsAnswer const a = fill_kiln(k, s, pieces);
        INFO(copies);
        CHECK(a.loads.size() == 1);
        CHECK(faults_of(k, s, pieces, a) == std::vector<std::string>{});
    }
    // Two in less than 2 r: never; the bound by circles within them sees it.
    LoadsAnswer const two = fill_kiln(kiln(394, 0, 100, KilnShape::round), s, {piece(disc(100), 100, 2)});
    CHECK(two.loads.size() == 2);
    CHECK(two.least == 2);
    // A square of side a lies in a circle of diameter a sqrt 2.
    CHECK(fill_kiln(kiln(142, 0, 60, KilnShape::round), s, {piece(rectangle(100, 100), 50)}).misfits.empty());
    CHECK(fill_kiln(kiln(141, 0, 60, KilnShape::round), s, {piece(rectangle(100, 100), 50)}).misfits.size() == 1);
}

TEST_CASE("what fits only standing stands; what does not fit is told with what is missing") {
    KilnSpec const k = kiln(400, 200, 450);
    ShelfSpec const s = shelves(18, 12, 8);
    std::vector<LoadPiece> const pieces = {piece(rectangle(300, 400), 80), piece(rectangle(430, 460), 80)};
    LoadsAnswer const a = fill_kiln(k, s, pieces);
    REQUIRE(a.loads.size() == 1);
    CHECK(a.loads[0].shelves[0].places[0].standing);
    CHECK(a.loads[0].shelves[0].height_mm == 400);
    CHECK(faults_of(k, s, pieces, a) == std::vector<std::string>{});
    REQUIRE(a.misfits.size() == 1);
    CHECK(a.misfits[0].kind == 1);
    CHECK(a.misfits[0].why.find("standing it is ") != std::string::npos);
    CHECK(!a.misfits[0].hint.empty());
}

TEST_CASE("pieces of other firings share no load, within what the maker allows they do") {
    KilnSpec const k = kiln(400, 400, 500);
    std::vector<LoadPiece> pieces = {piece(rectangle(300, 300), 80), piece(rectangle(300, 300), 80)};
    pieces[1].top_degC = 1012;
    ShelfSpec s = shelves(18, 12, 8);
    s.top_play_degC = 10;
    CHECK(fill_kiln(k, s, pieces).loads.size() == 2);
    CHECK(fill_kiln(k, s, pieces).least == 2);
    s.top_play_degC = 12;
    LoadsAnswer const together = fill_kiln(k, s, pieces);
    REQUIRE(together.loads.size() == 1);
    CHECK(together.loads[0].top_degC == 1012);
    CHECK(together.loads[0].hottest == 1);
    pieces[1].hours_up = 17;
    s.hours_play = 4;
    CHECK(fill_kiln(k, s, pieces).loads.size() == 2);
    s.hours_play = 5;
    REQUIRE(fill_kiln(k, s, pieces).loads.size() == 1);
    CHECK(fill_kiln(k, s, pieces).loads[0].hours_up == 17);
    pieces[1].own_segments = {{80, 1012, 0}};
    CHECK(fill_kiln(k, s, pieces).loads.size() == 2);
    pieces[0].own_segments = pieces[1].own_segments;
    CHECK(fill_kiln(k, s, pieces).loads.size() == 1);
    pieces[0].own_segments = {{90, 1012, 0}};
    CHECK(fill_kiln(k, s, pieces).loads.size() == 2);
    s.mix_schedules = true;
    CHECK(fill_kiln(k, s, pieces).loads.size() == 1);
    // Three in a row, the ends too far apart: two loads, not one.
    std::vector<LoadPiece> row(3, piece(rectangle(300, 300), 80));
    row[1].top_degC = 1010, row[2].top_degC = 1020;
    s.top_play_degC = 10;
    CHECK(fill_kiln(k, s, row).loads.size() == 2);
}

TEST_CASE("energy of a load: the lining once, the heat in every piece; by the meter, the meter's") {
    std::vector<LoadPiece> pieces = {piece(rectangle(100, 100), 50, 3), piece(rectangle(100, 100), 50, 1)};
    pieces[1].kWh = 45; // hotter or slower: 43 in the lining
    pieces[1].ware_kWh = 2;
    KilnSpec k = kiln(400, 400, 500);
    CHECK_NEAR(load_kWh(k, pieces, {3, 1}), 43 + 3 * 1 + 2, 1e-12);
    CHECK_NEAR(load_kWh(k, pieces, {1, 0}), 40, 1e-12); // alone, as it was reckoned
    k.kWh = 50;
    CHECK_NEAR(load_kWh(k, pieces, {3, 1}), 45, 1e-12);
}

TEST_CASE("stacking is as good as trying everything: pieces that fill a shelf, and pieces of which two do") {
    double const gap = 30, room = 400;
    int hard = 0;
    for (std::uint64_t seed = 0; seed < 60; ++seed) {
        Random random(seed);
        bool const pairs = seed % 2 == 1; // 195 x 390: two on a floor of 400 x 400
        std::vector<LoadPiece> pieces;
        std::vector<double> heights;
        for (std::uint32_t i = 4 + random.below(pairs ? 3 : 5); i > 0; --i) {
            heights.push_back(std::floor(random.between(40, 250)));
            pieces.push_back(piece(rectangle(pairs ? 190 : 390, 390), heights.back()));
        }
        KilnSpec const k = kiln(400, 400, room);
        ShelfSpec const s = shelves(18, 12, 8);
        LoadOptions options;
        options.seed = seed;
        LoadsAnswer const a = fill_kiln(k, s, pieces, options);
        INFO("seed ", seed);
        CHECK(faults_of(k, s, pieces, a) == std::vector<std::string>{});
        std::vector<double> bins, weights;
        for (double h : heights) weights.push_back(h + gap);
        int const best = pairs ? loads_by_trying(heights, {}, gap, room + gap, 100)
                               : bins_by_trying(weights, room + gap, 0, bins, 100);
        CHECK(static_cast<int>(a.loads.size()) == best);
        CHECK(a.least <= best);
        CHECK(a.least_by_shelves >= a.least); // here it is a bound as well: which pieces share a shelf is known
        CHECK(a.least_by_shelves <= best);
        hard += a.least < best;
    }
    CHECK(hard < 30);
}

TEST_CASE("the bound for bins never exceeds the best, and is exact when all are above half") {
    Random random(3);
    for (int round = 0; round < 300; ++round) {
        std::vector<double> weights, bins;
        bool const large = round % 2 == 0;
        for (std::uint32_t i = 1 + random.below(7); i > 0; --i) weights.push_back(random.between(large ? 51 : 5, 100));
        int const best = bins_by_trying(weights, 100, 0, bins, 100);
        CHECK(least_bins(weights, 100) <= best);
        if (large) CHECK(least_bins(weights, 100) == best);
    }
}

TEST_CASE("many pieces: sound, repeatable, near the bound") {
    KilnSpec const k = kiln(600, 600, 600);
    ShelfSpec const s = shelves(18, 12, 8);
    std::vector<LoadPiece> const pieces = {piece(disc(140), 70, 12), piece(rectangle(250, 350), 90, 8),
                                           piece(disc(90), 40, 10)};
    LoadsAnswer const a = fill_kiln(k, s, pieces);
    CHECK(faults_of(k, s, pieces, a) == std::vector<std::string>{});
    LoadsAnswer const again = fill_kiln(k, s, pieces);
    REQUIRE(again.loads.size() == a.loads.size());
    for (std::size_t l = 0; l < a.loads.size(); ++l) CHECK(again.loads[l].of_kind == a.loads[l].of_kind);
    CHECK(static_cast<int>(a.loads.size()) <= a.least + 1);
}

// An equilateral triangle of side a: circumscribed radius a/sqrt 3; a right one: half its longest side.
TEST_CASE("the smallest circle") {
    CHECK_NEAR(smallest_circle(Ring{{0, 0}, {100, 0}, {50, 50 * std::sqrt(3.0)}}).radius_mm, 100 / std::sqrt(3.0),
               1e-9);
    CHECK_NEAR(smallest_circle(Ring{{0, 0}, {30, 0}, {0, 40}, {10, 10}}).radius_mm, 25, 1e-9);
    CHECK_NEAR(smallest_circle(Ring{{0, 0}, {10, 0}, {20, 0}, {5, 0}}).radius_mm, 10, 1e-9);
    CHECK_NEAR(smallest_circle(disc(77, 64)).radius_mm, 77, 1e-9);
    CHECK(smallest_circle(Ring{}).radius_mm == 0);
}
