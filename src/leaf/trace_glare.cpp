// Where a lamp or the sky is mirrored, a leaf is as pale as the paper: inside, that looks like a hole; at its edge,
// like a bay. Beside a true hole and at a true edge the leaf has its own colour.
#include "leaf/trace_work.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr float kPale = 0.5F; // of the leaf's usual colour and darkness
constexpr double kLeastColour = 9;
constexpr float kLighter = 2.5F; // in L: paper seen through a hole is not lighter than the paper around the leaf

// Four of five lie below: a leaf may be pale for the most part.
float high_of(std::vector<float>& values) {
    if (values.empty()) return 0;
    auto const at = values.begin() + static_cast<std::ptrdiff_t>(4 * values.size() / 5);
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

struct Usual {
    float colour = 0;
    float dark = 0;
};
Usual usual_of(Mask const& mask, Part const& part) {
    std::vector<float> colour;
    std::vector<float> dark;
    for (int y = part.box.y; y < part.box.y + part.box.height; y += 3)
        for (int x = part.box.x; x < part.box.x + part.box.width; x += 3) {
            if (mask.labels(y, x) != part.label) continue;
            colour.push_back(mask.colour(y, x));
            dark.push_back(mask.dark(y, x));
        }
    return {high_of(colour), high_of(dark)};
}

// Length of the ring beside which the leaf is pale, and its whole length; photo pixels.
struct PaleRun {
    double pale = 0;
    double all = 0;
};
PaleRun pale_beside(Coarse const& coarse, Mask const& mask, Usual const& usual, Ring const& ring) {
    PaleRun run;
    std::size_t const n = ring.size();
    auto const stride = static_cast<std::size_t>(std::max(1, coarse.step));
    for (std::size_t k = 0; k < n; k += stride) {
        Vec2 const way = ring[(k + 4) % n] - ring[(k + n - 4) % n];
        double const length = glm::length(way);
        double const side = glm::length(ring[(k + stride) % n] - ring[k]);
        if (length <= 0) continue;
        run.all += side;
        // Rings of half_lines() have the leaf on one side: outer ones run one way round, holes the other.
        Vec2 const inward = Vec2{-way.y, way.x} / length;
        bool pale = true;
        int seen = 0;
        for (double const off : {1.2, 1.8, 2.4, 3.0}) {
            Vec2 const at = coarse.coarse_of(ring[k]) + inward * off;
            int const x = static_cast<int>(std::lround(at.x));
            int const y = static_cast<int>(std::lround(at.y));
            if (x < 0 || y < 0 || x >= mask.colour.cols || y >= mask.colour.rows) continue;
            ++seen;
            pale = pale && mask.colour(y, x) < kPale * usual.colour && mask.dark(y, x) < kPale * usual.dark;
        }
        if (pale && seen > 2) run.pale += side;
    }
    return run;
}

// The lightest tenth of what lies in the hole is lighter than paper can be.
bool outshines_paper(Coarse const& coarse, Ground const& ground, Mask const& mask, Ring const& hole) {
    std::vector<float> dark;
    Box2 const box = bounds(hole);
    Vec2 const low = coarse.coarse_of(box.low);
    Vec2 const high = coarse.coarse_of(box.high);
    for (int y = std::max(0, static_cast<int>(std::floor(low.y))); y < std::min(mask.dark.rows - 1.0, high.y); ++y)
        for (int x = std::max(0, static_cast<int>(std::floor(low.x))); x < std::min(mask.dark.cols - 1.0, high.x); ++x)
            if (contains(hole, coarse.px_of({x, y}))) dark.push_back(mask.dark(y, x));
    if (dark.size() < 4) return false;
    auto const tenth = dark.begin() + static_cast<std::ptrdiff_t>(dark.size() / 10);
    std::nth_element(dark.begin(), tenth, dark.end());
    return *tenth < -std::max(kLighter, kLighter * static_cast<float>(ground.noise_l));
}

} // namespace

Glare take_glare_out(Coarse const& coarse, Ground const& ground, Mask const& mask, Part const& part, EdgeRings& edge) {
    Glare glare;
    if (mask.colour.empty() || edge.rings.empty()) return glare;
    Usual const usual = usual_of(mask, part);
    if (static_cast<double>(usual.colour) < kLeastColour) return glare;
    auto const made_by_glare = [&](Ring const& hole) {
        PaleRun const run = pale_beside(coarse, mask, usual, hole);
        if (run.pale <= 0.4 * run.all && !outshines_paper(coarse, ground, mask, hole)) return false;
        glare.holes_px2 += std::abs(signed_area(hole));
        return true;
    };
    edge.rings.erase(std::remove_if(edge.rings.begin() + 1, edge.rings.end(), made_by_glare), edge.rings.end());
    glare.edge_px = pale_beside(coarse, mask, usual, edge.rings.front()).pale;
    return glare;
}

} // namespace leafwright
