// The steps of tracing, in order.
#include "leaf/trace_work.h"

#include "base/units.h"

#include <fmt/format.h>
#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kMostEdge_mm = 2.0; // an edge wider than that is a blur
constexpr double kSoftEdge_mm = 0.9; // this wide is told
constexpr double kRectangle = 0.93;  // fills that much of the box around it: straight-edged
constexpr double kTold_deg = 6;      // of tilt
constexpr int kRounds = 2;
constexpr double kGlared_mm = 3; // of the edge beside which the leaf is as pale as paper
constexpr std::size_t kMostLeaves = 200;
constexpr std::size_t kPattern = 24; // things, most of them doubtful

class Stopwatch {
public:
    explicit Stopwatch(std::vector<TraceStage>& stages) : stages_(stages) {}
    void lap(char const* name) {
        auto const now = std::chrono::steady_clock::now();
        stages_.push_back({name, std::chrono::duration<double, std::milli>(now - last_).count()});
        last_ = now;
    }

private:
    std::vector<TraceStage>& stages_;
    std::chrono::steady_clock::time_point last_ = std::chrono::steady_clock::now();
};

Problem told(char const* code, std::string what, char const* hint) {
    return {code, "", std::move(what), hint, ProblemKind::refusal};
}

Problem cancelled() {
    return {"trace.cancelled", "", "was not traced to its end", "Trace it again", ProblemKind::refusal};
}

Ring to_mm(PhotoScale const& scale, Ring ring) {
    for (Vec2& p : ring) p = scale.mm(p);
    return ring;
}
std::vector<Vec2> to_px(PhotoScale const& scale, std::vector<Vec2> line) {
    for (Vec2& p : line) p = scale.px(p);
    return line;
}

struct LeafFrame {
    Vec2 base{0, 0};
    Vec2 up{0, 1};
    // mm with y down to the leaf's frame: y up, turned.
    Vec2 operator()(Vec2 const& p) const {
        Vec2 const d = p - base;
        // A quarter turn to the right of `up` as seen: with y down that is (-up.y, up.x).
        return {glm::dot(d, Vec2{-up.y, up.x}), glm::dot(d, up)};
    }
};

double width_across(std::vector<Vec2> const& upright_points) {
    Box2 const box = bounds(upright_points);
    return box.size().x;
}

// Everything that follows from the outline in the picture and the ends. blade: without a stalk, mm with y down.
void measure(TracedLeaf& leaf, PhotoScale const& scale, Ring const& blade_mm) {
    Vec2 const base = scale.mm(leaf.base_px);
    Vec2 const tip = scale.mm(leaf.tip_px);
    double const length = glm::length(tip - base);
    LeafFrame const frame{base, length > 0 ? (tip - base) / length : Vec2{0, -1}};
    auto const turned = [&](std::vector<Vec2> points) {
        for (Vec2& p : points) p = frame(scale.mm(p));
        return points;
    };
    leaf.outline_mm.outer = counter_clockwise(turned(leaf.outline_px.outer));
    leaf.outline_mm.holes.clear();
    for (Ring const& hole : leaf.outline_px.holes) {
        Ring ring = counter_clockwise(turned(hole));
        std::reverse(ring.begin(), ring.end());
        leaf.outline_mm.holes.push_back(std::move(ring));
    }
    leaf.midrib_mm = turned(leaf.midrib_px);
    leaf.length_mm = length;
    Ring blade = blade_mm;
    for (Vec2& p : blade) p = frame(p);
    leaf.width_mm = width_across(blade);
    leaf.area_mm2 = area(leaf.outline_mm);
    leaf.perimeter_mm = perimeter(leaf.outline_mm.outer);
}

struct Tracer {
    Photo const& photo;
    TraceOptions const& options;
    Task& task;
    Trace trace{};
    Coarse coarse{};
    Ground ground{};
    Mask mask{};
    Sides sides{};
    int glints = 0; // leaves of which holes were closed as glints

