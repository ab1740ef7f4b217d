// Laps as laid, by the overlap engine, and the step that brings leaves to light: each leaf shows at least the share
// that its row's rule asks for. What can be missed is taken out, what is buried is laid later, over its neighbours.
#pragma once

#include "rows/lay_result.h"
#include "rows/overlap.h"

#include <array>
#include <map>

namespace leafwright {

struct SeenLaps {
    struct Row {
        int row = 1;
        int leaves = 0;
        double lap = 0;        // share of the row's leaf area that later leaves cover
        double deficit = 0;    // by how much the row's lap lies outside its rule's limits
        int hidden = 0;        // leaves that show less than the rule asks for, pinned ones not counted
        double least_seen = 1; // share of the least visible leaf, pinned ones not counted
    };
    std::vector<Row> rows;        // rising
    std::vector<double> seen;     // by unit: share that shows, the lesser of a pair
    std::vector<double> covering; // by unit: the highest row of the leaves that cover it; 0 for none
    std::vector<std::vector<std::pair<double, std::size_t>>> coverers; // by unit: area in mm2 and unit that covers it
    double hidden_share = 0;                                           // sum of what is wanting over all leaves
    double bare_mm2 = 0;
    int hidden() const;
    double lap_deficit() const;
};

// Keeps laid outlines and the engine between measurements, so that one leaf changed costs little.
class LapMeter {
public:
    LapMeter(LayScene const& scene, LayRequest const& request);
    SeenLaps measure(LayState const& state);

private:
    struct Known {
        std::shared_ptr<Polygon const> chart;
        int id = 0;
    };
    using Key = std::array<double, 7>; // kind, pose, and which of several leaves at one place

    Known const& laid(LayUnit const& unit, bool image, int copy);

    LayScene const* scene_;
    CladZone zone_;
    std::map<Key, Known> known_;
    OverlapEngine engine_;
};

// Which lap limits are not kept, in a sentence each.
void append_lap_remarks(LayScene const& scene, SeenLaps const& laps, std::vector<Problem>& remarks);

// Bare clay never grows by it; leaves that still are hidden are told by rule_remarks().
void bring_to_light(LayState& state, std::span<CourseRow const> rows, LapMeter& meter, Task& task);

} // namespace leafwright
