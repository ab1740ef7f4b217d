#include "bench/gesture.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

using What = PointerEvent::What;
using Deeds = std::vector<Deed>;

constexpr double kTurnPerNotch_deg = 5;
constexpr double kSizePerNotch = 1.04;

bool is_selected(Ground const& ground, int id) {
    return std::find(ground.selected.begin(), ground.selected.end(), id) != ground.selected.end();
}

std::vector<int> toggled(std::vector<int> ids, int id) {
    if (std::erase(ids, id) == 0) ids.push_back(id);
    return ids;
}

// The wheel turns or sizes leaves with Ctrl or Shift held, else it zooms.
void turn_wheel(PointerEvent const& event, Ground const& ground, Deeds& out) {
    bool const on_leaves = (event.ctrl || event.shift) && ground.leaves_move && !ground.selected.empty();
    if (!on_leaves) {
        out.push_back(ZoomView{event.wheel});
        return;
    }
    std::vector<LeafPlacement> leaves = leaves_of(ground.piece, ground.selected);
    for (LeafPlacement& leaf : leaves)
        leaf = event.ctrl ? turned_by(leaf, event.wheel * kTurnPerNotch_deg)
                          : sized_by(leaf, std::pow(kSizePerNotch, event.wheel));
    if (!leaves.empty()) out.push_back(MakeChange{SetLeaves{std::move(leaves)}});
}

Hand grab_handle(PointerEvent const& event, Ground const& ground) {
    LeafPlacement const* const leaf = leaf_of(ground.piece, ground.selected.front());
    if (!leaf) return Resting{};
    if (event.handle == HandleKind::turn)
        return TurningLeaf{*leaf, angle_about_deg(*ground.surface, *leaf, *event.spot)};
    return SizingLeaf{*leaf, std::max(1.0, distance_from_mm(*ground.surface, *leaf, *event.spot))};
}

// For the angle and the distance about its middle.
LeafPlacement middle_of(Feature const& feature) {
    LeafPlacement at;
    at.azimuth_deg = feature.azimuth_deg;
    at.from_crown_mm = feature.from_crown_mm;
    return at;
}

Hand grab_feature_handle(PointerEvent const& event, Ground const& ground) {
    if (ground.selected_feature >= static_cast<int>(ground.piece.features.size())) return Resting{};
    int const index = ground.selected_feature;
    Feature const& feature = ground.piece.features[static_cast<std::size_t>(index)];
    LeafPlacement const middle = middle_of(feature);
    if (event.handle == HandleKind::turn)
        return TurningFeature{index, feature, angle_about_deg(*ground.surface, middle, *event.spot)};
    return SizingFeature{index, feature, std::max(1.0, distance_from_mm(*ground.surface, middle, *event.spot))};
}

Hand press(PointerEvent const& event, Ground const& ground) {
    if (!event.over_picture) return Resting{};
    if (event.button == PointerButton::middle) return MovingView{event.at_px};
    if (event.button == PointerButton::right) return TurningView{event.at_px};
    bool const on_handle = event.handle != HandleKind::none && ground.surface && event.spot;
    if (on_handle && ground.leaves_move && ground.selected.size() == 1) return grab_handle(event, ground);
    if (on_handle && ground.features_move && ground.selected.empty() && ground.selected_feature >= 0)
        return grab_feature_handle(event, ground);
    if (event.ctrl) return DrawingBox{event.at_px, event.at_px, event.shift};
    return Pressed{event.at_px, event.hit, event.spot, event.shift};
}

Hand rest(PointerEvent const& event, Ground const& ground, Deeds& out) {
    if (event.what == What::press) return press(event, ground);
    if (event.what == What::wheel && event.over_picture) turn_wheel(event, ground, out);
    if (event.what == What::double_click && event.over_picture)
        if (auto const* leaf = std::get_if<LeafHit>(&event.hit)) out.push_back(OpenCard{leaf->id});
    return Resting{};
}

void show_in_hand(Carrying& hand, PointerEvent const& event, Ground const& ground, Deeds& out) {
    if (!event.over_picture || !event.spot || !ground.surface) {
        out.push_back(DropChange{});
        return;
    }
    hand.leaf = placed_at(*ground.surface, hand.leaf, *event.spot);
    if (hand.lifted) {
        out.push_back(ShowChange{SetLeaves{{hand.leaf}}});
        return;
    }
    hand.leaf.row = row_near(*ground.surface, ground.piece.leaves, *event.spot);
    out.push_back(ShowChange{AddLeaves{{hand.leaf}}});
}

