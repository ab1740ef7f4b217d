// Stalk, base and tip of an outline, by shape.
//
// The stalk is what an opening takes away that is long, thin and as thin at its end as at its root; where it widens
// into the blade the blade begins. The tip lies far from there, over the middle of the leaf. Without a stalk the leaf's
// line of best symmetry is taken, and the fuller end is the base.
#include "leaf/trace_work.h"

#include "base/units.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kAcross = 420; // pixels over the longer side of the leaf
constexpr double kMargin = 4;
constexpr double kAlike = 0.9; // of the best symmetry: along a stalk

// The outline filled with pixels of `mm` millimetres.
struct Raster {
    double mm = 0.2;
    Vec2 low{0, 0};
    cv::Mat1b filled;
    Vec2 pixel(Vec2 const& p) const { return (p - low) / mm; }
    Vec2 place(Vec2 const& px) const { return low + px * mm; }
    bool has(cv::Mat1b const& mask, Vec2 const& p) const {
        Vec2 const at = pixel(p);
        int const x = cvRound(at.x);
        int const y = cvRound(at.y);
        return x >= 0 && y >= 0 && x < mask.cols && y < mask.rows && mask(y, x) != 0;
    }
};

Raster raster_of(Ring const& ring, double across = kAcross) {
    Box2 const box = bounds(ring);
    Raster raster;
    raster.mm = std::max(box.size().x, box.size().y) / across;
    raster.low = box.low - Vec2{kMargin, kMargin} * raster.mm;
    Vec2 const size = box.size() / raster.mm + 2 * kMargin + 1.0;
    raster.filled =
        cv::Mat1b(static_cast<int>(size.y) + 1, static_cast<int>(size.x) + 1, static_cast<unsigned char>(0));
    std::vector<cv::Point> points;
    for (Vec2 const& p : ring) {
        Vec2 const at = raster.pixel(p) * 16.0;
        points.emplace_back(cvRound(at.x), cvRound(at.y));
    }
    cv::fillPoly(raster.filled, std::vector<std::vector<cv::Point>>{points}, cv::Scalar(255), cv::LINE_8, 4);
    return raster;
}

cv::Mat1b opened(cv::Mat1b const& mask, double radius_px) {
    cv::Mat1f depth;
    cv::distanceTransform(mask, depth, cv::DIST_L2, 5);
    cv::Mat1b const core = depth > radius_px;
    cv::Mat1b const out_of_core = core == 0;
    cv::Mat1f to_core;
    cv::distanceTransform(out_of_core, to_core, cv::DIST_L2, 5);
    cv::Mat1b open = to_core <= radius_px;
    cv::bitwise_and(open, mask, open);
    return open;
}

struct Stalk {
    Vec2 end{0, 0};  // the free end
    Vec2 root{0, 0}; // where the blade begins
    double length_mm = 0;
    double score = 0;
    int label = 0;
};

// How wide the part is at each step of distance from its end.
std::vector<double> widths_from(cv::Mat1i const& labels, int label, Vec2 const& end) {
    std::vector<double> widths;
    for (int y = 0; y < labels.rows; ++y)
        for (int x = 0; x < labels.cols; ++x) {
            if (labels(y, x) != label) continue;
            auto const at = static_cast<std::size_t>(std::hypot(x - end.x, y - end.y));
            if (widths.size() <= at) widths.resize(at + 1, 0);
            widths[at] += 1;
        }
    return widths;
}

// Pixels from the end to where the stalk widens into the blade.
std::size_t root_of(std::vector<double> const& widths) {
    std::vector<double> middle(widths.begin() + static_cast<std::ptrdiff_t>(widths.size() / 6),
                               widths.begin() + static_cast<std::ptrdiff_t>(std::max<std::size_t>(
                                                    widths.size() / 6 + 1, 2 * widths.size() / 3)));
    std::nth_element(middle.begin(), middle.begin() + static_cast<std::ptrdiff_t>(middle.size() / 2), middle.end());
    double const usual = middle[middle.size() / 2];
    std::size_t at = widths.size() / 2;
    while (at < widths.size() && widths[at] <= 1.5 * usual + 1) ++at;
    if (at < widths.size())
        while (at > 1 && widths[at - 1] > 1.08 * usual + 0.7) --at;
    return at;
}

