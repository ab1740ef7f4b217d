#include "sheet/range_pages.h"

#include "sheet/range_page.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr TextStyle kSmall{.size_mm = 3.0};
constexpr TextStyle kSoftSmall{.size_mm = 2.9, .ink = kRangeSoft};

struct Column {
    char const* name;
    double width_mm; // its right edge lies so far from the one before
};

void row_of(RangeSheet& s, std::string const& name, std::vector<std::string> const& cells,
            std::span<Column const> columns, TextStyle style) {
    double x = kRangeMargin + 46;
    s.paper.text({kRangeMargin, s.y}, fitted_words(s.paper, name, 45, style), style);
    style.align = Align::right;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        x += columns[i].width_mm;
        s.paper.text({x, s.y}, cells[i], style);
    }
    s.y += 5.2;
}

std::string number(double value) { return fmt::format("{:.0f}", value); }

std::string between(Figure const& f) { return fmt::format("{:.0f} ({:.0f} to {:.0f})", f.value, f.low, f.high); }

void pieces_table(RangeSheet& s) {
    constexpr std::array<Column, 7> kColumns = {{{"copies", 12},
                                                 {"on the wall", 33},
                                                 {"deep", 17},
                                                 {"weight", 20},
                                                 {"knead", 20},
                                                 {"cost", 16},
                                                 {"price", 16}}};
    s.heading("Side by side");
    std::vector<std::string> names;
    for (Column const& c : kColumns) names.emplace_back(c.name);
    row_of(s, "one piece of", names, kColumns, kSoftSmall);
    for (RangeEntry const& e : s.plan.entries) {
        s.room_for(10, "Side by side");
        StageAnswer const& wall = e.plan->stages.back();
        std::string wide = s.units.length(wall.width_mm);
        wide.resize(wide.find(' '));
        row_of(s, e.name,
               {fmt::format("{}", e.copies), wide + " x " + s.units.length(wall.height_mm),
                s.units.length(wall.depth_mm), s.units.mass(wall.mass_g.value),
                s.units.mass(e.plan->clay.knead_g.value), number(e.cost.total.value), number(e.cost.price.value)},
               kColumns, kSmall);
    }
    RangeCosts const& c = s.plan.costs;
    std::string const currency = c.currency.empty() ? "" : " " + c.currency;
    s.y += 1;
    s.words(fmt::format("All pieces cost {}{}: clay {:.0f}, firing {:.0f}, finish {:.0f}, labour {:.0f} ({:.0f} h), "
                        "overhead {:.0f}. By your rule they sell for {}{}. Firing together saves {:.0f}{}.",
                        between(c.total), currency, c.clay.value, c.firing.value, c.finish.value, c.labour.value,
                        c.hours, c.overhead.value, between(c.price), currency, c.saving.value, currency),
            kSmall);
    s.y += 3;
}

void ready_part(RangeSheet& s) {
    s.heading("Get ready");
    for (RangeClay const& c : s.plan.clay)
        s.words(fmt::format("Clay: {} of {}, {} bag{} of {:g} kg{}.", s.units.mass(c.knead_g), c.body, c.bags,
                            c.bags == 1 ? "" : "s", s.plan.spec.bag_kg,
                            c.bags_most > c.bags ? fmt::format(" ({} at the high end)", c.bags_most) : ""),
                kSmall);
    for (RangeShape const& shape : s.plan.shapes)
        s.words(fmt::format("Former {}: for {} piece{}; {} there, {} enough to lose no day.",
                            s.units.sentence(shape.name), shape.copies, shape.copies == 1 ? "" : "s", shape.formers,
                            shape.enough),
                kSmall);
    s.y += 1;
    constexpr std::array<Column, 4> kColumns = {
        {{"cut of clay", 30}, {"shortest", 30}, {"longest", 30}, {"gather", 30}}};
    row_of(s, "leaves of", {"cut of clay", "shortest", "longest", "gather"}, kColumns, kSoftSmall);
    for (RangeLeaves const& l : s.plan.leaves) {
        s.room_for(8, "Get ready");
        row_of(s, l.label,
               {fmt::format("{}", l.cut), s.units.length(l.shortest_mm), s.units.length(l.longest_mm),
                fmt::format("{}", l.gather)},
               kColumns, kSmall);
    }
    s.words(fmt::format("Gathered for {} pressings each.", s.plan.spec.presses_per_leaf), kSoftSmall);
    s.y += 3;
}

void mind_part(RangeSheet& s) {
    s.heading("Mind");
    for (Warning const& w : s.plan.warnings)
        s.words(w.stage + ": " + s.units.sentence(w.text) + " " + s.units.sentence(w.hint), kSmall);
    for (char const* caution :
         {"Dust: clay dust holds crystalline silica. Clean wet, never sweep dry; fettle damp; follow local limits for "
          "dust "
          "at work.",
          "Kiln: vent it outdoors, stay near while it climbs, let it cool before opening, have its wiring done by a "
          "licensed electrician, keep to its maker's book and to local codes. Shelves are heavy: load them low and "
          "level.",
          "Hanging: a fall can hurt. Use a fixing made for that wall and this weight, and ask a qualified person where "
          "people pass below.",
          "Edges of fired leaves can be sharp: rub them down wet, with gloves and eye protection."})
        s.words(caution, kSoftSmall);
}

