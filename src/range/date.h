// Dates of the proleptic Gregorian calendar and week dates, by ISO 8601: weeks begin on Monday, week 1 holds the year's
// first Thursday.
#pragma once

#include "base/outcome.h"

#include <chrono>
#include <string>
#include <string_view>

namespace leafwright {

using Day = std::chrono::sys_days;

// Years that a range may lie in.
inline constexpr int kFirstYear = 1900;
inline constexpr int kLastYear = 2199;

// "2027-01-11", "20270111", "2027-W02-1", "2027W021". Problem "date" (where is left empty) for anything else, for days
// that the calendar does not have, and for years outside the two above.
Outcome<Day> day_from_text(std::string_view text);

struct IsoWeek {
    int year = 0; // of the week, which at the turn of the year is not always the day's
    int week = 0; // 1 to 53
    int day = 0;  // 1 Monday to 7 Sunday
    bool operator==(IsoWeek const&) const = default;
};
IsoWeek iso_week(Day day);
int weeks_in_year(int year); // 52 or 53
// The week and day must be within the year's.
Day day_of(IsoWeek const& week);

std::string iso_date(Day day);      // "2027-01-11"
std::string iso_week_date(Day day); // "2027-W02-1"
std::string spoken_date(Day day);   // "Mon 11 Jan 2027"
std::string short_date(Day day);    // "11 Jan"

} // namespace leafwright