Stalk stalk_of_part(Raster const& raster, cv::Mat1i const& labels, int label, cv::Mat1b const& open, double leaf_mm) {
    Stalk stalk;
    stalk.label = label;
    // Where it hangs on the blade.
    Vec2 join{0, 0};
    int joins = 0;
    for (int y = 1; y + 1 < labels.rows; ++y)
        for (int x = 1; x + 1 < labels.cols; ++x) {
            if (labels(y, x) != label) continue;
            if (!open(y - 1, x) && !open(y + 1, x) && !open(y, x - 1) && !open(y, x + 1)) continue;
            join += Vec2{x, y};
            ++joins;
        }
    if (joins == 0) return stalk;
    join /= joins;
    double far = -1;
    Vec2 end{0, 0};
    for (int y = 0; y < labels.rows; ++y)
        for (int x = 0; x < labels.cols; ++x)
            if (labels(y, x) == label && std::hypot(x - join.x, y - join.y) > far) {
                far = std::hypot(x - join.x, y - join.y);
                end = {x, y};
            }
    std::vector<double> const widths = widths_from(labels, label, end);
    std::size_t const root = root_of(widths);
    double const length = static_cast<double>(root);
    double outer = 0;
    double all = 0;
    for (std::size_t k = 0; k < root && k < widths.size(); ++k) {
        all += widths[k];
        if (k < root / 2) outer += widths[k];
    }
    double const width = all / std::max(1.0, length);
    double const length_mm = length * raster.mm;
    // A lobe or a tooth comes to a point: its outer half is a quarter of it.
    if (length < 3.2 * width || length_mm < std::max(4.0, 0.06 * leaf_mm) || outer < 0.37 * all) return stalk;
    stalk.end = raster.place(end);
    Vec2 sum{0, 0};
    int count = 0;
    for (int y = 0; y < labels.rows; ++y)
        for (int x = 0; x < labels.cols; ++x)
            if (labels(y, x) == label && std::abs(std::hypot(x - end.x, y - end.y) - length) < 2) {
                sum += Vec2{x, y};
                ++count;
            }
    stalk.root = raster.place(count > 0 ? sum / static_cast<double>(count) : join);
    stalk.length_mm = length_mm;
    stalk.score = length / width * (outer / all);
    return stalk;
}

struct Found {
    Stalk stalk;
    cv::Mat1b part; // where it lies
};

// All that look like one, as openings by discs of several sizes see them.
std::vector<Found> find_stalks(Raster const& raster) {
    double const area = cv::countNonZero(raster.filled);
    double const leaf_mm = raster.mm * kAcross;
    std::vector<Found> found;
    for (double const share : {0.022, 0.04, 0.06}) {
        double const radius = std::max(1.6, share * std::sqrt(area));
        cv::Mat1b const open = opened(raster.filled, radius);
        cv::Mat1b rest;
        cv::bitwise_and(raster.filled, ~open, rest);
        cv::Mat1i labels;
        int const count = cv::connectedComponents(rest, labels, 8, CV_32S);
        std::vector<int> sizes(static_cast<std::size_t>(count), 0);
        for (int const label : labels) ++sizes[static_cast<std::size_t>(label)];
        for (int k = 1; k < count; ++k) {
            if (sizes[static_cast<std::size_t>(k)] < 30) continue;
            Stalk const stalk = stalk_of_part(raster, labels, k, open, leaf_mm);
            if (stalk.score <= 0) continue;
            found.push_back({stalk, labels == k});
            cv::dilate(found.back().part, found.back().part, cv::Mat1b::ones(5, 5));
        }
    }
    return found;
}

