#include "piece/lap_verdict.h"

#include <algorithm>

namespace leafwright {

namespace {

constexpr double kTouch_mm2 = 1.0;

RowRule rule_of(RowRules const& rows, int row) {
    RowRule found;
    for (RowRule const& rule : rows.rules)
        if (rule.row <= row || &rule == &rows.rules.front()) found = rule;
    return found;
}

} // namespace

LapVerdict lap_verdict(Plan const& plan, int leaf_id) {
    OverlapOfLeaf const* const figures = plan.overlap_of(leaf_id);
    auto const leaf = std::ranges::find(plan.piece.leaves, leaf_id, &LeafPlacement::id);
    if (figures == nullptr || leaf == plan.piece.leaves.end()) return LapVerdict::good;
    bool under = false;
    bool over = false;
    for (OverlapPair const& pair : plan.leaves.overlap.pairs) {
        if (pair.area_mm2 < kTouch_mm2) continue;
        under = under || pair.lower == leaf_id;
        over = over || pair.upper == leaf_id;
    }
    if (!under) return over ? LapVerdict::on_top : LapVerdict::alone;
    RowRule const rule = rule_of(plan.piece.rows, leaf->row);
    if (figures->lap > std::min(rule.most_lap, 1.0 - rule.least_exposed)) return LapVerdict::too_much;
    return figures->lap < rule.least_lap ? LapVerdict::too_little : LapVerdict::good;
}

char const* verdict_words(LapVerdict verdict) {
    switch (verdict) {
    case LapVerdict::good:
        return "laps well";
    case LapVerdict::on_top:
        return "on top";
    case LapVerdict::alone:
        return "laps no other leaf";
    case LapVerdict::too_little:
        return "too little lap";
    case LapVerdict::too_much:
        return "too much lap";
    }
    return "";
}

} // namespace leafwright
