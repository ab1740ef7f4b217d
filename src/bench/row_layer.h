// Lays rows on a snapshot of the piece in a thread of its own, with progress and cancel.
#pragma once

#include "piece/planner.h"

#include <functional>
#include <mutex>
#include <thread>

namespace leafwright {

class RowLayer {
public:
    explicit RowLayer(std::function<void()> wake);
    ~RowLayer();

    // Lays the rows of this piece. A run that is still going is cancelled first.
    void start(Piece piece);
    bool running() const { return task_ != nullptr; }
    double progress() const { return task_ ? task_->progress() : 0; }
    void cancel();

    struct Result {
        Piece asked; // the snapshot
        Outcome<LaidRows> rows;
    };
    // Once, when it is done. A cancelled run gives nothing.
    std::optional<Result> take();

private:
    std::function<void()> wake_;
    std::shared_ptr<Task> task_;
    std::mutex mutex_;
    std::optional<Result> result_;
    std::jthread worker_;
};

} // namespace leafwright
