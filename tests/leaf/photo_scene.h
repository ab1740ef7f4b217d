// Photographs made up from known outlines: leaves on a sheet on a table, under a lamp, seen by a camera that tilts,
// blurs and is noisy. All in linear light until the last step.
#pragma once

#include "base/polygon.h"
#include "leaf/leaf_shape.h"
#include "leaf/photo.h"

#include <array>
#include <string>

namespace leafwright {

using Light = std::array<double, 3>; // linear, 0 to 1

struct SceneLeaf {
    LeafShape shape;
    Vec2 middle_mm{105, 148}; // on the sheet, from its upper left corner, y down
    double turn_deg = 0;
    Light light{0.045, 0.12, 0.022};
    double uneven = 0.25;   // mottling of the blade
    double stalk_mm = 0;    // 1.6 mm wide, at the foot
    double hole_mm = 0;     // radius of a round hole in the middle of the blade
    bool vein_light = true; // veins lighter than the blade, else darker
};

enum class Table { dark_wood, light, white, tiles };

struct PhotoScene {
    double sheet_width_mm = 210; // the side that runs along x
    double sheet_height_mm = 297;
    bool sheet = true; // else all is paper: a scan
    Light paper{0.80, 0.80, 0.78};
    Table table = Table::dark_wood;
    std::vector<SceneLeaf> leaves;
    double width_px = 2448;
    double height_px = 3264;
    double tilt_deg = 0;
    double tilt_way_deg = 90; // the way in which the far side lies
    double roll_deg = 0;
    double fill = 0.86; // how much of the picture the sheet takes up, along the longer side
    double ramp = 0;    // light falls by this share across the picture
    double ramp_way_deg = 30;
    double shadow = 0; // how dark the shadow beside the leaves is
    double shadow_mm = 2;
    double shadow_soft_mm = 0.8;
    double glare = 0;
    double gloss = 0; // white glints on the leaves
    Light cast{1, 1, 1};
    double blur_px = 0.7;
    double noise = 0.006;
    std::uint64_t seed = 1;
};

struct MadePhoto {
    Photo photo;
    std::vector<Polygon> truth_mm; // on the sheet, y down; without stalks
};
MadePhoto made_photo(PhotoScene const& scene);

// The outline as it lies on the sheet.
Polygon placed(SceneLeaf const& leaf);

std::string jpeg_of(Photo const& photo, int quality);
std::string png_of(Photo const& photo);

} // namespace leafwright
