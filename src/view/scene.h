// Draws a Plan: the piece on the board or the wall, lit like clay, or the slab laid flat. Changes nothing.
// Needs a current OpenGL 3.3 core context for everything but pick().
#pragma once

#include "piece/making_line.h"
#include "piece/shown_map.h"
#include "view/camera.h"

#include <variant>

namespace leafwright {

enum class Look { piece, flat, cutting }; // the cutting sheets are drawn elsewhere: to the scene they are the piece

struct SceneOptions {
    MakingStage stage = MakingStage::features;
    Look look = Look::piece;
    double flatness = -1;      // 0 piece to 1 flat, for a smooth change between looks; below 0: as `look` says
    std::vector<int> selected; // leaf ids, marked with an outline that is seen without colour
    int hovered = 0;           // leaf id or 0
    int selected_feature = -1; // index or -1
    bool show_bare = true;     // bare clay hatched
    bool show_rows = false;    // a thin line along each row's middle
    std::shared_ptr<ShownMap const> map; // coloured on the clay, with lines of equal value; null: plain clay
    bool map_ticks = false;              // and the map's short lines
    double laid = -1;      // at Drape: 0 the slab flat on the former's crown to 1 laid; below 0: as the look says
    float pixel_scale = 1; // 2 on a screen of double density: line widths follow
    bool operator==(SceneOptions const&) const = default;
};

class Scene {
public:
    Scene();
    ~Scene();
    Scene(Scene const&) = delete;
    Scene& operator=(Scene const&) = delete;

    // Uploads only the meshes of what changed since the last plan (shared pointers tell).
    void show(std::shared_ptr<Plan const> plan);
    // Draws into the framebuffer that is bound, viewport only. Shadows are drawn again only when the plan, stage or
    // look did.
    void draw(Camera const& camera, Viewport const& viewport, SceneOptions const& options);

    // Meshes uploaded by the last show(); for tests and the speed display.
    int uploads() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

struct NothingHit {};
struct LeafHit {
    int id = 0;
    Spot spot;
    Vec3 point;
};
struct FeatureHit {
    int index = 0;
    Spot spot;
    Vec3 point;
};
struct SlabHit {
    Spot spot;
    Vec3 point;
};
struct BoardHit {
    Spot spot;
    Vec3 point;
};
using Hit = std::variant<NothingHit, LeafHit, FeatureHit, SlabHit, BoardHit>;

// What is under the pointer (pixel from the top left of the viewport). Exact: by ray, on the CPU. For either look.
Hit pick(Plan const& plan, Camera const& camera, Viewport const& viewport, SceneOptions const& options,
         Vec2 const& pixel);

// A spot on the surface, lifted by height_mm, in the scene's space for that look (for handles and labels).
Vec3 scene_point(Plan const& plan, SceneOptions const& options, Spot const& spot, double height_mm);

// Width, height and depth in mm of what there is to see at that stage and look, about x = y = 0: for home_camera.
Vec3 scene_size(Plan const& plan, SceneOptions const& options);

} // namespace leafwright
