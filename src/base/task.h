// Long work: progress that can be read, and a cancel that can be asked for, from any thread.
#pragma once

#include <atomic>

namespace leafwright {

class Task {
public:
    // The worker tells how far it is, 0 to 1. It never goes back.
    void progress(double share) {
        double seen = progress_.load(std::memory_order_relaxed);
        while (share > seen && !progress_.compare_exchange_weak(seen, share, std::memory_order_relaxed)) {}
    }
    double progress() const { return progress_.load(std::memory_order_relaxed); }

    // Sticky. The worker asks cancelled() at least every 50 ms and then gives up without half a result.
    void cancel() { cancelled_.store(true, std::memory_order_relaxed); }
    bool cancelled() const { return cancelled_.load(std::memory_order_relaxed); }

private:
    std::atomic<double> progress_{0};
    std::atomic<bool> cancelled_{false};
};

} // namespace leafwright
