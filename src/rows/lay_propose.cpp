#include "rows/lay_propose.h"

#include <algorithm>
#include <array>
#include <tbb/parallel_for.h>

namespace leafwright {

namespace {

// How much further out than the rule row 1 is tried, mm. Saves leaves with narrow tips or lobes.
constexpr std::array kReachOut_mm{0.0, 3.0, 6.0, 10.0, 15.0, 20.0};
constexpr int kExtraRows = 2;
constexpr int kMended = 2;

// In leaves: a little further out is worth little, far out a lot.
double price_of_reach(double reach_out_mm) {
    return 0.5 * reach_out_mm + 0.5 * std::max(0.0, reach_out_mm - 6.0) + 2.0 * std::max(0.0, reach_out_mm - 10.0);
}

Proposal cheapest(std::vector<Proposal>& proposals) {
    auto const best = std::min_element(proposals.begin(), proposals.end(),
                                       [](Proposal const& a, Proposal const& b) { return a.cost < b.cost; });
    return std::move(*best);
}

// Row 1 as far out as the rule says, or a little further where that saves leaves.
Proposal first_rows(LayState const& pinned, Task& task) {
    std::vector<Proposal> proposals;
    proposals.reserve(std::size(kReachOut_mm));
    for (double const reach_out : kReachOut_mm) proposals.push_back({{0, reach_out}, pinned, {}});
    tbb::parallel_for(std::size_t{0}, proposals.size(), [&](std::size_t k) {
        Proposal& proposal = proposals[k];
        proposal.rows = plan_courses(pinned.scene(), proposal.plan);
        lay_first_course(proposal.state, proposal.rows, task);
        double const closed = proposal.rows.size() > 1 ? proposal.rows[1].tip_depth_mm : 1e9;
        proposal.cost = proposal.state.leaf_count() + price_of_reach(proposal.plan.reach_out_mm) +
                        mending_leaves(pinned.scene().spots_above(proposal.state.grid(), closed));
    });
    return cheapest(proposals);
}

} // namespace

std::vector<Proposal> propose_rows(LayState const& pinned, Task& task) {
    Proposal const first = first_rows(pinned, task);
    std::vector<Proposal> proposals(kExtraRows + 1, first);
    tbb::parallel_for(std::size_t{0}, proposals.size(), [&](std::size_t k) {
        Proposal& proposal = proposals[k];
        proposal.plan.extra_rows = static_cast<int>(k);
        proposal.rows = plan_courses(pinned.scene(), proposal.plan);
        proposal.rows[0] = first.rows[0];
        lay_further_courses(proposal.state, proposal.rows, task);
        proposal.cost = proposal.state.leaf_count() + mending_leaves(proposal.state.grid().bare_spots());
    });
    std::stable_sort(proposals.begin(), proposals.end(),
                     [](Proposal const& a, Proposal const& b) { return a.cost < b.cost; });
    proposals.erase(proposals.begin() + kMended, proposals.end());
    return proposals;
}

} // namespace leafwright
