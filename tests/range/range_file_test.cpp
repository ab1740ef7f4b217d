#include "base/random.h"
#include "near.h"
#include "range/range_file.h"

#include <array>

using namespace leafwright;

namespace {

std::string file(std::string const& members, std::string const& pieces = R"([{"file": "demo:hare"}])") {
    return R"({"leafwright": "range", "version": 1, "start": "2027-01-11", "pieces": )" + pieces +
           (members.empty() ? "" : ", " + members) + "}";
}

Problem fault(std::string const& text) {
    Outcome<RangeSpec> const read = range_from_json(text);
    REQUIRE_MESSAGE(!read.ok(), text);
    return read.problem();
}

RangeSpec random_range(std::uint64_t seed) {
    Random random(seed);
    RangeSpec spec;
    spec.name = "Rängé \"" + std::to_string(seed) + "\"\n";
    spec.seed = 18446744073709551615ULL - seed;
    Day const base = *day_from_text("2027-01-11");
    auto const day = [&] { return base + std::chrono::days{static_cast<int>(random.below(900))}; };
    spec.start = base;
    if (random.below(2)) spec.due = day();
    spec.work.hours_a_day = random.between(0.5, 16);
    for (bool& d : spec.work.days) d = random.below(2) == 0;
    spec.work.days[random.below(7)] = true;
    for (std::uint32_t i = random.below(4); i > 0; --i) {
        Day const from = day();
        spec.work.away.push_back({from, from + std::chrono::days{static_cast<int>(random.below(20))}});
    }
    spec.work.plastic_days = 1 + static_cast<int>(random.below(14));
    for (std::uint32_t i = 1 + random.below(5); i > 0; --i)
        spec.pieces.push_back({"a b/" + std::to_string(i) + ".piece.json", 1 + static_cast<int>(random.below(9)),
                               random.below(2) ? "Lábel" : ""});
    spec.formers = 1 + static_cast<int>(random.below(50));
    spec.drying_places = 1 + static_cast<int>(random.below(200));
    spec.bag_kg = random.between(0.5, 1000);
    spec.presses_per_leaf = 1 + static_cast<int>(random.below(50));
    if (random.below(2)) {
        KilnSpec kiln;
        kiln.shape = random.below(2) ? KilnShape::round : KilnShape::box;
        kiln.width_mm = random.between(100, 3000);
        kiln.cooling = {{1.0 / 3, 900.1}, {7, 300}};
        spec.kiln = kiln;
    }
    spec.shelves.post_gap_mm = random.between(0, 100);
    spec.shelves.mix_schedules = random.below(2) == 0;
    if (random.below(2)) {
        CostSpec cost;
        cost.currency = "EUR";
        cost.hour_rate = random.between(1, 100);
        spec.cost = cost;
    }
    return spec;
}

} // namespace

TEST_CASE("a range written and read is the same range") {
    for (std::uint64_t seed = 0; seed < 200; ++seed) {
        RangeSpec const spec = random_range(seed);
        std::string const text = range_to_json(spec);
        Outcome<RangeSpec> const read = range_from_json(text);
        REQUIRE_MESSAGE(read.ok(), (read.ok() ? "" : read.problem().sentence()));
        CHECK(*read == spec);
        CHECK(range_to_json(*read) == text);
    }
}

TEST_CASE("what is left out takes its default; week dates are read") {
    Outcome<RangeSpec> const read = range_from_json(
        R"({"leafwright": "range", "version": 1, "start": "2027-W02-1", "pieces": [{"file": "x.piece.json"}]})");
    REQUIRE(read.ok());
    CHECK(iso_date(read->start) == "2027-01-11");
    CHECK(read->pieces[0].copies == 1);
    CHECK(!read->due);
    CHECK(!read->kiln);
    CHECK(!read->cost);
    CHECK(read->work == WorkSpec{});
    CHECK(read->shelves == ShelfSpec{});
}

TEST_CASE("shelves alone leave the pieces their own kiln; any key of a kiln makes one for all") {
    Outcome<RangeSpec> const shelves = range_from_json(file(R"("kiln": {"post_gap_mm": 20})"));
    REQUIRE(shelves.ok());
    CHECK(!shelves->kiln);
    CHECK(shelves->shelves.post_gap_mm == 20);
    Outcome<RangeSpec> const kiln = range_from_json(file(R"("kiln": {"shape": "round", "shelf_thickness_mm": 20})"));
    REQUIRE(kiln.ok());
    REQUIRE(kiln->kiln);
    CHECK(kiln->kiln->shape == KilnShape::round);
    CHECK(kiln->shelves.shelf_thickness_mm == 20);
}