    TracedLeaf leaf_of(Part const& part, EdgeRings const& edge) const {
        TracedLeaf leaf;
        PhotoScale const& scale = trace.scale;
        Ring const outer = fair_ring(to_mm(scale, edge.rings.front()), options.tolerance_mm);
        LeafAxis const axis = leaf_axis(outer);
        Ring const& kept = options.keep_stalk ? axis.whole : axis.blade;
        leaf.outline_px.outer = to_px(scale, kept);
        if (!options.close_holes)
            for (std::size_t k = 1; k < edge.rings.size(); ++k) {
                Ring const hole = to_mm(scale, edge.rings[k]);
                if (signed_area(hole) > -options.least_hole_mm2) continue;
                Ring const fair = fair_ring(hole, options.tolerance_mm);
                if (contains(kept, fair.front())) leaf.outline_px.holes.push_back(to_px(scale, fair));
            }
        leaf.stalk_mm = axis.stalk_mm;
        leaf.base_px = scale.px(axis.base);
        leaf.tip_px = scale.px(axis.tip);
        leaf.stalk_end_px = scale.px(axis.stalk_end);
        leaf.midrib_px = to_px(scale, midrib_of(photo, scale, axis.blade, axis.base, axis.tip));
        leaf.edge_mm = edge.edge_px / scale.px_per_mm(leaf.base_px);
        leaf.cut_by_edge = part.touches_edge;
        leaf.faint = part.faint;
        leaf.straight_edged = part.grey || rectangle_share(axis.blade) > kRectangle || holds_bar(axis.blade);
        leaf.several = has_necks(axis.blade) || lie_on_each_other(axis.blade);
        measure(leaf, scale, axis.blade);
        return leaf;
    }

    // The bar whose ends were marked is no leaf.
    bool holds_bar(Ring const& outer_mm) const {
        if (options.scale.from != ScaleFrom::bar || !options.scale.bar_ends_px) return false;
        auto const& ends = *options.scale.bar_ends_px;
        return contains(outer_mm, trace.scale.mm(0.5 * (ends[0] + ends[1])));
    }

    // A bar gives one scale for all the picture; a sheet seen at a slant shows that it has many.
    void tell_tilt(FoundSheet const& sheet) {
        double const tilt = sheet_view(sheet.corners_px, photo.width_px, photo.height_px).tilt_deg;
        if (tilt < kTold_deg) return;
        auto const side = [&](std::size_t i) {
            return glm::length(sheet.corners_px[i] - sheet.corners_px[(i + 1) % 4]);
        };
        double const a = std::abs(std::log(side(0) / side(2)));
        double const b = std::abs(std::log(side(1) / side(3)));
        double const off = std::max(0.5 * std::max(a, b), 1 - std::cos(radians(tilt)));
        trace.scale.error = std::max(trace.scale.error, off);
        trace.scale.error_from = "the camera was tilted";
        trace.remarks.push_back(told("trace.slant", fmt::format("The camera was tilted by about {:.0f} degrees", tilt),
                                     "Take the true size from the paper, if it is a whole sheet; that takes it out"));
    }

    MaybeProblem find() {
        Stopwatch watch(trace.stages);
        coarse = coarse_of(photo, kCoarseSide);
        watch.lap("light");
        task.progress(0.1);
        auto const scale = scale_seen(photo, coarse, options.scale);
        if (!scale) return scale.problem();
        trace.scale = *scale;
        watch.lap("scale");
        task.progress(0.3);
        if (task.cancelled()) return cancelled();
        LeafArea const where = leaf_area(photo, coarse, trace.scale);
        if (where.sheet) tell_tilt(*where.sheet);
        cv::Mat1b const& area = where.mask;
        Outcome<Ground> found = ground_of(coarse, area);
        if (!found) return found.problem();
        ground = std::move(*found);
        watch.lap("paper's colour");
        task.progress(0.45);
        if (task.cancelled()) return cancelled();
        Vec2 const middle{0.5 * photo.width_px, 0.5 * photo.height_px};
        double const px_mm = trace.scale.px_per_mm(middle) / coarse.step;
        double const least = std::max(25.0, 0.6 * options.least_leaf_mm2 * px_mm * px_mm);
        mask = leaf_mask(coarse, ground, area, options.cuts, least);
        watch.lap("leaf or paper");
        task.progress(0.6);
        if (mask.parts.size() > kMostLeaves)
            return Problem{"trace.none", "", fmt::format("shows {} pieces beside each other", mask.parts.size()),
                           "Lay the leaves on plain paper, without a pattern", ProblemKind::refusal};
        sides = sides_of(coarse, ground, area, mask, kRounds);
        watch.lap("colours beside the edges");
        task.progress(0.7);
        return std::nullopt;
    }

