// Jobs for the tests of the calendar, and what breaks the rules in an answer, looked up day by day.
#pragma once

#include "base/random.h"
#include "range/schedule.h"

#include <map>
#include <string>

namespace leafwright::sample {

inline WorkSpec every_day() {
    WorkSpec work;
    work.days.fill(true);
    return work;
}
inline WorkSpec weekdays() { return {}; }

inline ScheduleKind kind(int copies, int make_min, int shape = 0) {
    ScheduleKind k;
    k.name = "piece";
    k.copies = copies;
    k.make_min = make_min;
    k.shape = shape;
    k.former_days = 1;
    k.drying_days = 1;
    return k;
}

inline ScheduleLoad load(int firing, std::vector<int> of_kind, int pack_min = 0, int kiln_days = 2,
                         int unpack_min = 0) {
    return {firing, std::move(of_kind), pack_min, kiln_days, unpack_min};
}

inline ScheduleJob job_of(std::vector<ScheduleKind> kinds, WorkSpec work) {
    ScheduleJob job;
    job.start = *day_from_text("2027-01-11"); // a Monday
    job.work = std::move(work);
    job.kinds = std::move(kinds);
    job.formers = {1};
    job.drying_places = 100;
    return job;
}

inline ScheduleJob random_job(std::uint64_t seed) {
    Random random(seed + 1000);
    auto const below = [&](std::uint32_t n) { return static_cast<int>(random.below(n)); };
    ScheduleJob job = job_of({}, random.below(2) ? weekdays() : every_day());
    job.work.hours_a_day = 4 + below(5);
    if (random.below(2))
        job.work.away = {{job.start + std::chrono::days{below(20)}, job.start + std::chrono::days{25}}};
    int const kinds = 1 + below(4);
    job.formers.clear();
    for (int k = 0; k < kinds; ++k) {
        int const copies = 1 + below(4); // one by one: compilers differ in the order of arguments
        ScheduleKind made = kind(copies, 60 + below(700), k);
        made.former_days = 1 + below(6);
        made.out_min = below(90);
        made.drying_days = 1 + below(20);
        made.finish_min = below(120);
        made.hang_min = below(60);
        made.firings = 1 + below(3);
        job.kinds.push_back(made);
        job.formers.push_back(1 + below(2));
    }
    job.drying_places = 1 + below(5);
    // Copies one by one into loads of at most three.
    for (int firing = 0; firing < 3; ++firing) {
        int room = 0;
        for (std::size_t k = 0; k < job.kinds.size(); ++k)
            for (int c = 0; firing < job.kinds[k].firings && c < job.kinds[k].copies; ++c) {
                if (room == 0) {
                    job.loads.push_back(ScheduleLoad{firing, std::vector<int>(job.kinds.size(), 0), below(120),
                                                     1 + below(4), below(60)});
                    room = 1 + below(3);
                }
                ++job.loads.back().of_kind[k];
                --room;
            }
    }
    return job;
}

// Sentences; empty when the schedule keeps to the job.
inline std::vector<std::string> faults_of(ScheduleJob const& job, Schedule const& s) {
    std::vector<std::string> faults;
    auto const tell = [&](bool good, std::string words) {
        if (!good) faults.push_back(std::move(words));
    };
    // What each day's hands are asked for at least: steps within a day count there, longer ones over their days.
    for (std::size_t day = 0; day < s.hand_minutes.size(); ++day) {
        Day const date = s.day(static_cast<int>(day), job.start);
        bool works = job.work.days[std::chrono::weekday{date}.iso_encoding() - 1];
        for (AwaySpec const& away : job.work.away) works = works && !(date >= away.from && date <= away.to);
        tell(s.hand_minutes[day] <= (works ? static_cast<int>(60 * job.work.hours_a_day + 0.5) : 0),
             "hands overbooked");
    }
    long long booked = 0, asked = 0;
    for (int minutes : s.hand_minutes) booked += minutes;
    for (ScheduleStep const& step : s.steps) {
        asked += step.minutes;
        long long within = 0;
        for (int day = step.from; day <= step.to; ++day) within += s.hand_minutes[static_cast<std::size_t>(day)];
        tell(step.minutes <= within, "a step has too little time in its days");
    }
    tell(booked == asked, "hands are booked for another time than the steps ask");
    std::map<int, int> kiln, places;
    std::map<std::pair<int, int>, int> formers;
    std::map<int, ScheduleStep> packed, fired, unpacked;
    for (ScheduleStep const& step : s.steps) {
        if (step.kind == StepKind::pack) packed[step.load] = step;
        if (step.kind == StepKind::fire) fired[step.load] = step;
        if (step.kind == StepKind::unpack) unpacked[step.load] = step;
    }
    for (std::size_t l = 0; l < job.loads.size(); ++l) {
        int const load = static_cast<int>(l);
        tell(packed.contains(load) && unpacked.contains(load), "a load is missing");
        tell(unpacked[load].from >= packed[load].to + std::max(1, job.loads[l].kiln_days), "opened while hot");
        for (int day = packed[load].from; day < unpacked[load].to; ++day)
            tell(++kiln[day] <= 1, "two loads in the kiln");
    }
    std::vector<std::vector<int>> in_load(job.loads.size(), std::vector<int>(job.kinds.size(), 0));
    std::vector<int> made(job.kinds.size(), 0);
    for (std::size_t c = 0; c < s.copies.size(); ++c) {
        CopyDates const& copy = s.copies[c];
        ScheduleKind const& k = job.kinds[static_cast<std::size_t>(copy.kind)];
        ++made[static_cast<std::size_t>(copy.kind)];
        tell(copy.make_to - copy.make_from + 1 <= job.work.plastic_days, "lies plastic for too long");
        tell(copy.former_out >= copy.make_to + std::max(1, k.former_days), "off its former too soon");
        tell(copy.bone_dry >= copy.make_to + k.drying_days, "dry too soon");
        for (int day = copy.make_from; day < copy.former_out; ++day)
            tell(++formers[{k.shape, day}] <= job.formers[static_cast<std::size_t>(k.shape)], "too few formers");
        for (int day = copy.make_to; day < copy.make_to + k.drying_days; ++day)
            tell(++places[day] <= job.drying_places, "too few drying places");
        tell(static_cast<int>(copy.loads.size()) == k.firings, "not fired as often as asked");
        int ready = copy.bone_dry;
        for (std::size_t f = 0; f < copy.loads.size(); ++f) {
            int const load = copy.loads[f];
            tell(job.loads[static_cast<std::size_t>(load)].firing == static_cast<int>(f),
                 "in a load of another firing");
            tell(packed[load].from >= ready, "packed before it was ready");
            ++in_load[static_cast<std::size_t>(load)][static_cast<std::size_t>(copy.kind)];
            ready = unpacked[load].to;
            for (ScheduleStep const& step : s.steps)
                if (f == 0 && step.kind == StepKind::finish && step.copy == static_cast<int>(c)) {
                    tell(step.from >= ready, "finished before it came out");
                    ready = step.to + 1;
                }
        }
        tell(copy.done >= ready && copy.done <= s.done, "hung too soon or after the end");
    }
    for (std::size_t l = 0; l < job.loads.size(); ++l) tell(in_load[l] == job.loads[l].of_kind, "a load holds others");
    for (std::size_t k = 0; k < job.kinds.size(); ++k) tell(made[k] == job.kinds[k].copies, "copies are missing");
    return faults;
}

} // namespace leafwright::sample
