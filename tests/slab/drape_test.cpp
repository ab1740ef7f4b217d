// The membrane against closed forms, a one-dimensional twin, and itself under mirrors, scaling and refinement.
#include "drape_samples.h"
#include "near.h"
#include "round_slab.h"
#include "slab/drape_survey.h"

using namespace leafwright;

namespace {

constexpr double kBig = 153.75; // radius of the sphere; a hundred and thirty-five hundredths of a radian is 77 degrees
constexpr double kDeep = 1.35;
DrapeLaw const kNoCap{.delta = 100, .eta = 1};

double area_of(LadderResult const& r) {
    double sum = 0;
    for (DrapeTriangle const& t : r.mesh.triangles) {
        auto const at = [&](std::size_t i) { return r.solve.flat[static_cast<std::size_t>(t[i])]; };
        sum += 0.5 * cross(at(1) - at(0), at(2) - at(0));
    }
    return sum;
}

// A mesh of one quarter whose places are given by azimuth and share of the way from the middle to the rim.
DrapeMesh quarter(int rings, auto const& place) {
    MeridianTable const any = sample::table_of(sample::cap_spec(200, 0.5));
    DrapeMesh mesh = make_drape_mesh(any, drape_domain(any, Mirrors::both, {}).part, rings);
    for (std::size_t v = 0; v < mesh.place.size(); ++v) mesh.place[v] = place(mesh.azimuth[v], mesh.share[v]);
    mesh.normal.clear();
    return mesh;
}

} // namespace

TEST_CASE("the membrane's gradient and Hessian are those of its energy") {
    DrapeMesh mesh;
    mesh.azimuth = {0, 0, 0};
    mesh.place = {{0, 0, 0}, {10, 1, 2}, {3, 9, -1}};
    mesh.triangles = {{0, 1, 2}};
    for (DrapeLaw const& law : {DrapeLaw{}, DrapeLaw{.bulk = 3}, DrapeLaw{.shear = 2}}) {
        Membrane const membrane(mesh, law);
        // Larger in the flat than laid, both ways, by 1.5 and 2 %: no curvature is negative, nothing is left out.
        Vec2 const turn(std::cos(0.4), std::sin(0.4)), across(-turn.y, turn.x);
        double const px = std::sqrt(105.0), qx = 37 / px, qy = std::sqrt(91 - qx * qx);
        std::vector<Vec2> at{{0, 0}, 1.02 * px * turn, 1.02 * qx * turn + 1.015 * qy * across};
        Membrane::Local local;
        membrane.local(membrane.triangles()[0], at, local);
        CHECK_REL(local.energy, membrane.energy(at), 1e-12);
        double const h = 1e-4;
        auto const moved = [&](std::size_t i, double by_i, std::size_t j, double by_j) {
            std::vector<Vec2> p = at;
            p[i / 2][static_cast<int>(i % 2)] += by_i;
            p[j / 2][static_cast<int>(j % 2)] += by_j;
            return membrane.energy(p);
        };
        std::size_t entry = 0;
        for (std::size_t i = 0; i < 6; ++i) {
            CHECK_NEAR(local.gradient[i], (moved(i, h, 0, 0) - moved(i, -h, 0, 0)) / (2 * h), 1e-7);
            for (std::size_t j = 0; j <= i; ++j, ++entry) {
                double const by_differences =
                    (moved(i, h, j, h) - moved(i, h, j, -h) - moved(i, -h, j, h) + moved(i, -h, j, -h)) / (4 * h * h);
                CHECK_NEAR(local.hessian[entry], by_differences, 1e-5);
            }
        }
    }
}

TEST_CASE("a flat former leaves the slab as it is, from wherever the search starts") {
    DrapeMesh const mesh = quarter(20, [](double azimuth, double share) {
        return Vec3(150 * share * std::cos(azimuth), 200 * share * std::sin(azimuth), 0);
    });
    Membrane const membrane(mesh, {});
    std::vector<Vec2> start;
    for (Vec3 const& p : mesh.place) start.push_back(Vec2(p.x * (1 + 2e-4 * p.y), p.y * (1.1 - 3e-4 * p.x)));
    Task task;
    DrapeSolve const solve = DrapeSolver(mesh).solve(membrane, start, 1e-12, task);
    CHECK(solve.settled);
    double worst = 0;
    for (std::size_t v = 0; v < start.size(); ++v)
        worst = std::max(worst, glm::distance(solve.flat[v], Vec2(mesh.place[v])));
    CHECK_NEAR(worst, 0, 1e-5);
    CHECK_NEAR(solve.energy_mm2, 0, 1e-8);
}