void first_page(RangeSheet& s, RangePaperOptions const& options) {
    TextStyle title{.size_mm = 8, .weight = Weight::bold};
    while (title.size_mm > 4 && s.paper.text_width(s.plan.spec.name, title) > s.width() - 22) title.size_mm -= 0.5;
    s.paper.text({kRangeMargin, kRangeMargin + 7}, fitted_words(s.paper, s.plan.spec.name, s.width() - 22, title),
                 title);
    s.paper.text({kRangeMargin + s.width(), kRangeMargin + 7}, "Range",
                 {.size_mm = 4, .align = Align::right, .ink = kRangeSoft});
    s.paper.line(std::vector<Vec2>{{kRangeMargin, kRangeMargin + 11}, {kRangeMargin + s.width(), kRangeMargin + 11}},
                 0.2, kRangeRule);
    s.y = kRangeMargin + 15;
    if (options.wall) {
        double const high = std::min(95.0, s.width() * options.wall->height_px / options.wall->width_px);
        s.paper.picture({{kRangeMargin, s.y}, {kRangeMargin + s.width(), s.y + high}}, options.wall->width_px,
                        options.wall->height_px, options.wall->rgb);
        s.y += high + 8;
    } else {
        s.y += 4;
    }
    pieces_table(s);
    ready_part(s);
    mind_part(s);
}

} // namespace

void RangeSheet::page(std::string_view title) {
    paper.next_page();
    paper.text({kRangeMargin, kRangeMargin + 5}, title, {.size_mm = 5.5, .weight = Weight::bold});
    y = kRangeMargin + 14;
}

void RangeSheet::room_for(double mm, std::string_view title) {
    if (y + mm > bottom()) page(title);
}

void RangeSheet::heading(std::string_view text) {
    if (y + 26 > bottom()) {
        page(text);
        return;
    }
    paper.text({kRangeMargin, y}, text, {.size_mm = 4.4, .weight = Weight::bold});
    y += 6.4;
}

void RangeSheet::words(std::string_view text, TextStyle const& style) {
    double const lines = std::ceil(paper.text_width(text, style) / (0.94 * width()));
    if (y + (lines - 1) * 1.38 * style.size_mm > bottom()) page("Range");
    y = paper.paragraph({kRangeMargin, y}, width(), text, style) + 0.6;
}

std::vector<Vec2> range_box(Vec2 const& low, Vec2 const& high) { return {low, {high.x, low.y}, high, {low.x, high.y}}; }

std::string fitted_words(Paper& paper, std::string text, double width_mm, TextStyle const& style) {
    if (paper.text_width(text, style) <= width_mm) return text;
    while (!text.empty() && paper.text_width(text + "…", style) > width_mm) {
        while (text.size() > 1 && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80) text.pop_back();
        text.pop_back();
    }
    return text + "…";
}

std::string range_pdf(RangePlan const& plan, RangePaperOptions const& options) {
    Paper paper(PaperKind::pdf, options.paper, plan.spec.name + ", range");
    RangeSheet sheet{paper, plan, UnitWords{options.inches}};
    first_page(sheet, options);
    if (!plan.loads.empty()) {
        load_pages(sheet);
        calendar_pages(sheet);
    }
    return paper.finish();
}

void draw_wall_labels(std::vector<WallLabel> const& labels, double px_per_mm, bool inches, int width_px, int height_px,
                      std::vector<unsigned char>& rgb) {
    Paper paper(width_px, height_px, 1.0); // lengths are pixels
    paper.picture({{0, 0}, {static_cast<double>(width_px), static_cast<double>(height_px)}}, width_px, height_px, rgb);
    double const type = std::clamp(17 * px_per_mm, 9.0, 60.0);
    for (WallLabel const& label : labels)
        paper.text({label.at_px.x, std::min(label.at_px.y + 1.9 * type, height_px - 0.5 * type)}, label.words,
                   {.size_mm = type, .align = Align::centre, .ink = kRangeInk});
    double const bar = (inches ? 101.6 : 100) * px_per_mm, x = type, y = height_px - 0.8 * type;
    paper.line(std::vector<Vec2>{{x, y - 0.3 * type}, {x, y}, {x + bar, y}, {x + bar, y - 0.3 * type}}, 0.1 * type,
               kRangeInk);
    paper.text({x + 0.5 * bar, y - 0.35 * type}, inches ? "4 in" : "100 mm",
               {.size_mm = 0.7 * type, .align = Align::centre, .ink = kRangeInk});
    rgb = paper.rgb();
}

} // namespace leafwright
