// Laying a flat slab over half an ellipsoid of 400 x 300 x 90 mm, beside CGAL's as-rigid-as-possible parameterisation
// of the same mesh (50 iterations, lambda 1000). Argument: rings of the mesh (26, 52, 104: 5000, 20000, 80000
// triangles). Counters: root mean square of principal stretch - 1 over the laid area, and triangles.
//
// The clay's energy is not the other's: clay thickens, so it trades some length for less thickening, and pleats beyond
// 5 %. The two figures of stretch are near to each other, not the same quantity made least.
#include "slab/drape.h"
#include "slab/drape_ladder.h"
#include "slab/drape_region.h"
#include "slab/drape_survey.h"

#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Surface_mesh_parameterization/ARAP_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/parameterize.h>
#include <benchmark/benchmark.h>

using namespace leafwright;

namespace {

Former half_ellipsoid() {
    FormerSpec spec;
    spec.outline.width_mm = 300;
    spec.outline.height_mm = 400;
    spec.profile.crown_mm = 90;
    return *Former::make(spec);
}

MeridianTable table() { return MeridianTable::build(half_ellipsoid(), 0, 4); }

DrapeMesh whole_mesh(MeridianTable const& middle, int rings) {
    return make_drape_mesh(middle, drape_domain(middle, Mirrors::none, {}).whole, rings);
}

void report(benchmark::State& state, DrapeMesh mesh, std::vector<Vec2> const& flat) {
    mesh.normal.clear(); // chords, as the other program sees them
    Membrane const membrane(mesh, {});
    state.counters["rms_stretch"] = survey_drape(mesh, membrane, flat, 1).rms_stretch;
    state.counters["triangles"] = static_cast<double>(mesh.triangles.size());
}

// From the bare mesh, analysis included; to a relative change of energy of 1e-6.
void drape(benchmark::State& state, Mirrors mirrors) {
    MeridianTable const middle = table();
    DrapeDomain const domain = drape_domain(middle, mirrors, {});
    LadderOptions options;
    options.rings = static_cast<int>(state.range(0));
    LadderResult result;
    Task task;
    for (auto _ : state) {
        result = DrapeLadder().solve(middle, domain.part, options, task);
        benchmark::DoNotOptimize(result.solve.flat.data());
    }
    DrapeMesh const whole = make_drape_mesh(middle, domain.whole, options.rings);
    report(state, whole, mirror_out(whole, result.mesh, mirrors, result.solve.flat));
}

void drape_with_mirrors(benchmark::State& state) { drape(state, Mirrors::both); }
void drape_whole(benchmark::State& state) { drape(state, Mirrors::none); }
BENCHMARK(drape_with_mirrors)->Arg(26)->Arg(52)->Arg(104)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();
BENCHMARK(drape_whole)->Arg(26)->Arg(52)->Arg(104)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

void parameterise_with_cgal(benchmark::State& state) {
    namespace param = CGAL::Surface_mesh_parameterization;
    using Point = CGAL::Simple_cartesian<double>::Point_3;
    using Flat = CGAL::Simple_cartesian<double>::Point_2;
    using Surface = CGAL::Surface_mesh<Point>;
    DrapeMesh const mesh = whole_mesh(table(), static_cast<int>(state.range(0)));
    Surface surface;
    for (Vec3 const& p : mesh.place) surface.add_vertex({p.x, p.y, p.z});
    for (DrapeTriangle const& t : mesh.triangles)
        surface.add_face(Surface::Vertex_index(static_cast<unsigned>(t[0])),
                         Surface::Vertex_index(static_cast<unsigned>(t[1])),
                         Surface::Vertex_index(static_cast<unsigned>(t[2])));
    std::vector<Vec2> flat(mesh.place.size());
    for (auto _ : state) {
        auto uv = surface.add_property_map<Surface::Vertex_index, Flat>("v:flat").first;
        Surface::Halfedge_index border;
        for (Surface::Halfedge_index h : surface.halfedges())
            if (surface.is_border(h)) border = h;
        param::ARAP_parameterizer_3<Surface> const arap(param::ARAP_parameterizer_3<Surface>::Border_parameterizer(),
                                                        param::ARAP_parameterizer_3<Surface>::Solver_traits(), 1000, 50,
                                                        1e-6);
        if (param::parameterize(surface, arap, border, uv) != param::OK) state.SkipWithError("CGAL gave up");
        for (Surface::Vertex_index v : surface.vertices()) flat[static_cast<std::size_t>(v)] = {uv[v].x(), uv[v].y()};
    }
    report(state, mesh, flat);
}
BENCHMARK(parameterise_with_cgal)->Arg(26)->Arg(52)->Arg(104)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

// What the planner waits for: meridians' table, solution, map, band, proposals.
void drape_for_the_planner(benchmark::State& state) {
    Former const former = half_ellipsoid();
    DrapeEngine engine;
    Task task;
    for (auto _ : state) benchmark::DoNotOptimize(engine.drape(former, {}, {}, task));
}
BENCHMARK(drape_for_the_planner)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

void preview_for_a_frame(benchmark::State& state) {
    FormerSpec spec;
    DrapeEngine engine;
    double step = 0;
    for (auto _ : state) {
        state.PauseTiming();
        spec.profile.crown_mm = 90 + 10 * std::sin(step += 0.1);
        Former const former = *Former::make(spec);
        state.ResumeTiming();
        benchmark::DoNotOptimize(engine.preview(former, {}));
    }
}
BENCHMARK(preview_for_a_frame)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

} // namespace
