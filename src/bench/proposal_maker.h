// Lays the same rules by several seeds, one after another in a thread of its own, each with its plan.
#pragma once

#include "piece/planner.h"

#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace leafwright {

class ProposalMaker {
public:
    explicit ProposalMaker(std::function<void()> wake);
    ~ProposalMaker();

    struct Proposal {
        std::uint64_t seed = 0;
        std::shared_ptr<Plan const> plan; // of the piece with these leaves; null when there is none
        std::vector<Problem> remarks;     // which rule gave way, or why there is no plan
    };
    // A run that is still going is cancelled first.
    void start(Piece const& piece, std::vector<std::uint64_t> seeds);
    void cancel();
    double progress(std::size_t which) const { return which < tasks_.size() ? tasks_[which]->progress() : 0; }
    // Those that were made since the last call.
    std::vector<Proposal> take();

private:
    std::function<void()> wake_;
    std::vector<std::shared_ptr<Task>> tasks_; // one for each seed
    std::mutex mutex_;
    std::vector<Proposal> made_;
    std::jthread worker_;
};

} // namespace leafwright
