#include "range/work_days.h"

#include <algorithm>

namespace leafwright {

std::vector<char> working_days(Day start, WorkSpec const& work, int count) {
    std::vector<char> works(static_cast<std::size_t>(count), 0);
    unsigned const first = std::chrono::weekday{start}.iso_encoding() - 1;
    for (std::size_t i = 0; i < works.size(); ++i) works[i] = work.days[(first + i) % 7] ? 1 : 0;
    for (AwaySpec const& away : work.away) {
        auto const from = std::clamp<std::int64_t>((away.from - start).count(), 0, count);
        auto const to = std::clamp<std::int64_t>((away.to - start).count() + 1, 0, count);
        std::fill(works.begin() + from, works.begin() + std::max(from, to), 0);
    }
    return works;
}

Hands::Hands(std::vector<char> const& works, int minutes_a_day)
    : works_(&works), minutes_a_day_(minutes_a_day), left_(works.size()), step_(works.size(), -1) {
    for (std::size_t i = 0; i < works.size(); ++i) left_[i] = works[i] ? minutes_a_day : 0;
}

int Hands::end_of(int from, int minutes) const {
    if (minutes <= 0) return from;
    for (int day = from; day < kHorizon; ++day)
        if ((minutes -= left(day)) <= 0) return day;
    return kHorizon;
}

int Hands::first_free(int from, int minutes) const {
    if (minutes <= 0) return from;
    while (from < kHorizon && left(from) == 0) ++from;
    return from;
}

int Hands::first_whole(int from, int minutes) const {
    if (minutes <= 0 || minutes > minutes_a_day_) return first_free(from, minutes);
    while (from < kHorizon && left(from) < minutes) ++from;
    return from;
}

void Hands::book(int from, int minutes, int step) {
    for (int day = from; day < kHorizon && minutes > 0; ++day) {
        int const here = std::min(minutes, left(day));
        if (here == 0) continue;
        left_[static_cast<std::size_t>(day)] -= here;
        step_[static_cast<std::size_t>(day)] = step;
        minutes -= here;
    }
}

int Stock::last_full(int from, int to) const {
    for (int day = std::min(to, kHorizon) - 1; day >= from; --day)
        if (taken_[static_cast<std::size_t>(day)] >= count_) return day;
    return -1;
}

void Stock::take(int from, int to) {
    for (int day = from; day < std::min(to, kHorizon); ++day) ++taken_[static_cast<std::size_t>(day)];
}

} // namespace leafwright
