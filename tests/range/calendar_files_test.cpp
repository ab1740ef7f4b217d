#include "near.h"
#include "range_sample.h"

#include <algorithm>

using namespace leafwright;

namespace {

RangePlan planned() {
    RangeSpec spec = sample::small_range({2, 1});
    spec.pieces[0].label = "Häsin, die mit den sehr, sehr langen Ohren; und einem \"Mond\" über dem Feld \\ im Süden";
    spec.due = *day_from_text("2027-06-01");
    Task task;
    Outcome<RangePlan> plan = plan_range(spec, {sample::small_piece(150), sample::small_piece(160)}, task);
    REQUIRE(plan.ok());
    return std::move(*plan);
}

std::vector<std::string> lines_of(std::string const& text) {
    std::vector<std::string> lines;
    for (std::size_t from = 0; from < text.size();) {
        std::size_t const end = text.find("\r\n", from);
        REQUIRE(end != std::string::npos); // RFC 5545 and RFC 4180: every line ends so
        lines.push_back(text.substr(from, end - from));
        CHECK(lines.back().find_first_of("\r\n") == std::string::npos);
        from = end + 2;
    }
    return lines;
}

bool is_utf8(std::string const& line) {
    for (std::size_t i = 0; i < line.size();) {
        auto const c = static_cast<unsigned char>(line[i]);
        std::size_t const more = c < 0x80 ? 0 : c >> 5 == 6 ? 1 : c >> 4 == 14 ? 2 : c >> 3 == 30 ? 3 : 9;
        if (more == 9 || i + more >= line.size()) return false;
        for (std::size_t k = 1; k <= more; ++k)
            if ((static_cast<unsigned char>(line[i + k]) & 0xC0) != 0x80) return false;
        i += more + 1;
    }
    return true;
}

// RFC 5545, 3.1: a line end and a space after it are taken out.
std::vector<std::string> unfolded(std::vector<std::string> const& lines) {
    std::vector<std::string> whole;
    for (std::string const& line : lines) {
        if (!line.empty() && line[0] == ' ' && !whole.empty())
            whole.back() += line.substr(1);
        else
            whole.push_back(line);
    }
    return whole;
}

std::string unescaped(std::string const& text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\\' && i + 1 < text.size()) {
            ++i;
            out += text[i] == 'n' ? '\n' : text[i];
        } else {
            CHECK(text[i] != ';');
            CHECK(text[i] != ',');
            out += text[i];
        }
    }
    return out;
}

// RFC 4180.
std::vector<std::string> cells_of(std::string const& line) {
    std::vector<std::string> cells(1);
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (quoted && line[i] == '"' && i + 1 < line.size() && line[i + 1] == '"')
            cells.back() += line[++i];
        else if (line[i] == '"')
            quoted = !quoted;
        else if (line[i] == ',' && !quoted)
            cells.emplace_back();
        else
            cells.back() += line[i];
    }
    return cells;
}

} // namespace

TEST_CASE("the calendar keeps to RFC 5545: line ends, folding, escapes, all-day events") {
    RangePlan const plan = planned();
    std::string const text = calendar_ics(plan);
    std::vector<std::string> const lines = lines_of(text);
    bool folded = false;
    for (std::string const& line : lines) {
        CHECK(line.size() <= 75);
        CHECK(is_utf8(line));
        folded = folded || line[0] == ' ';
    }
    CHECK(folded);
    std::vector<std::string> const whole = unfolded(lines);
    CHECK(whole.front() == "BEGIN:VCALENDAR");
    CHECK(whole[1] == "VERSION:2.0");
    CHECK(whole[2].starts_with("PRODID:"));
    CHECK(whole.back() == "END:VCALENDAR");
    CHECK(std::ranges::count(whole, "BEGIN:VEVENT") == std::ranges::count(whole, "END:VEVENT"));
    CHECK(std::ranges::count(whole, "BEGIN:VEVENT") == std::ssize(plan.schedule.steps) + 1); // and the due day
    std::vector<std::string> uids, summaries;
    std::string from, after;
    for (std::string const& line : whole) {
        if (line.starts_with("UID:")) uids.push_back(line);
        if (line.starts_with("SUMMARY:")) summaries.push_back(unescaped(line.substr(8)));
        if (line.starts_with("DTSTART;VALUE=DATE:")) from = line.substr(19);
        if (line.starts_with("DTEND;VALUE=DATE:")) after = line.substr(17);
        if (line == "END:VEVENT") {
            REQUIRE(day_from_text(from).ok());
            REQUIRE(day_from_text(after).ok());
            CHECK(*day_from_text(from) < *day_from_text(after)); // the end does not belong to it
        }
    }
    CHECK(std::ranges::count(whole, "DTSTAMP:20270111T000000Z") == std::ssize(uids));
    std::ranges::sort(uids);
    CHECK(std::ranges::adjacent_find(uids) == uids.end());
    CHECK(std::ranges::count(summaries, "Make " + plan.entries[0].name + " 1") == 1);
    CHECK(std::ranges::count(summaries, plan.spec.name + " is due") == 1);
    CHECK(calendar_ics(plan) == text);
}

TEST_CASE("the table keeps to RFC 4180, a line each step, dates in order") {
    RangePlan const plan = planned();
    std::vector<std::string> const lines = lines_of(calendar_csv(plan));
    REQUIRE(lines.size() == plan.schedule.steps.size() + 1);
    CHECK(lines[0] == "from,to,week,step,piece,load,hours");
    std::string before;
    bool seen = false;
    double hours = 0, asked = 0;
    for (ScheduleStep const& step : plan.schedule.steps) asked += step.minutes / 60.0;
    for (std::size_t i = 1; i < lines.size(); ++i) {
        std::vector<std::string> const cells = cells_of(lines[i]);
        REQUIRE(cells.size() == 7);
        CHECK(cells[0] >= before);
        CHECK(cells[1] >= cells[0]);
        REQUIRE(day_from_text(cells[2]).ok());
        CHECK(iso_date(*day_from_text(cells[2])) == cells[0]);
        before = cells[0];
        seen = seen || cells[4] == plan.entries[0].name + " 2";
        if (!cells[6].empty()) hours += std::stod(cells[6]);
    }
    CHECK(seen);
    CHECK_NEAR(hours, asked, 0.005 * static_cast<double>(lines.size()));
}
