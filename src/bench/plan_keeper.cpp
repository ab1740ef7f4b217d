#include "bench/plan_keeper.h"

namespace leafwright {
namespace {

constexpr std::chrono::milliseconds kHandRests{150}; // then the full answer is begun

}

PlanKeeper::PlanKeeper(std::function<void()> wake)
    : wake_(std::move(wake)), worker_([this](std::stop_token const& stop) { work(stop); }) {}

void PlanKeeper::ask(Piece piece, std::uint64_t revision, bool coarse) {
    {
        std::lock_guard const lock(mutex_);
        question_ = Question{std::move(piece), revision, coarse};
        // Full answers to other changes are never broken off: while a leaf is dragged they come one after another.
        if (coarse && task_) task_->cancel();
    }
    asked_.notify_one();
}

std::optional<PlanReply> PlanKeeper::take(std::chrono::milliseconds patience) {
    Lock lock(mutex_);
    waited_for_ = patience.count() > 0;
    answered_.wait_for(lock, patience, [this] { return !question_ && !working_; });
    waited_for_ = false;
    return std::exchange(reply_, std::nullopt);
}

bool PlanKeeper::busy() const {
    std::lock_guard const lock(mutex_);
    return question_ || working_;
}

void PlanKeeper::give(Lock& lock, PlanReply reply) {
    working_ = false;
    reply_ = std::move(reply);
    bool const wake = !waited_for_;
    answered_.notify_all();
    if (!wake) return;
    lock.unlock();
    wake_();
    lock.lock();
}

void PlanKeeper::answer(Lock& lock, Question const& question) {
    auto const task = std::make_shared<Task>();
    if (!question.coarse) task_ = task;
    lock.unlock();
    auto plan = planner_.plan(question.piece, {question.coarse, task.get()});
    lock.lock();
    task_.reset();
    if (task->cancelled() && question_) return; // the next question is there already
    give(lock, {question.revision, std::move(plan)});
}

void PlanKeeper::work(std::stop_token const& stop) {
    Lock lock(mutex_);
    while (asked_.wait(lock, stop, [this] { return question_.has_value(); })) {
        Question question = std::move(*question_);
        question_.reset();
        working_ = true;
        answer(lock, question);
        if (!question.coarse) continue;
        if (asked_.wait_for(lock, stop, kHandRests, [this] { return question_.has_value(); })) continue;
        if (stop.stop_requested()) break;
        question.coarse = false;
        answer(lock, question);
    }
}

} // namespace leafwright
