// The edge to parts of a pixel. A pixel on the edge mixes the light of the leaf beside it and of the paper beside it;
// the share of the leaf is how far the pixel lies from the one to the other. How it lies along the paper's own colour
// counts the less, the more the paper beside the leaf is shaded: shadows move a pixel only that way.
#include "leaf/trace_work.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr float kBand = 2.5F;   // coarse pixels to each side of the edge that are looked at closely
constexpr double kNear = 3.0;   // spread of the colours beside the edge, coarse pixels
constexpr double kFar = 12.0;   // where none is that near
constexpr float kNoise = 0.02F; // of light, against what shade may do

template <class Row> void for_rows(int rows, Row const& row) {
    cv::parallel_for_(cv::Range(0, rows), [&](cv::Range const& some) {
        for (int y = some.start; y < some.end; ++y) row(y);
    });
}

cv::Mat1f signed_depth(cv::Mat1i const& labels) {
    cv::Mat1b const in = labels > 0;
    cv::Mat1b const out = labels == 0;
    cv::Mat1f inside;
    cv::Mat1f outside;
    cv::distanceTransform(in, inside, cv::DIST_L2, 3);
    cv::distanceTransform(out, outside, cv::DIST_L2, 3);
    return inside - outside;
}

// Weighted mean of the light near every pixel, of wider surroundings where nothing is near. It varies slowly: it is
// made from every second, and the wider one from every fourth pixel.
cv::Mat3f near_mean(cv::Mat3f const& light, cv::Mat1f const& weight) {
    cv::Mat4f weighted(light.size());
    for_rows(light.rows, [&](int y) {
        for (int x = 0; x < light.cols; ++x) {
            float const w = weight(y, x);
            cv::Vec3f const& v = light(y, x);
            weighted(y, x) = {w * v[0], w * v[1], w * v[2], w};
        }
    });
    cv::Mat4f near_sum;
    cv::Mat4f far_sum;
    cv::resize(weighted, near_sum, {(light.cols + 1) / 2, (light.rows + 1) / 2}, 0, 0, cv::INTER_AREA);
    cv::resize(near_sum, far_sum, {(light.cols + 3) / 4, (light.rows + 3) / 4}, 0, 0, cv::INTER_AREA);
    cv::GaussianBlur(near_sum, near_sum, {}, kNear / 2, 0, cv::BORDER_REPLICATE);
    cv::GaussianBlur(far_sum, far_sum, {}, kFar / 4, 0, cv::BORDER_REPLICATE);
    cv::resize(far_sum, far_sum, near_sum.size(), 0, 0, cv::INTER_LINEAR);
    cv::Mat3f mean(near_sum.size());
    for (int y = 0; y < mean.rows; ++y)
        for (int x = 0; x < mean.cols; ++x) {
            cv::Vec4f const near = near_sum(y, x);
            cv::Vec4f const far = far_sum(y, x);
            float const k = 0.02F / std::max(far[3], 1e-9F);
            float const w = 1 / (near[3] + 0.02F);
            mean(y, x) = {(near[0] + k * far[0]) * w, (near[1] + k * far[1]) * w, (near[2] + k * far[2]) * w};
        }
    cv::resize(mean, mean, light.size(), 0, 0, cv::INTER_LINEAR);
    return mean;
}

float leaf_share(cv::Vec3f const& light, cv::Vec3f const& leaf, cv::Vec3f const& paper, float shade) {
    cv::Vec3f const way = leaf - paper;
    // The inverse of (noise^2 I + shade^2 paper paper^T), by Sherman and Morrison, but for a factor.
    float const s2 = shade * shade / (kNoise * kNoise);
    float const bend = s2 / (1 + s2 * paper.dot(paper));
    cv::Vec3f const w = way - paper * (bend * paper.dot(way));
    float const length = w.dot(way);
    if (length < 1e-9F) return 0;
    return std::clamp(w.dot(light - paper) / length, -0.5F, 1.5F);
}

// Labels spread over what is next to them, `times` pixels far.
cv::Mat1i spread_labels(cv::Mat1i const& labels, int times) {
    cv::Mat1f wide;
    labels.convertTo(wide, CV_32F);
    int const side = 2 * times + 1;
    cv::dilate(wide, wide, cv::getStructuringElement(cv::MORPH_ELLIPSE, {side, side}));
    cv::Mat1i out;
    wide.convertTo(out, CV_32S);
    labels.copyTo(out, labels > 0);
    return out;
}

void weigh(cv::Mat1f const& depth, cv::Mat1b const& area, cv::Mat1f& in, cv::Mat1f& out) {
    in.create(depth.size());
    out.create(depth.size());
    for_rows(depth.rows, [&](int y) {
        for (int x = 0; x < depth.cols; ++x) {
            float const d = depth(y, x);
            float const a = std::clamp(d - 0.7F, 0.0F, 2.0F);
            float const b = std::clamp(-d - 0.7F, 0.0F, 2.0F);
            in(y, x) = d > 0 ? a * a + 0.01F : 0;
            out(y, x) = d < 0 && area(y, x) ? b * b * b : 0;
        }
    });
}

