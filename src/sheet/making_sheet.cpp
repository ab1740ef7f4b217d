#include "sheet/making_sheet.h"

#include "base/units.h"
#include "piece/number_place.h"
#include "sheet/second_pages.h"
#include "sheet/templates.h"
#include "sheet/words.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace leafwright {

namespace {

constexpr Ink kInk{0.16, 0.14, 0.12};
constexpr Ink kSoft{0.45, 0.42, 0.38};
constexpr Ink kRule{0.80, 0.76, 0.70};
constexpr Ink kClay{0.93, 0.89, 0.83};
constexpr Ink kBand{0.985, 0.972, 0.95};
constexpr double kMargin = 14;

struct Sheet {
    Paper& paper;
    Plan const& plan;
    UnitWords units;
    double width() const { return paper.size().width_mm - 2 * kMargin; }
};

void rule(Sheet& s, double y) { s.paper.line(std::vector<Vec2>{{kMargin, y}, {kMargin + s.width(), y}}, 0.2, kRule); }

void heading(Sheet& s, Vec2 at, std::string_view words) {
    s.paper.text(at, words, {.size_mm = 4.4, .weight = Weight::bold});
}

double figure_line(Sheet& s, Vec2 at, double width, std::string_view name, std::string const& value,
                   bool strong = false) {
    Weight const weight = strong ? Weight::bold : Weight::regular;
    s.paper.text(at, name, {.weight = weight, .ink = strong ? kInk : kSoft});
    s.paper.text({at.x + width, at.y}, value, {.weight = weight, .align = Align::right});
    return at.y + 5.4;
}

void clay_figures(Sheet& s, Vec2 at, double width) {
    ClayAnswer const& clay = s.plan.clay;
    heading(s, at, "Clay");
    double y = at.y + 7;
    y = figure_line(s, {at.x, y}, width, "Knead", s.units.mass(clay.knead_g), true);
    y = figure_line(s, {at.x, y}, width, "slab", s.units.mass(clay.slab_g.value));
    y = figure_line(s, {at.x, y}, width, "leaves", s.units.mass(clay.leaves_g.value));
    y = figure_line(s, {at.x, y}, width, "features", s.units.mass(clay.features_g.value));
    y = figure_line(s, {at.x, y}, width, "lugs", s.units.mass(clay.lugs_g.value));
    y = figure_line(s, {at.x, y}, width, "slip", s.units.mass(clay.slip_g.value));
    y = figure_line(s, {at.x, y}, width, "offcuts, to reclaim", s.units.mass(clay.offcuts_g.value));
    figure_line(s, {at.x, y}, width, "spare", s.units.mass(clay.spare_g.value));
}

void slab_figures(Sheet& s, Vec2 at, double width) {
    SlabAnswer const& slab = *s.plan.slab;
    LeavesAnswer const& leaves = s.plan.leaves;
    heading(s, at, "Slab and leaves");
    double y = at.y + 7;
    y = figure_line(s, {at.x, y}, width, "Roll",
                    s.units.length(slab.bounds_mm.x) + " x " + s.units.length(slab.bounds_mm.y), true);
    y = figure_line(s, {at.x, y}, width, "guides", fmt::format("{:.1f} mm thick", slab.thickness_mm.rolled));
    y = figure_line(s, {at.x, y}, width, "slab area as cut", s.units.area(slab.flat_mm2));
    y = figure_line(s, {at.x, y}, width, "leaves, rows", fmt::format("{} in {} rows", leaves.count, leaves.rows), true);
    y = figure_line(s, {at.x, y}, width, "leaf clay, flat", s.units.area(leaves.area_mm2));
    y = figure_line(s, {at.x, y}, width, "covered by later leaves", percent(leaves.lap));
    y = figure_line(s, {at.x, y}, width, "bare clay", s.units.area(leaves.overlap.bare_mm2));
    figure_line(s, {at.x, y}, width, "thickest stack on the slab", fmt::format("{:.0f} mm", leaves.stack_most_mm));
}

double stage_table(Sheet& s, double y) {
    heading(s, {kMargin, y}, "Size and weight on the way");
    y += 6;
    double const columns[] = {0, 46, 98, 128, 152, 176};
    char const* const names[] = {"stage", "weight", "width", "height", "depth"};
    for (int i = 0; i < 5; ++i) s.paper.text({kMargin + columns[i], y}, names[i], {.size_mm = 2.9, .ink = kSoft});
    for (StageAnswer const& stage : s.plan.stages) {
        y += 5.4;
        std::string const cells[] = {std::string(stage_name(stage.stage)), s.units.mass(stage.mass_g),
                                     s.units.length(stage.width_mm), s.units.length(stage.height_mm),
                                     s.units.length(stage.depth_mm)};
        for (int i = 0; i < 5; ++i) s.paper.text({kMargin + columns[i], y}, cells[i], {});
    }
    s.paper.text({kMargin, y + 5}, "In brackets: the range of an untested clay body. Narrow it with a test tile.",
                 {.size_mm = 2.7, .ink = kSoft});
    return y + 12;
}

double warnings_and_cautions(Sheet& s, double y) {
    heading(s, {kMargin, y}, "Mind");
    y += 6;
    TextStyle const small{.size_mm = 3.0};
    for (Warning const& warning : s.plan.warnings)
        y = s.paper.paragraph({kMargin, y}, s.width(), warning.stage + ": " + warning.text + " " + warning.hint, small);
    char const* const cautions[] = {
        "Dust: clay dust holds crystalline silica. Clean wet, never sweep dry; fettle damp; follow local limits for "
        "dust at work.",
        "Kiln: vent it outdoors, let it cool before opening, have its wiring done by a licensed electrician, keep to "
        "its maker's book.",
        "Hanging: a fall can hurt. Use a fixing made for that wall and this weight, and ask a qualified person where "
        "people pass below.",
        "Edges of fired leaves can be sharp: rub them down wet, with gloves and eye protection.",
    };
    for (char const* caution : cautions)
        y = s.paper.paragraph({kMargin, y}, s.width(), caution, {.size_mm = 3.0, .ink = kSoft});
    return y;
}

void first_page(Sheet& s, SheetOptions const& options) {
    s.paper.text({kMargin, kMargin + 7}, s.plan.piece.name, {.size_mm = 8, .weight = Weight::bold});
    s.paper.text({kMargin + s.width(), kMargin + 7}, "Making sheet",
                 {.size_mm = 4, .align = Align::right, .ink = kSoft});
    rule(s, kMargin + 11);
    double y = kMargin + 15;
    if (options.picture) {
        Box2 const box{{kMargin, y}, {kMargin + s.width(), y + 92}};
        s.paper.picture(box, options.picture->width_px, options.picture->height_px, options.picture->rgb);
        y += 98;
    } else {
        y += 4;
    }
    double const half = s.width() / 2 - 5;
    clay_figures(s, {kMargin, y}, half);
    slab_figures(s, {kMargin + half + 10, y}, half);
    y += 55;
    rule(s, y - 4);
    y = stage_table(s, y + 2);
    warnings_and_cautions(s, y);
}

// The distance from the centre mark to the outline in a direction: how the slab is set out with a rule.
double reach(Ring const& outline, double azimuth) {
    Vec2 const ray{std::cos(azimuth), std::sin(azimuth)};
    double best = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        Vec2 const a = outline[i];
        Vec2 const d = outline[(i + 1) % outline.size()] - a;
        double const denominator = cross(ray, d);
        if (denominator == 0) continue;
        double const along_edge = cross(a, ray) / denominator;
        double const along_ray = cross(a, d) / denominator;
        if (along_edge >= 0 && along_edge <= 1) best = std::max(best, along_ray);
    }
    return best;
}

