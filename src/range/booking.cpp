#include "range/booking.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace leafwright {

Booking::Booking(ScheduleJob const& job, std::vector<char> const& works)
    : job_(job),
      works_(works),
      minutes_a_day_(static_cast<int>(std::lround(60 * job.work.hours_a_day))),
      hands_(works, minutes_a_day_),
      places_(job.drying_places),
      kiln_(1) {}

int Booking::run(std::vector<int> const& order) {
    hands_ = Hands(works_, minutes_a_day_);
    formers_.assign(job_.formers.size(), Stock(0));
    for (std::size_t i = 0; i < formers_.size(); ++i) formers_[i] = Stock(job_.formers[i]);
    places_ = Stock(job_.drying_places);
    kiln_ = Stock(1);
    copies_.clear();
    steps_.clear();
    made_of_kind_.assign(job_.kinds.size(), 0);
    waiting_.assign(job_.kinds.size() * (kMostFirings + 1), 0);
    done_ = 0;
    sum_ = 0;
    std::vector<int> waiting;
    int const kinds = static_cast<int>(job_.kinds.size());
    for (int item : order) {
        if (item < kinds)
            make(item);
        else
            waiting.push_back(item - kinds);
        for (std::size_t i = 0; i < waiting.size();) {
            if (!load_if_ready(waiting[i])) {
                ++i;
                continue;
            }
            waiting.erase(waiting.begin() + static_cast<std::ptrdiff_t>(i));
            i = 0;
        }
    }
    return done_;
}

int Booking::add(ScheduleStep step, HeldBy by, int before) {
    steps_.push_back({step, by, before});
    return static_cast<int>(steps_.size()) - 1;
}

int Booking::busy_before(int day) const {
    for (int d = std::min(day, kHorizon - 1); d >= 0; --d)
        if (hands_.last_step(d) >= 0) return hands_.last_step(d);
    return -1;
}

// A step that could have begun on `ready` begins on `day`: was it other work, or were they days off?
void Booking::link_wait(int day, int ready, int before, HeldBy& by, int& step) const {
    by = before < 0 ? HeldBy::start : HeldBy::step_before;
    step = before;
    if (day <= ready) return;
    bool other_work = false;
    for (int d = ready; d < std::min(day + 1, kHorizon); ++d)
        other_work = other_work || (hands_.works(d) && hands_.booked(d) > 0);
    int const busy = busy_before(day);
    if (!other_work || busy < 0 || steps_[static_cast<std::size_t>(busy)].step.to < ready) {
        by = HeldBy::days_off;
        return;
    }
    by = HeldBy::hands;
    step = busy;
}

int Booking::work(StepKind kind, int copy, int load, int ready, int minutes, int before) {
    int const from = hands_.first_whole(ready, minutes);
    int const to = hands_.end_of(from, minutes);
    HeldBy by = HeldBy::step_before;
    int held = before;
    link_wait(from, ready, before, by, held);
    int const index = add({kind, copy, load, from, to, minutes}, by, held);
    hands_.book(from, minutes, index);
    return index;
}

// The step that last gave back a former of that shape, or a drying place, by that day.
int Booking::freed_last(HeldBy what, int shape, int day) const {
    int found = -1;
    for (std::size_t i = 0; i < steps_.size(); ++i) {
        ScheduleStep const& s = steps_[i].step;
        if (s.kind != (what == HeldBy::former ? StepKind::former_out : StepKind::dry) || s.to > day) continue;
        int const kind = copies_[static_cast<std::size_t>(s.copy)].dates.kind;
        if (what == HeldBy::former && job_.kinds[static_cast<std::size_t>(kind)].shape != shape) continue;
        if (found < 0 || s.to > steps_[static_cast<std::size_t>(found)].step.to) found = static_cast<int>(i);
    }
    return found;
}

