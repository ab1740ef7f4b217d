// From drying to hanging in a thread of its own: the newest plan wins, and what is reckoned for an older one is broken
// off. The last answer stays with the window until the next has come.
#pragma once

#include "piece/second_half.h"

#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>

namespace leafwright {

class SecondHalfKeeper {
public:
    // `wake` is called from the worker when an answer is there.
    explicit SecondHalfKeeper(std::function<void()> wake);
    ~SecondHalfKeeper();

    void ask(std::shared_ptr<Plan const> plan);
    // The newest answer that was not taken yet; null when there is none.
    std::shared_ptr<SecondHalf const> take();
    bool busy() const;

private:
    void work(std::stop_token const& stop);

    std::function<void()> wake_;
    mutable std::mutex mutex_;
    std::condition_variable_any asked_;
    std::shared_ptr<Plan const> question_;
    std::shared_ptr<SecondHalf const> reply_;
    std::shared_ptr<Task> task_; // of what is being reckoned
    int broken_off_ = 0;         // one after the other
    SecondHalfPlanner planner_;
    std::jthread worker_; // last: it ends before the rest goes
};

} // namespace leafwright
