#include "base/random.h"
#include "near.h"
#include "range/schedule.h"
#include "schedule_jobs.h"

#include <map>

using namespace leafwright;
using namespace leafwright::sample;

TEST_CASE("one piece alone: its days one after another") {
    // Monday 2027-01-11, 6 h a day: 9 h of making end on Tuesday (1); dry after 10 days (11, a Friday); packed then,
    // the kiln cold after 2 days, on Sunday (13), unpacked on Monday (14); finished then; packed from the next day
    // (15), cold on 17, unpacked and hung then.
    ScheduleJob job = job_of({kind(1, 9 * 60)}, weekdays());
    job.kinds[0].drying_days = 10;
    job.kinds[0].former_days = 3;
    job.kinds[0].finish_min = 60;
    job.kinds[0].hang_min = 30;
    job.loads = {load(0, {1}, 60, 2, 30), load(1, {1}, 60, 2, 30)};
    Outcome<Schedule> const s = plan_schedule(job);
    REQUIRE(s.ok());
    CopyDates const& copy = s->copies.at(0);
    CHECK(copy.make_from == 0);
    CHECK(copy.make_to == 1);
    CHECK(copy.former_out == 4);
    CHECK(copy.bone_dry == 11);
    CHECK(copy.done == 17);
    CHECK(s->done == 17);
    CHECK(s->least == 17);
    CHECK(iso_date(s->day(s->done, job.start)) == "2027-01-28");
}

TEST_CASE("a piece that would lie over the weekend for too long is begun on Monday") {
    // From Friday, 12 h of work at 6 h a day end on Monday: four calendar days.
    ScheduleJob job = job_of({kind(1, 12 * 60)}, weekdays());
    job.start = *day_from_text("2027-01-15"); // a Friday
    job.kinds[0].drying_days = 1;
    job.loads = {load(0, {1}), load(1, {1})};
    job.work.plastic_days = 4;
    Outcome<Schedule> const allowed = plan_schedule(job);
    REQUIRE(allowed.ok());
    CHECK(allowed->copies[0].make_from == 0);
    CHECK(allowed->copies[0].make_to == 3);
    job.work.plastic_days = 3;
    Outcome<Schedule> const later = plan_schedule(job);
    REQUIRE(later.ok());
    CHECK(later->copies[0].make_from == 3);
    CHECK(later->copies[0].make_to == 4);
    job.work.plastic_days = 1;
    Outcome<Schedule> const never = plan_schedule(job);
    REQUIRE(!never.ok());
    CHECK(never.problem().code == "work.hands");
    CHECK(never.problem().kind == ProblemKind::refusal);
}

TEST_CASE("pieces on one former follow each other by the days that it is taken up") {
    // Every day is worked; a piece takes one day, its former is out s days later and used again that day: piece n is
    // made on day n s. The last, number 5, on 4 s; then drying, one load of all, one more.
    for (int stiff : {1, 2, 5}) {
        ScheduleJob job = job_of({kind(5, 360)}, every_day());
        job.kinds[0].former_days = stiff;
        job.kinds[0].drying_days = 9;
        job.loads = {load(0, {5}), load(1, {5})};
        Outcome<Schedule> const s = plan_schedule(job);
        REQUIRE(s.ok());
        CHECK(s->done == 4 * stiff + 9 + 2 + 2);
        CHECK(s->least == s->done);
        job.formers = {2}; // piece n begins when the one before last is off its former, a day apart at least
        Outcome<Schedule> const two = plan_schedule(job);
        REQUIRE(two.ok());
        int const last = stiff == 1 ? 4 : 2 * stiff; // pieces 0, 2, 4 on one of them
        CHECK(two->done == last + 9 + 2 + 2);
    }
}

TEST_CASE("few drying places make pieces wait") {
    // Two places, 10 days each: pieces 0 and 1 on days 0 and 1, 2 and 3 ten days later, 4 ten days after that.
    ScheduleJob job = job_of({kind(5, 360)}, every_day());
    job.kinds[0].drying_days = 10;
    job.formers = {5};
    job.drying_places = 2;
    job.loads = {load(0, {5}), load(1, {5})};
    Outcome<Schedule> const s = plan_schedule(job);
    REQUIRE(s.ok());
    CHECK(s->done == 20 + 10 + 2 + 2);
    CHECK(s->least == s->done);
    CHECK(s->days_by[1] > 20); // drying
}

TEST_CASE("where hands are short the bound counts all their work") {
    // Ten pieces of a whole day each, half a day each to take off the former on the first day that it can be, dry at
    // once, loads of 12 h and 6 h packing. The bound: 15 days of work and 3 of packing end on day 17, counted from 0;
    // then two days in the kiln.
    ScheduleJob job = job_of({kind(10, 360)}, every_day());
    job.kinds[0].out_min = 180;
    job.formers = {10};
    job.loads = {load(0, {10}, 720), load(1, {10}, 360)};
    Outcome<Schedule> const s = plan_schedule(job);
    REQUIRE(s.ok());
    CHECK(s->least == 17 + 2);
    // From the second piece on two pieces take three days, half a day for each former among them: the tenth is made on
    // day 14, off its former on 15; packed on 15, 16 and half of 17, cold on 19; packed then, cold on 21.
    CHECK(s->done == 21);
}

