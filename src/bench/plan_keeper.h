// Plans in a thread of its own, so that the window stays live; the newest piece wins.
#pragma once

#include "piece/planner.h"

#include <chrono>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>

namespace leafwright {

struct PlanReply {
    std::uint64_t revision = 0;
    Outcome<std::shared_ptr<Plan const>> plan;
};

class PlanKeeper {
public:
    // `wake` is called from the worker when an answer is there that nobody waited for.
    explicit PlanKeeper(std::function<void()> wake);

    // Asks for the plan of a piece; a question that was not begun yet is forgotten. Coarse, while a slider of former or
    // slab moves: answered roughly at once, and in full once no other question came for a moment; a new coarse
    // question breaks the full answer off.
    void ask(Piece piece, std::uint64_t revision, bool coarse = false);
    // The newest answer that was not taken yet. Waits for it at most `patience`.
    std::optional<PlanReply> take(std::chrono::milliseconds patience);
    // Whether a question is still open. One that was answered roughly is not.
    bool busy() const;

private:
    struct Question {
        Piece piece;
        std::uint64_t revision = 0;
        bool coarse = false;
    };
    using Lock = std::unique_lock<std::mutex>;
    void work(std::stop_token const& stop);
    void answer(Lock& lock, Question const& question);
    void give(Lock& lock, PlanReply reply);

    std::function<void()> wake_;
    mutable std::mutex mutex_;
    std::condition_variable_any asked_;
    std::condition_variable_any answered_;
    std::optional<Question> question_;
    std::optional<PlanReply> reply_;
    std::shared_ptr<Task> task_; // of the full answer being worked out
    bool working_ = false;
    bool waited_for_ = false;
    Planner planner_;
    std::jthread worker_; // last: it ends before the rest goes
};

} // namespace leafwright