TEST_CASE("faults name the key by its path, the value and the range") {
    struct Case {
        std::string text;
        std::string code;
        std::string where;
        std::string words; // within what or hint
    };
    std::vector<Case> const cases = {
        {"", "syntax", "", "empty"},
        {"[1]", "type", "", "a list"},
        {R"({"leafwright": "piece", "version": 1})", "not-a-range", "leafwright", "\"piece\""},
        {R"({"leafwright": "range"})", "missing", "version", "missing"},
        {R"({"leafwright": "range", "version": 2})", "version", "version", "version 1"},
        {R"({"leafwright": "range", "version": 1, "pieces": []})", "missing", "start", "missing"},
        {file("", "[]"), "range", "pieces", "no piece"},
        {file("", "[{}]"), "missing", "pieces[0].file", "missing"},
        {file("", R"([{"file": ""}])"), "range", "pieces[0].file", "empty"},
        {file("", R"([{"file": "a", "copies": 0}])"), "range", "pieces[0].copies", "1 to 100"},
        {file("", R"([{"file": "a", "copies": 1.5}])"), "type", "pieces[0].copies", "whole number"},
        {file("", R"([{"file": "a", "copies": 100}, {"file": "b", "copies": 100}, {"file": "c"}])"), "too-many",
         "pieces", "201"},
        {file("", R"([{"file": "a", "copis": 2}])"), "key.unknown", "pieces[0].copis", "copies"},
        {file(R"("formers": 0)"), "range", "formers", "1 to 50"},
        {file(R"("formers": "1")"), "type", "formers", "a text"},
        {file(R"("bag_kg": 0)"), "range", "bag_kg", "0.5 to 1000"},
        {file(R"("due": "2027-01-10")"), "due.order", "due", "before the start"},
        {file(R"("due": "2027-02-29")"), "date", "due", "2027-02-29"},
        {file(R"("due": 20270301)"), "type", "due", "date"},
        {file(R"("start": "2027-01-12")"), "key.twice", "start", "twice"},
        {file(R"("work": {"days": ["mon", "mo"]})"), "word", "work.days[1]", "mon"},
        {file(R"("work": {"days": ["mon", "mon"]})"), "day.twice", "work.days[1]", "twice"},
        {file(R"("work": {"days": []})"), "range", "work.days", "no day"},
        {file(R"("work": {"hours_a_day": 30})"), "range", "work.hours_a_day", "0.5 to 16"},
        {file(R"("work": {"away": [{"from": "2027-02-02", "to": "2027-02-01"}]})"), "away.order", "work.away[0].to",
         "before"},
        {file(R"("work": {"away": [{"from": "2027-02-02"}]})"), "missing", "work.away[0].to", "missing"},
        {file(R"("kiln": {"widht_mm": 500})"), "key.unknown", "kiln.widht_mm", "width_mm"},
        {file(R"("kiln": {"width_mm": 5})"), "range", "kiln.width_mm", "100 to 3000"},
        {file(R"("kiln": {"shape": "oval"})"), "word", "kiln.shape", "box, round"},
        {file(R"("kiln": {"mix_schedules": 1})"), "type", "kiln.mix_schedules", "true or false"},
        {file(R"("cost": {"hour_rate": -1})"), "range", "cost.hour_rate", "0 to"},
        {file(R"("cost": {"currency": "far too long"})"), "range", "cost.currency", "8"},
        {file(R"("dew": 1)"), "key.unknown", "dew", "due"},
        {file(R"("seed": -1)"), "range", "seed", "0 to"},
        {file(R"("name": 5)"), "type", "name", "a text"}};
    for (Case const& c : cases) {
        Problem const p = fault(c.text);
        INFO(c.text, " gave ", p.code, ": ", p.sentence());
        CHECK(p.code == c.code);
        CHECK(p.where == c.where);
        CHECK((p.what + p.hint).find(c.words) != std::string::npos);
        CHECK(p.kind == ProblemKind::input);
    }
}

TEST_CASE("the demo range is in order, and an unknown one names those that there are") {
    REQUIRE(demo_range_names() == std::vector<std::string>{"gatehouse"});
    Outcome<RangeSpec> const gatehouse = demo_range("gatehouse");
    REQUIRE(gatehouse.ok());
    CHECK(gatehouse->pieces.size() == 3);
    Outcome<RangeSpec> const none = demo_range("gate");
    REQUIRE(!none.ok());
    CHECK(none.problem().hint.find("gatehouse") != std::string::npos);
}
