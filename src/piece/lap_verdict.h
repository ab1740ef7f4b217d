// Whether a leaf laps as its row's rule asks.
#pragma once

#include "piece/plan.h"

namespace leafwright {

enum class LapVerdict {
    good,
    on_top,     // no later leaf lies on it
    alone,      // it touches no other leaf at all
    too_little, // later leaves cover less than the row's least lap
    too_much,   // more than its most lap, or less shows than the rule asks for
};

LapVerdict lap_verdict(Plan const& plan, int leaf_id);
// "laps well", "on top", "laps no other leaf", "too little lap", "too much lap".
char const* verdict_words(LapVerdict verdict);

} // namespace leafwright
