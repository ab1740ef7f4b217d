#include "geos_twin.h"

#include <geos_c.h>

#include <algorithm>

namespace leafwright::geos {

namespace {

struct ContextFree {
    void operator()(GEOSContextHandle_HS* context) const { GEOS_finish_r(context); }
};
using Context = std::unique_ptr<GEOSContextHandle_HS, ContextFree>;

struct ShapeFree {
    GEOSContextHandle_t context = nullptr;
    void operator()(GEOSGeometry* shape) const { GEOSGeom_destroy_r(context, shape); }
};
using Shape = std::unique_ptr<GEOSGeometry, ShapeFree>;

// The library's calls with their context, on owned shapes.
class Kit {
public:
    Kit() : context_(GEOS_init_r()) {}

    Shape own(GEOSGeometry* shape) const {
        assert(shape != nullptr);
        return {shape, ShapeFree{context_.get()}};
    }
    Shape empty() const { return own(GEOSGeom_createEmptyPolygon_r(context_.get())); }
    Shape polygon(Polygon const& polygon) const {
        std::vector<GEOSGeometry*> holes;
        for (Ring const& hole : polygon.holes) holes.push_back(ring(hole));
        return own(GEOSGeom_createPolygon_r(context_.get(), ring(polygon.outer), holes.data(),
                                            static_cast<unsigned>(holes.size())));
    }
    Shape both(Shape const& a, Shape const& b) const {
        return own(GEOSIntersection_r(context_.get(), a.get(), b.get()));
    }
    Shape either(Shape const& a, Shape const& b) const { return own(GEOSUnion_r(context_.get(), a.get(), b.get())); }
    Shape without(Shape const& a, Shape const& b) const {
        return own(GEOSDifference_r(context_.get(), a.get(), b.get()));
    }
    Shape all_of(std::vector<Shape> const& shapes) const {
        std::vector<GEOSGeometry*> copies;
        for (Shape const& shape : shapes) copies.push_back(GEOSGeom_clone_r(context_.get(), shape.get()));
        Shape const group = own(GEOSGeom_createCollection_r(context_.get(), GEOS_GEOMETRYCOLLECTION, copies.data(),
                                                            static_cast<unsigned>(copies.size())));
        return own(GEOSUnaryUnion_r(context_.get(), group.get()));
    }
    double area(Shape const& shape) const {
        double area = 0;
        GEOSArea_r(context_.get(), shape.get(), &area);
        return area;
    }

private:
    GEOSGeometry* ring(Ring const& points) const {
        auto const n = static_cast<unsigned>(points.size());
        GEOSCoordSequence* const sequence = GEOSCoordSeq_create_r(context_.get(), n + 1, 2);
        for (unsigned i = 0; i <= n; ++i)
            GEOSCoordSeq_setXY_r(context_.get(), sequence, i, points[i % n].x, points[i % n].y);
        return GEOSGeom_createLinearRing_r(context_.get(), sequence);
    }

