// Kiln loads, shelf by shelf.
#include "sheet/range_page.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr TextStyle kSmall{.size_mm = 3.0};
constexpr TextStyle kTiny{.size_mm = 2.5, .ink = kRangeSoft};
constexpr Ink kShelfInk{0.70, 0.62, 0.52};
constexpr Ink kKilnInk{0.55, 0.48, 0.42};

struct Kiln {
    double across = 0;
    double deep = 0;
    double high = 0; // without the clearance
    double full_height = 0;
    double clear = 0;
    bool round = false;
};

Kiln kiln_of(RangePlan const& plan) {
    KilnSpec const& k = plan.kiln;
    double const lost = 2 * k.clearance_mm;
    bool const round = k.shape == KilnShape::round;
    return {k.width_mm - lost,  (round ? k.width_mm : k.depth_mm) - lost,
            k.height_mm - lost, k.height_mm,
            k.clearance_mm,     round};
}

Ring circle(Vec2 const& middle, double radius) {
    Ring ring;
    for (int i = 0; i < 72; ++i) {
        double const a = 2 * 3.14159265358979 * i / 72;
        ring.push_back(middle + radius * Vec2(std::cos(a), std::sin(a)));
    }
    return ring;
}

// The load's copies by kind, so that each place on a shelf has one of its own.
class Members {
public:
    Members(RangePlan const& plan, int load) : plan_(plan) {
        for (std::size_t c = 0; c < plan.schedule.copies.size(); ++c)
            for (int l : plan.schedule.copies[c].loads)
                if (l == load) left_.push_back(static_cast<int>(c));
    }
    std::string next_name(int kind) {
        for (std::size_t i = 0; i < left_.size(); ++i)
            if (plan_.schedule.copies[static_cast<std::size_t>(left_[i])].kind == kind) {
                int const copy = left_[i];
                left_.erase(left_.begin() + static_cast<std::ptrdiff_t>(i));
                return copy_name(plan_, copy);
            }
        return plan_.entries[static_cast<std::size_t>(kind)].name;
    }

private:
    RangePlan const& plan_;
    std::vector<int> left_;
};

struct Numbered {
    int number = 0;
    ShelfPlace const* place = nullptr;
};

// A shelf from above: the door's side is down.
void shelf_plan(RangeSheet& s, Kiln const& kiln, Vec2 const& corner, double scale,
                std::vector<Numbered> const& places) {
    auto const at = [&](Vec2 const& p) {
        return Vec2(corner.x + scale * (p.x + kiln.clear), corner.y + scale * (kiln.deep + kiln.clear - p.y));
    };
    Vec2 const low = at({-kiln.clear, kiln.deep + kiln.clear}), high = at({kiln.across + kiln.clear, -kiln.clear});
    if (kiln.round) {
        Vec2 const middle = 0.5 * (low + high);
        s.paper.line(circle(middle, 0.5 * (high.x - low.x)), 0.5, kKilnInk, true);
        s.paper.line(circle(middle, 0.5 * (high.x - low.x) - scale * kiln.clear), 0.15, kShelfInk, true, true);
    } else {
        s.paper.line(range_box(low, high), 0.5, kKilnInk, true);
        s.paper.line(range_box(at({0, kiln.deep}), at({kiln.across, 0})), 0.15, kShelfInk, true, true);
    }
    for (Numbered const& n : places) {
        Ring ring;
        for (Vec2 const& p : n.place->outline_mm.outer) ring.push_back(at(p));
        s.paper.fill(ring, kRangeClay);
        s.paper.line(ring, 0.2, kRangeInk, true);
        Vec2 const middle = centroid(ring);
        s.paper.text({middle.x, middle.y + 1.6}, fmt::format("{}", n.number),
                     {.size_mm = 4.6, .weight = Weight::bold, .align = Align::centre});
        if (n.place->standing)
            s.paper.text({middle.x, middle.y + 5}, "standing",
                         {.size_mm = 2.3, .align = Align::centre, .ink = kRangeSoft});
    }
}

// All shelves from the side.
void stack_drawing(RangeSheet& s, Kiln const& kiln, KilnLoad const& load,
                   std::vector<std::vector<Numbered>> const& numbers, Vec2 const& corner, double scale) {
    double const shelf = s.plan.spec.shelves.shelf_thickness_mm;
    auto const at = [&](double x, double up) {
        return Vec2(corner.x + scale * (x + kiln.clear), corner.y + scale * (kiln.full_height - kiln.clear - up));
    };
    s.paper.line(range_box(at(-kiln.clear, kiln.full_height - kiln.clear), at(kiln.across + kiln.clear, -kiln.clear)),
                 0.5, kKilnInk, true);
    for (std::size_t l = 0; l < load.shelves.size(); ++l) {
        KilnShelf const& level = load.shelves[l];
        if (l > 0) {
            s.paper.fill(range_box(at(0, level.base_mm), at(kiln.across, level.base_mm - shelf)), kShelfInk);
            for (double x : {0.02, 0.96}) // posts
                s.paper.fill(range_box(at(x * kiln.across, level.base_mm - shelf),
                                       at((x + 0.02) * kiln.across, load.shelves[l - 1].base_mm)),
                             kKilnInk);
        }
        std::string text;
        for (Numbered const& n : numbers[l]) {
            Box2 const box = bounds(n.place->outline_mm.outer);
            double const high = n.place->standing ? s.plan.entries[static_cast<std::size_t>(n.place->kind)]
                                                        .plan->stages[load.firing == 0 ? 2 : 3]
                                                        .height_mm
                                                  : s.plan.entries[static_cast<std::size_t>(n.place->kind)]
                                                        .plan->stages[load.firing == 0 ? 2 : 3]
                                                        .depth_mm;
            std::vector<Vec2> hump; // lying: a low arch, its foot and height true
            for (int i = 0; i <= 16; ++i) {
                double const t = i / 16.0;
                double const up =
                    n.place->standing ? high : high * std::pow(std::max(0.0, 1 - std::pow(2 * t - 1, 2)), 0.45);
                hump.push_back(at(box.low.x + t * box.size().x, level.base_mm + up));
            }
            hump.push_back(at(box.high.x, level.base_mm));
            hump.push_back(at(box.low.x, level.base_mm));
            s.paper.fill(hump, kRangeClay);
            s.paper.line(hump, 0.2, kRangeInk, true);
            Vec2 const middle = at(box.centre().x, level.base_mm + 0.35 * high);
            s.paper.text({middle.x, middle.y + 1}, fmt::format("{}", n.number),
                         {.size_mm = 3.2, .weight = Weight::bold, .align = Align::centre});
        }
    }
}