TEST_CASE("a cone's frustum cut once unrolls without stretch") {
    // Radii 200 and 120, height 60: slant 100, lateral area pi (r1 + r2) slant, flat sector of 2 pi 200/250.
    MeridianTable const any = sample::table_of(sample::cap_spec(200, 0.5));
    DrapeRegion region = drape_domain(any, Mirrors::none, {}).whole;
    region.spokes.front().tip_share = region.spokes.back().tip_share = 0.05;
    int const rings = 40;
    std::vector<Spot> hole;
    for (int i = 0; i < 720; ++i) hole.push_back({kTwoPi * i / 720, 0.6 * any.rim_mm(0)});
    DrapeMesh mesh = make_drape_mesh(any, region, rings, {hole});
    for (std::size_t v = 0; v < mesh.place.size(); ++v) {
        double const a = mesh.azimuth[v], out = 200 * mesh.share[v];
        mesh.place[v] = {out * std::cos(a), out * std::sin(a), 150 - 0.75 * out};
        mesh.length_mm[v] = 250 * mesh.share[v];
    }
    mesh.normal.clear();
    Membrane const membrane(mesh, {});
    CHECK_REL(membrane.area_mm2(), 100530.9649149, 1e-3);
    Task task;
    DrapeSolve const solve = DrapeSolver(mesh).solve(membrane, stuck_positions(mesh), 1e-12, task);
    CHECK(solve.settled);
    double flat = 0;
    for (RestTriangle const& t : membrane.triangles()) {
        FlatStretch const s = membrane.stretch(t, solve.flat);
        CHECK_NEAR(s.s1, 1, 2e-3);
        CHECK_NEAR(s.s2, 1, 2e-3);
        flat += t.area * s.s1 * s.s2;
    }
    CHECK_REL(flat, membrane.area_mm2(), 1e-5);
    Vec2 const upper = solve.flat[static_cast<std::size_t>(mesh.vertex(rings, 0))];
    Vec2 const lower = solve.flat[static_cast<std::size_t>(mesh.vertex(rings, 0, DrapeMesh::Side::lower))];
    CHECK_REL(glm::distance(upper, lower), 2 * 250 * std::sin(kPi * 0.2), 1e-3); // chord of the missing fifth
}

TEST_CASE("limits of the energy are the sphere's classical maps") {
    MeridianTable const cap = sample::table_of(sample::cap_spec(kBig, kDeep));
    constexpr int kRings = 52;
    // Equal area: Lambert's azimuthal map, 2 R sin(t/2). Conformal: stereographic, tan(t/2) but for the scale. Free
    // pleating: lengths along the meridian are kept, R t (do Carmo; Snyder, USGS Prof. Paper 1395).
    // A stiffer bulk comes no nearer on this mesh: triangles of one strain each lock.
    LadderResult const lambert = sample::solve(cap, Mirrors::both, kRings, {.delta = 100, .eta = 1, .bulk = 30});
    LadderResult const conformal = sample::solve(cap, Mirrors::both, kRings, {.delta = 100, .eta = 1, .shear = 1e4});
    LadderResult const pleated = sample::solve(cap, Mirrors::both, kRings, {.delta = 0, .eta = 1e-5});
    double const scale = sample::flat_radius(conformal, kRings, 0) / std::tan(kDeep / 2);
    for (int ring : {4, 13, 26, 39, 52})
        for (int column : {0, ring, 2 * ring}) {
            double const t = kDeep * ring / kRings;
            CHECK_REL(sample::flat_radius(lambert, ring, column), 2 * kBig * std::sin(t / 2), 3e-3);
            CHECK_REL(sample::flat_radius(conformal, ring, column), scale * std::tan(t / 2), 5e-3);
            CHECK_REL(sample::flat_radius(pleated, ring, column), kBig * t, 1e-3);
        }
    CHECK_REL(4 * area_of(lambert), kTwoPi * kBig * kBig * (1 - std::cos(kDeep)), 2e-3);
}

TEST_CASE("the middle of a shallow cap is stretched by a2 / 32 R2") {
    // Linear membrane theory of the shallow cap laid flat: radial and hoop strain at the centre t^2/32.
    double const t = 0.15, big = 1000;
    LadderResult const r = sample::solve(sample::table_of(sample::cap_spec(big, t)), Mirrors::both, 52, kNoCap);
    double const laid = big * t / 52, flat = sample::flat_radius(r, 1, 0);
    CHECK_REL(laid / flat - 1, t * t / 32, 0.02);
}

