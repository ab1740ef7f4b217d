#include "range/date.h"

#include <array>
#include <fmt/format.h>
#include <optional>

namespace leafwright {

namespace {

using namespace std::chrono;

constexpr std::array<char const*, 12> kMonths = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                 "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
constexpr std::array<char const*, 7> kDays = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};

// What a pattern reads: 'd' stands for a digit that is kept, anything else for itself. The digits, or nothing.
std::optional<std::string> digits_of(std::string_view text, std::string_view pattern) {
    if (text.size() != pattern.size()) return {};
    std::string digits;
    for (std::size_t i = 0; i < text.size(); ++i) {
        bool const is_digit = text[i] >= '0' && text[i] <= '9';
        if (pattern[i] == 'd' ? !is_digit : text[i] != pattern[i]) return {};
        if (pattern[i] == 'd') digits += text[i];
    }
    return digits;
}

int number_of(std::string_view digits) {
    int value = 0;
    for (char c : digits) value = 10 * value + (c - '0');
    return value;
}

Problem no_date(std::string what) {
    return {"date", "", std::move(what), "Write a date as 2027-01-11, or as a week date, 2027-W02-1"};
}

MaybeProblem check_year(int value) {
    if (value >= kFirstYear && value <= kLastYear) return {};
    return no_date(fmt::format("lies in the year {}; the range is {} to {}", value, kFirstYear, kLastYear));
}

Outcome<Day> calendar_day(std::string const& digits) {
    int const y = number_of(digits.substr(0, 4));
    year_month_day const date{year{y}, month{static_cast<unsigned>(number_of(digits.substr(4, 2)))},
                              day{static_cast<unsigned>(number_of(digits.substr(6, 2)))}};
    if (!date.ok()) return no_date("is no day of the calendar");
    if (MaybeProblem const problem = check_year(y)) return *problem;
    return Day{date};
}

Outcome<Day> week_day(std::string const& digits) {
    IsoWeek const week{number_of(digits.substr(0, 4)), number_of(digits.substr(4, 2)), number_of(digits.substr(6, 1))};
    if (MaybeProblem const problem = check_year(week.year)) return *problem;
    if (week.week < 1 || week.week > weeks_in_year(week.year))
        return no_date(
            fmt::format("names week {}; the year {} has {} weeks", week.week, week.year, weeks_in_year(week.year)));
    if (week.day < 1 || week.day > 7) return no_date("names no day of the week: 1 is Monday, 7 is Sunday");
    return day_of(week);
}

// Monday of week 1: the week of 4 January.
Day first_monday(int y) {
    Day const fourth{year{y} / January / 4};
    return fourth - days{weekday{fourth}.iso_encoding() - 1};
}

} // namespace

Outcome<Day> day_from_text(std::string_view text) {
    for (std::string_view pattern : {"dddd-dd-dd", "dddddddd"})
        if (std::optional<std::string> const digits = digits_of(text, pattern)) return calendar_day(*digits);
    for (std::string_view pattern : {"dddd-Wdd-d", "ddddWddd"})
        if (std::optional<std::string> const digits = digits_of(text, pattern)) return week_day(*digits);
    return no_date("is no date");
}

int weeks_in_year(int y) { return static_cast<int>((first_monday(y + 1) - first_monday(y)).count() / 7); }

IsoWeek iso_week(Day date) {
    Day const thursday = date + days{4 - static_cast<int>(weekday{date}.iso_encoding())};
    int const y = static_cast<int>(year_month_day{thursday}.year());
    return {y, static_cast<int>((date - first_monday(y)).count() / 7) + 1,
            static_cast<int>(weekday{date}.iso_encoding())};
}

Day day_of(IsoWeek const& week) { return first_monday(week.year) + days{7 * (week.week - 1) + week.day - 1}; }

std::string iso_date(Day date) {
    year_month_day const d{date};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(d.year()), static_cast<unsigned>(d.month()),
                       static_cast<unsigned>(d.day()));
}

std::string iso_week_date(Day date) {
    IsoWeek const w = iso_week(date);
    return fmt::format("{:04}-W{:02}-{}", w.year, w.week, w.day);
}

std::string short_date(Day date) {
    year_month_day const d{date};
    return fmt::format("{} {}", static_cast<unsigned>(d.day()), kMonths[static_cast<unsigned>(d.month()) - 1]);
}

std::string spoken_date(Day date) {
    return fmt::format("{} {} {}", kDays[weekday{date}.iso_encoding() - 1], short_date(date),
                       static_cast<int>(year_month_day{date}.year()));
}

} // namespace leafwright
