#include "view/parts.h"

#include "base/random.h"
#include "view/feature_mesh.h"
#include "view/props.h"
#include "view/stage_space.h"

#include <algorithm>
#include <set>

namespace leafwright {
namespace {

constexpr double kBoardThickness_mm = 18;
constexpr double kBenchHalf_mm = 1400;
constexpr double kWallHalf_mm = 6000;

std::shared_ptr<LeafPattern const> shared_pattern(Plan const& plan, LeafPlacement const& leaf) {
    for (auto const& pattern : plan.patterns)
        if (pattern && pattern->spec.id == leaf.kind) return pattern;
    return nullptr;
}

glm::vec4 frame_of(ReliefMap const& map) {
    return texture_frame(map.low_mm, map.texel_mm * Vec2{map.columns, map.rows});
}

std::vector<Feature> plain(std::span<LaidFeature const> features) {
    std::vector<Feature> out;
    for (LaidFeature const& laid : features) out.push_back(laid.feature);
    return out;
}

Vec2 farthest(std::span<Vec2 const> points) {
    Vec2 most{0, 0};
    for (Vec2 const& p : points) most = {std::max(most.x, std::abs(p.x)), std::max(most.y, std::abs(p.y))};
    return most;
}

FeaturePart make_feature_part(std::shared_ptr<ClaySurface const> const& face, LaidFeature const& laid) {
    FeaturePart part;
    part.feature = laid.feature;
    part.face = face;
    Mesh const mesh = feature_mesh(*face, laid.feature);
    part.mesh = GpuMesh(mesh);
    std::vector<LineVertex> run;
    for (Vec2 const& p : laid.chart) {
        LaidPoint const at = face->at_chart(p);
        run.push_back({floats(at.position + 1.0 * at.normal), floats({p, 1.0}), 0});
    }
    part.outline = std::move(run);
    if (ReliefMap const map = feature_relief_map(laid.feature); !map.texels.empty()) {
        part.relief = relief_texture(map);
        part.relief_frame = frame_of(map);
        part.relief_depth = 1;
    }
    return part;
}

} // namespace

Parts::Parts()
    : lump(lump_mesh()), bench(plane_mesh(kBenchHalf_mm, -kBoardThickness_mm)), wall(plane_mesh(kWallHalf_mm, 0)) {
    flat.board = GpuMesh(board_mesh(flat.board_half, kBoardThickness_mm));
}

int Parts::sync(Plan const& plan) {
    uploads_ = 0;
    if (!plan.outer_face) return 0;
    sync_slab(plan);
    sync_flat(plan);
    sync_former(plan);
    leaves_wait_ = true;
    if (!plan.coarse) sync_leaves_too(plan);
    return uploads_;
}

void Parts::sync_leaves_too(Plan const& plan) {
    if (!leaves_wait_ || !plan.outer_face) return;
    leaves_wait_ = false;
    sync_kinds(plan);
    sync_leaves(plan);
    sync_features(plan);
    sync_shade(plan);
    rows.update(row_lines(plan));
}

void Parts::sync_kinds(Plan const& plan) {
    std::set<LeafPattern const*> wanted;
    for (auto const& pattern : plan.patterns) wanted.insert(pattern.get());
    std::erase_if(kinds, [&](auto const& entry) { return !wanted.contains(entry.first); });
    for (auto const& pattern : plan.patterns) {
        if (!pattern || kinds.contains(pattern.get())) continue;
        ReliefMap const map = leaf_relief_map(pattern->shape);
        kinds[pattern.get()] = {pattern, make_leaf_net(*pattern), relief_texture(map), frame_of(map)};
    }
}

void Parts::sync_leaves(Plan const& plan) {
    order.clear();
    for (std::size_t i = 0; i < plan.laid.size(); ++i) {
        if (!plan.laid[i] || !shared_pattern(plan, plan.laid[i]->placement)) continue;
        order.push_back(plan.laid[i]->placement.id);
        sync_leaf(plan, i);
    }
    std::set<int> const wanted(order.begin(), order.end());
    std::erase_if(leaves, [&](auto const& entry) { return !wanted.contains(entry.first); });
}

void Parts::sync_leaf(Plan const& plan, std::size_t index) {
    std::shared_ptr<LaidLeaf const> const& leaf = plan.laid[index];
    auto const pattern = shared_pattern(plan, leaf->placement);
    bool const stacked = plan.stack && index < plan.stack->leaves.size();
    std::shared_ptr<LeafRelief const> const relief = stacked ? plan.stack->leaves[index] : nullptr;
    LeafPart& part = leaves[leaf->placement.id];
    bool const same_place = part.leaf == leaf && part.pattern == pattern && part.face == plan.outer_face;
    if (same_place && part.relief == relief) return;

    KindPart const& kind = kinds.at(pattern.get());
    bool const same_net =
        part.mesh && part.pattern == pattern && part.leaf->placement.flipped == leaf->placement.flipped;
    if (!same_place) part.laid = lay_net(*plan.outer_face, *pattern, *leaf, kind.net);
    Mesh const mesh = leaf_mesh(kind.net, part.laid, *leaf, relief.get());
    if (!part.mesh)
        part.mesh = GpuMesh(mesh);
    else
        part.mesh.update(mesh, same_net);
    part.outline = outline_of(mesh, 0, kind.net.top.ring_ends.front());
    part.leaf = leaf;
    part.relief = relief;
    part.pattern = pattern;
    part.face = plan.outer_face;
    Random random(static_cast<std::uint64_t>(leaf->placement.id));
    part.tone = static_cast<float>(random.between(0.90, 1.07));
    part.grain_offset = {static_cast<float>(random.unit()), static_cast<float>(random.unit())};
    ++uploads_;
}

void Parts::sync_features(Plan const& plan) {
    features.resize(plan.features.size());
    for (std::size_t i = 0; i < features.size(); ++i) {
        if (features[i].face == plan.outer_face && features[i].feature == plan.features[i].feature) continue;
        features[i] = make_feature_part(plan.outer_face, plan.features[i]);
        ++uploads_;
    }
}

void Parts::sync_slab(Plan const& plan) {
    std::vector<Feature> const now = plain(plan.features);
    if (slab.face == plan.outer_face && slab.features == now) return;
    SlabMesh const built = slab_mesh(*plan.outer_face, plan.features, -lift_mm(plan));
    if (slab.face != plan.outer_face) rim.update(rim_line(*plan.outer_face));
    bool const opened = std::any_of(now.begin(), now.end(),
                                    [](Feature const& feature) { return feature.kind == FeatureKind::opening; });
    slab = {plan.outer_face,           now,   GpuMesh(built.mesh), built.zone_indices, built.outside_indices,
            built.mesh.indices.size(), opened};
    ++uploads_;
}

void Parts::sync_flat(Plan const& plan) {
    if (!plan.slab || flat.slab == plan.slab) return;
    constexpr double kRoundGuides_mm = 70, kRoundPin_mm = 74, kRoundPiece_mm = 46;
    double const thickness = plan.piece.slab.thickness_mm;
    Vec2 const half = farthest(plan.slab->outline_mm);
    Vec2 const edge = farthest(plan.outer_face->rim_chart(72));
    flat.slab = plan.slab;
    flat.slab_mesh = GpuMesh(flat_slab_mesh(plan.slab->outline_mm, thickness));
    flat.rolling = GpuMesh(rolling_mesh(half, thickness));
    flat.lines.update(*plan.slab, thickness);
    flat.board_half = {std::max(half.x + kRoundGuides_mm, edge.x + kRoundPiece_mm),
                       std::max(half.y + kRoundPin_mm, edge.y + kRoundPiece_mm)};
    flat.board = GpuMesh(board_mesh(flat.board_half, kBoardThickness_mm));
    uploads_ += 3;
}

void Parts::lay(Plan const& plan, double laid) {
    bool const same = laying.slab == plan.slab && laying.face == plan.outer_face;
    if (same && laying.laid == laid) return;
    if (!same) {
        laying = {};
        laying.slab = plan.slab;
        laying.face = plan.outer_face;
        laying.shape = LayingSlab(plan);
    }
    laying.laid = laid;
    Mesh const mesh = laying.shape.mesh(laid);
    if (laying.mesh)
        laying.mesh.update(mesh, true);
    else
        laying.mesh = GpuMesh(mesh);
}

void Parts::sync_former(Plan const& plan) {
    if (!plan.former || former.former == plan.former) return;
    former = {plan.former, GpuMesh(former_mesh(*plan.former))};
    ++uploads_;
}

void Parts::sync_shade(Plan const& plan) {
    if (shaded_ == plan.stack) return;
    shaded_ = plan.stack;
    if (!plan.stack || plan.stack->height.height_mm.empty()) {
        shade = GlTexture();
        return;
    }
    HeightPatch const& height = plan.stack->height;
    shade = shade_texture(height);
    Vec2 const size = height.cell_mm * Vec2{height.columns, height.rows};
    shade_frame = texture_frame(height.origin_mm - Vec2{height.cell_mm / 2}, size);
}

} // namespace leafwright
