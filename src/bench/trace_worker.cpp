#include "bench/trace_worker.h"

#include "piece/piece_json.h"

namespace leafwright {
namespace {

TraceWorker::Answer answer_of(std::shared_ptr<Photo const> photo, std::filesystem::path const& path,
                              TraceOptions const& options, Task& task) {
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
    if (worker_.joinable()) worker_.join();
    answer_.reset();
    task_ = std::make_shared<Task>();
    worker_ = std::jthread(
        [this, task = task_, photo = std::move(photo), path = std::move(path), options = std::move(options)] {
            Answer answer = answer_of(photo, path, options, *task);
            {
                std::lock_guard const lock(mutex_);
                answer_ = std::move(answer);
            }
            wake_();
        });
}

std::optional<TraceWorker::Answer> TraceWorker::take() {
    std::lock_guard const lock(mutex_);
    if (!answer_) return std::nullopt;
    task_.reset();
    return std::exchange(answer_, std::nullopt);
}

} // namespace leafwright