cv::Mat1f shade_of(cv::Mat3f const& paper, cv::Mat3f const& ground) {
    cv::Mat1f shade(paper.size());
    for_rows(paper.rows, [&](int y) {
        for (int x = 0; x < paper.cols; ++x) {
            float const ratio = (paper(y, x)[0] + paper(y, x)[1] + paper(y, x)[2]) /
                                std::max(1e-4F, ground(y, x)[0] + ground(y, x)[1] + ground(y, x)[2]);
            shade(y, x) = 0.01F + 0.5F * std::min(1.0F, std::abs(1 - ratio));
        }
    });
    return shade;
}

// The labels' edge moved to where half is leaf.
void move_edge(cv::Mat3f const& light, Sides const& sides, cv::Mat1b const& area, cv::Mat1b const& cut,
               cv::Mat1f const& depth, cv::Mat1i& labels) {
    cv::Mat1i const around = spread_labels(labels, 3);
    for_rows(depth.rows, [&](int y) {
        for (int x = 0; x < depth.cols; ++x) {
            if (std::abs(depth(y, x)) > kBand || around(y, x) == 0) continue;
            if (!cut.empty() && cut(y, x)) continue;
            float const share = leaf_share(light(y, x), sides.leaf(y, x), sides.paper(y, x), sides.shade(y, x));
            labels(y, x) = share >= 0.5F && area(y, x) ? around(y, x) : 0;
        }
    });
}

// What holds all parts and the paper near them.
cv::Rect box_of(Mask const& mask) {
    int const margin = 2 * static_cast<int>(kFar);
    cv::Rect box;
    for (Part const& part : mask.parts) box = box.empty() ? part.box : (box | part.box);
    box = cv::Rect(box.x - margin, box.y - margin, box.width + 2 * margin, box.height + 2 * margin);
    return box & cv::Rect({0, 0}, mask.labels.size());
}

cv::Vec3f blend(cv::Mat3f const& m, Vec2 const& at) {
    double const x = std::clamp(at.x, 0.0, m.cols - 1.001);
    double const y = std::clamp(at.y, 0.0, m.rows - 1.001);
    int const i = static_cast<int>(x);
    int const j = static_cast<int>(y);
    auto const u = static_cast<float>(x - i);
    auto const v = static_cast<float>(y - j);
    return (m(j, i) * (1 - u) + m(j, i + 1) * u) * (1 - v) + (m(j + 1, i) * (1 - u) + m(j + 1, i + 1) * u) * v;
}

// The same for edges wider than the band: the slope against the light well to both sides, in coarse pixels.
double wide_edge_width(cv::Mat3f const& light, Ring const& ring) {
    constexpr double kWell = 9;
    std::vector<double> slopes;
    for (std::size_t k = 0; k < ring.size(); k += 7) {
        Vec2 const way = ring[(k + 3) % ring.size()] - ring[(k + ring.size() - 3) % ring.size()];
        double const length = glm::length(way);
        if (length <= 0) continue;
        Vec2 const n{-way.y / length, way.x / length};
        auto const at = [&](double off) { return blend(light, ring[k] + n * off); };
        cv::Vec3f const whole = at(kWell) - at(-kWell);
        cv::Vec3f const middle = at(1) - at(-1);
        double const size = static_cast<double>(whole.dot(whole));
        if (size > 1e-4) slopes.push_back(0.5 * static_cast<double>(middle.dot(whole)) / size);
    }
    if (slopes.size() < 8) return 0;
    auto const middle = slopes.begin() + static_cast<std::ptrdiff_t>(slopes.size() / 2);
    std::nth_element(slopes.begin(), middle, slopes.end());
    return *middle > 1e-3 ? 2.563 / (2.507 * *middle) : 100;
}

// Width of the edge from the slope of the field on the ring: that of a blurred step.
double edge_width(cv::Mat1f const& field, Ring const& ring) {
    std::vector<double> slopes;
    for (std::size_t k = 0; k < ring.size(); k += 3) {
        int const x = cvRound(ring[k].x);
        int const y = cvRound(ring[k].y);
        if (x < 2 || y < 2 || x + 2 >= field.cols || y + 2 >= field.rows) continue;
        slopes.push_back(0.5 * static_cast<double>(
                                   std::hypot(field(y, x + 1) - field(y, x - 1), field(y + 1, x) - field(y - 1, x))));
    }
    if (slopes.empty()) return 0;
    auto const middle = slopes.begin() + static_cast<std::ptrdiff_t>(slopes.size() / 2);
    std::nth_element(slopes.begin(), middle, slopes.end());
    return *middle > 1e-6 ? 2.563 / (2.507 * *middle) : 1e6;
}

