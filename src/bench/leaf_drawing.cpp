#include "bench/leaf_drawing.h"

#include "view/mesh.h"

#include <algorithm>

namespace leafwright {
namespace {

constexpr std::size_t kKnownMost = 64;
constexpr std::string_view kDrawer = "drawer:";

} // namespace

LeafDrawing leaf_drawing(LeafShape const& shape) {
    FlatMeshOptions options;
    options.spacing_mm = 1000; // no points inside: flat colour needs none
    FlatMesh mesh = triangulated(shape.outline_mm, options);
    return {shape, std::move(mesh.points), std::move(mesh.indices)};
}

void LeafDrawings::know(std::span<OwnLeaf const> own) {
    if (std::ranges::equal(own, own_)) return;
    own_.assign(own.begin(), own.end());
    std::erase_if(known_, [](auto const& entry) { return entry.first.first.starts_with(kOwnOutline); });
}

LeafDrawing const* LeafDrawings::of(std::string const& outline, double length_mm) {
    auto const key = std::make_pair(outline, length_mm);
    if (auto const found = known_.find(key); found != known_.end()) return found->second.get();
    if (known_.size() >= kKnownMost) known_.clear();
    std::string_view name = outline;
    if (name.starts_with(kDrawer)) name.remove_prefix(kDrawer.size());
    std::unique_ptr<LeafDrawing>& place = known_[key];
    if (outline.starts_with(kOwnOutline)) {
        auto const pattern = resolve_leaf_kind({"own", outline, length_mm, 5}, own_);
        if (pattern) place = std::make_unique<LeafDrawing>(leaf_drawing(pattern->shape));
        return place.get();
    }
    auto const shape = draw_leaf(name, length_mm);
    if (shape) place = std::make_unique<LeafDrawing>(leaf_drawing(*shape));
    return place.get();
}

std::string LeafDrawings::label(std::string const& outline, std::string const& id) const {
    for (DrawerEntry const& entry : drawer_)
        if (outline == "drawer:" + entry.name) return entry.label;
    for (OwnLeaf const& leaf : own_)
        if (outline == std::string(kOwnOutline) + leaf.id && !leaf.name.empty()) return leaf.name;
    return id;
}

void draw_leaf_picture(ImDrawList& draw, LeafDrawing const& drawing, ImVec2 centre, float pixels_per_mm, ImU32 fill,
                       ImU32 line) {
    Box2 const box = bounds(drawing.shape.outline_mm.outer);
    auto const on_screen = [&](Vec2 const& p) {
        return ImVec2(centre.x + static_cast<float>(p.x - box.centre().x) * pixels_per_mm,
                      centre.y - static_cast<float>(p.y - box.centre().y) * pixels_per_mm);
    };
    // Without anti-aliasing inside, else seams show between the triangles; the outline smooths the edge.
    ImDrawListFlags const flags = draw.Flags;
    draw.Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (std::size_t i = 0; i + 2 < drawing.triangles.size(); i += 3)
        draw.AddTriangleFilled(on_screen(drawing.points[drawing.triangles[i]]),
                               on_screen(drawing.points[drawing.triangles[i + 1]]),
                               on_screen(drawing.points[drawing.triangles[i + 2]]), fill);
    draw.Flags = flags;
    std::vector<ImVec2> path;
    auto const polyline = [&](std::span<Vec2 const> points, ImDrawFlags closed, float width) {
        path.clear();
        for (Vec2 const& p : points) path.push_back(on_screen(p));
        draw.AddPolyline(path.data(), static_cast<int>(path.size()), line, closed, width);
    };
    for (Vein const& vein : drawing.shape.veins) {
        if (vein.order > 2) continue;
        auto const width = static_cast<float>(0.5 * (vein.root_width_mm + vein.end_width_mm)) * pixels_per_mm;
        polyline(vein.line_mm, 0, std::clamp(0.6F * width, 1.0F, 3.0F));
    }
    polyline(drawing.shape.outline_mm.outer, ImDrawFlags_Closed, 1.6F);
    for (Ring const& hole : drawing.shape.outline_mm.holes) polyline(hole, ImDrawFlags_Closed, 1.6F);
}

} // namespace leafwright
