#include "bench/plan_keeper.h"

namespace leafwright {

PlanKeeper::PlanKeeper(std::function<void()> wake)
    : wake_(std::move(wake)), worker_([this](std::stop_token const& stop) { work(stop); }) {}

void PlanKeeper::ask(Piece piece, std::uint64_t revision) {
    {
        std::lock_guard const lock(mutex_);
        question_ = Question{std::move(piece), revision};
    }
    asked_.notify_one();
}

std::optional<PlanReply> PlanKeeper::take(std::chrono::milliseconds patience) {
    std::unique_lock lock(mutex_);
    waited_for_ = patience.count() > 0;
    answered_.wait_for(lock, patience, [this] { return !question_ && !working_; });
    waited_for_ = false;
    return std::exchange(reply_, std::nullopt);
}

bool PlanKeeper::busy() const {
    std::lock_guard const lock(mutex_);
    return question_ || working_;
}

void PlanKeeper::work(std::stop_token const& stop) {
    std::unique_lock lock(mutex_);
    while (asked_.wait(lock, stop, [this] { return question_.has_value(); })) {
        Question const question = std::move(*question_);
        question_.reset();
        working_ = true;
        lock.unlock();
        PlanReply reply{question.revision, planner_.plan(question.piece)};
        lock.lock();
        working_ = false;
        reply_ = std::move(reply);
        bool const wake = !waited_for_;
        answered_.notify_all();
        if (wake) {
            lock.unlock();
            wake_();
            lock.lock();
        }
    }
}

} // namespace leafwright
