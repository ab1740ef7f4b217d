#include "bench/second_keeper.h"

#include <utility>

namespace leafwright {

namespace {

// While a slider is dragged the plans come faster than answers; every third one is finished all the same.
constexpr int kMostBrokenOff = 2;

} // namespace

SecondHalfKeeper::SecondHalfKeeper(std::function<void()> wake)
    : wake_(std::move(wake)), worker_([this](std::stop_token const& stop) { work(stop); }) {}

SecondHalfKeeper::~SecondHalfKeeper() {
    worker_.request_stop();
    std::lock_guard const lock(mutex_);
    if (task_) task_->cancel();
}

void SecondHalfKeeper::ask(std::shared_ptr<Plan const> plan) {
    {
        std::lock_guard const lock(mutex_);
        question_ = std::move(plan);
        if (task_ && broken_off_ < kMostBrokenOff) {
            task_->cancel();
            ++broken_off_;
        }
    }
    asked_.notify_one();
}

std::shared_ptr<SecondHalf const> SecondHalfKeeper::take() {
    std::lock_guard const lock(mutex_);
    return std::exchange(reply_, nullptr);
}

bool SecondHalfKeeper::busy() const {
    std::lock_guard const lock(mutex_);
    return question_ || task_;
}

void SecondHalfKeeper::work(std::stop_token const& stop) {
    std::unique_lock lock(mutex_);
    while (asked_.wait(lock, stop, [this] { return question_ != nullptr; }) && !stop.stop_requested()) {
        std::shared_ptr<Plan const> const question = std::exchange(question_, nullptr);
        auto const task = std::make_shared<Task>();
        task_ = task;
        lock.unlock();
        std::shared_ptr<SecondHalf const> answer = planner_.plan(question, *task);
        lock.lock();
        task_ = nullptr;
        if (!answer || stop.stop_requested()) continue;
        reply_ = std::move(answer);
        broken_off_ = 0;
        lock.unlock();
        wake_();
        lock.lock();
    }
}

} // namespace leafwright