void Booking::make(int kind) {
    ScheduleKind const& k = job_.kinds[static_cast<std::size_t>(kind)];
    Stock& formers = formers_[static_cast<std::size_t>(k.shape)];
    int const stiff = std::max(1, k.former_days);
    int from = 0, to = 0, out = 0, out_end = 0;
    HeldBy held = HeldBy::start;
    for (;; ++from) {
        from = hands_.first_free(from, k.make_min);
        to = hands_.end_of(from, k.make_min);
        if (to >= kHorizon) break;
        if (to - from + 1 > job_.work.plastic_days) continue;
        out = hands_.first_whole(to + stiff, k.out_min);
        out_end = hands_.end_of(out, k.out_min);
        if (int const day = formers.last_full(from, out_end); day >= 0) {
            held = HeldBy::former, from = day;
            continue;
        }
        if (places_.last_full(to, to + k.drying_days) < 0) break;
        held = HeldBy::place;
    }
    // The later it begins for the same end, the shorter the former is away.
    for (int later = hands_.first_free(from + 1, k.make_min);
         later <= to && to < kHorizon && hands_.end_of(later, k.make_min) == to;
         later = hands_.first_free(later + 1, k.make_min))
        from = later;
    int before = -1;
    if (held == HeldBy::start) {
        link_wait(from, 0, -1, held, before);
    } else {
        before = freed_last(held, k.shape, held == HeldBy::former ? from : to);
    }
    int const copy = static_cast<int>(copies_.size());
    int const making = add({StepKind::make, copy, -1, from, to, k.make_min}, held, before);
    hands_.book(from, k.make_min, making);
    int const outing = work(StepKind::former_out, copy, -1, std::min(to + stiff, kHorizon), k.out_min, making);
    out_end = steps_[static_cast<std::size_t>(outing)].step.to;
    formers.take(from, out_end);
    places_.take(to, to + k.drying_days);
    int const dry_day = std::min(to + k.drying_days, kHorizon);
    int const drying = add({StepKind::dry, copy, -1, to, dry_day, 0}, HeldBy::step_before, making);
    CopyState state;
    state.dates = {kind, ++made_of_kind_[static_cast<std::size_t>(kind)], from, to, out_end, dry_day, {}, 0};
    // It is packed when it is dry, and not before its former is out.
    state.ready = std::max(dry_day, out_end);
    state.ready_step = dry_day >= out_end ? drying : outing;
    copies_.push_back(std::move(state));
    ++waiting_at(static_cast<std::size_t>(kind), 0);
    if (to >= kHorizon) done_ = kHorizon;
}

bool Booking::load_if_ready(int load) {
    ScheduleLoad const& l = job_.loads[static_cast<std::size_t>(load)];
    for (std::size_t k = 0; k < l.of_kind.size(); ++k)
        if (l.of_kind[k] > waiting_at(k, l.firing)) return false;
    std::vector<int> members;
    for (std::size_t k = 0; k < l.of_kind.size(); ++k) {
        std::vector<int> can;
        for (std::size_t c = 0; c < copies_.size(); ++c)
            if (copies_[c].dates.kind == static_cast<int>(k) && copies_[c].next_firing == l.firing)
                can.push_back(static_cast<int>(c));
        std::ranges::stable_sort(can, {}, [&](int c) { return copies_[static_cast<std::size_t>(c)].ready; });
        members.insert(members.end(), can.begin(), can.begin() + l.of_kind[k]);
    }
    std::ranges::sort(members);
    load_now(load, members);
    return true;
}

