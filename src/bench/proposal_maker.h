// Lays the same rules by several seeds, one after another in a thread of its own, each with its plan.
#pragma once

#include "piece/planner.h"

#include <functional>
#include <mutex>
#include <thread>

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
    double progress() const { return task_ ? task_->progress() : 0; } // of the one being laid
    // Those that were made since the last call.
    std::vector<Proposal> take();

private:
    std::function<void()> wake_;
    std::shared_ptr<Task> task_;
    std::mutex mutex_;
    std::vector<Proposal> made_;
    std::jthread worker_;
};

} // namespace leafwright
