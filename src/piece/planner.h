// Piece -> Plan. A short list of steps, each a pure function of earlier results, done again only when its inputs
// changed.
#pragma once

#include "piece/plan.h"

namespace leafwright {

struct PlanOptions {
    // For every frame of a moving slider: a former or slab that changed is but roughly reckoned, and where nothing else
    // did, leaves and what they add up to are those of the plan before. The plan is marked as coarse. Cost: 20 ms.
    bool coarse_slab = false;
    Task* task = nullptr; // cancels: the answer is then the Problem "cancelled"
};

class Planner {
public:
    Planner();
    ~Planner();
    Planner(Planner&&) noexcept;
    Planner& operator=(Planner&&) noexcept;

    // Cost: a new 120-leaf piece at most 0.25 s; after one leaf moved a few ms. Problems: those of the rooms, with the
    // JSON path of the key that is at fault. A Problem leaves the planner's memory as it was.
    // The same piece gives the same plan whatever was planned before, coarse plans apart: they follow the one before.
    Outcome<std::shared_ptr<Plan const>> plan(Piece const& piece, PlanOptions const& options = {});

private:
    struct Memory;
    void plan_what_lies_on_it(Plan& plan, Plan const* last);
    std::unique_ptr<Memory> memory_;
};

// Rows filled by the piece's rules: a new piece with new leaves; pinned leaves stay.
struct LaidRows {
    Piece piece;
    LayResult result;
};
Outcome<LaidRows> lay_piece(Piece const& piece, Task& task);

// plan.json; keys in README.md.
std::string plan_to_json(Plan const& plan);

} // namespace leafwright
