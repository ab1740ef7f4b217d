#include "clipper_twin.h"

#include <polyclipping/clipper.hpp>

#include <cmath>

namespace leafwright::clipper {

namespace {

using ClipperLib::Paths;

constexpr double kUnits_per_mm = 1e6; // coordinates stay below 2^30: its fast range ends there for 1000 mm

ClipperLib::Path path_of(Ring const& ring) {
    ClipperLib::Path path;
    for (Vec2 const& p : ring) path.emplace_back(std::llround(p.x * kUnits_per_mm), std::llround(p.y * kUnits_per_mm));
    return path;
}

Paths paths_of(Polygon const& polygon) {
    Paths paths{path_of(polygon.outer)};
    for (Ring const& hole : polygon.holes) paths.push_back(path_of(hole));
    return paths;
}

double area_of(Paths const& paths) {
    double sum = 0;
    for (ClipperLib::Path const& path : paths) sum += ClipperLib::Area(path);
    return sum / (kUnits_per_mm * kUnits_per_mm);
}

Paths combined(ClipperLib::ClipType how, Paths const& a, Paths const& b) {
    ClipperLib::Clipper clipper;
    clipper.AddPaths(a, ClipperLib::ptSubject, true);
    clipper.AddPaths(b, ClipperLib::ptClip, true);
    Paths result;
    clipper.Execute(how, result, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    return result;
}

Paths all_of(std::vector<Paths> const& shapes) {
    ClipperLib::Clipper clipper;
    for (Paths const& shape : shapes) clipper.AddPaths(shape, ClipperLib::ptSubject, true);
    Paths result;
    clipper.Execute(ClipperLib::ctUnion, result, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    return result;
}

std::vector<Paths> layers_of(std::vector<Paths> const& shapes) {
    std::vector<Paths> layers;
    for (Paths const& shape : shapes) {
        layers.emplace_back();
        for (std::size_t k = layers.size() - 1; k > 0; --k)
            layers[k] =
                combined(ClipperLib::ctUnion, layers[k], combined(ClipperLib::ctIntersection, layers[k - 1], shape));
        layers[0] = combined(ClipperLib::ctUnion, layers[0], shape);
        while (!layers.empty() && layers.back().empty()) layers.pop_back();
    }
    return layers;
}

} // namespace

struct Bench::State {
    std::vector<Paths> shapes;
    std::vector<Box2> boxes;
};

Bench::Bench(std::span<OverlapLeaf const> leaves) : state_(std::make_unique<State>()) {
    for (OverlapLeaf const& leaf : leaves) {
        state_->shapes.push_back(paths_of(*leaf.chart));
        state_->boxes.push_back(bounds(leaf.chart->outer));
    }
}

Bench::~Bench() = default;

double Bench::from_scratch() {
    State const& state = *state_;
    std::vector<Paths> doubles;
    double sum = 0;
    for (std::size_t i = 0; i < state.shapes.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) {
            if (!state.boxes[i].overlaps(state.boxes[j])) continue;
            doubles.push_back(combined(ClipperLib::ctIntersection, state.shapes[i], state.shapes[j]));
            sum += area_of(doubles.back());
        }
    return sum + area_of(all_of(state.shapes)) + area_of(all_of(doubles));
}

double Bench::move(std::size_t which, OverlapLeaf const& leaf) {
    State& state = *state_;
    state.shapes[which] = paths_of(*leaf.chart);
    state.boxes[which] = bounds(leaf.chart->outer);
    std::vector<Paths> parts;
    double sum = 0;
    for (std::size_t j = 0; j < state.shapes.size(); ++j) {
        if (j == which || !state.boxes[j].overlaps(state.boxes[which])) continue;
        parts.push_back(combined(ClipperLib::ctIntersection, state.shapes[which], state.shapes[j]));
        sum += area_of(parts.back());
    }
    sum += area_of(all_of(parts));
    for (Paths const& layer : layers_of(parts)) sum += area_of(layer);
    return sum;
}

} // namespace leafwright::clipper
