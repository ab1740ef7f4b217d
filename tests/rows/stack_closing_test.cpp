#include "rows/stack_closing.h"

#include "base/random.h"
#include "near.h"

#include <algorithm>

using namespace leafwright;

namespace {

struct Ground {
    int columns = 0;
    int rows = 0;
    std::vector<float> height_mm;

    bool lies(int x, int y) const { return 0 <= x && x < columns && 0 <= y && y < rows && at(x, y) > kNoGround_mm; }
    float at(int x, int y) const { return height_mm[static_cast<std::size_t>(y * columns + x)]; }
};

std::vector<float> closed(Ground const& ground, double cell_mm, double bend_radius_mm) {
    std::vector<float> result(ground.height_mm.size(), -1.0F);
    ClosingScratch scratch;
    close_by_paraboloid(ground.height_mm, ground.columns, ground.rows, cell_mm, bend_radius_mm, result, scratch);
    return result;
}

// The definition, word for word, in double.
class BruteClosing {
public:
    BruteClosing(Ground const& ground, double cell_mm, double bend_radius_mm)
        : ground_(ground), quotient_(cell_mm * cell_mm / (2 * bend_radius_mm)) {
        double least = 1e30, most = -1e30;
        for (float const z : ground.height_mm) {
            if (z <= kNoGround_mm) continue;
            least = std::min(least, double(z));
            most = std::max(most, double(z));
        }
        reach_ = closing_reach(most - least, bend_radius_mm, cell_mm);
    }

    double at(int x, int y) const {
        double least = 1e30;
        each(x, y, [&](int u, int v, double rise) { least = std::min(least, raised(u, v) + rise); });
        return least;
    }

private:
    template <class Work> void each(int x, int y, Work work) const {
        for (int v = y - reach_; v <= y + reach_; ++v)
            for (int u = x - reach_; u <= x + reach_; ++u)
                work(u, v, quotient_ * ((u - x) * (u - x) + (v - y) * (v - y)));
    }
    double raised(int x, int y) const {
        double most = -1e30;
        each(x, y, [&](int u, int v, double rise) {
            if (ground_.lies(u, v)) most = std::max(most, double(ground_.at(u, v)) - rise);
        });
        return most;
    }

    Ground const& ground_;
    double quotient_;
    int reach_ = 0;
};

Ground random_steps(Random& random) {
    Ground ground{static_cast<int>(5 + random.below(24)), static_cast<int>(5 + random.below(24)), {}};
    for (int y = 0; y < ground.rows; ++y)
        for (int x = 0; x < ground.columns; ++x) {
            double const step = 4.0 * ((x / 6 + y / 7) % 3) + random.between(0, 0.5);
            ground.height_mm.push_back(random.unit() < 0.15 ? kNoGround_mm : static_cast<float>(step));
        }
    return ground;
}

} // namespace

TEST_CASE("the closing is the one of the definition, cell by cell") {
    Random random(11);
    int compared = 0;
    for (int trial = 0; trial < 12; ++trial) {
        Ground const ground = random_steps(random);
        double const cell_mm = random.between(0.5, 2);
        double const bend_radius_mm = random.between(0.5, 5);
        std::vector<float> const found = closed(ground, cell_mm, bend_radius_mm);
        BruteClosing const twin(ground, cell_mm, bend_radius_mm);
        for (int y = 0; y < ground.rows; ++y)
            for (int x = 0; x < ground.columns; ++x) {
                float const value = found[static_cast<std::size_t>(y * ground.columns + x)];
                if (!ground.lies(x, y)) {
                    CHECK(value == -1.0F); // left as it was
                    continue;
                }
                CHECK_NEAR(double(value), twin.at(x, y), 2e-5);
                CHECK(value >= ground.at(x, y));
                ++compared;
            }
    }
    CHECK(compared > 1000);
}

// From the top of a step h the sheet falls along the parabola (d - x)^2 / 2r that touches the ground at d = sqrt(2 r
// h): plane geometry. 6 mm and a radius of 3 mm: d = 6 mm; the hollow's section is h d / 3 = 12 mm2.
TEST_CASE("a sheet falls from a step along a parabola") {
    Ground ground{60, 9, {}};
    for (int k = 0; k < 60 * 9; ++k) ground.height_mm.push_back(k % 60 < 30 ? 6.0F : 0.0F);
    for (double const cell_mm : {1.0, 0.5, 0.25}) {
        std::vector<float> const found = closed(ground, cell_mm, 3.0);
        double hollow_mm2 = 0;
        for (int x = 0; x < 60; ++x) {
            double const from_edge_mm = (x - 29) * cell_mm;
            double const left = std::clamp(6.0 - from_edge_mm, 0.0, 6.0);
            CHECK_NEAR(double(found[static_cast<std::size_t>(4 * 60 + x)]), left * left / 6.0, 1e-5);
            if (from_edge_mm > 0) hollow_mm2 += double(found[static_cast<std::size_t>(4 * 60 + x)]) * cell_mm;
        }
        // Sum of squares 1 to n - 1 against the integral: 12 (1 - 3 / 2n + 1 / 2n^2), n = 6 / cell.
        double const n = 6.0 / cell_mm;
        CHECK_NEAR(hollow_mm2, 12.0 * (1 - 1.5 / n + 0.5 / (n * n)), 1e-4);
    }
}

TEST_CASE("closing twice changes nothing, and level ground stays as it is") {
    Random random(5);
    Ground ground{30, 20, {}};
    for (int k = 0; k < 600; ++k) ground.height_mm.push_back(static_cast<float>(random.between(0, 8)));
    Ground once{30, 20, closed(ground, 1.0, 3.0)};
    std::vector<float> const twice = closed(once, 1.0, 3.0);
    for (std::size_t k = 0; k < twice.size(); ++k) CHECK_NEAR(double(twice[k]), double(once.height_mm[k]), 2e-5);
    Ground const level{10, 10, std::vector<float>(100, 4.25F)};
    CHECK(closed(level, 1.0, 3.0) == level.height_mm);
    CHECK(closed(ground, 1.0, 0.0) == ground.height_mm); // no radius: follows everything
}
