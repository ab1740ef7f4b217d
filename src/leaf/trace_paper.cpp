// The sheet of paper in the coarse picture: four straight edges that fit together.
//
// Edges vote for lines (Hough), each vote weighed by local contrast, so that a faint edge on a light table counts
// beside strong ones of leaves. All fours of lines that could be a sheet seen aslant are tried; what decides is how
// much of each side is seen, that the edges end at the corners, that the inside is of one colour, and the shape.
#include "leaf/trace_work.h"

#include "base/units.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace leafwright {

namespace {

constexpr int kLongSide = 640;
constexpr int kAngles = 180;
constexpr double kRhoStep = 2;
constexpr int kMostLines = 36;
constexpr double kLeastArea = 0.06; // of the picture

struct Edges {
    cv::Mat1f gx; // across the strongest of L, a and b
    cv::Mat1f gy;
    cv::Mat1f weight; // 0 to 1, on thin ridges only
    cv::Mat3f lab;
};

Edges edges_of(cv::Mat3f const& light) {
    Edges edges;
    cv::GaussianBlur(lab_of(light), edges.lab, {}, 0.9);
    cv::Mat3f dx;
    cv::Mat3f dy;
    cv::Scharr(edges.lab, dx, CV_32F, 1, 0, 1.0 / 16);
    cv::Scharr(edges.lab, dy, CV_32F, 0, 1, 1.0 / 16);
    cv::Size const size = light.size();
    edges.gx.create(size);
    edges.gy.create(size);
    cv::Mat1f strength(size);
    for (int y = 0; y < size.height; ++y)
        for (int x = 0; x < size.width; ++x) {
            int best = 0;
            float most = -1;
            for (int c = 0; c < 3; ++c) {
                float const s = dx(y, x)[c] * dx(y, x)[c] + dy(y, x)[c] * dy(y, x)[c];
                if (s > most) {
                    most = s;
                    best = c;
                }
            }
            edges.gx(y, x) = dx(y, x)[best];
            edges.gy(y, x) = dy(y, x)[best];
            strength(y, x) = std::sqrt(most);
        }
    cv::Mat1f around;
    cv::blur(strength, around, {31, 31});
    edges.weight = cv::Mat1f(size, 0.0F);
    for (int y = 1; y + 1 < size.height; ++y)
        for (int x = 1; x + 1 < size.width; ++x) {
            float const s = strength(y, x);
            if (s < 0.35F) continue;
            // Only where it is the strongest across the edge.
            float const ux = edges.gx(y, x) / s;
            float const uy = edges.gy(y, x) / s;
            int const i = std::abs(ux) > 0.38F ? (ux > 0 ? 1 : -1) : 0;
            int const j = std::abs(uy) > 0.38F ? (uy > 0 ? 1 : -1) : 0;
            if (strength(y + j, x + i) > s || strength(y - j, x - i) > s) continue;
            float const relative = s / (around(y, x) + 0.5F);
            edges.weight(y, x) = std::min(1.0F, std::max(0.0F, 0.5F * (relative - 0.7F)));
        }
    return edges;
}

// Points p with cos * x + sin * y = rho about the picture's middle.
struct Straight {
    double angle = 0;
    double rho = 0;
    double votes = 0;
    Vec2 normal() const { return {std::cos(angle), std::sin(angle)}; }
    Vec2 along() const { return {-std::sin(angle), std::cos(angle)}; }
};

// The line through the edges near it, for the votes are coarse.
Straight refined(Edges const& edges, Straight line) {
    cv::Size const size = edges.weight.size();
    for (double const reach : {4.5, 3.0}) {
        Vec2 const n = line.normal();
        Vec2 const t = line.along();
        double s0 = 0;
        double s1 = 0;
        double s2 = 0;
        double d0 = 0;
        double d1 = 0;
        for (int y = 1; y + 1 < size.height; ++y)
            for (int x = 1; x + 1 < size.width; ++x) {
                float const weight = edges.weight(y, x);
                if (weight <= 0) continue;
                Vec2 const p{x - 0.5 * size.width, y - 0.5 * size.height};
                double const off = glm::dot(p, n) - line.rho;
                if (std::abs(off) > reach) continue;
                Vec2 const g{edges.gx(y, x), edges.gy(y, x)};
                if (std::abs(glm::dot(g, n)) < 0.97 * glm::length(g)) continue;
                double const w = static_cast<double>(weight) * (1 - off * off / (reach * reach));
                double const s = glm::dot(p, t);
                s0 += w;
                s1 += w * s;
                s2 += w * s * s;
                d0 += w * off;
                d1 += w * off * s;
            }
        double const det = s0 * s2 - s1 * s1;
        if (s0 < 5 || det < 1e-6 * s0 * s0) return line;
        double const lean = (s0 * d1 - s1 * d0) / det;
        double const shift = (d0 * s2 - d1 * s1) / det;
        if (std::abs(lean) > 0.03) return line;
        Vec2 const point = n * (line.rho + shift);
        line.angle -= std::atan(lean); // across = shift + lean s: the line's way is t + lean n
        line.rho = glm::dot(point, line.normal());
    }
    return line;
}

std::vector<Straight> straights_of(Edges const& edges) {
    cv::Size const size = edges.weight.size();
    double const reach = 0.5 * std::hypot(size.width, size.height);
    int const bins = static_cast<int>(2 * reach / kRhoStep) + 3;
    cv::Mat1f votes(kAngles, bins, 0.0F);
    for (int y = 0; y < size.height; ++y)
        for (int x = 0; x < size.width; ++x) {
            float const w = edges.weight(y, x);
            if (w <= 0) continue;
            double const turn = degrees(std::atan2(edges.gy(y, x), edges.gx(y, x)));
            for (int k = -3; k <= 3; ++k) {
                double const whole = std::floor(turn) + k + 0.5;
                double const angle = whole - 180 * std::floor(whole / 180);
                int const bin = std::min(kAngles - 1, static_cast<int>(angle));
                double const a = radians(bin + 0.5);
                double const rho = std::cos(a) * (x - 0.5 * size.width) + std::sin(a) * (y - 0.5 * size.height);
                double const at = (rho + reach) / kRhoStep + 0.5;
                int const r = std::clamp(static_cast<int>(at), 0, bins - 2);
                auto const share = static_cast<float>(at - r);
                votes(bin, r) += w * (1 - share);
                votes(bin, r + 1) += w * share;
            }
        }
    std::vector<Straight> lines;
    double const least = 0.06 * std::min(size.width, size.height);
    while (static_cast<int>(lines.size()) < kMostLines) {
        double most = 0;
        cv::Point at;
        cv::minMaxLoc(votes, nullptr, &most, nullptr, &at);
        if (most < least) break;
        lines.push_back({radians(at.y + 0.5), (at.x - 0.5) * kRhoStep - reach, most});
        for (int da = -3; da <= 3; ++da)
            for (int dr = -3; dr <= 3; ++dr) {
                int a = at.y + da;
                int r = at.x + dr;
                if (a < 0 || a >= kAngles) { // half a turn on, the line runs the other way
                    a = (a + kAngles) % kAngles;
                    r = static_cast<int>((2 * reach) / kRhoStep + 1) - r;
                }
                if (r >= 0 && r < bins) votes(a, r) = 0;
            }
    }
    for (Straight& line : lines) line = refined(edges, line);
    return lines;
}

// What is seen of an edge along a line, step by step, added up from its start: brighter to the normal's side or less.
struct Seen {
    double start = 0; // along the line, of step 0
    std::vector<float> rising;
    std::vector<float> falling;
    double share(std::vector<float> const& sums, double from, double to) const {
        if (to < from) std::swap(from, to);
        auto const last = static_cast<double>(sums.size() - 1);
        double const a = std::clamp(from - start, 0.0, last);
        double const b = std::clamp(to - start, 0.0, last);
        if (to - from < 1) return 0;
        return static_cast<double>(sums[static_cast<std::size_t>(b)] - sums[static_cast<std::size_t>(a)]) / (to - from);
    }
};

Seen seen_along(Edges const& edges, Straight const& line) {
    cv::Size const size = edges.weight.size();
    Vec2 const middle{0.5 * size.width, 0.5 * size.height};
    Vec2 const n = line.normal();
    Vec2 const t = line.along();
    double const reach = 0.5 * std::hypot(size.width, size.height);
    Seen seen;
    seen.start = -reach;
    seen.rising.push_back(0);
    seen.falling.push_back(0);
    for (double s = -reach; s < reach; s += 1) {
        float up = 0;
        float down = 0;
        for (double across = -2.5; across <= 2.5; across += 1) {
            Vec2 const p = middle + n * (line.rho + across) + t * s;
            int const x = static_cast<int>(std::lround(p.x));
            int const y = static_cast<int>(std::lround(p.y));
            if (x < 1 || y < 1 || x + 1 >= size.width || y + 1 >= size.height) continue;
            float const w = edges.weight(y, x);
            if (w <= 0) continue;
            Vec2 const g{edges.gx(y, x), edges.gy(y, x)};
            double const slope = glm::dot(g, n);
            if (std::abs(slope) < 0.94 * glm::length(g)) continue;
            (slope > 0 ? up : down) = std::max(slope > 0 ? up : down, std::min(1.0F, 2.5F * w));
        }
        seen.rising.push_back(seen.rising.back() + up);
        seen.falling.push_back(seen.falling.back() + down);
    }
    return seen;
}

std::optional<Vec2> meeting(Straight const& a, Straight const& b) {
    Vec2 const n = a.normal();
    Vec2 const m = b.normal();
    double const det = cross(n, m);
    if (std::abs(det) < 0.2) return std::nullopt;
    return Vec2{(a.rho * m.y - b.rho * n.y) / det, (n.x * b.rho - m.x * a.rho) / det};
}

struct Candidate {
    std::array<int, 4> lines{};    // in order round
    std::array<Vec2, 4> corners{}; // about the middle; corner i lies between lines i and i + 1
    double score = 0;
    double support = 0;
};

double side_score(Seen const& seen, Straight const& line, Vec2 const& a, Vec2 const& b) {
    double const from = glm::dot(a, line.along());
    double const to = glm::dot(b, line.along());
    double const low = std::min(from, to);
    double const high = std::max(from, to);
    double const inside = std::max(seen.share(seen.rising, low, high), seen.share(seen.falling, low, high));
    double const over = 0.12 * (high - low);
    double const beyond =
        0.5 *
        (std::max(seen.share(seen.rising, low - over, low - 4), seen.share(seen.falling, low - over, low - 4)) +
         std::max(seen.share(seen.rising, high + 4, high + over), seen.share(seen.falling, high + 4, high + over)));
    return inside - 0.35 * beyond;
}

bool is_convex(std::array<Vec2, 4> const& c) {
    int positive = 0;
    for (std::size_t i = 0; i < 4; ++i)
        positive += cross(c[(i + 1) % 4] - c[i], c[(i + 2) % 4] - c[(i + 1) % 4]) > 0 ? 1 : 0;
    return positive == 0 || positive == 4;
}

std::optional<Candidate> candidate_of(std::vector<Straight> const& lines, std::vector<Seen> const& seen,
                                      std::array<int, 4> const& order, cv::Size const& size) {
    Candidate candidate{order, {}, 0, 0};
    auto const line = [&](std::size_t i) -> Straight const& { return lines[static_cast<std::size_t>(order[i % 4])]; };
    for (std::size_t i = 0; i < 4; ++i) {
        auto const corner = meeting(line(i), line(i + 1));
        if (!corner) return std::nullopt;
        // A corner a little outside the picture is a sheet that is cut, which is told apart later.
        if (std::abs(corner->x) > 0.54 * size.width || std::abs(corner->y) > 0.54 * size.height) return std::nullopt;
        candidate.corners[i] = *corner;
    }
    double const share = std::abs(signed_area(candidate.corners)) / (static_cast<double>(size.width) * size.height);
    if (share < kLeastArea || !is_convex(candidate.corners)) return std::nullopt;
    double least = 1;
    double sum = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        Vec2 const a = candidate.corners[(i + 3) % 4];
        Vec2 const b = candidate.corners[i];
        if (glm::length(b - a) < 0.08 * size.width) return std::nullopt;
        double const s = side_score(seen[static_cast<std::size_t>(order[i])], line(i), a, b);
        if (s < 0.12) return std::nullopt;
        least = std::min(least, s);
        sum += s;
    }
    candidate.support = sum / 4;
    candidate.score = 0.6 * sum / 4 + 0.4 * least + 0.1 * std::min(share, 0.6);
    return candidate;
}

