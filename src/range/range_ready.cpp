// Clay, leaves and formers for the whole range.
#include "piece/fields.h"
#include "range/range_parts.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace leafwright {

namespace {

int bags_of(double g, double bag_kg) { return static_cast<int>(std::ceil(g / 1000 / bag_kg - 1e-9)); }

// What stands behind "drawer:", "own:" or "body:".
std::string plain_name(std::string const& name) {
    std::size_t const colon = name.find(':');
    return colon == std::string::npos ? name : name.substr(colon + 1);
}

// As the drawer or its finder calls it.
std::string leaf_label(Piece const& piece, std::string const& outline) {
    std::string name = plain_name(outline);
    for (OwnLeaf const& leaf : piece.own_leaves)
        if (outline.starts_with("own:") && leaf.id == name) return leaf.name.empty() ? name : leaf.name;
    for (DrawerEntry const& entry : drawer_entries())
        if (outline.starts_with("drawer:") && entry.name == name) return entry.label;
    return name;
}

std::string shape_words(FormerSpec const& former) {
    std::string_view kind;
    for (auto const& word : kOutlineWords)
        if (word.value == former.outline.kind) kind = word.name;
    std::string size = former.outline.kind == OutlineKind::round
                           ? fmt::format("{:g} mm", former.outline.width_mm)
                           : fmt::format("{:g} mm x {:g} mm", former.outline.width_mm, former.outline.height_mm);
    return fmt::format("{}, {}, {:g} mm high", kind, size, former.profile.crown_mm);
}

} // namespace

void plan_clay(RangePlan& plan) {
    for (RangeEntry const& entry : plan.entries) {
        std::string const body = plain_name(entry.plan->piece.body.clay);
        auto found = std::ranges::find(plan.clay, body, &RangeClay::body);
        if (found == plan.clay.end()) found = plan.clay.insert(found, {body, {}, 0, 0});
        Figure const more = entry.plan->clay.knead_g * entry.copies;
        found->knead_g = found->knead_g.value > 0 ? found->knead_g + more : more;
    }
    for (RangeClay& clay : plan.clay) {
        clay.bags = bags_of(clay.knead_g.value, plan.spec.bag_kg);
        clay.bags_most = bags_of(clay.knead_g.high, plan.spec.bag_kg);
    }
}

void plan_leaves(RangePlan& plan) {
    std::map<std::string, RangeLeaves> by_outline;
    for (RangeEntry const& entry : plan.entries) {
        for (LeafPlacement const& leaf : entry.plan->piece.leaves) {
            LeafPattern const* const pattern = entry.plan->pattern_of(leaf);
            if (!pattern) continue;
            RangeLeaves& leaves = by_outline[pattern->spec.outline];
            if (leaves.label.empty()) leaves.label = leaf_label(entry.plan->piece, pattern->spec.outline);
            double const length = pattern->spec.length_mm * leaf.scale;
            leaves.shortest_mm = leaves.cut == 0 ? length : std::min(leaves.shortest_mm, length);
            leaves.longest_mm = std::max(leaves.longest_mm, length);
            leaves.cut += entry.copies;
        }
    }
    for (auto& [outline, leaves] : by_outline) {
        leaves.outline = outline;
        leaves.gather = (leaves.cut + plan.spec.presses_per_leaf - 1) / plan.spec.presses_per_leaf;
        plan.leaves.push_back(leaves);
    }
    std::ranges::stable_sort(plan.leaves, std::greater<>(), &RangeLeaves::cut);
}

void plan_shapes(RangePlan& plan) {
    std::vector<FormerSpec const*> formers;
    for (RangeEntry& entry : plan.entries) {
        FormerSpec const& former = entry.plan->piece.former;
        auto const same = std::ranges::find_if(formers, [&](FormerSpec const* f) { return *f == former; });
        entry.shape = static_cast<int>(same - formers.begin());
        if (same == formers.end()) {
            formers.push_back(&former);
            plan.shapes.push_back({shape_words(former), 0, plan.spec.formers, 1});
        }
        plan.shapes[static_cast<std::size_t>(entry.shape)].copies += entry.copies;
    }
}

} // namespace leafwright
