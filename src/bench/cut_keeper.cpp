#include "bench/cut_keeper.h"

namespace leafwright {

CutKeeper::CutKeeper(std::function<void()> wake) : wake_(std::move(wake)) {}

CutKeeper::~CutKeeper() { drop(); }

void CutKeeper::drop() {
    if (task_) task_->cancel();
    if (worker_.joinable()) worker_.join();
    std::lock_guard const lock(mutex_);
    newest_.reset();
    done_ = true;
}

void CutKeeper::start(std::shared_ptr<Plan const> plan, CuttingOptions options) {
    drop();
    asked_ = plan;
    task_ = std::make_shared<Task>();
    {
        std::lock_guard const lock(mutex_);
        done_ = false;
    }
    worker_ = std::jthread([this, task = task_, plan = std::move(plan), options = std::move(options)] {
        auto const keep = [&](std::shared_ptr<CuttingAnswer const> const& answer) {
            {
                std::lock_guard const lock(mutex_);
                newest_ = answer;
            }
            wake_();
        };
        std::shared_ptr<CuttingAnswer const> const last = plan_cutting(plan, options, *task, keep);
        {
            std::lock_guard const lock(mutex_);
            newest_ = last;
            done_ = true;
        }
        wake_();
    });
}

void CutKeeper::stop() {
    if (task_) task_->cancel();
}

bool CutKeeper::running() const {
    std::lock_guard const lock(mutex_);
    return !done_;
}

std::shared_ptr<CuttingAnswer const> CutKeeper::take() {
    std::lock_guard const lock(mutex_);
    return std::exchange(newest_, nullptr);
}

} // namespace leafwright