double fold(double turn) { // of two lines, 0 to 90 degrees
    double const a = std::fmod(std::abs(turn), kPi);
    return degrees(std::min(a, kPi - a));
}

std::vector<Candidate> candidates_of(std::vector<Straight> const& lines, std::vector<Seen> const& seen, cv::Size size) {
    std::vector<Candidate> found;
    int const n = static_cast<int>(lines.size());
    auto const at = [&](int i) -> Straight const& { return lines[static_cast<std::size_t>(i)]; };
    std::vector<std::pair<int, int>> opposite;
    for (int i = 0; i < n; ++i)
        for (int j = i + 1; j < n; ++j)
            if (fold(at(i).angle - at(j).angle) < 40) opposite.emplace_back(i, j);
    for (auto const& [a, b] : opposite)
        for (auto const& [c, d] : opposite) {
            if (c <= a || c == b || d == b) continue;
            if (fold(at(a).angle - at(c).angle) < 35 || fold(at(b).angle - at(d).angle) < 35) continue;
            if (auto candidate = candidate_of(lines, seen, {a, c, b, d}, size)) found.push_back(*candidate);
        }
    std::sort(found.begin(), found.end(), [](Candidate const& x, Candidate const& y) { return x.score > y.score; });
    if (found.size() > 60) found.resize(60);
    return found;
}

