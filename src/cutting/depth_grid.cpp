#include "cutting/pair_depth.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

// Splits the table's box into four again and again, each time leaving out the planes and sums that cannot tell the
// depth anywhere in the part.
class GridMaker {
public:
    explicit GridMaker(PairTable const& table) : table_(table) {}

    DepthGrid make() {
        std::vector<Live> all;
        for (PairTable::Sum const& s : table_.sums_) {
            Live& live = all.emplace_back();
            for (unsigned k = s.first; k < s.first + s.count; ++k)
                for (int lane = 0; lane < 4; ++lane) {
                    PlaneFour const& p = table_.planes_[k];
                    if (p.reach[lane] < 1e38F)
                        live.push_back({{double{p.x[lane]}, double{p.y[lane]}}, double{p.reach[lane]}});
                }
        }
        std::size_t const sums = all.size();
        grid_.levels = sums <= 1 ? 2 : sums <= 4 ? 3 : sums <= 30 ? 4 : 5;
        unsigned const across = 1U << grid_.levels;
        grid_.cells.resize(std::size_t{across} * across);
        grid_.low_x = table_.low_x_, grid_.low_y = table_.low_y_;
        grid_.per_x = static_cast<float>(across) / (table_.high_x_ - table_.low_x_);
        grid_.per_y = static_cast<float>(across) / (table_.high_y_ - table_.low_y_);
        split(all, 0, 0, 0);
        return std::move(grid_);
    }

private:
    using Live = std::vector<SumPlane>; // the planes of one sum

    Box2 box(unsigned level, unsigned x, unsigned y) const {
        double const wide = (double{table_.high_x_} - double{table_.low_x_}) / (1U << level);
        double const high = (double{table_.high_y_} - double{table_.low_y_}) / (1U << level);
        Vec2 const low{double{table_.low_x_} + wide * x, double{table_.low_y_} + high * y};
        Vec2 const slack{1e-5 * wide * (1U << level), 1e-5 * high * (1U << level)}; // single precision finds the cell
        return {low - slack, low + Vec2(wide, high) + slack};
    }

    void split(std::vector<Live> const& above, unsigned level, unsigned x, unsigned y) {
        std::vector<Live> const here = kept(above, box(level, x, y));
        if (here.empty()) return;
        if (level == grid_.levels) {
            store(here, x, y);
            return;
        }
        for (unsigned k = 0; k < 4; ++k) split(here, level + 1, 2 * x + (k & 1), 2 * y + (k >> 1));
    }

    static std::vector<Live> kept(std::vector<Live> const& above, Box2 const& box) {
        Vec2 const centre = box.centre(), half = 0.5 * box.size();
        double const slack = 1e-5 * (half.x + half.y);
        std::vector<double> least(above.size()), most(above.size());
        double sure = 0; // the depth that is there in the whole box
        for (std::size_t s = 0; s < above.size(); ++s) {
            least[s] = most[s] = 1e300;
            for (SumPlane const& p : above[s]) {
                double const middle = p.reach - glm::dot(p.normal, centre);
                double const swing = std::abs(p.normal.x) * half.x + std::abs(p.normal.y) * half.y;
                least[s] = std::min(least[s], middle - swing);
                most[s] = std::min(most[s], middle + swing);
            }
            sure = std::max(sure, least[s]);
        }
        std::vector<Live> out;
        for (std::size_t s = 0; s < above.size(); ++s) {
            if (most[s] + slack <= sure || most[s] <= 0) continue;
            Live& live = out.emplace_back();
            for (SumPlane const& p : above[s]) {
                double const middle = p.reach - glm::dot(p.normal, centre);
                double const swing = std::abs(p.normal.x) * half.x + std::abs(p.normal.y) * half.y;
                if (middle - swing <= most[s] + slack) live.push_back(p);
            }
        }
        return out;
    }

    void store(std::vector<Live> const& here, unsigned x, unsigned y) {
        DepthGrid::Cell& cell = grid_.cells[(std::size_t{y} << grid_.levels) + x];
        cell.first = static_cast<unsigned>(grid_.planes.size());
        unsigned count = 0;
        for (Live const& live : here) {
            count += append_planes(live, grid_.planes);
            // A cell has room for 32 groups; the deepest sums come first, what is beyond them is as good as never met.
            if (count > 32) break;
            cell.ends |= 1U << (count - 1);
        }
    }

    PairTable const& table_;
    DepthGrid grid_;
};

DepthGrid depth_grid(PairTable const& table) { return GridMaker(table).make(); }

} // namespace leafwright