    MaybeProblem follow() {
        Stopwatch watch(trace.stages);
        for (std::size_t k = 0; k < mask.parts.size(); ++k) {
            if (task.cancelled()) return cancelled();
            EdgeRings edge = edge_rings(photo, coarse, sides, mask, mask.parts[k]);
            Glare const glare = take_glare_out(coarse, ground, mask, mask.parts[k], edge);
            task.progress(0.7 + 0.3 * static_cast<double>(k + 1) / static_cast<double>(mask.parts.size()));
            if (edge.rings.empty() || edge.rings.front().size() < 20) continue;
            double const size = std::abs(signed_area(to_mm(trace.scale, edge.rings.front())));
            if (size < options.least_leaf_mm2) continue;
            TracedLeaf leaf = leaf_of(mask.parts[k], edge);
            leaf.glared = glare.edge_px > kGlared_mm * trace.scale.px_per_mm(leaf.base_px);
            glints += glare.holes_px2 > 0 ? 1 : 0;
            if (leaf.length_mm < kLeastOwn_mm) continue;
            trace.leaves.push_back(std::move(leaf));
        }
        watch.lap("edges");
        return std::nullopt;
    }
};

// In rows from the top, left to right.
void in_reading_order(std::vector<TracedLeaf>& leaves) {
    struct Place {
        Vec2 middle{0, 0};
        double low = 0;
        double high = 0;
        std::size_t index = 0;
    };
    std::vector<Place> places;
    for (std::size_t i = 0; i < leaves.size(); ++i) {
        Box2 const box = bounds(leaves[i].outline_px.outer);
        places.push_back({box.centre(), box.low.y, box.high.y, i});
    }
    std::sort(places.begin(), places.end(), [](Place const& a, Place const& b) { return a.middle.y < b.middle.y; });
    std::vector<TracedLeaf> sorted;
    for (std::size_t i = 0; i < places.size();) {
        std::size_t end = i + 1;
        while (end < places.size() && places[end].middle.y < places[i].high) ++end;
        std::sort(places.begin() + static_cast<std::ptrdiff_t>(i), places.begin() + static_cast<std::ptrdiff_t>(end),
                  [](Place const& a, Place const& b) { return a.middle.x < b.middle.x; });
        for (; i < end; ++i) sorted.push_back(std::move(leaves[places[i].index]));
    }
    leaves = std::move(sorted);
}

// Grain, boards or a print on the ground, taken for leaves.
bool is_pattern(std::vector<TracedLeaf> const& leaves) {
    auto const plain = std::ranges::count_if(leaves, [](TracedLeaf const& leaf) {
        return leaf.looks_sound() && !leaf.several && !leaf.faint && !leaf.glared;
    });
    return leaves.size() >= kPattern && 4 * plain < std::ssize(leaves);
}

