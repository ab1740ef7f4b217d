// Reads a photograph and traces it in a thread of its own, with progress and cancel.
#pragma once

#include "leaf/trace.h"

#include <atomic>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

namespace leafwright {

class TraceWorker {
public:
    explicit TraceWorker(std::function<void()> wake) : wake_(std::move(wake)) {}
    ~TraceWorker();

    struct Answer {
        std::shared_ptr<Photo const> photo;
        std::optional<PhotoScale> scale; // also when nothing could be traced
        std::optional<Trace> trace;
        MaybeProblem problem;
    };
    // A run that is still going is cancelled first. Without a photo, the file is read.
    void start(std::shared_ptr<Photo const> photo, std::filesystem::path path, TraceOptions options);
    void cancel();
    bool running() const { return task_ != nullptr; }
    double progress() const { return task_ ? task_->progress() : 0; }
    // Once, when it is done. A cancelled run gives its photo alone.
    std::optional<Answer> take();
    // Once, as soon as the file is read: to be looked at while it is traced.
    std::shared_ptr<Photo const> take_photo();

private:
    std::function<void()> wake_;
    std::shared_ptr<Task> task_;
    std::mutex mutex_;
    std::optional<Answer> answer_;
    std::shared_ptr<Photo const> read_;
    struct Run {
        std::atomic<bool> ended = false;
        std::jthread thread;
    };
    std::vector<std::unique_ptr<Run>> runs_; // the last one counts; those before it are cancelled
};

} // namespace leafwright
