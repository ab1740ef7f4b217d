// The hands' days: minutes free by day, booked as they are given away. Internal to the room.
#pragma once

#include "range/schedule.h"

namespace leafwright {

inline constexpr int kHorizon = 3000; // days that are looked at

// Which days are worked, from the start on.
std::vector<char> working_days(Day start, WorkSpec const& work, int count);

class Hands {
public:
    Hands(std::vector<char> const& works, int minutes_a_day);
    bool works(int day) const { return (*works_)[static_cast<std::size_t>(day)] != 0; }
    int left(int day) const { return left_[static_cast<std::size_t>(day)]; }
    // The last day of that much work begun on `from`; kHorizon when it never ends. No minutes: the day itself.
    int end_of(int from, int minutes) const;
    // The first day on or after `from` with time left; `from` itself when no minutes are asked for.
    int first_free(int from, int minutes) const;
    // The same, but work that fits into a day waits for a day that has so much left: it is done in one go.
    int first_whole(int from, int minutes) const;
    void book(int from, int minutes, int step);
    int booked(int day) const { return minutes_a_day_ * (*works_)[static_cast<std::size_t>(day)] - left(day); }
    int last_step(int day) const { return step_[static_cast<std::size_t>(day)]; } // that was booked there, or -1

private:
    std::vector<char> const* works_;
    int minutes_a_day_;
    std::vector<int> left_;
    std::vector<int> step_;
};

// Things that are taken up for a span of days, so many at once.
class Stock {
public:
    Stock(int count) : count_(count), taken_(static_cast<std::size_t>(kHorizon) + 1, 0) {}
    // Last day within [from, to) on which none is free, or -1.
    int last_full(int from, int to) const;
    void take(int from, int to);

private:
    int count_;
    std::vector<int> taken_;
};

} // namespace leafwright
