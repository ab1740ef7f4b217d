// The calendar as CSV (RFC 4180) and as iCalendar (RFC 5545).
#include "range/range_plan.h"

#include <fmt/format.h>

namespace leafwright {

namespace {

std::string quoted_cell(std::string const& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string cell = "\"";
    for (char c : text) cell += c == '"' ? std::string("\"\"") : std::string(1, c);
    return cell + '"';
}

// RFC 5545, 3.3.11: backslash, semicolon, comma and line ends are escaped; other control characters do not stand.
std::string escaped(std::string const& text) {
    std::string out;
    for (char c : text) {
        if (c == '\n') {
            out += "\\n";
            continue;
        }
        if (static_cast<unsigned char>(c) < 32 || c == 127) continue;
        if (c == '\\' || c == ';' || c == ',') out += '\\';
        out += c;
    }
    return out;
}

// RFC 5545, 3.1: at most 75 octets a line without its end, the next begins with a space; no character is cut.
std::string folded(std::string const& line) {
    constexpr std::size_t kMost = 75;
    std::string out;
    std::size_t from = 0, room = kMost;
    while (line.size() - from > room) {
        std::size_t to = from + room;
        while (to > from + 1 && (static_cast<unsigned char>(line[to]) & 0xC0) == 0x80) --to;
        out.append(line, from, to - from).append("\r\n ");
        from = to;
        room = kMost - 1; // the space counts
    }
    return out.append(line, from).append("\r\n");
}

std::string basic_date(Day day) {
    std::string date = iso_date(day);
    std::erase(date, '-');
    return date;
}

struct Event {
    std::string words;
    std::string more;
    Day from;
    Day after; // the first day that no longer belongs to it
};

std::string event_text(Event const& event, std::string const& range, std::size_t number, Day start) {
    std::string text = folded("BEGIN:VEVENT");
    text += folded(fmt::format("UID:{}-{}-{}@leafwright", basic_date(start), number + 1, basic_date(event.from)));
    text += folded(fmt::format("DTSTAMP:{}T000000Z", basic_date(start))); // of the plan, not of the clock
    text += folded("DTSTART;VALUE=DATE:" + basic_date(event.from));
    text += folded("DTEND;VALUE=DATE:" + basic_date(event.after));
    text += folded("SUMMARY:" + escaped(event.words));
    text += folded("DESCRIPTION:" + escaped(event.more.empty() ? range : event.more + "\n" + range));
    text += folded("TRANSP:TRANSPARENT");
    return text + folded("END:VEVENT");
}

std::string hours_words(int minutes) { return minutes > 0 ? fmt::format("{:.1f} h by hand", minutes / 60.0) : ""; }

std::string members_words(RangePlan const& plan, int load) {
    std::string words;
    for (std::size_t c = 0; c < plan.schedule.copies.size(); ++c)
        for (int l : plan.schedule.copies[c].loads)
            if (l == load) words += (words.empty() ? "" : ", ") + copy_name(plan, static_cast<int>(c));
    return words;
}

Event event_of(RangePlan const& plan, ScheduleStep const& step) {
    std::chrono::days const one{1};
    Event event{step_words(plan, step), hours_words(step.minutes), plan.schedule.day(step.from, plan.job.start),
                plan.schedule.day(step.to, plan.job.start) + one};
    if (step.kind == StepKind::dry) { // the day that matters is its last
        event.words = copy_name(plan, step.copy) + " should be bone dry";
        event.more = "Weigh it: it is dry when it loses no more from day to day.";
        event.from = event.after - one;
    }
    if (step.kind == StepKind::fire)
        event.more = "Do not open it while it is hot. In it: " + members_words(plan, step.load);
    if (step.kind == StepKind::pack) event.more += (event.more.empty() ? "" : "\n") + members_words(plan, step.load);
    return event;
}

} // namespace

std::string calendar_csv(RangePlan const& plan) {
    std::string text = "from,to,week,step,piece,load,hours\r\n";
    for (ScheduleStep const& step : plan.schedule.steps) {
        Day const from = plan.schedule.day(step.from, plan.job.start);
        text += fmt::format("{},{},{},{},{},{},{}\r\n", iso_date(from),
                            iso_date(plan.schedule.day(step.to, plan.job.start)), iso_week_date(from),
                            step_name(step.kind), quoted_cell(step.copy >= 0 ? copy_name(plan, step.copy) : ""),
                            step.load >= 0 ? std::to_string(step.load + 1) : "",
                            step.minutes > 0 ? fmt::format("{:.2f}", step.minutes / 60.0) : "");
    }
    return text;
}

std::string calendar_ics(RangePlan const& plan) {
    std::string text = folded("BEGIN:VCALENDAR") + folded("VERSION:2.0") +
                       folded("PRODID:-//Leafwright//Range " LEAFWRIGHT_VERSION "//EN") + folded("CALSCALE:GREGORIAN");
    std::size_t number = 0;
    for (ScheduleStep const& step : plan.schedule.steps)
        text += event_text(event_of(plan, step), plan.spec.name, number++, plan.job.start);
    if (plan.spec.due)
        text += event_text({plan.spec.name + " is due", "", *plan.spec.due, *plan.spec.due + std::chrono::days{1}},
                           plan.spec.name, number++, plan.job.start);
    return text + folded("END:VCALENDAR");
}

} // namespace leafwright
