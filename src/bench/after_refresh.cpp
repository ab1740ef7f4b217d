// Drying to hanging kept up to date: the answer of the worker, and the day that the maker looks at.
#include "bench/desk.h"
#include "piece/moisture_map.h"

#include <algorithm>

namespace leafwright {
namespace {

constexpr double kDaysPerSecond = 1.5; // while the drying plays
constexpr double kDayStep = 1.0 / 12;  // a map is made for every two hours at most

} // namespace

bool refresh_second(Desk& desk) {
    BenchState& state = desk.state;
    if (state.plan && !state.plan->coarse && state.plan != desk.asked_second) {
        desk.asked_second = state.plan;
        desk.seconds.ask(state.plan);
    }
    auto answer = desk.seconds.take();
    bool const changed = answer != nullptr;
    if (changed) state.second = std::move(answer);
    state.second_is_old = desk.seconds.busy() || (state.second && state.second->plan != state.plan);
    return changed;
}

bool refresh_day(Desk& desk) {
    AfterUi& after = desk.ui.after;
    DryingAnswer const* const drying = desk.state.second ? desk.state.second->drying.get() : nullptr;
    if (desk.ui.stage != MakingStage::dry || !drying || drying->moments.empty()) {
        after.plays = false;
        after.map = nullptr;
        after.map_of = nullptr;
        return false;
    }
    double const last = drying->moments.back().hour / 24;
    if (after.plays) {
        after.day += kDaysPerSecond * std::clamp(desk.ui.now_s - after.played_s, 0.0, 0.2);
        after.plays = after.day < last;
    }
    after.played_s = desk.ui.now_s;
    if (after.day < 0) after.day = drying->worst_spread_day; // what there is to see most
    after.day = std::clamp(after.day, 0.0, last);
    if (!after.water_shown) {
        after.map = nullptr;
        after.map_of = nullptr;
    } else if (after.map_of != drying || std::abs(after.map_day - after.day) >= kDayStep ||
               (!after.plays && after.map_day != after.day)) {
        after.map = std::make_shared<ShownMap const>(moisture_map(*desk.state.second, 24 * after.day));
        after.map_of = drying;
        after.map_day = after.day;
    }
    return after.plays;
}

} // namespace leafwright
