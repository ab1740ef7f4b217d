// Lays out cutting sheets in a thread of its own, each better layout as it comes.
#pragma once

#include "piece/cutting_plan.h"

#include <mutex>
#include <thread>

namespace leafwright {

class CutKeeper {
public:
    // `wake` is called from the worker when an answer is there.
    explicit CutKeeper(std::function<void()> wake);
    ~CutKeeper();

    // Lays out this plan's sheets. A run that is still going is dropped first.
    void start(std::shared_ptr<Plan const> plan, CuttingOptions options);
    // Ends the run; its best so far is taken as usual.
    void stop();
    bool running() const;
    double progress() const { return task_ ? task_->progress() : 0; }
    std::shared_ptr<Plan const> const& asked() const { return asked_; } // of the last start; null at first

    // The newest answer of this run that was not taken yet; null when there is none.
    std::shared_ptr<CuttingAnswer const> take();

private:
    void drop();

    std::function<void()> wake_;
    std::shared_ptr<Plan const> asked_;
    std::shared_ptr<Task> task_;
    mutable std::mutex mutex_;
    std::shared_ptr<CuttingAnswer const> newest_;
    bool done_ = true;
    std::jthread worker_; // last: it ends before the rest goes
};

} // namespace leafwright