// The outline without the stalk: the run around its end, cut off where it reaches the blade, to a part of the raster.
Ring without_stalk(Ring const& outer, Raster const& raster, Found const& found) {
    struct Point {
        Vec2 at;
        bool corner; // of the outline; others lie between
        bool gone;
    };
    double const cut = glm::length(found.stalk.root - found.stalk.end);
    std::vector<Point> points;
    std::size_t nearest = 0;
    for (std::size_t i = 0; i < outer.size(); ++i) {
        Vec2 const a = outer[i];
        Vec2 const b = outer[(i + 1) % outer.size()];
        int const parts = 1 + static_cast<int>(glm::length(b - a) / (0.5 * raster.mm));
        for (int k = 0; k < parts; ++k) {
            Vec2 const p = a + (b - a) * (static_cast<double>(k) / parts);
            double const d = glm::length(p - found.stalk.end);
            points.push_back({p, k == 0, d < cut && raster.has(found.part, p)});
            if (d < glm::length(points[nearest].at - found.stalk.end)) nearest = points.size() - 1;
        }
    }
    std::size_t const n = points.size();
    points[nearest].gone = true;
    std::size_t first = nearest;
    std::size_t last = nearest;
    for (std::size_t k = 0; k < n && points[(first + n - 1) % n].gone; ++k) first = (first + n - 1) % n;
    for (std::size_t k = 0; k < n && points[(last + 1) % n].gone; ++k) last = (last + 1) % n;
    std::size_t const from = (last + 1) % n;
    std::size_t const to = (first + n - 1) % n;
    Ring blade;
    for (std::size_t k = from; k != (to + 1) % n; k = (k + 1) % n)
        if (points[k].corner || k == from || k == to) blade.push_back(points[k].at);
    return std::abs(signed_area(blade)) > 0.5 * std::abs(signed_area(outer)) && is_simple(blade) ? blade : outer;
}

Vec2 tip_from(Ring const& blade, Vec2 const& base) {
    Vec2 const middle = centroid(blade) - base;
    double const size = glm::length(middle);
    double most = -1;
    Vec2 tip = base;
    for (Vec2 const& p : blade) {
        Vec2 const d = p - base;
        double const far = glm::length(d);
        double const straight = far > 0 && size > 0 ? glm::dot(d, middle) / (far * size) : 0;
        double const worth = far * (0.5 + 0.5 * straight);
        if (worth <= most) continue;
        most = worth;
        tip = p;
    }
    return tip;
}

// Share of the leaf that falls on itself when it is folded along a line through its middle.
double fold_share(Raster const& raster, Vec2 const& centre, double angle) {
    Vec2 const n{-std::sin(angle), std::cos(angle)};
    int both = 0;
    int all = 0;
    for (int y = 0; y < raster.filled.rows; ++y)
        for (int x = 0; x < raster.filled.cols; ++x) {
            if (!raster.filled(y, x)) continue;
            ++all;
            Vec2 const p{x, y};
            Vec2 const q = p - n * (2 * glm::dot(p - centre, n));
            int const i = cvRound(q.x);
            int const j = cvRound(q.y);
            both += i >= 0 && j >= 0 && i < raster.filled.cols && j < raster.filled.rows && raster.filled(j, i) ? 1 : 0;
        }
    return all > 0 ? static_cast<double>(both) / all : 0;
}

// Ends of the outline along a way through its middle.
struct Ends {
    Vec2 low{0, 0};
    Vec2 high{0, 0};
};
Ends ends_along(Ring const& ring, Vec2 const& centre, Vec2 const& way) {
    Ends ends{ring.front(), ring.front()};
    double least = 1e300;
    double most = -1e300;
    for (Vec2 const& p : ring) {
        double const along = glm::dot(p - centre, way);
        double const aside = 0.15 * std::abs(cross(way, p - centre));
        if (along - aside > most) {
            most = along - aside;
            ends.high = p;
        }
        if (along + aside < least) {
            least = along + aside;
            ends.low = p;
        }
    }
    return ends;
}

// How wide the leaf is near an end, of its length: small for a pointed one.
double bluntness(Ring const& ring, Vec2 const& end, Vec2 const& other) {
    Vec2 const way = (other - end) / glm::length(other - end);
    double const reach = 0.12 * glm::length(other - end);
    double low = 0;
    double high = 0;
    for (Vec2 const& p : ring) {
        if (glm::dot(p - end, way) > reach) continue;
        double const aside = cross(way, p - end);
        low = std::min(low, aside);
        high = std::max(high, aside);
    }
    return (high - low) / reach;
}

// The leaf's line of best symmetry.
struct Symmetry {
    Raster raster;
    Vec2 centre{0, 0};
    Vec2 centre_mm{0, 0};
    double share = 0; // of the leaf that falls on itself there
    Ends ends;
    double share_along(Vec2 const& way) const { return fold_share(raster, centre, std::atan2(way.y, way.x)); }
};

