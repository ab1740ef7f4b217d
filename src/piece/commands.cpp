#include "piece/commands.h"

#include "piece/fields.h"
#include "piece/own_leaves.h"

#include <algorithm>
#include <unordered_map>
#include <unordered_set>
#include <utility>

namespace leafwright {

namespace {

bool has_kind(Piece const& piece, std::string const& id) {
    return std::any_of(piece.leaf_kinds.begin(), piece.leaf_kinds.end(),
                       [&](auto const& kind) { return kind.id == id; });
}

std::unordered_set<int> leaf_ids(Piece const& piece) {
    std::unordered_set<int> ids;
    for (LeafPlacement const& leaf : piece.leaves) ids.insert(leaf.id);
    return ids;
}

std::vector<LeafPlacement> leaves_of(Piece const& piece, std::vector<int> const& ids) {
    std::unordered_set<int> const wanted(ids.begin(), ids.end());
    std::vector<LeafPlacement> found;
    for (LeafPlacement const& leaf : piece.leaves)
        if (wanted.contains(leaf.id)) found.push_back(leaf);
    return found;
}

// On top, with new ids; what the piece has no kind or no room for is left out.
void add_on_top(Piece& piece, std::vector<LeafPlacement> const& leaves) {
    for (LeafPlacement leaf : leaves) {
        if (piece.leaves.size() >= kMostLeaves) return;
        if (!has_kind(piece, leaf.kind)) continue;
        leaf.id = next_leaf_id(piece);
        hold_in_range(leaf);
        piece.leaves.push_back(std::move(leaf));
    }
}

bool outline_is_possible(OutlineSpec const& outline) {
    return outline.kind != OutlineKind::free || outline.points_mm.size() >= 4;
}

void perform(Piece& piece, SetFormer const& c) {
    OutlineSpec const old = piece.former.outline;
    piece.former = c.former;
    if (!outline_is_possible(piece.former.outline)) piece.former.outline = old;
    hold_in_range(piece.former);
}

// Of cuts that crowd each other the first stays.
void hold_apart(SlabSpec& slab) {
    std::vector<SlabCut> const wanted = std::exchange(slab.cuts, {});
    for (SlabCut const& cut : wanted) {
        slab.cuts.push_back(cut);
        if (check_slab(slab)) slab.cuts.pop_back();
    }
}

void perform(Piece& piece, SetSlab const& c) {
    piece.slab = c.slab;
    hold_in_range(piece.slab);
    hold_apart(piece.slab);
}

void perform(Piece& piece, SetBody const& c) {
    std::string const old = piece.body.clay;
    piece.body = c.body;
    std::string_view const clay = c.body.clay;
    if (!clay.starts_with("body:") || !body_of(clay.substr(5))) piece.body.clay = old;
    hold_in_range(piece.body);
}

void perform(Piece& piece, SetHanging const& c) {
    piece.hanging = c.hanging;
    hold_in_range(piece.hanging);
}

void perform(Piece& piece, SetDrying const& c) {
    piece.drying = c.drying;
    hold_in_range(piece.drying);
    // The first cover counts from the start; a later one is not moved before it.
    for (std::size_t i = 1; i < piece.drying.covers.size(); ++i)
        piece.drying.covers[i].from_day =
            std::max(piece.drying.covers[i].from_day, piece.drying.covers[i - 1].from_day);
}

void perform(Piece& piece, SetTiles const& c) {
    piece.tiles = c.tiles;
    hold_in_range(piece.tiles);
}

void perform(Piece& piece, SetFinish const& c) {
    piece.finish = c.finish;
    hold_in_range(piece.finish);
}

void perform(Piece& piece, SetKiln const& c) {
    piece.kiln = c.kiln;
    hold_in_range(piece.kiln);
}

void perform(Piece& piece, SetCost const& c) {
    piece.cost = c.cost;
    hold_in_range(piece.cost);
}

void perform(Piece& piece, SetCutting const& c) {
    piece.cutting = c.cutting;
    hold_in_range(piece.cutting);
}

void perform(Piece& piece, UseNest const& c) {
    piece.cutting.nested_share = c.share;
    piece.cutting.nested_cut_mm2 = c.cut_mm2;
    hold_in_range(piece.cutting);
}

void perform(Piece& piece, PinCut const& c) {
    auto& pins = piece.cutting.pins;
    auto const found = std::ranges::find(pins, c.pin.cut, &CutPin::cut);
    if (found != pins.end())
        *found = c.pin;
    else if (pins.size() < kMostPins)
        pins.push_back(c.pin);
    hold_in_range(piece.cutting);
}

void perform(Piece& piece, UnpinCut const& c) {
    std::erase_if(piece.cutting.pins, [&](CutPin const& pin) { return c.cut.empty() || pin.cut == c.cut; });
}

void perform(Piece& piece, SetExtra const& c) {
    piece.extra = c.extra;
    hold_in_range(piece.extra);
}

// Rules in the order of their rows, one a row, of kinds that exist.
void tidy_rules(Piece& piece) {
    auto& rules = piece.rows.rules;
    for (RowRule& rule : rules)
        std::erase_if(rule.kinds, [&](std::string const& kind) { return !has_kind(piece, kind); });
    std::erase_if(rules, [](RowRule const& rule) { return rule.kinds.empty(); });
    std::stable_sort(rules.begin(), rules.end(), [](auto const& a, auto const& b) { return a.row < b.row; });
    auto const same_row = [](auto const& a, auto const& b) { return a.row == b.row; };
    rules.erase(std::unique(rules.begin(), rules.end(), same_row), rules.end());
}

void perform(Piece& piece, SetRows const& c) {
    piece.rows = c.rows;
    hold_in_range(piece.rows);
    tidy_rules(piece);
}

void perform(Piece& piece, SetSeed const& c) { piece.seed = c.seed; }

void perform(Piece& piece, SetName const& c) {
    piece.name = c.name;
    hold_in_range(piece);
}

void perform(Piece& piece, SetFirings const& c) {
    piece.firing = c.firing;
    if (piece.firing.size() > kMostFirings) piece.firing.resize(kMostFirings);
    for (FiringSpec& firing : piece.firing) hold_in_range(firing);
}

void perform(Piece& piece, SetLeafKind const& c) {
    LeafKindSpec kind = c.kind;
    hold_in_range(kind);
    if (kind.id.empty()) return;
    if (!own_leaf_in(piece, kind.outline) && !resolve_leaf_kind(kind)) return;
    for (LeafKindSpec& old : piece.leaf_kinds) {
        if (old.id != kind.id) continue;
        old = kind;
        return;
    }
    if (piece.leaf_kinds.size() < kMostKinds) piece.leaf_kinds.push_back(kind);
}

// A rule that is left with no kind takes those of the rule before it, or else of the one after it.
void perform(Piece& piece, RemoveLeafKind const& c) {
    std::erase_if(piece.leaf_kinds, [&](auto const& kind) { return kind.id == c.id; });
    std::erase_if(piece.leaves, [&](auto const& leaf) { return leaf.kind == c.id; });
    auto& rules = piece.rows.rules;
    for (RowRule& rule : rules) std::erase(rule.kinds, c.id);
    for (std::size_t i = 1; i < rules.size(); ++i)
        if (rules[i].kinds.empty()) rules[i].kinds = rules[i - 1].kinds;
    for (std::size_t i = rules.size(); i-- > 1;)
        if (rules[i - 1].kinds.empty()) rules[i - 1].kinds = rules[i].kinds;
    tidy_rules(piece);
}

void perform(Piece& piece, AddOwnLeaf const& c) { add_own_leaf(piece, c.leaf, c.thickness_mm); }

void perform(Piece& piece, SetOwnLeaf const& c) { set_own_leaf(piece, c.leaf); }

void perform(Piece& piece, RenameOwnLeaf const& c) { rename_own_leaf(piece, c.id, c.name); }

void perform(Piece& piece, RemoveOwnLeaf const& c) {
    std::string const outline = std::string(kOwnOutline) + c.id;
    std::vector<std::string> kinds;
    for (LeafKindSpec const& kind : piece.leaf_kinds)
        if (kind.outline == outline) kinds.push_back(kind.id);
    for (std::string const& kind : kinds) perform(piece, RemoveLeafKind{kind});
    std::erase_if(piece.own_leaves, [&](OwnLeaf const& leaf) { return leaf.id == c.id; });
}

void perform(Piece& piece, AddLeaves const& c) { add_on_top(piece, c.leaves); }

// A leaf that has come to another row is laid last of that row, or where that row would be.
void lay_with_its_row(std::vector<LeafPlacement>& leaves, int id) {
    auto const at = std::ranges::find(leaves, id, &LeafPlacement::id);
    LeafPlacement const leaf = *at;
    leaves.erase(at);
    auto const in_row = [&](LeafPlacement const& other) { return other.row == leaf.row; };
    auto const further_out = [&](LeafPlacement const& other) { return other.row <= leaf.row; };
    auto last = std::find_if(leaves.rbegin(), leaves.rend(), in_row);
    if (last == leaves.rend()) last = std::find_if(leaves.rbegin(), leaves.rend(), further_out);
    leaves.insert(last.base(), leaf);
}

void perform(Piece& piece, SetLeaves const& c) {
    std::unordered_map<int, LeafPlacement const*> wanted;
    for (LeafPlacement const& leaf : c.leaves)
        if (has_kind(piece, leaf.kind)) wanted[leaf.id] = &leaf;
    std::vector<int> to_other_rows;
    for (LeafPlacement& leaf : piece.leaves) {
        auto const found = wanted.find(leaf.id);
        if (found == wanted.end()) continue;
        int const row = leaf.row;
        leaf = *found->second;
        hold_in_range(leaf);
        if (leaf.row != row) to_other_rows.push_back(leaf.id);
    }
    for (int const id : to_other_rows) lay_with_its_row(piece.leaves, id);
}

void perform(Piece& piece, ReplaceAllLeaves const& c) {
    piece.leaves.clear();
    std::unordered_set<int> ids;
    std::vector<std::size_t> without_id;
    for (LeafPlacement leaf : c.leaves) {
        if (piece.leaves.size() >= kMostLeaves) break;
        if (!has_kind(piece, leaf.kind)) continue;
        bool const id_is_good = leaf.id >= 1 && leaf.id <= kMostLeafId && ids.insert(leaf.id).second;
        if (!id_is_good) without_id.push_back(piece.leaves.size());
        hold_in_range(leaf);
        if (!id_is_good) leaf.id = 0;
        piece.leaves.push_back(std::move(leaf));
    }
    for (std::size_t index : without_id) piece.leaves[index].id = next_leaf_id(piece);
}

void perform(Piece& piece, SetArrangement const& c) {
    perform(piece, ReplaceAllLeaves{c.leaves});
    piece.seed = c.seed;
}

// The row's leaves take the places of the old ones in the laying order; what is over comes after the last of them.
// The row gets a rule of its own; the rows further in keep what they had.
void take_kind(Piece& piece, int row, std::string const& kind) {
    auto& rules = piece.rows.rules;
    if (rules.empty() || !has_kind(piece, kind)) return;
    RowRule found = rules.front();
    for (RowRule const& rule : rules)
        if (rule.row <= row) found = rule;
    if (found.kinds == std::vector<std::string>{kind}) return;
    auto const starts = [&](int at) { return std::ranges::find(rules, at, &RowRule::row) != rules.end(); };
    RowRule inner = found;
    inner.row = row + 1;
    if (!starts(row + 1)) rules.push_back(inner);
    std::erase_if(rules, [&](RowRule const& rule) { return rule.row == row; });
    found.row = row;
    found.kinds = {kind};
    rules.push_back(found);
    tidy_rules(piece);
}

void perform(Piece& piece, SetRow const& c) {
    if (!c.kind.empty()) take_kind(piece, c.row, c.kind);
    auto& leaves = piece.leaves;
    std::size_t place = 0;
    std::size_t next = 0;
    for (; place < leaves.size() && next < c.leaves.size(); ++place)
        if (leaves[place].row == c.row) leaves[place] = c.leaves[next++];
    if (next < c.leaves.size()) {
        place = 0;
        for (std::size_t i = 0; i < leaves.size(); ++i)
            if (leaves[i].row <= c.row) place = i + 1;
        auto const room = static_cast<std::ptrdiff_t>(std::min(c.leaves.size() - next, kMostLeaves - leaves.size()));
        auto const from = c.leaves.begin() + static_cast<std::ptrdiff_t>(next);
        leaves.insert(leaves.begin() + static_cast<std::ptrdiff_t>(place), from, from + room);
    } else {
        auto const rest = leaves.begin() + static_cast<std::ptrdiff_t>(place);
        leaves.erase(std::remove_if(rest, leaves.end(), [&](auto const& leaf) { return leaf.row == c.row; }),
                     leaves.end());
    }
    std::erase_if(leaves, [&](auto const& leaf) { return !has_kind(piece, leaf.kind); });
    for (LeafPlacement& leaf : leaves) {
        if (leaf.row != c.row) continue;
        if (leaf.id <= 0) leaf.id = next_leaf_id(piece);
        hold_in_range(leaf);
    }
}

void perform(Piece& piece, RemoveLeaves const& c) {
    std::unordered_set<int> const gone(c.ids.begin(), c.ids.end());
    std::erase_if(piece.leaves, [&](auto const& leaf) { return gone.contains(leaf.id); });
}

// The chosen leaves, in their own order, come right over or under the one named by `past`. One that is already beyond
// it stays: going over never sinks a leaf.
void move_past(std::vector<LeafPlacement>& leaves, ReorderLeaves const& c) {
    auto const at_past = std::ranges::find(leaves, c.past, &LeafPlacement::id);
    if (at_past == leaves.end() || std::ranges::count(c.ids, c.past) > 0) return;
    bool const over = c.change == OrderChange::over_one;
    auto const moves = [&](LeafPlacement const& leaf) { return std::ranges::count(c.ids, leaf.id) > 0; };
    if (over)
        std::stable_partition(leaves.begin(), at_past + 1, [&](auto const& leaf) { return !moves(leaf); });
    else
        std::stable_partition(at_past, leaves.end(), moves);
}

void perform(Piece& piece, ReorderLeaves const& c) {
    std::unordered_set<int> const chosen(c.ids.begin(), c.ids.end());
    auto const is_chosen = [&](LeafPlacement const& leaf) { return chosen.contains(leaf.id); };
    auto& leaves = piece.leaves;
    if (c.past != 0 && (c.change == OrderChange::over_one || c.change == OrderChange::under_one))
        return move_past(leaves, c);
    switch (c.change) {
    case OrderChange::over_one:
        for (std::size_t i = leaves.size(); i-- > 1;)
            if (is_chosen(leaves[i - 1]) && !is_chosen(leaves[i])) std::swap(leaves[i - 1], leaves[i]);
        break;
    case OrderChange::under_one:
        for (std::size_t i = 1; i < leaves.size(); ++i)
            if (is_chosen(leaves[i]) && !is_chosen(leaves[i - 1])) std::swap(leaves[i], leaves[i - 1]);
        break;
    case OrderChange::to_top:
        std::stable_partition(leaves.begin(), leaves.end(), [&](auto const& leaf) { return !is_chosen(leaf); });
        break;
    case OrderChange::to_bottom:
        std::stable_partition(leaves.begin(), leaves.end(), is_chosen);
        break;
    }
}

void perform(Piece& piece, CopyLeaves const& c) {
    std::vector<LeafPlacement> copies = leaves_of(piece, c.ids);
    for (LeafPlacement& leaf : copies) {
        leaf.azimuth_deg += c.by_azimuth_deg;
        leaf.from_crown_mm += c.by_from_crown_mm;
    }
    add_on_top(piece, copies);
}

void perform(Piece& piece, MirrorLeaves const& c) {
    std::vector<LeafPlacement> images = leaves_of(piece, c.ids);
    for (LeafPlacement& leaf : images) leaf = mirror_image(leaf);
    add_on_top(piece, images);
}

void perform(Piece& piece, AddFeature const& c) {
    if (piece.features.size() >= kMostFeatures) return;
    piece.features.push_back(c.feature);
    hold_in_range(piece.features.back());
}

bool has_feature(Piece const& piece, int index) {
    return index >= 0 && static_cast<std::size_t>(index) < piece.features.size();
}

void perform(Piece& piece, SetFeature const& c) {
    if (!has_feature(piece, c.index)) return;
    Feature& feature = piece.features[static_cast<std::size_t>(c.index)];
    feature = c.feature;
    hold_in_range(feature);
}

void perform(Piece& piece, RemoveFeature const& c) {
    if (has_feature(piece, c.index)) piece.features.erase(piece.features.begin() + c.index);
}

std::string counted(char const* verb, std::size_t leaves) {
    return leaves == 1 ? std::string(verb) + " leaf" : std::string(verb) + ' ' + std::to_string(leaves) + " leaves";
}

std::string feature_name(Feature const& feature) {
    for (auto const& word : kFeatureWords)
        if (word.value == feature.kind) return std::string(word.name);
    return "feature";
}

struct Label {
    std::string operator()(SetFormer const&) const { return "Change former"; }
    std::string operator()(SetSlab const&) const { return "Change slab"; }
    std::string operator()(SetBody const&) const { return "Change clay"; }
    std::string operator()(SetHanging const&) const { return "Change hanging"; }
    std::string operator()(SetCutting const&) const { return "Change cutting"; }
    std::string operator()(UseNest const& c) const {
        return c.share > 0 ? "Reckon offcuts by the sheets" : "Reckon offcuts by the usual share";
    }
    std::string operator()(PinCut const& c) const { return "Put down " + c.pin.cut; }
    std::string operator()(UnpinCut const& c) const { return c.cut.empty() ? "Free all pieces" : "Free " + c.cut; }
    std::string operator()(SetExtra const&) const { return "Change slip and offcuts"; }
    std::string operator()(SetRows const&) const { return "Change row rules"; }
    std::string operator()(SetSeed const&) const { return "Other arrangement"; }
    std::string operator()(SetName const&) const { return "Rename"; }
    std::string operator()(SetDrying const&) const { return "Change drying"; }
    std::string operator()(SetFinish const&) const { return "Change finish"; }
    std::string operator()(SetKiln const&) const { return "Change kiln"; }
    std::string operator()(SetCost const&) const { return "Change prices"; }
    std::string operator()(SetTiles const&) const { return "Change test tiles"; }
    std::string operator()(SetFirings const&) const { return "Change firings"; }
    std::string operator()(SetLeafKind const& c) const { return "Change leaf kind " + c.kind.id; }
    std::string operator()(RemoveLeafKind const& c) const { return "Remove leaf kind " + c.id; }
    std::string operator()(AddOwnLeaf const& c) const {
        return "Add " + (c.leaf.name.empty() ? c.leaf.id : c.leaf.name);
    }
    std::string operator()(SetOwnLeaf const& c) const { return c.what; }
    std::string operator()(RenameOwnLeaf const&) const { return "Rename leaf"; }
    std::string operator()(RemoveOwnLeaf const& c) const { return "Remove " + c.id; }
    std::string operator()(AddLeaves const& c) const { return counted("Lay", c.leaves.size()); }
    std::string operator()(SetLeaves const& c) const { return counted("Move", c.leaves.size()); }
    std::string operator()(ReplaceAllLeaves const& c) const { return c.leaves.empty() ? "Clear leaves" : "Lay rows"; }
    std::string operator()(SetArrangement const&) const { return "Lay rows"; }
    std::string operator()(SetRow const& c) const { return c.what + " row " + std::to_string(c.row); }
    std::string operator()(RemoveLeaves const& c) const { return counted("Remove", c.ids.size()); }
    std::string operator()(ReorderLeaves const& c) const {
        bool const up = c.change == OrderChange::over_one || c.change == OrderChange::to_top;
        return counted(up ? "Lift" : "Lower", c.ids.size());
    }
    std::string operator()(CopyLeaves const& c) const { return counted("Copy", c.ids.size()); }
    std::string operator()(MirrorLeaves const& c) const { return counted("Mirror", c.ids.size()); }
    std::string operator()(AddFeature const& c) const { return "Add " + feature_name(c.feature); }
    std::string operator()(SetFeature const& c) const { return "Change " + feature_name(c.feature); }
    std::string operator()(RemoveFeature const&) const { return "Remove feature"; }
};

} // namespace

std::string label(Command const& command) { return std::visit(Label{}, command); }

Piece apply(Piece const& piece, Command const& command) {
    Piece changed = piece;
    std::visit([&](auto const& c) { perform(changed, c); }, command);
    return changed;
}

int next_leaf_id(Piece const& piece) {
    int highest = 0;
    for (LeafPlacement const& leaf : piece.leaves) highest = std::max(highest, leaf.id);
    if (highest < kMostLeafId) return highest + 1;
    std::unordered_set<int> const taken = leaf_ids(piece); // ids are used up at the top: the first gap
    int id = 1;
    while (taken.contains(id)) ++id;
    return id;
}

LeafPlacement mirror_image(LeafPlacement const& leaf) {
    LeafPlacement image = leaf;
    image.azimuth_deg = 180.0 - leaf.azimuth_deg;
    if (image.azimuth_deg > 360.0) image.azimuth_deg -= 360.0;
    image.turn_deg = -leaf.turn_deg;
    image.flipped = !leaf.flipped;
    return image;
}

} // namespace leafwright
