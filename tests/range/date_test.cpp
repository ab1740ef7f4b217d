#include "near.h"
#include "range/date.h"

using namespace leafwright;
using std::chrono::days;

namespace {

Day day(std::string_view text) {
    Outcome<Day> const read = day_from_text(text);
    REQUIRE_MESSAGE(read.ok(), std::string(text));
    return *read;
}

// Days since 1 March of year 0 by the rule of leap years alone: every 4th, not every 100th, but every 400th.
long long counted(int y, int m, int d) {
    constexpr int kBefore[] = {0, 31, 61, 92, 122, 153, 184, 214, 245, 275, 306, 337}; // March first
    if (m < 3) --y, m += 12;
    return 365LL * y + y / 4 - y / 100 + y / 400 + kBefore[m - 3] + d;
}

} // namespace

// checks.md X1.
TEST_CASE("fourteen days over the end of February, in a leap year and not") {
    CHECK(iso_date(day("2024-02-28") + days{14}) == "2024-03-13");
    CHECK(iso_date(day("2023-02-28") + days{14}) == "2023-03-14");
}

// checks.md X1, and examples of ISO 8601 and of calendars in print: 2008-12-29 is 2009-W01-1, 2010-01-03 is 2009-W53-7,
// 2005-01-01 is 2004-W53-6, 1977-01-01 is 1976-W53-6.
TEST_CASE("days at the turn of the year belong to the week of their Thursday") {
    for (auto const& [calendar, week] :
         {std::pair{"2021-01-01", "2020-W53-5"}, std::pair{"2024-01-01", "2024-W01-1"},
          std::pair{"2008-12-29", "2009-W01-1"}, std::pair{"2010-01-03", "2009-W53-7"},
          std::pair{"2005-01-01", "2004-W53-6"}, std::pair{"1977-01-01", "1976-W53-6"},
          std::pair{"2027-01-11", "2027-W02-1"}, std::pair{"2000-02-29", "2000-W09-2"}}) {
        CHECK(iso_week_date(day(calendar)) == week);
        CHECK(iso_date(day(week)) == calendar);
    }
    CHECK(day("20270111") == day("2027-01-11"));
    CHECK(day("2027W021") == day("2027-01-11"));
}

// In 400 years there are 71 years of 53 weeks: 20871 weeks = 400 x 52 + 71.
TEST_CASE("seventy-one of four hundred years have 53 weeks") {
    int longer = 0;
    for (int year = 2000; year < 2400; ++year) longer += weeks_in_year(year) == 53;
    CHECK(longer == 71);
    CHECK(weeks_in_year(2020) == 53);
    CHECK(weeks_in_year(2026) == 53); // 1 January 2026 is a Thursday
    CHECK(weeks_in_year(2027) == 52);
}

TEST_CASE("every day of three centuries is read back, and follows the one before") {
    Day const first = day("1900-01-01");
    IsoWeek before{};
    for (Day d = first; d <= day("2199-12-31"); d += days{1}) {
        std::string const text = iso_date(d);
        REQUIRE(day(text) == d);
        long long const number =
            counted(std::stoi(text.substr(0, 4)), std::stoi(text.substr(5, 2)), std::stoi(text.substr(8)));
        REQUIRE(number - counted(1900, 1, 1) == (d - first).count());
        IsoWeek const week = iso_week(d);
        REQUIRE(day_of(week) == d);
        if (d > first) {
            bool const next_day = week.day == before.day + 1 && week.week == before.week && week.year == before.year;
            bool const next_week = before.day == 7 && week.day == 1 &&
                                   ((week.week == before.week + 1 && week.year == before.year) ||
                                    (week.week == 1 && week.year == before.year + 1 && before.week >= 52));
            REQUIRE((next_day || next_week));
        }
        before = week;
    }
}

TEST_CASE("what is no day is refused with what to write instead") {
    for (char const* text :
         {"2023-02-29",  "2100-02-29",       "2027-04-31", "2027-00-01", "2027-13-01", "2027-01-00", "2021-W53-1",
          "2027-W00-1",  "2027-W01-0",       "2027-W01-8", "2027-1-1",   "11.01.2027", "2027/01/11", "",
          "2027-01-11 ", "2027-01-11T00:00", "1899-12-31", "2200-01-01", "2027-W0-11", "-027-01-11", "２027-01-11"}) {
        Outcome<Day> const read = day_from_text(text);
        CHECK_MESSAGE(!read.ok(), text);
        if (!read.ok()) {
            CHECK(read.problem().code == "date");
            CHECK(read.problem().hint.find("2027-01-11") != std::string::npos);
        }
    }
}

TEST_CASE("dates in words") {
    CHECK(spoken_date(day("2027-01-11")) == "Mon 11 Jan 2027");
    CHECK(spoken_date(day("2024-02-29")) == "Thu 29 Feb 2024");
    CHECK(short_date(day("2027-12-01")) == "1 Dec");
}
