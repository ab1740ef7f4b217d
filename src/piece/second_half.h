// From wet clay to the wall: all that follows from a Plan once the leaves are on. It takes some tenths of a second, so
// it is asked for apart and not on every step of a drag; a window keeps the last one until the next has come.
#pragma once

#include "finish/finish.h"
#include "firing/firing.h"
#include "hanging/hanging.h"
#include "piece/cost.h"
#include "piece/plan.h"

namespace leafwright {

// Immutable once made; drying is shared between answers when its inputs did not change.
struct SecondHalf {
    std::shared_ptr<Plan const> plan; // of which it is the second half
    std::shared_ptr<ClayMap const> clay;
    std::shared_ptr<DryingAnswer const> drying;
    std::vector<FiringAnswer> firings;    // as piece.firing; without any, a first to 1000 and a last to 1260 degC
    std::vector<KilnFit> fits;            // likewise
    std::optional<HangingAnswer> hanging; // none when the lugs lie beyond the rim or the wire is not known
    FinishAnswer finish;
    OutdoorAnswer outdoors;
    CostAnswer cost;
    // What the maker measured, and what it comes to.
    std::optional<TileAnswer> tiles; // none without tiles, or when they contradict themselves: then tiles_problem tells
    MaybeProblem tiles_problem;
    BodySpec tiles_body; // the piece's body narrowed by the tiles
    std::optional<CoverFit> cover_fit;
    MaybeProblem cover_problem;    // why the weighings tell nothing
    MaybeProblem cooling_problem;  // why the kiln's readings are not used
    double thickest_mm = 0;        // of the clay, plastic
    std::vector<Warning> warnings; // refusals first; those of the plan are not repeated
};

class SecondHalfPlanner {
public:
    SecondHalfPlanner();
    ~SecondHalfPlanner();
    SecondHalfPlanner(SecondHalfPlanner&&) noexcept;
    SecondHalfPlanner& operator=(SecondHalfPlanner&&) noexcept;

    // Null when cancelled. Cost: 0.4 s of one core for 120 leaves; a few ms when only firing, hanging, finish or cost
    // have changed. The same plan gives the same answer whatever was asked before. One thread at a time.
    std::shared_ptr<SecondHalf const> plan(std::shared_ptr<Plan const> const& plan, Task& task);

private:
    struct Memory;
    std::unique_ptr<Memory> memory_;
};

std::shared_ptr<SecondHalf const> plan_second_half(std::shared_ptr<Plan const> const& plan, Task& task);

// plan.json with hanging, drying, firing, finish, cost and the warnings of both halves.
std::string plan_to_json(Plan const& plan, SecondHalf const& second);

} // namespace leafwright
