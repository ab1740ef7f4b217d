// Forking veins of a fan: each vein splits in two, again and again, and none ever meets another.
#include "base/units.h"
#include "leaf/veins.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

// Bearings between which the half fan is filled at each distance from the stalk.
struct FanRoom {
    Line const& edge;
    double corner_reach = 0;
    double corner_bearing = 0;
    double cleft_reach = 0;

    double outer(double reach) const {
        if (reach >= corner_reach) return corner_bearing;
        for (std::size_t i = 1; i < edge.size(); ++i)
            if (glm::length(edge[i]) >= reach) return std::atan2(edge[i].x, edge[i].y);
        return corner_bearing;
    }
    double inner(double reach) const { return reach < cleft_reach ? 0.0 : std::min(0.3 * (reach - cleft_reach), 0.12); }
    Vec2 at(double share, double reach) const {
        double const low = inner(reach);
        double const bearing = low + share * (0.97 * outer(reach) - low);
        return reach * Vec2(std::sin(bearing), std::cos(bearing));
    }
};

struct ForkTree {
    FanRoom room;
    int ends = 16;
    double width = 0.03; // of the whole half's vein
    Random& random;
    std::vector<Vein>& veins;

    double share_of(int from, int to) const { return 0.5 * (from + to) / ends; }
    // Splits come so that neighbours stay about equally far apart.
    double split_reach(int count, double start) const {
        double const even = 0.92 * std::pow(1.6 / count, 0.62);
        return std::max(start + 0.05, std::min(0.9, even * (1 + 0.12 * random.between(-1, 1))));
    }
    double end_reach(double share, double start) const {
        double reach = start;
        while (reach < 1.3 && contains(room.edge, room.at(share, reach + 0.02))) reach += 0.01;
        return reach;
    }

    void grow(int from, int to, double start, double start_share) {
        int const count = to - from;
        double const share = share_of(from, to);
        double const end = count == 1 ? end_reach(share, start) : split_reach(count, start);
        if (end <= start + 0.01) return;
        Vein vein;
        for (int i = 0; i <= 6; ++i) {
            double const t = i / 6.0;
            double const eased = 1 - std::pow(1 - t, 1.7);
            vein.line_mm.push_back(room.at(start_share + eased * (share - start_share), start + t * (end - start)));
        }
        vein.root_width_mm = vein.end_width_mm = width * std::cbrt(static_cast<double>(count) / ends);
        vein.order = 2 * count >= ends ? 1 : (count > 1 ? 2 : 3);
        veins.push_back(std::move(vein));
        if (count == 1) return;
        int const middle = from + (count + (random.unit() < 0.5 ? 1 : 0)) / 2;
        grow(from, middle, end, share);
        grow(middle, to, end, share);
    }
};

} // namespace

std::vector<Vein> dichotomous_veins(HalfLeaf const& half, double midrib_width, Random& random) {
    std::vector<Vein> veins;
    Line const& edge = half.track.points;
    Vec2 const corner = half.track.at(half.track.bend_ends.front());
    FanRoom const room{edge, glm::length(corner), std::atan2(corner.x, corner.y), edge.back().y};
    ForkTree tree{room, half.form.veins.count / 2, midrib_width, random, veins};
    tree.grow(0, tree.ends, 0.03, 0.5);
    return veins;
}

} // namespace leafwright