// A hole has an edge as sharp as the leaf's; a glint on a shiny leaf fades into it.
void drop_glints(cv::Mat1f const& field, EdgeRings& edge) {
    double const most = 2.2 * edge.edge_px + 1;
    edge.rings.erase(std::remove_if(edge.rings.begin() + 1, edge.rings.end(),
                                    [&](Ring const& hole) { return edge_width(field, hole) > most; }),
                     edge.rings.end());
}

} // namespace

Sides sides_of(Coarse const& coarse, Ground const& ground, cv::Mat1b const& area, Mask& mask, int rounds) {
    Sides sides;
    sides.box = box_of(mask);
    cv::Mat3f const light = coarse.light(sides.box);
    cv::Mat1b const inside = area(sides.box);
    cv::Mat1i labels = mask.labels(sides.box);
    cv::Mat1b const cut = mask.cut.empty() ? cv::Mat1b() : mask.cut(sides.box);
    cv::Mat1b bare = inside.clone(); // a cut shows leaf, not paper
    if (!cut.empty()) bare.setTo(0, cut);
    for (int k = 0; k <= rounds; ++k) {
        cv::Mat1f const depth = signed_depth(labels);
        cv::Mat1f in;
        cv::Mat1f out;
        weigh(depth, bare, in, out);
        sides.leaf = near_mean(light, in);
        sides.paper = near_mean(light, out);
        sides.shade = shade_of(sides.paper, ground.light(sides.box));
        if (k < rounds) move_edge(light, sides, inside, cut, depth, labels);
    }
    return sides;
}

EdgeRings edge_rings(Photo const& photo, Coarse const& coarse, Sides const& sides, Mask const& mask, Part const& part) {
    int const margin = 5;
    cv::Rect const whole({0, 0}, mask.labels.size());
    cv::Rect const box =
        cv::Rect(part.box.x - margin, part.box.y - margin, part.box.width + 2 * margin, part.box.height + 2 * margin) &
        whole;
    cv::Mat1i const around = spread_labels(mask.labels(box), 4);
    cv::Mat1i own = mask.labels(box).clone();
    own.setTo(0, own != part.label);
    cv::Mat1f const depth = signed_depth(own);
    int const step = coarse.step;
    cv::Mat1f field;
    cv::resize(depth, field, {box.width * step, box.height * step}, 0, 0, cv::INTER_LINEAR);
    auto const& table = linear_light();
    cv::parallel_for_(cv::Range(0, field.rows), [&](cv::Range const& rows) {
        for (int y = rows.start; y < rows.end; ++y)
            for (int x = 0; x < field.cols; ++x) {
                float& value = field(y, x);
                if (std::abs(value) > kBand) {
                    value = value > 0 ? 1.0F : 0.0F;
                    continue;
                }
                if (!mask.cut.empty() && mask.cut(box.y + y / step, box.x + x / step)) { // nothing to be seen: straight
                    value = std::clamp(0.5F + 0.25F * value, 0.0F, 1.0F);
                    continue;
                }
                int const whose = around(y / step, x / step);
                if (whose != part.label) {
                    value = 0;
                    continue;
                }
                int const px = box.x * step + x;
                int const py = box.y * step + y;
                std::uint8_t const* const p = photo.at(px, py);
                Vec2 const at = coarse.coarse_of({px, py}) - Vec2{sides.box.x, sides.box.y};
                auto const ci = std::clamp(cvRound(at.x), 0, sides.shade.cols - 1);
                auto const cj = std::clamp(cvRound(at.y), 0, sides.shade.rows - 1);
                value = leaf_share({table[p[0]], table[p[1]], table[p[2]]}, blend(sides.leaf, at),
                                   blend(sides.paper, at), sides.shade(cj, ci));
            }
    });
    cv::GaussianBlur(field, field, {3, 3}, 0.7);
    EdgeRings edge;
    edge.rings = half_lines(field);
    std::sort(edge.rings.begin(), edge.rings.end(),
              [](Ring const& a, Ring const& b) { return signed_area(a) > signed_area(b); });
    if (!edge.rings.empty()) {
        edge.edge_px = edge_width(field, edge.rings.front());
        drop_glints(field, edge);
    }
    Vec2 const corner{box.x * step, box.y * step};
    for (Ring& ring : edge.rings)
        for (Vec2& p : ring) p += corner;
    if (edge.rings.empty()) return edge;
    Ring seen;
    for (std::size_t k = 0; k < edge.rings.front().size(); k += static_cast<std::size_t>(step))
        seen.push_back(coarse.coarse_of(edge.rings.front()[k]));
    double const wide = wide_edge_width(coarse.light, seen);
    if (wide > 4) edge.edge_px = std::max(edge.edge_px, wide * step); // finer ones cannot be told in the coarse picture
    return edge;
}

} // namespace leafwright
