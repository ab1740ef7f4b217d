// Leaves as flat drawings with their veins, for the tray and the cards.
#pragma once

#include "leaf/own_leaf.h"

#include <imgui.h>

#include <map>
#include <memory>

namespace leafwright {

struct LeafDrawing {
    LeafShape shape;
    std::vector<Vec2> points; // the outline, then points that the triangles need
    std::vector<std::uint32_t> triangles;
};

LeafDrawing leaf_drawing(LeafShape const& shape);

// Drawings that were asked for before, by outline and length.
class LeafDrawings {
public:
    // The piece's own leaves from now on; drawings of those that changed are made anew.
    void know(std::span<OwnLeaf const> own);
    // Null when there is no such leaf in the drawer or among the own ones.
    LeafDrawing const* of(std::string const& outline, double length_mm);
    std::vector<DrawerEntry> const& drawer() const { return drawer_; }
    // The drawer's word for an outline, else the kind's own id.
    std::string label(std::string const& outline, std::string const& id) const;

private:
    std::vector<OwnLeaf> own_;
    std::vector<DrawerEntry> drawer_ = drawer_entries();
    std::map<std::pair<std::string, double>, std::unique_ptr<LeafDrawing>> known_;
};

// Upright, tip up, its rectangle centred on `centre`.
void draw_leaf_picture(ImDrawList& draw, LeafDrawing const& drawing, ImVec2 centre, float pixels_per_mm, ImU32 fill,
                       ImU32 line);

} // namespace leafwright