Symmetry symmetry_of(Ring const& outer) {
    Symmetry found;
    found.raster = raster_of(outer, 110);
    Raster const& raster = found.raster;
    Vec2 const centre_mm = found.centre_mm = centroid(outer);
    Vec2 const centre = found.centre = raster.pixel(centre_mm);
    double best = -1;
    Ends& ends = found.ends;
    for (int k = 0; k < 90; ++k) {
        double const angle = kPi * k / 90;
        Vec2 const way{std::cos(angle), std::sin(angle)};
        Ends const here = ends_along(outer, centre_mm, way);
        double const length = glm::length(here.high - here.low) / (raster.mm * 110);
        double const share = fold_share(raster, centre, angle);
        double const worth = share + 0.1 * length;
        if (worth <= best) continue;
        best = worth;
        found.share = share;
        ends = here;
    }
    double const share =
        glm::dot(centre_mm - ends.low, ends.high - ends.low) / glm::dot(ends.high - ends.low, ends.high - ends.low);
    double const lean =
        4 * (0.5 - share) + 0.5 * (bluntness(outer, ends.low, ends.high) - bluntness(outer, ends.high, ends.low));
    if (lean < 0) std::swap(ends.low, ends.high); // low: the base
    return found;
}

// The leaf is nearly as alike on both sides of its stalk as it is anywhere: what else hangs on it, the point of a lobe
// or a strip beside a bite, has no such halves. A long one needs no such proof.
std::optional<Found> likeliest(std::vector<Found>& stalks, Symmetry const& symmetry) {
    double const length = glm::length(symmetry.ends.high - symmetry.ends.low);
    std::optional<Found> best;
    double most = 0;
    for (Found& one : stalks) {
        double const alike = symmetry.share_along(symmetry.centre_mm - one.stalk.root) / std::max(0.1, symmetry.share);
        if (alike < kAlike && one.stalk.length_mm < 0.2 * length) continue;
        double const worth = one.stalk.score * std::pow(std::min(1.0, alike), 8);
        if (worth <= 1.15 * most && best) continue;
        most = std::max(most, worth);
        best = std::move(one);
    }
    return best;
}

} // namespace

LeafAxis leaf_axis(Ring const& outer) {
    LeafAxis axis;
    axis.whole = outer;
    axis.blade = outer;
    Raster const raster = raster_of(outer);
    Symmetry const symmetry = symmetry_of(outer);
    Ends const& ends = symmetry.ends;
    std::vector<Found> stalks = find_stalks(raster);
    if (auto const found = likeliest(stalks, symmetry)) {
        axis.blade = without_stalk(outer, raster, *found);
        axis.stalk_mm = found->stalk.length_mm;
        axis.base = found->stalk.root;
        axis.stalk_end = found->stalk.end;
        axis.tip = tip_from(axis.blade, axis.base);
        return axis;
    }
    axis.base = ends.low;
    axis.stalk_end = ends.low;
    axis.tip = ends.high;
    return axis;
}

bool has_necks(Ring const& outer) {
    Raster const raster = raster_of(outer, 160);
    cv::Mat1f depth;
    cv::distanceTransform(raster.filled, depth, cv::DIST_L2, 5);
    double deepest = 0;
    cv::minMaxLoc(depth, nullptr, &deepest);
    double const all = cv::countNonZero(raster.filled);
    // Eroded step by step: two parts of some size that were one are joined by a neck.
    for (double share = 0.12; share < 0.5; share += 0.08) {
        cv::Mat1b const core = depth > share * deepest;
        cv::Mat1i labels;
        cv::Mat stats;
        cv::Mat centres;
        int const count = cv::connectedComponentsWithStats(core, labels, stats, centres, 8, CV_32S);
        int large = 0;
        for (int k = 1; k < count; ++k) {
            double inner = 0;
            cv::Mat1b const part = labels == k;
            cv::minMaxLoc(depth, nullptr, &inner, nullptr, nullptr, part);
            double const size = stats.at<int>(k, cv::CC_STAT_AREA);
            large += size > 0.1 * all && share * deepest < 0.45 * inner ? 1 : 0;
        }
        if (large >= 2) return true;
    }
    return false;
}

double rectangle_share(Ring const& outer) {
    std::vector<cv::Point2f> points;
    for (Vec2 const& p : outer) points.emplace_back(static_cast<float>(p.x), static_cast<float>(p.y));
    cv::RotatedRect const box = cv::minAreaRect(points);
    double const size = static_cast<double>(box.size.width) * static_cast<double>(box.size.height);
    return size > 0 ? std::abs(signed_area(outer)) / size : 0;
}

} // namespace leafwright
