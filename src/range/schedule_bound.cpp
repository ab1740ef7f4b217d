#include "range/schedule_bound.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

// The way of one copy through an empty calendar: what comes earlier there comes earlier in every plan.
class Alone {
public:
    Alone(ScheduleJob const& job, std::vector<char> const& works)
        : job_(job), hands_(works, static_cast<int>(std::lround(60 * job.work.hours_a_day))) {}

    int work_end(int from, int minutes) const { return hands_.end_of(hands_.first_free(from, minutes), minutes); }
    int made(int from, ScheduleKind const& k) const {
        for (;; ++from) {
            from = hands_.first_free(from, k.make_min);
            int const to = hands_.end_of(from, k.make_min);
            if (to >= kHorizon || to - from + 1 <= job_.work.plastic_days) return to;
        }
    }
    int out(int made_day, ScheduleKind const& k) const {
        return work_end(std::min(made_day + std::max(1, k.former_days), kHorizon), k.out_min);
    }
    int ready(int made_day, ScheduleKind const& k) const {
        return std::max(out(made_day, k), std::min(made_day + k.drying_days, kHorizon));
    }
    // From the end of making to the wall, in the quickest load that it belongs to.
    int done(int made_day, std::size_t kind) const {
        ScheduleKind const& k = job_.kinds[kind];
        int day = ready(made_day, k);
        for (int firing = 0; firing < k.firings; ++firing) {
            int best = kHorizon;
            for (ScheduleLoad const& load : job_.loads) {
                if (load.firing != firing || load.of_kind[kind] == 0) continue;
                int const packed = work_end(day, load.pack_min);
                int const cold = std::min(packed + std::max(1, load.kiln_days), kHorizon);
                best = std::min(best, work_end(cold, load.unpack_min));
            }
            day = best;
            if (firing == 0 && k.finish_min > 0) day = std::min(work_end(day, k.finish_min) + 1, kHorizon);
        }
        return work_end(day, k.hang_min);
    }
    int first_done(int made_day) const {
        int best = kHorizon;
        for (std::size_t k = 0; k < job_.kinds.size(); ++k)
            if (job_.kinds[k].copies > 0) best = std::min(best, done(made_day, k));
        return best;
    }

    int by_one_copy(std::string& whose) const {
        int most = 0;
        for (std::size_t k = 0; k < job_.kinds.size(); ++k) {
            if (job_.kinds[k].copies == 0) continue;
            int const day = done(made(0, job_.kinds[k]), k);
            if (day > most) most = day, whose = job_.kinds[k].name;
        }
        return most;
    }
    int by_hands() const {
        int minutes = 0;
        for (ScheduleKind const& k : job_.kinds) minutes += k.copies * k.make_min;
        return first_done(hands_.end_of(0, minutes));
    }
    // When the last load is packed all work is done but its unpacking, hanging, and the finish of what is fired once.
    int by_all_work() const {
        int before = 0, hang = 1 << 30, unpack_most = 0, unpack_least = 1 << 30, kiln = 1 << 30;
        for (ScheduleKind const& k : job_.kinds) {
            if (k.copies == 0) continue;
            before += k.copies * (k.make_min + k.out_min + (k.firings > 1 ? k.finish_min : 0));
            hang = std::min(hang, k.hang_min);
        }
        for (ScheduleLoad const& load : job_.loads) {
            before += load.pack_min + load.unpack_min;
            unpack_most = std::max(unpack_most, load.unpack_min);
            unpack_least = std::min(unpack_least, load.unpack_min);
            kiln = std::min(kiln, std::max(1, load.kiln_days));
        }
        if (job_.loads.empty()) return 0;
        int const packed = hands_.end_of(0, before - unpack_most);
        return work_end(work_end(std::min(packed + kiln, kHorizon), unpack_least), hang);
    }
    // Of so many copies on so many formers one former must take the rounded-up share, one after another.
    int by_formers(std::size_t shape) const {
        int copies = 0;
        for (ScheduleKind const& k : job_.kinds)
            if (static_cast<std::size_t>(k.shape) == shape) copies += k.copies;
        int const turns = (copies + job_.formers[shape] - 1) / job_.formers[shape];
        int free = 0, end = 0;
        for (int turn = 0; turn < turns; ++turn) {
            int next = kHorizon;
            end = kHorizon;
            for (std::size_t k = 0; k < job_.kinds.size(); ++k) {
                ScheduleKind const& kind = job_.kinds[k];
                if (static_cast<std::size_t>(kind.shape) != shape || kind.copies == 0) continue;
                int const made_day = made(free, kind);
                next = std::min(next, out(made_day, kind));
                end = std::min(end, done(made_day, k));
            }
            free = next;
        }
        return end;
    }
    int by_places() const {
        int copies = 0, least_days = kHorizon, made_day = kHorizon;
        for (ScheduleKind const& k : job_.kinds) {
            if (k.copies == 0) continue;
            copies += k.copies;
            least_days = std::min(least_days, k.drying_days);
            made_day = std::min(made_day, made(0, k));
        }
        int const turns = (copies + job_.drying_places - 1) / job_.drying_places;
        for (int turn = 1; turn < turns; ++turn) made_day = std::min(made_day + least_days, kHorizon);
        return first_done(made_day);
    }
    // The kiln's last load is some pieces' last firing; before it all others have been in.
    int by_kiln() const {
        int first = kHorizon, hang = 1 << 30;
        for (ScheduleKind const& k : job_.kinds) {
            if (k.copies == 0) continue;
            first = std::min(first, ready(made(0, k), k));
            hang = std::min(hang, k.hang_min);
        }
        int day = first;
        for (ScheduleLoad const& load : job_.loads) day = std::min(day + std::max(1, load.kiln_days), kHorizon);
        return job_.loads.empty() ? 0 : work_end(day, hang);
    }

private:
    ScheduleJob const& job_;
    Hands hands_;
};

} // namespace

ScheduleBound least_days(ScheduleJob const& job, std::vector<char> const& works) {
    Alone const alone(job, works);
    ScheduleBound bound;
    std::string whose;
    auto const raise = [&](int day, std::string by) {
        if (day > bound.least) bound = {day, std::move(by)};
    };
    int const one = alone.by_one_copy(whose);
    raise(one, fmt::format("{} alone takes so long", whose));
    raise(alone.by_hands(),
          "one pair of hands needs so long for all the making, and the last piece has still to dry and be fired");
    raise(alone.by_all_work(), "one pair of hands needs so long for all the work before the last load");
    for (std::size_t shape = 0; shape < job.formers.size(); ++shape)
        raise(alone.by_formers(shape), "pieces of one shape wait for each other's former");
    raise(alone.by_places(), "there are so few drying places");
    raise(alone.by_kiln(), "the loads go through the kiln one after another");
    return bound;
}

} // namespace leafwright