void load_part(RangeSheet& s, int number) {
    KilnLoad const& load = s.plan.loads[static_cast<std::size_t>(number)];
    Kiln const kiln = kiln_of(s.plan);
    std::size_t const in_row = 5;
    double const side = (s.width() - 3 * (in_row - 1)) / in_row; // of the kiln's floor on paper
    double const scale = side / std::max({kiln.across + 2 * kiln.clear, kiln.deep + 2 * kiln.clear, kiln.full_height});
    std::size_t const drawings = load.shelves.size() + 1;
    std::size_t const rows = (drawings + in_row - 1) / in_row;
    s.room_for(30 + std::min<double>(2, static_cast<double>(rows)) * (side + 9), "Kiln loads");
    s.heading(fmt::format("Load {}: {} firing", number + 1, load.firing_name));
    Members members(s.plan, number);
    std::vector<std::vector<Numbered>> numbers;
    std::string legend;
    int n = 0;
    for (KilnShelf const& shelf : load.shelves) {
        numbers.emplace_back();
        for (ShelfPlace const& place : shelf.places) {
            numbers.back().push_back({++n, &place});
            legend += fmt::format("{}{} {}", legend.empty() ? "" : ",  ", n, members.next_name(place.kind));
        }
    }
    Schedule const& schedule = s.plan.schedule;
    std::string when;
    for (ScheduleStep const& step : schedule.steps)
        if (step.load == number && step.kind == StepKind::pack)
            when = "Pack by " + spoken_date(schedule.day(step.to, s.plan.job.start));
        else if (step.load == number && step.kind == StepKind::unpack)
            when += ", unpack on " + spoken_date(schedule.day(step.from, s.plan.job.start));
    s.words(legend + ".", kSmall);
    s.words(
        fmt::format("{}. {:.0f} °C, {:.1f} h up and {:.0f} h down, about {:.0f} kWh; {} of ware; {} of {} height used, "
                    "shelves {} covered.",
                    when, load.top_degC, load.hours_up, load.hours_down, load.kWh, s.units.mass(load.mass_g),
                    s.units.length(load.used_height_mm), s.units.length(kiln.high), percent(load.filled)),
        kSmall);
    if (std::string const pace = pace_words(s.plan, load); !pace.empty()) s.words(pace, kSmall);
    s.y += 1;
    for (std::size_t i = 0; i < drawings; ++i) {
        std::size_t const column = i % in_row;
        if (column == 0 && i > 0) {
            s.y += side + 9;
            s.room_for(side + 8, "Kiln loads");
        }
        Vec2 const corner{kRangeMargin + static_cast<double>(column) * (s.width() + 3) / in_row, s.y + 3};
        if (i == 0) {
            s.paper.text({corner.x, s.y + 1}, "From the side", kTiny);
            stack_drawing(s, kiln, load, numbers, corner, scale);
        } else {
            KilnShelf const& shelf = load.shelves[i - 1];
            std::string const where =
                i == 1 ? "on the floor shelf"
                       : "posts " + s.units.length(shelf.base_mm - s.plan.spec.shelves.shelf_thickness_mm -
                                                   load.shelves[i - 2].base_mm);
            s.paper.text({corner.x, s.y + 1}, fmt::format("Shelf {}, {}", i, where), kTiny);
            shelf_plan(s, kiln, corner, scale, numbers[i - 1]);
        }
    }
    s.y += side + 12;
}

} // namespace

void load_pages(RangeSheet& s) {
    s.page("Kiln loads");
    KilnSpec const& k = s.plan.kiln;
    std::string const floor = k.shape == KilnShape::round
                                  ? "round, " + s.units.length(k.width_mm) + " across"
                                  : s.units.length(k.width_mm) + " wide, " + s.units.length(k.depth_mm) + " deep";
    s.words(
        fmt::format("Kiln: {}, {} high inside, {} kept free on every side. Between pieces {}, over them {}, shelves "
                    "{} thick. Drawn to scale; the door's side is below.",
                    floor, s.units.length(k.height_mm), s.units.length(k.clearance_mm),
                    s.units.length(s.plan.spec.shelves.piece_gap_mm), s.units.length(s.plan.spec.shelves.post_gap_mm),
                    s.units.length(s.plan.spec.shelves.shelf_thickness_mm)),
        kSmall);
    for (RangeFiring const& f : s.plan.firings) {
        if (f.answer.loads.empty()) continue;
        s.words(fmt::format("Firing {}: {} load{}; {}.", f.firing + 1, f.answer.loads.size(),
                            f.answer.loads.size() == 1 ? "" : "s", bound_words(f.answer)),
                kSmall);
    }
    s.y += 3;
    for (int load = 0; load < static_cast<int>(s.plan.loads.size()); ++load) load_part(s, load);
}

} // namespace leafwright