std::vector<Vec2> mapped_to(auto const& page, std::span<Vec2 const> points) {
    std::vector<Vec2> out;
    for (Vec2 const& p : points) out.push_back(page(p));
    return out;
}

// Between the rims of a slab that slides and one that sticks.
void draw_rim_band(Paper& paper, SlabAnswer const& slab, auto const& page) {
    Polygon const band{mapped_to(page, slab.sticking_mm), {mapped_to(page, slab.sliding_mm)}};
    paper.fill(band, kBand);
    paper.line(band.outer, 0.2, kSoft, true, true);
    paper.line(band.holes.front(), 0.2, kSoft, true);
}

std::string slab_words(Sheet const& s, SlabAnswer const& slab) {
    std::string words =
        "Pale band: where the rim comes to lie, from a slab that slides freely on the padding (inner line) "
        "to one that sticks where it first touches (dashed).";
    if (!slab.cuts.empty()) words += " Darts by direction, 0 right and 90 up:";
    for (std::size_t i = 0; i < slab.cuts.size(); ++i)
        words += fmt::format(" {:.0f} degrees, {} from the rim, {} wide there;",
                             slab.cuts[i].cut.azimuth_deg - 360 * std::floor(slab.cuts[i].cut.azimuth_deg / 360),
                             s.units.length(slab.cuts[i].cut.length_mm), s.units.length(slab.cuts[i].opening_mm));
    if (!slab.cuts.empty()) words += " score and slip their edges together on the former.";
    return words;
}