void Booking::load_now(int load, std::vector<int> const& members) {
    ScheduleLoad const& l = job_.loads[static_cast<std::size_t>(load)];
    int ready = 0, before = -1;
    for (int c : members) {
        CopyState const& copy = copies_[static_cast<std::size_t>(c)];
        if (before < 0 || copy.ready > ready) ready = copy.ready, before = copy.ready_step;
    }
    int from = ready, to = ready, cold = 0, unpacked = 0, full = -1;
    for (;; ++from) {
        from = hands_.first_whole(from, l.pack_min);
        to = hands_.end_of(from, l.pack_min);
        if (to >= kHorizon) break;
        cold = std::min(to + std::max(1, l.kiln_days), kHorizon);
        unpacked = hands_.end_of(hands_.first_whole(cold, l.unpack_min), l.unpack_min);
        int const day = kiln_.last_full(from, unpacked);
        if (day < 0) break;
        full = from = day;
    }
    for (int later = hands_.first_free(from + 1, l.pack_min);
         later <= to && to < kHorizon && hands_.end_of(later, l.pack_min) == to;
         later = hands_.first_free(later + 1, l.pack_min))
        from = later;
    HeldBy by = HeldBy::step_before;
    int held = before;
    link_wait(from, ready, before, by, held);
    if (full >= 0)
        for (std::size_t i = 0; i < steps_.size(); ++i)
            if (steps_[i].step.kind == StepKind::unpack && steps_[i].step.to == full + 1)
                by = HeldBy::kiln, held = static_cast<int>(i);
    int const packing = add({StepKind::pack, -1, load, from, to, l.pack_min}, by, held);
    hands_.book(from, l.pack_min, packing);
    cold = std::min(to + std::max(1, l.kiln_days), kHorizon);
    int const firing = add({StepKind::fire, -1, load, to, cold, 0}, HeldBy::step_before, packing);
    int const unpacking = work(StepKind::unpack, -1, load, cold, l.unpack_min, firing);
    unpacked = steps_[static_cast<std::size_t>(unpacking)].step.to;
    kiln_.take(from, unpacked);
    for (int c : members) {
        copies_[static_cast<std::size_t>(c)].dates.loads.push_back(load);
        after_unpacking(c, unpacked, unpacking);
    }
}

void Booking::after_unpacking(int c, int unpacked, int unpack_step) {
    CopyState& copy = copies_[static_cast<std::size_t>(c)];
    ScheduleKind const& k = job_.kinds[static_cast<std::size_t>(copy.dates.kind)];
    copy.ready = unpacked;
    copy.ready_step = unpack_step;
    if (copy.next_firing == 0 && k.finish_min > 0) {
        int const finish = work(StepKind::finish, c, -1, unpacked, k.finish_min, unpack_step);
        copy.ready = std::min(steps_[static_cast<std::size_t>(finish)].step.to + 1, kHorizon);
        copy.ready_step = finish;
    }
    --waiting_at(static_cast<std::size_t>(copy.dates.kind), copy.next_firing);
    if (++copy.next_firing < k.firings) {
        ++waiting_at(static_cast<std::size_t>(copy.dates.kind), copy.next_firing);
        return;
    }
    int const hang = work(StepKind::hang, c, -1, copy.ready, k.hang_min, copy.ready_step);
    copy.dates.done = steps_[static_cast<std::size_t>(hang)].step.to;
    done_ = std::max(done_, copy.dates.done);
    sum_ += copy.dates.done;
}

Schedule Booking::schedule() const {
    Schedule s;
    s.done = done_;
    for (CopyState const& copy : copies_) s.copies.push_back(copy.dates);
    std::vector<int> by_day(steps_.size());
    std::iota(by_day.begin(), by_day.end(), 0);
    std::ranges::stable_sort(by_day, {}, [&](int i) { return steps_[static_cast<std::size_t>(i)].step.from; });
    std::vector<int> place(steps_.size());
    for (std::size_t i = 0; i < by_day.size(); ++i) {
        place[static_cast<std::size_t>(by_day[i])] = static_cast<int>(i);
        s.steps.push_back(steps_[static_cast<std::size_t>(by_day[i])].step);
    }
    for (int day = 0; day <= std::min(done_, kHorizon - 1); ++day) s.hand_minutes.push_back(hands_.booked(day));
    int last = -1;
    for (std::size_t i = 0; i < steps_.size(); ++i)
        if (steps_[i].step.kind == StepKind::hang && steps_[i].step.to == done_ && last < 0) last = static_cast<int>(i);
    for (int i = last; i >= 0; i = steps_[static_cast<std::size_t>(i)].before)
        s.chain.push_back({steps_[static_cast<std::size_t>(i)].by, place[static_cast<std::size_t>(i)]});
    std::ranges::reverse(s.chain);
    return s;
}

} // namespace leafwright
