#include "piece/warnings.h"

#include "base/units.h"
#include "piece/fields.h"
#include "piece/spots.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr double kBareLimit_mm2 = 1.0;
constexpr double kOffLimit = 0.6;     // share of a leaf beyond the rim
constexpr double kHiddenLimit = 0.95; // share of a leaf that later leaves cover
constexpr double kOverOpening_mm2 = 20.0;
constexpr double kPuckerShare = 0.02; // of the slab, from which it is worth a word

std::string area_words(double mm2) {
    if (mm2 < 100) return fmt::format("{:.0f} mm²", mm2);
    return mm2 < 1000 ? fmt::format("{:.1f} cm²", mm2 / 100) : fmt::format("{:.0f} cm²", mm2 / 100);
}

// Text and hint come without their full stops.
Warning warning(char const* code, char const* stage, std::string text, char const* hint) {
    return {code, stage, text + '.', std::string(hint) + '.', false};
}

// "Leaf 3 lies", "Leaves 3 and 8 lie", "Leaves 3, 8, 9 and 4 more lie".
std::string leaves_words(std::vector<int> const& ids, char const* one, char const* several) {
    if (ids.size() == 1) return fmt::format("Leaf {} {}", ids[0], one);
    constexpr std::size_t kNamed = 3;
    std::string text = "Leaves ";
    std::size_t const named = std::min(ids.size(), kNamed);
    for (std::size_t i = 0; i < named; ++i) {
        if (i > 0) text += i + 1 == ids.size() ? " and " : ", ";
        text += std::to_string(ids[i]);
    }
    if (ids.size() > kNamed) text += fmt::format(" and {} more", ids.size() - kNamed);
    return text + ' ' + several;
}

void warn_of_slab(Plan const& plan, std::vector<Warning>& out) {
    SlabAnswer const& slab = *plan.slab;
    if (slab.too_wide)
        out.push_back({slab.too_wide->code, "Roll", fmt::format("The sheet {}.", slab.too_wide->what),
                       slab.too_wide->hint + '.', true});
    double const share = slab.draped_mm2 > 0 ? slab.pucker_mm2 / slab.draped_mm2 : 0;
    std::string what = "Ease it down a little at a time and pat the puckers flat";
    if (!slab.proposed_cuts.empty())
        what +=
            fmt::format(", or cut {} darts from the rim and join them with score and slip", slab.proposed_cuts.size());
    if (share > kPuckerShare)
        out.push_back(
            warning("slab.pucker", "Drape",
                    fmt::format("Towards the rim the slab is pushed together by up to {:.0f} % and will pucker over {}",
                                100 * (1 - slab.stretch_least), area_words(slab.pucker_mm2)),
                    what.c_str()));
    if (slab.tears)
        out.push_back(warning("slab.tear", "Drape",
                              fmt::format("The slab is drawn out by up to {:.0f} %, more than the {:.0f} % it may bear",
                                          100 * (slab.stretch_most - 1), 100 * plan.piece.slab.stretch_limit),
                              "Choose a flatter former, cut darts, or use a softer clay"));
    if (!slab.settled)
        out.push_back(warning("slab.unsettled", "Drape", "How the slab lies is uncertain: " + slab.why_not,
                              "Try it on a smaller piece first, or choose a plainer former"));
}

// ", at the top", ", in 5 places: 12 cm² at the top, 3.1 cm² in the middle, 40 mm² at the left and 2 smaller".
std::string bare_places(Plan const& plan) {
    auto const& spots = plan.leaves.bare_spots;
    if (spots.empty()) return "";
    if (spots.size() == 1) return ", " + place_words(plan, spots[0].at);
    constexpr std::size_t kNamed = 3;
    std::string text = fmt::format(", in {} places: ", spots.size());
    for (std::size_t i = 0; i < std::min(kNamed, spots.size()); ++i)
        text +=
            fmt::format("{}{} {}", i > 0 ? ", " : "", area_words(spots[i].area_mm2), place_words(plan, spots[i].at));
    if (spots.size() > kNamed) text += fmt::format(" and {} smaller", spots.size() - kNamed);
    return text;
}

void warn_of_bare(Plan const& plan, std::vector<Warning>& out) {
    double const bare = plan.leaves.overlap.bare_mm2;
    if (bare <= kBareLimit_mm2) return;
    if (plan.laid.empty()) {
        out.push_back(warning("bare", "Leaves", "No leaf is laid yet: the whole slab is bare",
                              "Lay rows, or pick a leaf from the tray"));
        return;
    }
    out.push_back(warning("bare", "Leaves", area_words(bare) + " of clay is bare" + bare_places(plan),
                          "Move a leaf over it, or lay rows again"));
}

std::vector<int> leaves_off(Plan const& plan) {
    std::vector<int> off;
    for (OverlapOfLeaf const& leaf : plan.leaves.overlap.leaves)
        if (leaf.overhang_mm2 > kOffLimit * leaf.area_mm2) off.push_back(leaf.id);
    return off;
}

std::vector<int> leaves_hidden(Plan const& plan) {
    std::vector<int> hidden;
    for (OverlapOfLeaf const& leaf : plan.leaves.overlap.leaves)
        if (leaf.lap > kHiddenLimit) hidden.push_back(leaf.id);
    return hidden;
}