void slab_page(Sheet& s) {
    SlabAnswer const& slab = *s.plan.slab;
    s.paper.next_page();
    s.paper.text({kMargin, kMargin + 5}, "Set out the slab", {.size_mm = 5.5, .weight = Weight::bold});
    double y = s.paper.paragraph(
        {kMargin, kMargin + 13}, s.width(),
        fmt::format("Roll {:.1f} mm thick, at least {} wide and {} high. Mark the centre, draw a line up and a line "
                    "across, and mark these lengths from the centre. The outline has {} of trim; cut it back to the "
                    "rim once the slab lies on the former.",
                    slab.thickness_mm.rolled, s.units.length(slab.bounds_mm.x), s.units.length(slab.bounds_mm.y),
                    s.units.length(s.plan.piece.slab.trim_allowance_mm)),
        {});
    Box2 const box = bounds(slab.outline_mm);
    double const scale = std::min((s.width() - 40) / box.size().x, (s.paper.size().height_mm - y - 60) / box.size().y);
    Vec2 const centre{kMargin + s.width() / 2, y + 24 + scale * box.high.y};
    auto page = [&](Vec2 const& p) { return centre + scale * Vec2(p.x, -p.y); };
    std::vector<Vec2> ring;
    for (Vec2 const& p : slab.outline_mm) ring.push_back(page(p));
    s.paper.fill(ring, kClay);
    draw_rim_band(s.paper, slab, page);
    for (int i = 0; i < 24; ++i) {
        double const azimuth = kTwoPi * i / 24;
        double const length = reach(slab.outline_mm, azimuth);
        Vec2 const direction{std::cos(azimuth), std::sin(azimuth)};
        s.paper.line(std::vector<Vec2>{centre, page(length * direction)}, i % 6 == 0 ? 0.35 : 0.15,
                     i % 6 == 0 ? kInk : kRule);
        Vec2 const label = page(length * direction) + 8.0 * Vec2(direction.x, -direction.y) + Vec2(0, 1.1);
        s.paper.text(label, s.units.length(length), {.size_mm = 3.1, .align = Align::centre});
    }
    s.paper.line(ring, 0.5, kInk, true);
    s.paper.text({centre.x + 2, centre.y - 2}, "up", {.size_mm = 3, .ink = kSoft});
    for (SlabCutAnswer const& cut : slab.cuts) s.paper.line(mapped_to(page, cut.notch_mm), 0.5, kInk);
    double const under = centre.y - scale * box.low.y + 16;
    s.paper.paragraph({kMargin, under}, s.width(), slab_words(s, slab), {.size_mm = 3.1});
}

struct RowLine {
    int count = 0;
    double shortest_mm = 1e9;
    double longest_mm = 0;
};

// One entry a row and kind: how many, and between which lengths.
std::map<int, std::map<std::string, RowLine>> rows_of(Plan const& plan) {
    std::map<int, std::map<std::string, RowLine>> rows;
    for (LeafPlacement const& leaf : plan.piece.leaves) {
        LeafPattern const* pattern = plan.pattern_of(leaf);
        if (!pattern) continue;
        double const length = pattern->shape.length_mm * leaf.scale;
        RowLine& line = rows[leaf.row][leaf.kind];
        ++line.count;
        line.shortest_mm = std::min(line.shortest_mm, length);
        line.longest_mm = std::max(line.longest_mm, length);
    }
    return rows;
}

double rows_table(Sheet& s, double y) {
    for (auto const& [row, kinds] : rows_of(s.plan)) {
        std::string words;
        int total = 0;
        for (auto const& [kind, line] : kinds) {
            total += line.count;
            words += fmt::format("{}{} {} ({:.0f} to {:.0f} mm)", words.empty() ? "" : ", ", line.count, kind,
                                 line.shortest_mm, line.longest_mm);
        }
        s.paper.text({kMargin, y}, fmt::format("Row {}", row), {.weight = Weight::bold});
        s.paper.text({kMargin + 20, y}, fmt::format("{} leaves", total), {});
        y = s.paper.paragraph({kMargin + 42, y}, s.width() - 42, words, {.ink = kSoft});
    }
    return y;
}

