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
    double drop_mm = 0;     // radius of two drops on the blade that mirror the lamp, sharp-edged
    bool vein_light = true; // veins lighter than the blade, else darker
    int bites = 0;          // round bites out of its edge
    double bite_mm = 3;     // their radius
    Light second{0, 0, 0};  // patches of another colour: an autumn leaf
    double patches = 0;     // how much of it they take, 0 to 1
};

// A rectangle that lies beside the leaves: a coloured square, a ruler, a bar.
struct SceneThing {
    Vec2 low_mm{0, 0};
    Vec2 high_mm{0, 0};
    Light light{0, 0, 0};
    bool ticks = false; // a dark line at every millimetre, as on a ruler
};

enum class Table { dark_wood, light, white, tiles, grained };

struct PhotoScene {
    double sheet_width_mm = 210; // the side that runs along x
    double sheet_height_mm = 297;
    bool sheet = true; // else all is paper: a scan
    Light paper{0.80, 0.80, 0.78};
    double weave = 0; // the paper is cloth: how much its threads differ
    int dust = 0;     // specks on the paper, 0.1 to 0.4 mm
    Table table = Table::dark_wood;
    std::vector<SceneLeaf> leaves;
    std::vector<SceneThing> things;
    double width_px = 2448;
    double height_px = 3264;
    double tilt_deg = 0;
    double tilt_way_deg = 90; // the way in which the far side lies
    double roll_deg = 0;
    double fill = 0.86; // how much of the picture the sheet takes up, along the longer side
    Vec2 aim_mm{0, 0};  // of the camera, beside the middle of the sheet
    double ramp = 0;    // light falls by this share across the picture
    double ramp_way_deg = 30;
    double shadow = 0; // how dark the shadow beside the leaves is
    double shadow_mm = 2;
    double shadow_soft_mm = 0.8;
    double glare = 0;          // light of a lamp mirrored by paper and leaf alike
    Vec2 glare_at{0.72, 0.25}; // share of the picture
    double glare_wide = 0.10;
    double gloss = 0;      // white glints on the leaves
    double vignette = 0;   // the corners are darker by this share
    double hand = 0;       // how dark the shadow of a hand is
    Vec2 hand_mm{60, 200}; // where it ends
    double hand_soft_mm = 8;
    Light cast{1, 1, 1};
    bool grey = false; // no colour: a grey-scale scan
    double blur_px = 0.7;
    double noise = 0.006;
    double colour_noise = 0; // blotches of colour, some pixels wide
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
