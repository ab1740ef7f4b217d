#include "leaf/vein_tree.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

int VeinTree::add(Vec2 const& point, int from, int its_order) {
    at.push_back(point);
    parent.push_back(from);
    order.push_back(its_order);
    return static_cast<int>(at.size()) - 1;
}

void VeinTree::take_widths(double root_width_mm) {
    std::vector<double> flow(size(), 0); // cubes of widths; an end carries 1
    for (std::size_t i = size(); i-- > 0;) {
        if (flow[i] == 0) flow[i] = 1;
        if (parent[i] >= 0) flow[static_cast<std::size_t>(parent[i])] += flow[i];
    }
    width_mm.resize(size());
    for (std::size_t i = 0; i < size(); ++i) width_mm[i] = root_width_mm * std::cbrt(flow[i] / flow[0]);
}

std::vector<Vein> VeinTree::veins() const {
    // The child that carries on each node's own vein; -1 at its end.
    std::vector<int> next(size(), -1);
    for (std::size_t i = 1; i < size(); ++i) {
        if (parent[i] < 0) continue; // a drawn vein that hangs on nothing
        auto const from = static_cast<std::size_t>(parent[i]);
        if (order[i] != order[from]) continue;
        if (next[from] < 0 || width_mm[i] > width_mm[static_cast<std::size_t>(next[from])])
            next[from] = static_cast<int>(i);
    }
    std::vector<Vein> veins;
    for (std::size_t i = 0; i < size(); ++i) {
        int const from = parent[i];
        if (from >= 0 && next[static_cast<std::size_t>(from)] == static_cast<int>(i)) continue;
        Vein vein;
        vein.order = order[i];
        if (from >= 0) vein.line_mm.push_back(at[static_cast<std::size_t>(from)]);
        int last = static_cast<int>(i);
        for (int k = last; k >= 0; k = next[static_cast<std::size_t>(k)])
            vein.line_mm.push_back(at[static_cast<std::size_t>(last = k)]);
        vein.root_width_mm = width_mm[i];
        vein.end_width_mm = width_mm[static_cast<std::size_t>(last)];
        if (vein.line_mm.size() > 1) veins.push_back(std::move(vein));
    }
    return veins;
}

double murray_width(double first, double second) { return std::cbrt(first * first * first + second * second * second); }

double murray_angle_deg(double first, double second) {
    double const r0 = murray_width(first, second);
    auto const fourth = [](double r) { return r * r * r * r; };
    double const c = (fourth(r0) + fourth(first) - fourth(second)) / (2 * r0 * r0 * first * first);
    return degrees(std::acos(std::clamp(c, -1.0, 1.0)));
}

} // namespace leafwright
