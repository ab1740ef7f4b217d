// The scale of the figure that is spread over the piece, and its value under the pointer.
#include "bench/panels.h"

#include "base/units.h"
#include "piece/map_colour.h"
#include "piece/shown_maps.h"
#include "view/stage_space.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>

namespace leafwright {
namespace {

// Lengths in inches where the maker reads inches.
bool in_inches(ShownMap const& map, Units units) { return map.unit == "mm" && units == Units::inches; }

std::string unit_of(ShownMap const& map, Units units) { return in_inches(map, units) ? "in" : map.unit; }

std::string value_words(ShownMap const& map, double value, Units units) {
    if (!in_inches(map, units)) return value_text(map, value);
    return fmt::format("{:.{}f} in", value / kMmPerInch, map.decimals + 1);
}

std::string mark_words(ShownMap const& map, double mark, Units units) {
    if (in_inches(map, units)) return fmt::format("{:.{}f}", mark / kMmPerInch, map.decimals + 1);
    return fmt::format("{:g}", std::abs(mark) < 1e-12 ? 0.0 : mark);
}

ImU32 paint_at(double share) {
    Vec3 const c = map_colour(share);
    return ImGui::ColorConvertFloat4ToU32(
        {static_cast<float>(c.x), static_cast<float>(c.y), static_cast<float>(c.z), 1.0F});
}

void draw_bar(ImDrawList& draw, ShownMap const& map, ImVec2 low, ImVec2 high, float em) {
    constexpr int kSteps = 64;
    float const wide = high.x - low.x;
    for (int i = 0; i < kSteps; ++i) {
        float const a = low.x + wide * static_cast<float>(i) / kSteps;
        float const b = low.x + wide * static_cast<float>(i + 1) / kSteps;
        ImU32 const left = paint_at(static_cast<double>(i) / kSteps), right = paint_at((i + 1.0) / kSteps);
        draw.AddRectFilledMultiColor({a, low.y}, {b, high.y}, left, right, right, left);
    }
    draw.AddRect(low, high, paint::ink, 0, 0, 0.07F * em);
    for (double const level : map.levels) {
        float const x = low.x + wide * static_cast<float>(scale_share(map, level));
        draw.AddLine({x, low.y}, {x, high.y + 0.25F * em}, paint::ink, 0.09F * em);
    }
}

// Numbers that would run into the one before are left out.
void draw_numbers(ImDrawList& draw, UiState const& ui, ShownMap const& map, float left, float wide, float y) {
    float const em = ui.theme.em;
    float free_from = -1e9F;
    for (double const mark : scale_marks(map)) {
        std::string const words = mark_words(map, mark, ui.settings.units);
        float const width = text_size(ui.theme.text, words).x;
        float const x = left + wide * static_cast<float>(scale_share(map, mark)) - 0.5F * width;
        if (x < free_from) continue;
        draw.AddText(ui.theme.text, em, {x, y}, paint::ink, words.c_str());
        free_from = x + width + 0.4F * em;
    }
}

// Names below the numbers, each on a line up to the scale; kept inside the sheet.
void draw_names(ImDrawList& draw, UiState const& ui, ShownMap const& map, float left, float wide, float bar_low) {
    float const em = ui.theme.em;
    for (ShownMap::Named const& named : map.named) {
        float const width = text_size(ui.theme.text, named.name).x;
        float const x = left + wide * static_cast<float>(scale_share(map, named.value));
        float const from = std::clamp(x - 0.5F * width, left - 0.8F * em, left + wide + 0.8F * em - width);
        draw.AddLine({x, bar_low}, {x, bar_low + 2.9F * em}, paint::leaf_dark, 0.14F * em);
        draw.AddText(ui.theme.text, em, {from, bar_low + 2.9F * em}, paint::leaf_dark, named.name.c_str());
    }
}

// Where the value under the pointer lies on the scale: a pointed mark above it.
void draw_pointer_mark(ImDrawList& draw, ShownMap const& map, double value, ImVec2 low, float wide, float em) {
    float const x = low.x + wide * static_cast<float>(scale_share(map, value));
    ImVec2 const tip{x, low.y + 0.1F * em};
    draw.AddTriangleFilled({x - 0.55F * em, low.y - 0.75F * em}, {x + 0.55F * em, low.y - 0.75F * em}, tip,
                           paint::card);
    draw.AddTriangleFilled({x - 0.42F * em, low.y - 0.65F * em}, {x + 0.42F * em, low.y - 0.65F * em}, tip, paint::ink);
}

void draw_scale(Desk& desk, ImDrawList& draw, ShownMap const& map, std::optional<double> value) {
    UiState& ui = desk.ui;
    float const em = ui.theme.em, pad = 0.7F * em;
    Viewport const& p = ui.picture;
    float const wide = std::min(static_cast<float>(p.width) - 2 * pad, 22 * em);
    bool const tight = static_cast<float>(p.height) < 14 * em; // the piece must be seen beside it
    float const high = (tight ? 3.9F : map.named.empty() ? 5.3F : 6.8F) * em;
    ImVec2 const low{static_cast<float>(p.x) + pad, static_cast<float>(p.y + p.height) - pad - high};
    ImVec2 const end{low.x + wide, low.y + high};
    draw.AddRectFilled(low, end, faded(paint::panel, 0.94F), 0.47F * em);
    draw.AddRect(low, end, paint::border_strong, 0.47F * em);
    std::string const unit = unit_of(map, ui.settings.units);
    std::string title = unit.empty() ? map.title : map.title + ", " + unit;
    std::string const words = value ? value_words(map, *value, ui.settings.units) : std::string();
    float const words_wide = value ? text_size(ui.theme.strong, words).x + 0.8F * em : 0;
    fitted_text(draw, ui.theme.strong, {low.x + pad, low.y + (tight ? 0.3F : 0.5F) * em}, wide - 2 * pad - words_wide,
                paint::ink, title);
    if (value)
        draw.AddText(ui.theme.strong, em, {end.x - pad - words_wide + 0.8F * em, low.y + (tight ? 0.3F : 0.5F) * em},
                     paint::ink, words.c_str());
    float const inset = 1.3F * em, bar = wide - 2 * inset;
    ImVec2 const bar_low{low.x + inset, low.y + (tight ? 1.6F : 2.1F) * em};
    float const bar_high = tight ? 0.7F * em : 1.2F * em;
    draw_bar(draw, map, bar_low, {bar_low.x + bar, bar_low.y + bar_high}, em);
    draw_numbers(draw, ui, map, bar_low.x, bar, bar_low.y + bar_high + 0.4F * em);
    if (!tight) draw_names(draw, ui, map, bar_low.x, bar, bar_low.y);
    if (value) draw_pointer_mark(draw, map, *value, bar_low, bar, em);
    ui.marks["map.scale"] = {low.x, low.y, end.x, end.y};
}

void draw_beside_pointer(UiState const& ui, ImDrawList& draw, std::string const& words) {
    float const em = ui.theme.em;
    ImVec2 const mouse = ImGui::GetIO().MousePos;
    ImVec2 const size = text_size(ui.theme.strong, words);
    auto const right = static_cast<float>(ui.picture.x + ui.picture.width);
    float const x = mouse.x + 1.1F * em + size.x + em > right ? mouse.x - 1.6F * em - size.x : mouse.x + 1.1F * em;
    ImVec2 const low{x, mouse.y - 1.9F * em};
    draw.AddRectFilled(low, {low.x + size.x + 0.8F * em, low.y + 1.5F * em}, paint::ink, 0.3F * em);
    draw.AddText(ui.theme.strong, em, {low.x + 0.4F * em, low.y + 0.25F * em}, paint::card, words.c_str());
}

std::optional<Spot> spot_of_hit(Hit const& hit) {
    if (auto const* leaf = std::get_if<LeafHit>(&hit)) return leaf->spot;
    if (auto const* feature = std::get_if<FeatureHit>(&hit)) return feature->spot;
    if (auto const* slab = std::get_if<SlabHit>(&hit)) return slab->spot;
    return std::nullopt;
}

std::optional<double> value_under(Desk const& desk, SceneOptions const& options) {
    ShownMap const& map = *options.map;
    Hit const& hit = desk.ui.under_pointer;
    double value = std::nan("");
    if (scene_of(options).flat_slab) {
        auto const* slab = std::get_if<SlabHit>(&hit);
        if (slab && map.flat_slab) value = value_at(*map.flat_slab, Vec2(slab->point));
    } else if (auto const spot = spot_of_hit(hit)) {
        value = value_at(map, desk.state.plan->outer_face->to_chart(*spot));
    }
    return std::isnan(value) ? std::nullopt : std::optional(value);
}

} // namespace

void refresh_map(Desk& desk) {
    UiState& ui = desk.ui;
    auto const found = ui.maps.find(ui.stage);
    MapShown const wish = found == ui.maps.end() ? MapShown{} : found->second;
    bool const made_here = desk.state.plan && !wish.ready && !wish.key.empty();
    if (!made_here) {
        ui.map = wish.ready;
        ui.map_source = {};
        return;
    }
    MapSource source{desk.state.plan, wish.key};
    if (source == ui.map_source) return;
    ui.map = shown_map(*desk.state.plan, wish.key);
    ui.map_source = std::move(source);
}

void draw_map_scale(Desk& desk, ImDrawList& draw) {
    SceneOptions const options = scene_options(desk);
    desk.ui.map_value.reset();
    if (!options.map || !desk.state.plan) return;
    desk.ui.map_value = value_under(desk, options);
    draw_scale(desk, draw, *options.map, desk.ui.map_value);
    if (desk.ui.map_value && !is_busy(desk.ui.hand) && !is_carrying(desk.ui))
        draw_beside_pointer(desk.ui, draw, value_words(*options.map, *desk.ui.map_value, desk.ui.settings.units));
}

namespace {

// In one row, or two where the words would have to shrink. True when another was chosen.
bool choose_map(UiState& ui, std::vector<char const*> const& labels, int& chosen) {
    float const width = ImGui::GetContentRegionAvail().x;
    float widest = 0;
    for (char const* label : labels) widest = std::max(widest, text_size(ui.theme.strong, label).x);
    bool const fits = (widest + 0.6F * ui.theme.em) * static_cast<float>(labels.size()) <= width;
    std::size_t const in_row = fits ? labels.size() : (labels.size() + 1) / 2;
    bool changed = false;
    for (std::size_t first = 0; first < labels.size(); first += in_row) {
        std::size_t const count = std::min(in_row, labels.size() - first);
        int in_this = chosen - static_cast<int>(first);
        float const share = static_cast<float>(count) / static_cast<float>(in_row);
        if (!segmented(ui, first ? "map below" : "map", std::span(labels).subspan(first, count), in_this,
                       width * share))
            continue;
        chosen = in_this + static_cast<int>(first);
        changed = true;
    }
    return changed;
}

} // namespace

void map_choice(Worktop const& top) {
    std::vector<MapChoice> const choices = map_choices_at(top.ui.stage);
    if (choices.empty()) return;
    std::vector<std::string> titles{"Plain clay"};
    int chosen = 0;
    MapShown& shown = top.ui.maps[top.ui.stage];
    for (std::size_t i = 0; i < choices.size(); ++i) {
        titles.emplace_back(choices[i].title);
        if (choices[i].key == shown.key) chosen = static_cast<int>(i) + 1;
    }
    std::vector<char const*> labels;
    labels.reserve(titles.size());
    for (std::string const& title : titles) labels.push_back(title.c_str());
    Card const card(top.ui);
    heading(top.ui, "Shown on the clay");
    if (choose_map(top.ui, labels, chosen))
        shown.key = chosen == 0 ? "" : std::string(choices[static_cast<std::size_t>(chosen) - 1].key);
    if (!top.ui.map) return;
    if (!top.ui.map->ticks.empty()) check_row(top.ui, "Lines along which it is drawn most", shown.ticks);
    soft(top.ui, "Lines join places of equal value. Point at the clay to read it.");
}

} // namespace leafwright