TEST_CASE("round slabs agree with a solver of one dimension, and better on finer meshes") {
    for (DrapeLaw const& law : {kNoCap, DrapeLaw{}}) {
        MeridianTable const cap = sample::table_of(sample::cap_spec(kBig, kDeep));
        auto const radius = [&](double s) { return kBig * std::sin(s / kBig); };
        twin::RoundSlab const one = twin::solve_round(radius, kBig * kDeep, law.delta, law.eta);
        double last = 1e300;
        for (int rings : {13, 26, 52}) {
            LadderResult const r = sample::solve(cap, Mirrors::both, rings, law);
            CHECK(r.solve.settled);
            double off = 0, mean = 0;
            for (int column = 0; column <= 2 * rings; ++column) {
                double const here = sample::flat_radius(r, rings, column);
                off = std::max(off, std::abs(here - one.flat_radius.back()));
                mean += here / (2 * rings + 1);
            }
            CHECK(off < 0.5 * last); // first order at least: worst where a spoke meets the rim and the mesh is uneven
            last = off;
            if (rings < 52) continue;
            CHECK(off < 0.05);
            CHECK_REL(mean, one.flat_radius.back(), 1e-4);
            CHECK_REL(sample::flat_radius(r, rings / 2, 0), one.flat_radius[one.flat_radius.size() / 2], 1e-4);
            CHECK_REL(4 * r.solve.energy_mm2, one.energy, 1.5e-3);
        }
    }
}

TEST_CASE("meshes of 20000 triangles settle the outline of an oval to 0.05 mm") {
    MeridianTable const oval = sample::table_of(sample::oval_spec(120));
    LadderResult const fine = sample::solve(oval, Mirrors::both, 52), finer = sample::solve(oval, Mirrors::both, 104);
    for (int i = 0; i <= 104; i += 8) {
        Vec2 const a = fine.solve.flat[static_cast<std::size_t>(fine.mesh.vertex(52, i))];
        Vec2 const b = finer.solve.flat[static_cast<std::size_t>(finer.mesh.vertex(104, 2 * i))];
        CHECK(glm::distance(a, b) < 0.05 * 0.75); // three quarters of a second-order error are made good
    }
}

TEST_CASE("the part that is solved stands for the whole, and a round slab is a disc") {
    MeridianTable const cap = sample::table_of(sample::cap_spec(kBig, 1.0));
    LadderResult const whole = sample::solve(cap, Mirrors::none, 26);
    double const r = sample::flat_radius(whole, 26, 0);
    for (int column = 0; column < 8 * 26; ++column) {
        double const here = sample::flat_radius(whole, 26, column);
        CHECK_REL(here, r, 2e-4); // what the eight sectors of the mesh leave
        CHECK_NEAR(here, sample::flat_radius(whole, 26, (column + 26) % 208), 1e-5);
        CHECK_NEAR(here, sample::flat_radius(whole, 26, 208 - column), 1e-5);
    }
    MeridianTable const oval = sample::table_of(sample::oval_spec(120));
    LadderResult const all = sample::solve(oval, Mirrors::none, 26);
    for (Mirrors mirrors : {Mirrors::both, Mirrors::upright}) {
        LadderResult const some = sample::solve(oval, mirrors, 26);
        std::vector<Vec2> const out = mirror_out(all.mesh, some.mesh, mirrors, some.solve.flat);
        double worst = 0;
        for (std::size_t v = 0; v < out.size(); ++v) worst = std::max(worst, glm::distance(out[v], all.solve.flat[v]));
        CHECK_NEAR(worst, 0, 1e-3);
    }
}

TEST_CASE("a former of twice the size has a slab of twice the size") {
    FormerSpec small = sample::oval_spec(90), large = sample::oval_spec(180);
    large.outline.width_mm = 600, large.outline.height_mm = 800;
    LadderResult const a = sample::solve(sample::table_of(small), Mirrors::both, 26);
    LadderResult const b = sample::solve(sample::table_of(large), Mirrors::both, 26);
    for (std::size_t v = 0; v < a.solve.flat.size(); ++v)
        CHECK_NEAR(glm::distance(b.solve.flat[v], 2.0 * a.solve.flat[v]), 0, 2e-3);
    CHECK_REL(b.solve.energy_mm2, 4 * a.solve.energy_mm2, 1e-5);
}