// How much of the strip just inside the edges is of one colour, and differs from what lies outside.
struct Strips {
    double alike = 0;
    double differs = 0;
    double lighter = 0;
};
Strips strips_of(Edges const& edges, Candidate const& candidate) {
    cv::Size const size = edges.lab.size();
    Vec2 const middle{0.5 * size.width, 0.5 * size.height};
    Vec2 const centre =
        0.25 * (candidate.corners[0] + candidate.corners[1] + candidate.corners[2] + candidate.corners[3]);
    auto const look = [&](Vec2 const& p) -> std::optional<cv::Vec3f> {
        int const x = static_cast<int>(std::lround(p.x + middle.x));
        int const y = static_cast<int>(std::lround(p.y + middle.y));
        if (x < 0 || y < 0 || x >= size.width || y >= size.height) return std::nullopt;
        return edges.lab(y, x);
    };
    std::vector<cv::Vec3f> in;
    int differ = 0;
    int lighter = 0;
    int pairs = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        Vec2 const a = candidate.corners[i];
        Vec2 const b = candidate.corners[(i + 1) % 4];
        Vec2 inward = Vec2{-(b - a).y, (b - a).x} / glm::length(b - a);
        if (glm::dot(inward, centre - a) < 0) inward = -inward;
        for (double t = 0.04; t < 0.97; t += 0.04) {
            auto const inside = look(a + (b - a) * t + inward * 5.0);
            auto const outside = look(a + (b - a) * t - inward * 5.0);
            if (!inside) continue;
            in.push_back(*inside);
            if (!outside) continue;
            ++pairs;
            cv::Vec3f const d = *inside - *outside;
            differ += d.dot(d) > 4 ? 1 : 0;
            lighter += d[0] > 1 ? 1 : 0;
        }
    }
    Strips strips;
    if (in.size() < 20 || pairs == 0) return strips;
    cv::Vec3f median;
    for (int c = 0; c < 3; ++c) {
        std::vector<float> v;
        for (cv::Vec3f const& p : in) v.push_back(p[c]);
        std::nth_element(v.begin(), v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2), v.end());
        median[c] = v[v.size() / 2];
    }
    int alike = 0;
    for (cv::Vec3f const& p : in) {
        cv::Vec3f const d = p - median;
        alike += std::hypot(d[1], d[2]) < 7 && std::abs(d[0]) < 22 ? 1 : 0;
    }
    strips.alike = static_cast<double>(alike) / static_cast<double>(in.size());
    strips.differs = static_cast<double>(differ) / pairs;
    strips.lighter = static_cast<double>(lighter) / pairs;
    return strips;
}

