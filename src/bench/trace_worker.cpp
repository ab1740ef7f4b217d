#include "bench/trace_worker.h"

#include "piece/piece_json.h"

namespace leafwright {
namespace {

TraceWorker::Answer answer_of(std::shared_ptr<Photo const> photo, std::filesystem::path const& path,
                              TraceOptions const& options, Task& task,
                              std::function<void(std::shared_ptr<Photo const>)> const& is_read) {
    TraceWorker::Answer answer;
    if (!photo) {
        auto const bytes = read_file(path);
        if (!bytes) {
            answer.problem = bytes.problem();
            return answer;
        }
        auto read = read_photo(*bytes);
        if (!read) {
            answer.problem = read.problem();
            return answer;
        }
        photo = std::make_shared<Photo const>(std::move(*read));
        is_read(photo);
    }
    answer.photo = photo;
    if (task.cancelled()) return answer;
    auto trace = trace_photo(*photo, options, task);
    if (trace) {
        answer.scale = trace->scale;
        answer.trace = std::move(*trace);
        return answer;
    }
    answer.problem = trace.problem();
    if (task.cancelled() || trace.problem().code == "trace.paper") return answer;
    if (auto const scale = photo_scale(*photo, options.scale)) answer.scale = *scale;
    return answer;
}

} // namespace

TraceWorker::~TraceWorker() { cancel(); }

void TraceWorker::cancel() {
    if (task_) task_->cancel();
}

void TraceWorker::start(std::shared_ptr<Photo const> photo, std::filesystem::path path, TraceOptions options) {
    cancel();
    std::lock_guard const lock(mutex_);
    // A run that is cancelled ends by itself; the window does not wait for it.
    std::erase_if(runs_, [](auto const& run) { return run->ended.load(); });
    answer_.reset();
    read_.reset();
    task_ = std::make_shared<Task>();
    auto run = std::make_unique<Run>();
    run->thread = std::jthread([this, ended = &run->ended, task = task_, photo = std::move(photo),
                                path = std::move(path), options = std::move(options)] {
        Answer answer = answer_of(photo, path, options, *task, [&](std::shared_ptr<Photo const> read) {
            {
                std::lock_guard const held(mutex_);
                if (task == task_) read_ = std::move(read);
            }
            wake_();
        });
        {
            std::lock_guard const held(mutex_);
            if (task == task_) answer_ = std::move(answer);
        }
        wake_();
        *ended = true;
    });
    runs_.push_back(std::move(run));
}

std::shared_ptr<Photo const> TraceWorker::take_photo() {
    std::lock_guard const lock(mutex_);
    return std::exchange(read_, nullptr);
}

std::optional<TraceWorker::Answer> TraceWorker::take() {
    std::lock_guard const lock(mutex_);
    if (!answer_) return std::nullopt;
    task_.reset();
    return std::exchange(answer_, std::nullopt);
}

} // namespace leafwright
