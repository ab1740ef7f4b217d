// How leaves pile up: each conforms to what lies under it, bridges small hollows, and keeps its clay.
// Heights above the slab's outer face, along its normal, on a square grid in the equal-area chart.
#pragma once

#include "rows/feature.h"
#include "rows/placement.h"

namespace leafwright {

struct StackOptions {
    double cell_mm = 1.0;
    double bend_radius_mm = 3.0; // how tightly a pressed leaf follows the edge beneath; an estimate, no source
};

// A rectangular part of the grid: cell (0, 0) has its middle at origin.
struct HeightPatch {
    Vec2 origin_mm{0, 0};
    double cell_mm = 1;
    int columns = 0;
    int rows = 0;
    std::vector<float> height_mm; // row by row
    // Bilinear, clamped at the border.
    double at(Vec2 const& chart) const;
};

struct LeafRelief {
    int id = 0;
    HeightPatch bottom; // the underside, over the leaf's rectangle; smooth, also just outside the outline
    HeightPatch top;
    double gap_mm3 = 0;     // hollow beneath
    double bonded_mm2 = 0;  // estimate: where the gap is below 0.2 mm
};

struct StackField {
    HeightPatch height; // everything above the slab: leaves and features
    std::vector<std::shared_ptr<LeafRelief const>> leaves; // in laying order
    double most_mm = 0; // thickest place, without the slab
    Vec2 most_at{0, 0};
    double leaf_volume_mm3 = 0; // of the field; equals the leaves' flat area times thickness
};

class StackEngine {
public:
    explicit StackEngine(StackOptions const& options = {});
    ~StackEngine();
    StackEngine(StackEngine&&) noexcept;
    StackEngine& operator=(StackEngine&&) noexcept;

    // Leaves in laying order (the same pointer as last time means: unchanged), over the features' mounds. Only leaves that changed, and later ones that lie on them, are done again.
    // `rim` bounds the grid together with the leaves. Equal to a new engine's answer, bit for bit.
    std::shared_ptr<StackField const> update(Ring const& rim, std::span<std::shared_ptr<LaidLeaf const> const> leaves,
                                             std::span<LaidFeature const> features);

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace leafwright