// Lays what is in hand; a leaf that was dragged from the tray or lifted is then out of the hand.
Hand lay_down(Carrying hand, PointerEvent const& event, Ground const& ground, Deeds& out) {
    if (!event.over_picture || !event.spot || !ground.surface) {
        hand.held = false;
        return hand;
    }
    show_in_hand(hand, event, ground, out);
    out.push_back(KeepChange{});
    int const id = hand.lifted ? hand.leaf.id : next_leaf_id(ground.piece);
    if (!hand.lifted && !hand.held) return hand;
    out.push_back(SelectLeaves{{id}});
    return Resting{};
}

Hand wheel_in_hand(Carrying hand, PointerEvent const& event, Ground const& ground, Deeds& out) {
    if (!event.ctrl && !event.shift) {
        out.push_back(ZoomView{event.wheel});
        return hand;
    }
    hand.leaf = event.ctrl ? turned_by(hand.leaf, event.wheel * kTurnPerNotch_deg)
                           : sized_by(hand.leaf, std::pow(kSizePerNotch, event.wheel));
    show_in_hand(hand, event, ground, out);
    return hand;
}

Hand carry(Carrying hand, PointerEvent const& event, Ground const& ground, Deeds& out) {
    bool const left = event.button == PointerButton::left;
    if (event.what == What::cancel) {
        out.push_back(DropChange{});
        return Resting{};
    }
    if (event.what == What::wheel) return wheel_in_hand(hand, event, ground, out);
    if (event.what == What::press && left && !hand.held) return lay_down(hand, event, ground, out);
    if (event.what == What::release && left && hand.held) return lay_down(hand, event, ground, out);
    if (event.what == What::press && !left && event.over_picture) hand.turning_px = event.at_px;
    if (event.what == What::release && !left) hand.turning_px.reset();
    if (event.what != What::move) return hand;
    if (hand.turning_px) {
        out.push_back(TurnView{event.at_px - *hand.turning_px});
        hand.turning_px = event.at_px;
    }
    show_in_hand(hand, event, ground, out);
    return hand;
}

void click(Pressed const& hand, Ground const& ground, Deeds& out) {
    if (auto const* leaf = std::get_if<LeafHit>(&hand.hit)) {
        out.push_back(SelectLeaves{hand.shift ? toggled(ground.selected, leaf->id) : std::vector<int>{leaf->id}});
        return;
    }
    if (auto const* feature = std::get_if<FeatureHit>(&hand.hit)) {
        out.push_back(SelectFeature{feature->index});
        return;
    }
    if (!hand.shift) out.push_back(SelectLeaves{});
}

Hand start_drag(Pressed const& hand, Ground const& ground, Deeds& out) {
    if (hand.shift) return MovingView{hand.at_px};
    auto const* leaf = std::get_if<LeafHit>(&hand.hit);
    if (leaf && ground.leaves_move && ground.surface && hand.spot) {
        std::vector<int> const ids = is_selected(ground, leaf->id) ? ground.selected : std::vector<int>{leaf->id};
        out.push_back(SelectLeaves{ids});
        return DraggingLeaves{leaves_of(ground.piece, ids), *hand.spot};
    }
    auto const* feature = std::get_if<FeatureHit>(&hand.hit);
    if (feature && ground.features_move && ground.surface && hand.spot &&
        feature->index < static_cast<int>(ground.piece.features.size())) {
        out.push_back(SelectFeature{feature->index});
        return DraggingFeature{feature->index, ground.piece.features[static_cast<std::size_t>(feature->index)],
                               *hand.spot};
    }
    return TurningView{hand.at_px};
}

// The change that the pointer's spot asks for, while something is held.
struct ChangeAt {
    Ground const& ground;
    Spot spot;