void arrangement_page(Sheet& s) {
    s.paper.next_page();
    s.paper.text({kMargin, kMargin + 5}, "Press and lay the leaves, from the outer row inward",
                 {.size_mm = 5.5, .weight = Weight::bold});
    double const y = rows_table(s, kMargin + 14) + 4;
    Box2 box = bounds(*s.plan.zone.rim);
    for (auto const& leaf : s.plan.laid)
        for (Vec2 const& p : leaf->chart.outer) box.add(p);
    double const scale =
        std::min(s.width() / box.size().x, (s.paper.size().height_mm - y - kMargin - 8) / box.size().y);
    Vec2 const corner{kMargin + (s.width() - scale * box.size().x) / 2, y};
    auto page = [&](std::span<Vec2 const> ring) {
        std::vector<Vec2> points;
        for (Vec2 const& p : ring) points.push_back(corner + scale * Vec2(p.x - box.low.x, box.high.y - p.y));
        return points;
    };
    s.paper.fill(page(*s.plan.zone.rim), kClay);
    for (auto const& leaf : s.plan.laid) {
        std::vector<Vec2> const ring = page(leaf->chart.outer);
        bool const odd = leaf->placement.row % 2 == 1;
        s.paper.fill(ring, odd ? Ink{0.97, 0.95, 0.91} : Ink{0.90, 0.86, 0.79});
        s.paper.line(ring, 0.18, kInk, true);
    }
    for (LaidFeature const& feature : s.plan.features) {
        s.paper.fill(page(feature.chart), Ink{0.99, 0.98, 0.96});
        s.paper.line(page(feature.chart), 0.35, kInk, true);
    }
    s.paper.line(page(*s.plan.zone.rim), 0.35, kInk, true, true);
    // Each number stands where its leaf shows, not where a later one lies over it.
    std::vector<Polygon> features;
    for (LaidFeature const& feature : s.plan.features) features.push_back({feature.chart, {}});
    for (std::size_t i = 0; i < s.plan.laid.size(); ++i) {
        std::vector<Polygon const*> later;
        for (Polygon const& feature : features) later.push_back(&feature);
        for (std::size_t k = i + 1; k < s.plan.laid.size(); ++k) later.push_back(&s.plan.laid[k]->chart);
        NumberPlace const place = number_place(s.plan.laid[i]->chart, later);
        if (place.clear_mm <= 0) continue; // nothing of it shows
        double const size = std::clamp(1.1 * scale * place.clear_mm, 1.7, 3.2);
        s.paper.text(page(std::vector<Vec2>{place.at})[0] + Vec2(0, 0.36 * size),
                     std::to_string(s.plan.laid[i]->placement.id), {.size_mm = size, .align = Align::centre});
    }
    s.paper.text({kMargin, s.paper.size().height_mm - kMargin},
                 "The slab laid flat, true in area. Dashed: the rim. Rows by turns light and dark. Numbers as on the "
                 "cutting sheets.",
                 {.size_mm = 2.8, .ink = kSoft});
}

} // namespace

std::string making_sheet_pdf(Plan const& plan, SheetOptions const& options) {
    assert(!plan.coarse); // what is roughly reckoned for the eye goes on no paper
    Paper paper(PaperKind::pdf, options.paper, plan.piece.name + ": making sheet");
    Sheet sheet{paper, plan, {options.inches}};
    first_page(sheet, options);
    slab_page(sheet);
    if (!plan.laid.empty()) arrangement_page(sheet);
    if (options.second) second_pages(paper, *options.second, sheet.units);
    std::vector<LeafPattern const*> patterns;
    std::vector<int> counts;
    for (auto const& pattern : plan.patterns) {
        auto const count = std::ranges::count(plan.piece.leaves, pattern->spec.id, &LeafPlacement::kind);
        // A kind that no leaf uses needs no template, unless nothing is laid yet.
        if (count == 0 && !plan.laid.empty()) continue;
        patterns.push_back(pattern.get());
        counts.push_back(static_cast<int>(count));
    }
    template_pages(paper, patterns, counts);
    return paper.finish();
}

} // namespace leafwright