TEST_CASE("refining keeps what a finer mesh shares with a coarser one, and draws curves smoothly") {
    MeridianTable const oval = sample::table_of(sample::oval_spec(120));
    DrapeRegion const region = drape_domain(oval, Mirrors::none, {}).part;
    DrapeMesh const coarse = make_drape_mesh(oval, region, 8), fine = make_drape_mesh(oval, region, 16);
    auto const field = [](DrapeMesh const& mesh) { // a cubic along every line of the lattice of a sector
        std::vector<Vec2> out;
        for (std::size_t v = 0; v < mesh.azimuth.size(); ++v)
            out.push_back({std::pow(mesh.share[v], 3), mesh.share[v]});
        return out;
    };
    std::vector<Vec2> const expected = field(fine), found = refine(coarse, fine, field(coarse));
    int rough = 0; // two places a sector, in the corners of rim and spokes, have no third neighbour on their line
    for (std::size_t v = 0; v < found.size(); ++v) rough += glm::distance(found[v], expected[v]) > 1e-3;
    CHECK(rough == 2 * fine.sectors());
    for (int ring = 0; ring <= 8; ++ring)
        for (int column = 0; column < 8 * ring; ++column)
            CHECK(found[static_cast<std::size_t>(fine.vertex(2 * ring, 2 * column))] ==
                  expected[static_cast<std::size_t>(fine.vertex(2 * ring, 2 * column))]);
}

TEST_CASE("a disc held at its rim and stretched to a cap thins by 1 + (h/a)^2 on the mean") {
    // Volume constancy (Hill, The Mathematical Theory of Plasticity, 1950): a = 200, h = 60, rolled 10 mm: area ratio
    // 1.09, mean thickness 9.174311926606; where it is drawn alike both ways, by 1.044030650891. The equal-area map
    // (Lambert) with the rim brought to a thins everywhere alike.
    constexpr double kDisc = 200, kHigh = 60, kRolled = 10;
    double const big = (kDisc * kDisc + kHigh * kHigh) / (2 * kHigh), half = std::asin(kDisc / big);
    MeridianTable const cap = sample::table_of(sample::cap_spec(big, half));
    DrapeMesh const mesh = make_drape_mesh(cap, drape_domain(cap, Mirrors::none, {}).whole, 52);
    std::vector<Vec2> flat;
    for (std::size_t v = 0; v < mesh.place.size(); ++v) {
        double const t = mesh.length_mm[v] / big, out = kDisc * std::sin(0.5 * t) / std::sin(0.5 * half);
        flat.push_back(out * Vec2(std::cos(mesh.azimuth[v]), std::sin(mesh.azimuth[v])));
    }
    DrapeSurvey const survey = survey_drape(mesh, Membrane(mesh, {}), flat, kRolled);
    CHECK_REL(survey.laid_mm2 / survey.flat_mm2, 1.09, 1e-3);
    CHECK_REL(kRolled * survey.flat_mm2 / survey.laid_mm2, 9.174311926606, 1e-3);
    CHECK_REL(kRolled * survey.least_product, 9.174311926606, 2e-3);
    CHECK_REL(kRolled * survey.most_product, 9.174311926606, 2e-3);
    CHECK_REL(survey.map.points.front().stretch_1, 1.044030650891, 2e-3);
    CHECK_REL(survey.map.points.front().stretch_2, 1.044030650891, 2e-3);
}

TEST_CASE("a slab laid but not pulled thickens towards the rim by t over sin t") {
    // Rolled 10 mm, 60 degrees from the crown of a sphere: 12.09199576156 (geodesic polar coordinates, do Carmo).
    double const big = 200, sixty = kPi / 3;
    MeridianTable const cap = sample::table_of(sample::cap_spec(big, 1.3));
    DrapeMesh const mesh = make_drape_mesh(cap, drape_domain(cap, Mirrors::none, {}).whole, 52);
    DrapeSurvey const survey = survey_drape(mesh, Membrane(mesh, {}), stuck_positions(mesh), 10);
    int seen = 0;
    for (SlabMapPoint const& p : survey.map.points) {
        double const t = p.spot.from_crown_mm / big;
        if (std::abs(t - sixty) > 0.02) continue;
        ++seen;
        CHECK_REL(p.thickness_mm, 10 * t / std::sin(t), 4e-3);
        CHECK_REL(p.thickness_mm, 12.09199576156, 0.02);
    }
    CHECK(seen > 100);
}