    Command operator()(DraggingLeaves const& hand) const {
        return SetLeaves{dragged(*ground.surface, hand.start, hand.from, spot)};
    }
    Command operator()(DraggingFeature const& hand) const {
        ClaySurface const& surface = *ground.surface;
        Vec2 const step = surface.to_chart(spot) - surface.to_chart(hand.from);
        Spot const to = surface.from_chart(surface.to_chart(spot_of(hand.start)) + step);
        return leafwright::SetFeature{hand.index, placed_at(surface, hand.start, to)};
    }
    Command operator()(TurningLeaf const& hand) const {
        double const angle = angle_about_deg(*ground.surface, hand.start, spot);
        return SetLeaves{{turned_by(hand.start, angle - hand.angle_deg)}};
    }
    Command operator()(TurningFeature const& hand) const {
        Feature feature = hand.start;
        double const angle = angle_about_deg(*ground.surface, middle_of(hand.start), spot);
        feature.turn_deg = std::remainder(feature.turn_deg + angle - hand.angle_deg, 360.0);
        return leafwright::SetFeature{hand.index, feature};
    }
    Command operator()(SizingFeature const& hand) const {
        Feature feature = hand.start;
        double const factor = distance_from_mm(*ground.surface, middle_of(hand.start), spot) / hand.distance_mm;
        feature.width_mm *= factor;
        feature.height_mm *= factor;
        return leafwright::SetFeature{hand.index, feature};
    }
    Command operator()(SizingLeaf const& hand) const {
        double const distance = distance_from_mm(*ground.surface, hand.start, spot);
        return SetLeaves{{sized_by(hand.start, distance / hand.distance_mm)}};
    }
};

template <class Held> Hand hold(Held hand, PointerEvent const& event, Ground const& ground, Deeds& out) {
    if (event.what == What::cancel) {
        out.push_back(DropChange{});
        return Resting{};
    }
    if (event.what == What::move && event.spot && ground.surface)
        out.push_back(ShowChange{ChangeAt{ground, *event.spot}(hand)});
    if (event.what == What::release && event.button == PointerButton::left) {
        out.push_back(KeepChange{});
        return Resting{};
    }
    return hand;
}

struct Next {
    PointerEvent const& event;
    Ground const& ground;
    Deeds& out;

    Hand operator()(Resting) const { return rest(event, ground, out); }
    Hand operator()(Carrying hand) const { return carry(std::move(hand), event, ground, out); }
    Hand operator()(DraggingLeaves hand) const { return hold(std::move(hand), event, ground, out); }
    Hand operator()(DraggingFeature const& hand) const { return hold(hand, event, ground, out); }
    Hand operator()(TurningLeaf hand) const { return hold(std::move(hand), event, ground, out); }
    Hand operator()(SizingLeaf hand) const { return hold(std::move(hand), event, ground, out); }
    Hand operator()(TurningFeature const& hand) const { return hold(hand, event, ground, out); }
    Hand operator()(SizingFeature const& hand) const { return hold(hand, event, ground, out); }

    Hand operator()(Pressed hand) const {
        if (event.what == What::cancel) return Resting{};
        if (event.what == What::release) {
            click(hand, ground, out);
            return Resting{};
        }
        if (event.what != What::move || glm::length(event.at_px - hand.at_px) < ground.click_px) return hand;
        return after(start_drag(hand, ground, out), event, ground, out);
    }
    Hand operator()(DrawingBox hand) const {
        if (event.what == What::cancel) return Resting{};
        hand.to_px = event.at_px;
        if (event.what != What::release) return hand;
        out.push_back(PickInBox{glm::min(hand.from_px, hand.to_px), glm::max(hand.from_px, hand.to_px), hand.adding});
        return Resting{};
    }
    Hand operator()(TurningView hand) const {
        if (event.what == What::release || event.what == What::cancel) return Resting{};
        if (event.what == What::move) out.push_back(TurnView{event.at_px - hand.last_px});
        hand.last_px = event.at_px;
        return hand;
    }
    Hand operator()(MovingView hand) const {
        if (event.what == What::release || event.what == What::cancel) return Resting{};
        if (event.what == What::move) out.push_back(MoveView{event.at_px - hand.last_px});
        hand.last_px = event.at_px;
        return hand;
    }
};

} // namespace

void add_record(std::vector<PointerRecord>& records, PointerRecord const& record) {
    bool const follows = !records.empty() && records.back().what == What::move && record.what == What::move;
    if (follows)
        records.back() = record;
    else
        records.push_back(record);
}

Hand after(Hand hand, PointerEvent const& event, Ground const& ground, std::vector<Deed>& out) {
    return std::visit(Next{event, ground, out}, std::move(hand));
}

Carrying pick_up(std::string kind, bool held) {
    Carrying hand;
    hand.leaf.kind = std::move(kind);
    hand.held = held;
    return hand;
}

Carrying lift(LeafPlacement const& leaf) { return {leaf, true, false, std::nullopt}; }

Hand with_leaf(Hand hand, LeafPlacement const& leaf) {
    if (auto* carrying = std::get_if<Carrying>(&hand)) carrying->leaf = leaf;
    return hand;
}

bool is_busy(Hand const& hand) {
    return !std::holds_alternative<Resting>(hand) && !std::holds_alternative<Carrying>(hand);
}

} // namespace leafwright
