// One order turned into dates: each copy and load in turn as early as what was booked before allows. Internal to the
// room.
#pragma once

#include "range/work_days.h"

namespace leafwright {

class Booking {
public:
    static constexpr std::size_t kMostFirings = 10; // of one piece

    Booking(ScheduleJob const& job, std::vector<char> const& works);
    // The day of the end; kHorizon when it lies beyond.
    int run(std::vector<int> const& order);
    std::int64_t sum_of_ends() const { return sum_; }
    Schedule schedule() const; // of the last run, with its chain

private:
    struct Linked { // a step and what it waited for
        ScheduleStep step;
        HeldBy by = HeldBy::start;
        int before = -1; // index of that step, or -1
    };
    struct CopyState {
        CopyDates dates;
        int next_firing = 0;
        int ready = 0; // day from which it may be packed
        int ready_step = -1;
    };

    // Copies of a kind that wait for a load of that firing.
    int& waiting_at(std::size_t kind, int firing) {
        return waiting_[kind * (kMostFirings + 1) + static_cast<std::size_t>(firing)];
    }
    void make(int kind);
    bool load_if_ready(int load);
    void load_now(int load, std::vector<int> const& members);
    void after_unpacking(int copy, int unpacked, int unpack_step);
    int add(ScheduleStep step, HeldBy by, int before);
    // A step of hands on or after `ready`; gives its index. Held by what the day shows.
    int work(StepKind kind, int copy, int load, int ready, int minutes, int before);
    // The step that used up the hands before that day, or -1.
    int busy_before(int day) const;
    int freed_last(HeldBy what, int shape, int day) const;
    void link_wait(int day, int ready, int before, HeldBy& by, int& step) const;

    ScheduleJob const& job_;
    std::vector<char> const& works_;
    int minutes_a_day_;
    Hands hands_;
    std::vector<Stock> formers_;
    Stock places_;
    Stock kiln_;
    std::vector<CopyState> copies_;
    std::vector<Linked> steps_;
    std::vector<int> made_of_kind_;
    std::vector<int> waiting_;
    int done_ = 0;
    std::int64_t sum_ = 0;
};

} // namespace leafwright