TEST_CASE("every day is told once, also where a making begins before the place that it waits for is free") {
    // Two days each, one place: the second is made while the first still dries, and is done when it leaves the place.
    ScheduleJob job = job_of({kind(2, 720)}, every_day());
    job.kinds[0].drying_days = 5;
    job.formers = {2};
    job.drying_places = 1;
    job.loads = {load(0, {2}), load(1, {2})};
    Outcome<Schedule> const s = plan_schedule(job);
    REQUIRE(s.ok());
    CHECK(s->copies[1].make_from == 5);
    CHECK(s->copies[1].make_to == 6); // the first was made on day 1 and dries until 6
    CHECK(s->done == 6 + 5 + 2 + 2);
    CHECK(s->days_by[0] + s->days_by[1] + s->days_by[2] + s->days_by[3] + s->days_by[4] == s->done + 1);
}

TEST_CASE("one kiln takes loads one after another") {
    // Six pieces in six loads each way of 3 days: dry on days 2 to 7; the kiln is busy from 2 on without a gap: 12
    // loads.
    ScheduleJob job = job_of({kind(6, 360)}, every_day());
    job.kinds[0].drying_days = 2;
    job.formers = {6};
    for (int i = 0; i < 6; ++i) job.loads.push_back(load(0, {1}, 0, 3));
    for (int i = 0; i < 6; ++i) job.loads.push_back(load(1, {1}, 0, 3));
    Outcome<Schedule> const s = plan_schedule(job);
    REQUIRE(s.ok());
    CHECK(s->done == 2 + 12 * 3);
    CHECK(s->least == s->done);
    CHECK(s->days_by[2] > 30); // kiln
}

TEST_CASE("work that fits into a day is done in one go") {
    // Made on Monday for 5 of 6 h; the former is off on the next day, which a second piece of 5 h has taken up but for
    // an hour: two hours wait until Wednesday.
    ScheduleJob job = job_of({kind(2, 5 * 60)}, every_day());
    job.kinds[0].out_min = 120;
    job.kinds[0].drying_days = 9;
    job.formers = {2};
    job.loads = {load(0, {2}), load(1, {2})};
    Outcome<Schedule> const s = schedule_of(job, {0, 0, 1, 2});
    REQUIRE(s.ok());
    for (ScheduleStep const& step : s->steps)
        if (step.kind == StepKind::former_out) CHECK(step.from == step.to);
    CHECK(faults_of(job, *s) == std::vector<std::string>{});
}

TEST_CASE("days away are not worked, drying goes on") {
    ScheduleJob job = job_of({kind(1, 360)}, weekdays());
    job.kinds[0].drying_days = 5;
    job.kinds[0].former_days = 1;
    job.loads = {load(0, {1}, 60, 2, 30), load(1, {1}, 60, 2, 30)};
    job.work.away = {{*day_from_text("2027-01-12"), *day_from_text("2027-01-22")}};
    Outcome<Schedule> const s = plan_schedule(job);
    REQUIRE(s.ok());
    CHECK(s->copies[0].bone_dry == 5);
    for (ScheduleStep const& step : s->steps)
        if (step.kind == StepKind::pack && step.load == s->copies[0].loads[0])
            CHECK(step.from == 14); // Monday the 25th
    CHECK(s->days_by[4] > 0);
}

TEST_CASE("the latest start is as many days before the due date as the work takes") {
    ScheduleJob job = job_of({kind(5, 360)}, every_day());
    job.kinds[0].former_days = 2;
    job.kinds[0].drying_days = 9;
    job.loads = {load(0, {5}), load(1, {5})};
    Day const due = *day_from_text("2027-06-01");
    Outcome<LatestStart> const latest = latest_start(job, due);
    REQUIRE(latest.ok());
    CHECK((due - latest->start).count() == 4 * 2 + 9 + 4);
    CHECK(latest->never_after == latest->start);
    CHECK(latest->done == due);
}

TEST_CASE("on random jobs nothing is overbooked, the bound holds, and the chain runs from the start to the end") {
    for (std::uint64_t seed = 0; seed < 150; ++seed) {
        ScheduleJob const job = random_job(seed);
        ScheduleOptions options;
        options.most_orders = 60;
        options.seed = seed;
        Outcome<Schedule> const s = plan_schedule(job, options);
        REQUIRE(s.ok());
        INFO("seed ", seed);
        CHECK(faults_of(job, *s) == std::vector<std::string>{});
        CHECK(s->least <= s->done);
        Outcome<Schedule> const again = plan_schedule(job, options);
        REQUIRE(again.ok());
        CHECK(again->done == s->done);
        CHECK(again->steps.size() == s->steps.size());
        REQUIRE(!s->chain.empty());
        ScheduleStep const& first = s->steps[static_cast<std::size_t>(s->chain.front().step)];
        CHECK((s->chain.front().by == HeldBy::start || s->chain.front().by == HeldBy::days_off));
        CHECK(first.kind == StepKind::make);
        CHECK(s->steps[static_cast<std::size_t>(s->chain.back().step)].to == s->done);
        int days = 0;
        for (int d : s->days_by) days += d;
        CHECK(days == s->done + 1);
    }
}
