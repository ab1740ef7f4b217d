#include "nest_twin.h"

#include <geos_c.h>

#include <algorithm>
#include <cassert>
#include <memory>

namespace leafwright {

namespace {

class Kit {
public:
    Kit() : context_(GEOS_init_r()) {}
    ~Kit() {
        for (GEOSGeometry* g : owned_) GEOSGeom_destroy_r(context_, g);
        GEOS_finish_r(context_);
    }
    Kit(Kit const&) = delete;
    Kit& operator=(Kit const&) = delete;

    GEOSGeometry* polygon(Polygon const& p) {
        std::vector<GEOSGeometry*> holes;
        for (Ring const& hole : p.holes) holes.push_back(ring(hole));
        return own(
            GEOSGeom_createPolygon_r(context_, ring(p.outer), holes.data(), static_cast<unsigned>(holes.size())));
    }
    GEOSGeometry* box(double x0, double y0, double x1, double y1) {
        return polygon({{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, {}});
    }
    double area(GEOSGeometry const* g) const {
        double a = 0;
        GEOSArea_r(context_, g, &a);
        return a;
    }
    double common(GEOSGeometry const* a, GEOSGeometry const* b) {
        return area(own(GEOSIntersection_r(context_, a, b)));
    }
    double outside(GEOSGeometry const* a, GEOSGeometry const* b) { return area(own(GEOSDifference_r(context_, a, b))); }
    double distance(GEOSGeometry const* a, GEOSGeometry const* b) const {
        double d = 0;
        GEOSDistance_r(context_, a, b, &d);
        return d;
    }

private:
    GEOSGeometry* own(GEOSGeometry* g) {
        assert(g != nullptr);
        owned_.push_back(g);
        return g;
    }
    GEOSGeometry* ring(Ring const& points) const {
        GEOSCoordSequence* const s = GEOSCoordSeq_create_r(context_, static_cast<unsigned>(points.size() + 1), 2);
        for (std::size_t k = 0; k <= points.size(); ++k)
            GEOSCoordSeq_setXY_r(context_, s, static_cast<unsigned>(k), points[k % points.size()].x,
                                 points[k % points.size()].y);
        return GEOSGeom_createLinearRing_r(context_, s);
    }

    GEOSContextHandle_t context_;
    std::vector<GEOSGeometry*> owned_;
};

} // namespace

TwinVerdict geos_verdict(NestJob const& job, NestResult const& result) {
    Kit kit;
    TwinVerdict verdict;
    std::vector<GEOSGeometry*> shapes;
    double const edge = job.edge_gap_mm;
    for (NestPlacement const& p : result.placements) {
        shapes.push_back(kit.polygon(posed(job.shapes[static_cast<std::size_t>(p.shape)].outline, p.pose)));
        double const used = result.used_mm[static_cast<std::size_t>(p.pose.sheet)];
        verdict.area_mm2 += kit.area(shapes.back());
        verdict.outside_mm2 += kit.outside(shapes.back(), kit.box(edge, edge, used - edge, job.sheets.width_mm - edge));
    }
    for (std::size_t i = 0; i < shapes.size(); ++i)
        for (std::size_t j = i + 1; j < shapes.size(); ++j) {
            if (result.placements[i].pose.sheet != result.placements[j].pose.sheet) continue;
            verdict.distance_mm = std::min(verdict.distance_mm, kit.distance(shapes[i], shapes[j]));
            verdict.overlap_mm2 += kit.common(shapes[i], shapes[j]);
        }
    return verdict;
}

} // namespace leafwright
