#include "bench/row_layer.h"

namespace leafwright {

RowLayer::RowLayer(std::function<void()> wake) : wake_(std::move(wake)) {}

RowLayer::~RowLayer() { cancel(); }

void RowLayer::start(Piece piece) {
    cancel();
    task_ = std::make_shared<Task>();
    worker_ = std::jthread([this, task = task_, asked = std::move(piece)] {
        auto rows = lay_piece(asked, *task);
        if (task->cancelled()) return;
        {
            std::lock_guard const lock(mutex_);
            result_ = Result{asked, std::move(rows)};
        }
        wake_();
    });
}

void RowLayer::cancel() {
    if (task_) task_->cancel();
    if (worker_.joinable()) worker_.join();
    task_.reset();
    result_.reset();
}

std::optional<RowLayer::Result> RowLayer::take() {
    std::optional<Result> result;
    {
        std::lock_guard const lock(mutex_);
        result = std::exchange(result_, std::nullopt);
    }
    if (result) cancel();
    return result;
}

} // namespace leafwright