void warn_of_single_leaves(Plan const& plan, std::vector<Warning>& out) {
    std::vector<int> const off = leaves_off(plan);
    std::vector<int> const hidden = leaves_hidden(plan);
    if (!off.empty())
        out.push_back(
            warning("leaf.off", "Leaves", fmt::format("{} mostly beyond the rim", leaves_words(off, "lies", "lie")),
                    "Little of such a leaf is joined to the slab, and its tip breaks easily: move it inward"));
    if (!hidden.empty())
        out.push_back(warning("leaf.hidden", "Leaves",
                              fmt::format("{} almost wholly covered", leaves_words(hidden, "is", "are")),
                              "Take off what is not seen and save its clay, or bring it over its neighbours"));
}

// By points 2 mm apart: enough to tell a touch from an overlap.
double shared_area_mm2(Ring const& a, Ring const& b) {
    constexpr double kStep_mm = 2.0;
    Box2 const box = bounds(a);
    Box2 const other = bounds(b);
    if (!box.overlaps(other)) return 0;
    Vec2 const low = glm::max(box.low, other.low);
    Vec2 const high = glm::min(box.high, other.high);
    int count = 0;
    for (double y = low.y + 0.5 * kStep_mm; y < high.y; y += kStep_mm)
        for (double x = low.x + 0.5 * kStep_mm; x < high.x; x += kStep_mm)
            if (contains(a, Vec2(x, y)) && contains(b, Vec2(x, y))) ++count;
    return count * kStep_mm * kStep_mm;
}

// The hole within the lip: the footprint drawn in about its middle. A leaf may be tucked under the lip.
Ring hole_of(LaidFeature const& opening) {
    double const footprint = std::abs(signed_area(opening.chart));
    double const share = footprint > 0 ? std::sqrt(std::min(1.0, opening.slab_hole_mm2 / footprint)) : 0;
    Vec2 const middle = centroid(opening.chart);
    Ring hole = opening.chart;
    for (Vec2& p : hole) p = middle + share * (p - middle);
    return hole;
}

// Leaves of the maker's own that are used and have places too fine for their clay.
void warn_of_fine_leaves(Plan const& plan, std::vector<Warning>& out) {
    for (auto const& pattern : plan.patterns) {
        std::string const& kind = pattern->spec.id;
        bool const used = std::ranges::any_of(plan.piece.leaves, [&](auto const& leaf) { return leaf.kind == kind; });
        if (!used || pattern->fine.empty()) continue;
        std::size_t const count = pattern->fine.size();
        auto const own = std::ranges::find_if(
            plan.piece.own_leaves, [&](OwnLeaf const& leaf) { return "own:" + leaf.id == pattern->spec.outline; });
        std::string const name = own != plan.piece.own_leaves.end() ? own->name : quoted_word(kind);
        out.push_back(warning(
            "leaf.fine", "Leaves",
            fmt::format("{} has {} narrower than its clay is thick ({:.1f} mm)", name,
                        count == 1 ? std::string("a place") : fmt::format("{} places", count),
                        pattern->spec.thickness_mm),
            count == 1 ? "It dries first, curls and snaps: thicken the outline in My leaves, or roll thinner clay"
                       : "They dry first, curl and snap: thicken the outline in My leaves, or roll thinner clay"));
    }
}

std::vector<int> leaves_over_openings(Plan const& plan) {
    std::vector<int> over;
    for (LaidFeature const& feature : plan.features) {
        if (feature.feature.kind != FeatureKind::opening) continue;
        Ring const hole = hole_of(feature);
        for (auto const& leaf : plan.laid)
            if (shared_area_mm2(leaf->chart.outer, hole) > kOverOpening_mm2) over.push_back(leaf->placement.id);
    }
    return over;
}

void warn_of_openings(Plan const& plan, std::vector<Warning>& out) {
    std::vector<int> const over = leaves_over_openings(plan);
    if (over.empty()) return;
    out.push_back(warning("leaf.over-opening", "Leaves",
                          fmt::format("{} over an opening", leaves_words(over, "lies", "lie")),
                          "Move what lies there clear of the opening, or trim it along the lip"));
}

// Mounds are thick on purpose and not among the thick spots.
void warn_of_stack(Plan const& plan, std::vector<Warning>& out) {
    auto const& spots = plan.leaves.thick_spots;
    if (spots.empty()) return;
    double const slab = plan.piece.slab.thickness_mm;
    std::string const more = spots.size() > 1 ? fmt::format(", and at {} more places nearly so", spots.size() - 1) : "";
    out.push_back(
        warning("stack.thick", "Dry",
                fmt::format("At the thickest place, {}, {:.0f} mm of leaves lie on {:.0f} mm of slab{}: it dries last "
                            "and may crack",
                            place_words(plan, spots[0].at), spots[0].thickness_mm - slab, slab, more),
                "Spread the leaves there, or dry the piece more slowly under its cover"));
}

} // namespace

std::vector<Warning> warnings_of(Plan const& plan) {
    std::vector<Warning> warnings;
    warn_of_slab(plan, warnings);
    warn_of_bare(plan, warnings);
    warn_of_single_leaves(plan, warnings);
    warn_of_fine_leaves(plan, warnings);
    warn_of_openings(plan, warnings);
    warn_of_stack(plan, warnings);
    std::stable_partition(warnings.begin(), warnings.end(), [](Warning const& w) { return w.refusal; });
    return warnings;
}

std::vector<int> leaves_meant(Plan const& plan, std::string_view code) {
    if (code == "leaf.off") return leaves_off(plan);
    if (code == "leaf.hidden") return leaves_hidden(plan);
    if (code == "leaf.over-opening") return leaves_over_openings(plan);
    return {};
}

} // namespace leafwright