double shape_score(Candidate const& candidate, cv::Size size, double ratio) {
    std::array<Vec2, 4> corners = candidate.corners;
    for (Vec2& p : corners) p += Vec2{0.5 * size.width, 0.5 * size.height};
    double const seen = sheet_view(corners, size.width, size.height).ratio;
    double const off = std::min(std::abs(std::log(seen / ratio)), std::abs(std::log(seen * ratio)));
    return std::exp(-0.5 * off * off / (0.09 * 0.09));
}

} // namespace

std::optional<FoundSheet> find_sheet(Coarse const& coarse, double ratio) {
    double const shrink =
        std::max(1.0, std::max(coarse.light.cols, coarse.light.rows) / static_cast<double>(kLongSide));
    cv::Mat3f small;
    cv::resize(coarse.light, small, {cvRound(coarse.light.cols / shrink), cvRound(coarse.light.rows / shrink)}, 0, 0,
               cv::INTER_AREA);
    Edges const edges = edges_of(small);
    std::vector<Straight> const lines = straights_of(edges);
    std::vector<Seen> seen;
    for (Straight const& line : lines) seen.push_back(seen_along(edges, line));
    cv::Size const size = small.size();
    double most = 0;
    std::optional<Candidate> best;
    for (Candidate const& candidate : candidates_of(lines, seen, size)) {
        Strips const strips = strips_of(edges, candidate);
        double const score = candidate.score * (0.15 + 0.85 * strips.alike) * (0.3 + 0.7 * strips.differs) *
                             (0.85 + 0.15 * strips.lighter) * (0.15 + 0.85 * shape_score(candidate, size, ratio));
        if (score <= most) continue;
        most = score;
        best = candidate;
    }
    if (!best || most < 0.12) return std::nullopt;
    FoundSheet sheet;
    sheet.support = best->support;
    double const sx = coarse.light.cols / static_cast<double>(size.width);
    double const sy = coarse.light.rows / static_cast<double>(size.height);
    for (std::size_t i = 0; i < 4; ++i) {
        // The small picture's pixel centres lie at whole numbers, the middle of the picture at half its size less 0.5.
        Vec2 const small_px = best->corners[i] + Vec2{0.5 * size.width, 0.5 * size.height};
        Vec2 const coarse_px{(small_px.x + 0.5) * sx - 0.5, (small_px.y + 0.5) * sy - 0.5};
        sheet.corners_px[i] = coarse.px_of(coarse_px);
    }
    return sheet;
}

} // namespace leafwright