MaybeProblem judge(Trace& trace, int glints) {
    auto& leaves = trace.leaves;
    // One blurred thing among sharp ones is the table, or a shadow.
    auto const sharp = [](TracedLeaf const& leaf) { return leaf.looks_sound() && leaf.edge_mm <= kMostEdge_mm; };
    if (std::any_of(leaves.begin(), leaves.end(), sharp))
        for (TracedLeaf& leaf : leaves) leaf.straight_edged = leaf.straight_edged || leaf.edge_mm > kMostEdge_mm;
    if (leaves.empty())
        return told("trace.none", "shows no leaf that could be told from the ground",
                    "Lay the leaves on plain paper of another colour, in even light");
    std::size_t cut = 0;
    std::size_t several = 0;
    std::size_t odd = 0;
    std::size_t faint = 0;
    std::size_t glared = 0;
    double blur = 0;
    for (TracedLeaf const& leaf : leaves) {
        cut += leaf.cut_by_edge ? 1 : 0;
        several += leaf.several ? 1 : 0;
        faint += leaf.faint && leaf.looks_sound() ? 1 : 0;
        odd += leaf.straight_edged ? 1 : 0;
        glared += leaf.glared && leaf.looks_sound() && !leaf.faint ? 1 : 0;
        if (leaf.looks_sound()) blur = std::max(blur, leaf.edge_mm);
    }
    if (cut == leaves.size())
        return told("trace.cut",
                    leaves.size() == 1 ? "shows a leaf that is cut by the edge"
                                       : fmt::format("shows {} leaves, each cut by the edge", cut),
                    "Lay the leaves wholly on the paper, with some bare paper all around");
    if (is_pattern(leaves))
        return told("trace.none", fmt::format("shows {} things, few of which look like leaves", leaves.size()),
                    "Lay the leaves on plain paper, and let nothing else be in the picture");
    if (blur > kMostEdge_mm)
        return told("trace.blurred", fmt::format("is too blurred: the leaves' edges are {:.1f} mm wide in it", blur),
                    "Take the picture anew with more light, held still, nearer or in focus");
    auto const remark = [&](char const* code, std::string what, char const* hint) {
        trace.remarks.push_back(told(code, std::move(what), hint));
    };
    if (blur > kSoftEdge_mm)
        remark("trace.soft", fmt::format("The edges are soft, up to {:.1f} mm wide", blur),
               "A sharper picture gives truer teeth");
    if (cut > 0)
        remark("trace.cut", fmt::format("{} {} cut by the edge and left out", cut, cut == 1 ? "leaf is" : "leaves are"),
               cut == 1 ? "Lay it wholly on the paper and take the picture anew"
                        : "Lay them wholly on the paper and take the picture anew");
    if (odd > 0)
        remark("trace.odd",
               fmt::format("{} {} left out: straight-edged or grey, a label or a ruler rather than a leaf", odd,
                           odd == 1 ? "thing was" : "things were"),
               "Tick it if it is a leaf");
    if (faint > 0)
        remark(
            "trace.faint",
            fmt::format("{} hardly any colour, so that shadow cannot be told from leaf",
                        faint == 1 ? "A leaf has" : fmt::format("{} leaves have", faint)),
            "Look whether the line follows the leaf; else take the picture in even light, on paper of another colour");
    if (glared > 0)
        remark("trace.glare",
               fmt::format("Light mirrored by {} hides a stretch of {} edge",
                           glared == 1 ? "a leaf" : fmt::format("{} leaves", glared), glared == 1 ? "its" : "their"),
               "Look whether the line follows the leaf; else turn the lamp aside and take the picture anew");
    if (glints > 0)
        remark("trace.glint",
               fmt::format("Pale places within {} were taken for mirrored light, not for holes",
                           glints == 1 ? "a leaf" : fmt::format("{} leaves", glints)),
               "If a hole is closed that way, take the picture in softer light");
    if (several > 0)
        remark("trace.touching",
               fmt::format("{} looks like several that touch or lie on each other",
                           several == 1 ? "A leaf" : fmt::format("Each of {} leaves", several)),
               "Part leaves that touch with a cut line; leaves that lie on each other must be laid apart");
    return std::nullopt;
}

} // namespace

Outcome<Trace> trace_photo(Photo const& photo, TraceOptions const& options, Task& task) {
    if (!(options.tolerance_mm >= 0.05 && options.tolerance_mm <= 1))
        return Problem{"range", "tolerance-mm",
                       fmt::format("is {:g} mm; the range is 0.05 to 1 mm", options.tolerance_mm),
                       "0.1 to 0.3 mm keeps teeth and drops the grain of the picture"};
    Tracer tracer{photo, options, task};
    if (auto const problem = tracer.find()) return *problem;
    if (auto const problem = tracer.follow()) return *problem;
    Trace& trace = tracer.trace;
    in_reading_order(trace.leaves);
    if (auto const problem = judge(trace, tracer.glints)) return *problem;
    task.progress(1);
    return std::move(trace);
}

TracedLeaf with_ends(TracedLeaf leaf, PhotoScale const& scale, Vec2 const& base_px, Vec2 const& tip_px) {
    if (glm::length(scale.mm(tip_px) - scale.mm(base_px)) < kLeastOwn_mm) return leaf;
    leaf.base_px = base_px;
    leaf.tip_px = tip_px;
    leaf.midrib_px = {base_px, tip_px};
    measure(leaf, scale, to_mm(scale, leaf.outline_px.outer));
    return leaf;
}

OwnLeaf own_leaf_of(TracedLeaf const& leaf, PhotoScale const& scale, bool keep_stalk) {
    OwnLeaf own;
    own.source = LeafSource::traced;
    own.scale_error = scale.error;
    own.stalk_mm = keep_stalk ? leaf.stalk_mm : 0;
    own.midrib_mm = leaf.midrib_mm;
    own.outline_mm = leaf.outline_mm;
    if (own.stalk_mm > 0 && !own.midrib_mm.empty()) { // the base is then the stalk's end
        Vec2 const base = scale.mm(leaf.base_px);
        Vec2 const up = (scale.mm(leaf.tip_px) - base) / leaf.length_mm;
        own.midrib_mm.insert(own.midrib_mm.begin(), LeafFrame{base, up}(scale.mm(leaf.stalk_end_px)));
    }
    return upright(std::move(own));
}

} // namespace leafwright
