#include "hanging/bulk.h"

#include <algorithm>

namespace leafwright {

namespace {

// Integrals of 1 + b s + c s^2 and of s times it, from 0 to h.
struct Layer {
    double bend, twist;
    double volume(double h) const { return h * (1 + h * (bend / 2 + h * twist / 3)); }
    double moment(double h) const { return h * h * (0.5 + h * (bend / 3 + h * twist / 4)); }
    double area(double h) const { return 1 + h * (bend + h * twist); }
    // Height whose volume is that of the flat thickness.
    double height_of(double flat) const {
        double h = flat / std::max(0.5, 1 + flat * bend / 2);
        for (int round = 0; round < 3; ++round) h -= (volume(h) - flat) / std::max(0.2, area(h));
        return h;
    }
};

constexpr double kMostBend = 0.05;   // 1/mm
constexpr double kMostTwist = 0.001; // 1/mm2; with it the pile of 30 mm still has some room

} // namespace

Bulk bulk_of(ClayMap const& clay) {
    FaceMap const& face = *clay.face;
    double const area = face.cell_mm * face.cell_mm;
    double const t = clay.slab_thickness_mm;
    Bulk bulk;
    for (std::size_t i = 0; i < face.size(); ++i) {
        if (!(clay.open[i] > 0)) continue;
        // A hollow that is tighter than the pile is high has no room for it: such curvature is cut off.
        Layer const layer{std::clamp(static_cast<double>(face.bend_per_mm[i]), -kMostBend, kMostBend),
                          std::clamp(static_cast<double>(face.twist_per_mm2[i]), -kMostTwist, kMostTwist)};
        auto const add = [&](double mm, double height) {
            bulk.volume_mm3 += area * mm;
            bulk.centre_mm += area * mm * (face.position[i] + height * face.normal[i]);
        };
        auto const slab = static_cast<double>(clay.slab_mm[i]);
        auto const pile = static_cast<double>(clay.pile_mm[i]);
        auto const back = static_cast<double>(clay.back_mm[i]);
        if (slab > 0) add(slab, layer.moment(-t) / layer.volume(-t));
        if (pile > 0) {
            // A cell that is covered in part has its pile at full height there.
            double const height = layer.height_of(pile / std::max(0.3, static_cast<double>(clay.open[i])));
            add(pile, height > 0 ? layer.moment(height) / layer.volume(height) : 0);
        }
        if (back > 0) add(back, -t - back / 2);
    }
    if (bulk.volume_mm3 > 0) bulk.centre_mm /= bulk.volume_mm3;
    return bulk;
}

} // namespace leafwright
