// Every key of a range file, once; see piece/fields.h. Visitors have day, optional_day, weekdays, optional_object and
// kiln (one object for the kiln and how it is filled) besides.
#pragma once

#include "piece/fields.h"
#include "range/range_spec.h"

namespace leafwright {

inline constexpr std::array<std::string_view, 7> kDayWords = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};

template <class V, Either<AwaySpec> S> void fields(V& v, S& s) {
    v.day("from", s.from);
    v.day("to", s.to);
}

template <class V, Either<WorkSpec> S> void fields(V& v, S& s) {
    v.number("hours_a_day", s.hours_a_day, Range{0.5, 16});
    v.weekdays("days", s.days);
    v.list("away", s.away, kMostAway);
    v.whole("plastic_days", s.plastic_days, Range{1, 14});
}

template <class V, Either<RangePieceSpec> S> void fields(V& v, S& s) {
    v.text("file", s.file, 1000, Need::required);
    v.whole("copies", s.copies, Range{1, 100});
    v.text("label", s.label, 120, Need::optional);
}

template <class V, Either<ShelfSpec> S> void fields(V& v, S& s) {
    v.number("shelf_thickness_mm", s.shelf_thickness_mm, Range{5, 60});
    v.number("post_gap_mm", s.post_gap_mm, Range{0, 100});
    v.number("piece_gap_mm", s.piece_gap_mm, Range{0, 100});
    v.number("top_play_degC", s.top_play_degC, Range{0, 100});
    v.number("hours_play", s.hours_play, Range{0, 48});
    v.flag("mix_schedules", s.mix_schedules);
}

template <class V, Either<RangeSpec> S> void fields(V& v, S& s) {
    v.text("name", s.name, 200, Need::optional);
    v.seed("seed", s.seed);
    v.day("start", s.start);
    v.optional_day("due", s.due);
    v.object("work", s.work);
    v.list("pieces", s.pieces, kMostRangePieces);
    v.whole("formers", s.formers, Range{1, 50});
    v.whole("drying_places", s.drying_places, Range{1, 200});
    v.number("bag_kg", s.bag_kg, Range{0.5, 1000});
    v.whole("presses_per_leaf", s.presses_per_leaf, Range{1, 50});
    v.kiln("kiln", s.kiln, s.shelves);
    v.optional_object("cost", s.cost);
}

} // namespace leafwright
