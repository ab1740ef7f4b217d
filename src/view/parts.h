// The meshes of one plan on the graphics side, each kept until what it was made from changes.
#pragma once

#include "piece/making_line.h"
#include "view/cut_lines.h"
#include "view/laying_slab.h"
#include "view/leaf_mesh.h"
#include "view/lines.h"
#include "view/slab_mesh.h"
#include "view/textures.h"

#include <map>

namespace leafwright {

struct KindPart {
    std::shared_ptr<LeafPattern const> pattern;
    LeafNet net;
    GlTexture relief;
    glm::vec4 relief_frame{1, 1, 0, 0};
};

struct LeafPart {
    std::shared_ptr<LaidLeaf const> leaf;
    std::shared_ptr<LeafRelief const> relief;
    std::shared_ptr<LeafPattern const> pattern;
    std::shared_ptr<ClaySurface const> face;
    std::vector<LaidPoint> laid;
    std::vector<LineVertex> outline;
    GpuMesh mesh;
    float tone = 1;
    glm::vec2 grain_offset{0};
};

struct FeaturePart {
    Feature feature;
    std::shared_ptr<ClaySurface const> face;
    std::vector<LineVertex> outline;
    GpuMesh mesh;
    GlTexture relief;
    glm::vec4 relief_frame{1, 1, 0, 0};
    float relief_depth = 0;
};

struct SlabPart {
    std::shared_ptr<ClaySurface const> face;
    std::vector<Feature> features;
    GpuMesh mesh;
    std::size_t zone_indices = 0;
    std::size_t outside_indices = 0;
    std::size_t all_indices = 0;
    bool opened = false; // an opening shows what is inside
};

struct FlatPart {
    std::shared_ptr<SlabAnswer const> slab;
    GpuMesh slab_mesh;
    GpuMesh rolling;
    GpuMesh board;
    Vec2 board_half{230, 290};
    CutLines lines;
};

// The slab between flat and laid.
struct LayingPart {
    std::shared_ptr<SlabAnswer const> slab;
    std::shared_ptr<ClaySurface const> face;
    LayingSlab shape;
    double laid = -1; // of the mesh
    GpuMesh mesh;
};

struct FormerPart {
    std::shared_ptr<Former const> former;
    GpuMesh mesh;
};

class Parts {
public:
    Parts();
    // Returns how many meshes were uploaded. Of a coarse plan only what the slab and the former are: its leaves are
    // those of before; sync_leaves_too() brings them when they are to be seen.
    int sync(Plan const& plan);
    void sync_leaves_too(Plan const& plan);
    // The laying slab's mesh for the next pictures.
    void lay(Plan const& plan, double laid);

    std::map<LeafPattern const*, KindPart> kinds;
    std::map<int, LeafPart> leaves;
    std::vector<int> order; // leaf ids in laying order
    std::vector<FeaturePart> features;
    SlabPart slab;
    FlatPart flat;
    LayingPart laying;
    FormerPart former;
    GpuMesh lump;
    GpuMesh bench;
    GpuMesh wall;
    GlTexture shade;
    glm::vec4 shade_frame{1, 1, 0, 0};
    GpuLines rows;
    GpuLines rim;

private:
    void sync_kinds(Plan const& plan);
    void sync_leaves(Plan const& plan);
    void sync_leaf(Plan const& plan, std::size_t index);
    void sync_features(Plan const& plan);
    void sync_slab(Plan const& plan);
    void sync_flat(Plan const& plan);
    void sync_former(Plan const& plan);
    void sync_shade(Plan const& plan);

    std::shared_ptr<StackField const> shaded_;
    bool leaves_wait_ = false;
    int uploads_ = 0;
};

} // namespace leafwright