    Context context_;
};

std::vector<Box2> boxes_of(std::span<OverlapLeaf const> leaves) {
    std::vector<Box2> boxes;
    for (OverlapLeaf const& leaf : leaves) boxes.push_back(bounds(leaf.chart->outer));
    return boxes;
}

void find_pairs(Kit const& kit, std::vector<Shape> const& shapes, std::span<OverlapLeaf const> leaves,
                OverlapFigures& out) {
    std::vector<Box2> const boxes = boxes_of(leaves);
    for (std::size_t i = 0; i < shapes.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) {
            if (!boxes[i].overlaps(boxes[j])) continue;
            double const area = kit.area(kit.both(shapes[i], shapes[j]));
            if (area > 1e-9) out.pairs.push_back({leaves[i].id, leaves[j].id, area});
        }
}

// Leaf by leaf: what lies under k leaves and under this one lies under k + 1.
std::vector<Shape> layers_of(Kit const& kit, std::vector<Shape> const& shapes) {
    std::vector<Shape> layers;
    for (Shape const& leaf : shapes) {
        layers.push_back(kit.empty());
        for (std::size_t k = layers.size() - 1; k > 0; --k)
            layers[k] = kit.either(layers[k], kit.both(layers[k - 1], leaf));
        layers[0] = kit.either(layers[0], leaf);
        while (!layers.empty() && kit.area(layers.back()) == 0) layers.pop_back();
    }
    return layers;
}

void find_exposed(Kit const& kit, std::vector<Shape> const& shapes, std::span<OverlapLeaf const> leaves,
                  Shape const* rim, OverlapFigures& out) {
    std::vector<Box2> const boxes = boxes_of(leaves);
    for (std::size_t i = 0; i < shapes.size(); ++i) {
        Shape rest = kit.without(shapes[i], kit.empty());
        for (std::size_t j = i + 1; j < shapes.size(); ++j)
            if (boxes[i].overlaps(boxes[j])) rest = kit.without(rest, shapes[j]);
        double const area = kit.area(shapes[i]);
        double const exposed = kit.area(rest);
        double const beyond = rim != nullptr ? kit.area(kit.without(shapes[i], *rim)) : 0.0;
        out.leaves.push_back({leaves[i].id, area, exposed, 1 - exposed / area, beyond});
    }
}

} // namespace

OverlapFigures twin_figures(CladZone const& zone, std::span<OverlapLeaf const> leaves, TwinOptions const& options) {
    Kit const kit;
    std::vector<Shape> shapes;
    OverlapFigures out;
    for (OverlapLeaf const& leaf : leaves) shapes.push_back(kit.polygon(*leaf.chart));
    for (Shape const& shape : shapes) out.area_mm2 += kit.area(shape);
    Shape const cover = kit.all_of(shapes);
    out.union_mm2 = kit.area(cover);
    Shape const rim = zone.rim ? kit.polygon({*zone.rim, {}}) : kit.empty();
    if (options.pairs) find_pairs(kit, shapes, leaves, out);
    if (options.layers)
        for (Shape const& layer : layers_of(kit, shapes)) out.layers_mm2.push_back(kit.area(layer));
    if (options.exposed) find_exposed(kit, shapes, leaves, zone.rim ? &rim : nullptr, out);
    if (options.zone && zone.rim) {
        Shape clad = kit.without(rim, kit.empty());
        for (auto const& ring : zone.keep_clear) clad = kit.without(clad, kit.polygon({*ring, {}}));
        out.zone_mm2 = kit.area(clad);
        out.bare_mm2 = kit.area(kit.without(clad, cover));
        out.overhang_mm2 = kit.area(kit.without(cover, rim));
    }
    return out;
}

struct Bench::State {
    Kit kit;
    std::vector<Shape> shapes;
    std::vector<Box2> boxes;

    std::vector<Shape> parts_under_others(std::size_t which) const {
        std::vector<Shape> parts;
        for (std::size_t j = 0; j < shapes.size(); ++j)
            if (j != which && boxes[which].overlaps(boxes[j])) parts.push_back(kit.both(shapes[which], shapes[j]));
        return parts;
    }
};

Bench::Bench(std::span<OverlapLeaf const> leaves) : state_(std::make_unique<State>()) {
    state_->boxes = boxes_of(leaves);
    for (OverlapLeaf const& leaf : leaves) state_->shapes.push_back(state_->kit.polygon(*leaf.chart));
}

Bench::~Bench() = default;

double Bench::from_scratch() {
    State const& state = *state_;
    std::vector<Shape> doubles;
    double sum = 0;
    for (std::size_t i = 0; i < state.shapes.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) {
            if (!state.boxes[i].overlaps(state.boxes[j])) continue;
            doubles.push_back(state.kit.both(state.shapes[i], state.shapes[j]));
            sum += state.kit.area(doubles.back());
        }
    return sum + state.kit.area(state.kit.all_of(state.shapes)) + state.kit.area(state.kit.all_of(doubles));
}

double Bench::move(std::size_t which, OverlapLeaf const& leaf) {
    State& state = *state_;
    state.shapes[which] = state.kit.polygon(*leaf.chart);
    state.boxes[which] = bounds(leaf.chart->outer);
    std::vector<Shape> const parts = state.parts_under_others(which);
    double sum = state.kit.area(state.kit.all_of(parts));
    for (Shape const& part : parts) sum += state.kit.area(part);
    for (Shape const& layer : layers_of(state.kit, parts)) sum += state.kit.area(layer);
    return sum;
}

} // namespace leafwright::geos
