#include "bench/plot.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr ImU32 kLinePaints[] = {paint::ink, paint::leaf_dark, paint::clay_dark, paint::refusal};

ImU32 line_paint(std::size_t i) { return kLinePaints[i % std::size(kLinePaints)]; }

void cross(ImDrawList& draw, ImVec2 at, float r, ImU32 ink, float width) {
    draw.AddLine({at.x - r, at.y - r}, {at.x + r, at.y + r}, ink, width);
    draw.AddLine({at.x - r, at.y + r}, {at.x + r, at.y - r}, ink, width);
}

// Dashes go on round corners: the way along the line counts.
void broken(ImDrawList& draw, std::span<ImVec2 const> points, float on, float off, ImU32 ink, float width) {
    float done = 0; // of the pattern
    for (std::size_t i = 1; i < points.size(); ++i) {
        ImVec2 const a = points[i - 1];
        ImVec2 const d{points[i].x - a.x, points[i].y - a.y};
        float const length = std::sqrt(d.x * d.x + d.y * d.y);
        for (float at = 0; at < length;) {
            bool const ink_on = done < on - 1e-3F;
            float const left = (ink_on ? on : on + off) - done;
            float const to = std::min(length, at + left);
            if (ink_on)
                draw.AddLine({a.x + d.x * at / length, a.y + d.y * at / length},
                             {a.x + d.x * to / length, a.y + d.y * to / length}, ink, width);
            done += to - at;
            if (done >= on + off - 1e-3F) done = 0;
            at = std::max(to, at + 1e-2F);
        }
    }
}

void stroke(ImDrawList& draw, std::span<ImVec2 const> points, Stroke pattern, bool thick, ImU32 ink, float em) {
    float const width = (thick ? 0.16F : 0.11F) * em;
    switch (pattern) {
    case Stroke::plain:
        return draw.AddPolyline(points.data(), static_cast<int>(points.size()), ink, 0, width);
    case Stroke::dashed:
        return broken(draw, points, 0.55F * em, 0.3F * em, ink, width);
    case Stroke::dotted:
        return broken(draw, points, 0.14F * em, 0.26F * em, ink, width + 0.03F * em);
    case Stroke::crosses:
        for (ImVec2 const& at : points) cross(draw, at, 0.25F * em, ink, 0.12F * em);
    }
}

// What each pattern stands for, wrapped to the width.
void line_list(UiState& ui, Plot const& plot) {
    float const em = ui.theme.em;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    ImVec2 const start = ImGui::GetCursorScreenPos();
    float const room = ImGui::GetContentRegionAvail().x;
    float x = 0;
    float y = 0;
    for (std::size_t i = 0; i < plot.lines.size(); ++i) {
        PlotLine const& line = plot.lines[i];
        float const words = text_size(ui.theme.small, line.label).x;
        if (x > 0 && x + 2.3F * em + words > room) {
            x = 0;
            y += 1.15F * em;
        }
        ImVec2 const at{start.x + x, start.y + y + 0.5F * em};
        ImVec2 const sample[] = {at, {at.x + 1.8F * em, at.y}};
        if (line.stroke == Stroke::crosses)
            cross(draw, {at.x + 0.9F * em, at.y}, 0.25F * em, line_paint(i), 0.12F * em);
        else
            stroke(draw, sample, line.stroke, line.thick, line_paint(i), em);
        draw.AddText(ui.theme.small, ui.theme.small->FontSize, {at.x + 2.1F * em, start.y + y + 0.02F * em}, paint::ink,
                     line.label.c_str());
        x += 3.1F * em + words;
    }
    ImGui::Dummy({room, y + 1.2F * em});
}

struct Frame {
    Plot const& plot;
    ImVec2 low, high; // of the plotting ground, on the screen; low is its upper left
    ImVec2 at(Vec2 const& p) const {
        Vec2 const share = (p - plot.low) / (plot.high - plot.low);
        return {low.x + static_cast<float>(share.x) * (high.x - low.x),
                high.y - static_cast<float>(share.y) * (high.y - low.y)};
    }
    double across(float x) const {
        double const share = std::clamp(static_cast<double>((x - low.x) / (high.x - low.x)), 0.0, 1.0);
        return plot.low.x + share * (plot.high.x - plot.low.x);
    }
};

std::string tick_text(double value, std::vector<double> const& ticks) {
    double const step = ticks.size() > 1 ? ticks[1] - ticks[0] : 1;
    return fmt::format("{:.{}f}", value, step < 0.0999 ? 2 : step < 0.999 ? 1 : 0);
}

void small_text(UiState& ui, ImVec2 at, ImU32 ink, std::string_view text, float share_left = 0) {
    ImVec2 const size = text_size(ui.theme.small, text);
    ImGui::GetWindowDrawList()->AddText(ui.theme.small, ui.theme.small->FontSize, {at.x - share_left * size.x, at.y},
                                        ink, text.data(), text.data() + text.size());
}

void spans_and_grid(UiState& ui, Frame const& f) {
    float const em = ui.theme.em;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled(f.low, f.high, paint::panel);
    for (std::size_t i = 0; i < f.plot.spans.size(); ++i) {
        PlotSpan const& span = f.plot.spans[i];
        float const from = f.at({span.from, 0}).x;
        float const to = f.at({span.to, 0}).x;
        if (i % 2 == 0) draw.AddRectFilled({from, f.low.y}, {to, f.low.y + 1.25F * em}, paint::clay_pale);
        if (i % 2 != 0) draw.AddRectFilled({from, f.low.y}, {to, f.low.y + 1.25F * em}, paint::border);
        std::string const words = cut_to(ui.theme.small, span.label, to - from - 0.3F * em);
        small_text(ui, {0.5F * (from + to), f.low.y + 0.15F * em}, paint::ink, words, 0.5F);
    }
    for (double tick : f.plot.up_ticks) {
        float const y = f.at({0, tick}).y;
        draw.AddLine({f.low.x, y}, {f.high.x, y}, paint::border);
        small_text(ui, {f.low.x - 0.3F * em, y - 0.45F * em}, paint::ink_soft, tick_text(tick, f.plot.up_ticks), 1);
    }
    for (std::size_t i = 0; i < f.plot.across_ticks.size(); ++i) {
        float const x = f.at({f.plot.across_ticks[i], 0}).x;
        draw.AddLine({x, f.low.y}, {x, f.high.y}, paint::border);
        if (i >= f.plot.across_words.size()) {
            small_text(ui, {x, f.high.y + 0.2F * em}, paint::ink_soft,
                       tick_text(f.plot.across_ticks[i], f.plot.across_ticks), 0.5F);
            continue;
        }
        // Words in two lines where they have two words.
        std::string const& words = f.plot.across_words[i];
        std::size_t const gap = std::min(words.find_first_of(" -"), words.size());
        small_text(ui, {x, f.high.y + 0.15F * em}, paint::ink_soft, words.substr(0, gap), 0.5F);
        if (gap < words.size()) small_text(ui, {x, f.high.y + 1.0F * em}, paint::ink_soft, words.substr(gap + 1), 0.5F);
    }
    draw.AddRect(f.low, f.high, paint::border_strong);
}

void marks_of(UiState& ui, Frame const& f) {
    float const em = ui.theme.em;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    for (PlotMark const& mark : f.plot.marks) {
        ImVec2 const at = mark.level ? f.at({f.plot.low.x, mark.at}) : f.at({mark.at, f.plot.low.y});
        ImVec2 const line[] = {mark.level ? ImVec2{f.low.x, at.y} : ImVec2{at.x, f.low.y},
                               mark.level ? ImVec2{f.high.x, at.y} : ImVec2{at.x, f.high.y}};
        broken(draw, line, 0.22F * em, 0.22F * em, paint::ink_soft, 0.06F * em);
        ImVec2 const size = text_size(ui.theme.small, mark.label);
        ImVec2 where = mark.level ? ImVec2{std::max(f.low.x + 0.2F * em,
                                                    f.low.x + static_cast<float>(mark.word_at) * (f.high.x - f.low.x) -
                                                        size.x - 0.3F * em),
                                           at.y - 1.0F * em}
                                  : ImVec2{at.x + 0.25F * em, f.low.y + 1.5F * em};
        if (!mark.level && where.x + size.x > f.high.x) where.x = at.x - 0.25F * em - size.x;
        draw.AddRectFilled({where.x - 0.1F * em, where.y}, {where.x + size.x + 0.1F * em, where.y + size.y},
                           faded(paint::panel, 0.85F));
        small_text(ui, where, paint::ink_soft, mark.label);
    }
}

void lines_of(UiState& ui, Frame const& f) {
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.PushClipRect(f.low, {f.high.x + 1, f.high.y + 1}, true);
    for (std::size_t i = 0; i < f.plot.lines.size(); ++i) {
        std::vector<ImVec2> points;
        for (Vec2 const& p : f.plot.lines[i].points) points.push_back(f.at(p));
        stroke(draw, points, f.plot.lines[i].stroke, f.plot.lines[i].thick, line_paint(i), ui.theme.em);
    }
    draw.PopClipRect();
}

void values_at(UiState& ui, Frame const& f, double across) {
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    float const x = f.at({across, 0}).x;
    draw.AddLine({x, f.low.y}, {x, f.high.y}, paint::ink_soft);
    std::string words;
    if (!f.plot.across_words.empty()) {
        auto const i =
            static_cast<std::size_t>(std::clamp(std::lround(across), 0L, std::ssize(f.plot.across_words) - 1));
        across = f.plot.across_ticks[i];
        words = f.plot.across_words[i];
    } else {
        words = fmt::format("{:.{}f} {}", across, f.plot.across_decimals, f.plot.across);
    }
    std::string_view const unit = std::string_view(f.plot.up).substr(0, f.plot.up.find(' '));
    for (std::size_t i = 0; i < f.plot.lines.size(); ++i) {
        double const value = line_at(f.plot.lines[i], across);
        if (!std::isfinite(value)) continue;
        draw.AddCircleFilled(f.at({across, value}), 0.22F * ui.theme.em, line_paint(i));
        words += fmt::format("\n{}: {:.{}f} {}", f.plot.lines[i].label, value, f.plot.decimals, unit);
    }
    tip(ui, words);
}

} // namespace

bool show_plot(UiState& ui, char const* id, Plot const& plot, float height, double* cursor) {
    float const em = ui.theme.em;
    if (!plot.title.empty()) heading(ui, plot.title.c_str());
    line_list(ui, plot);
    ImVec2 const start = ImGui::GetCursorScreenPos();
    float const room = ImGui::GetContentRegionAvail().x;
    float gutter = 0;
    for (double tick : plot.up_ticks)
        gutter = std::max(gutter, text_size(ui.theme.small, tick_text(tick, plot.up_ticks)).x);
    float const below = plot.across_words.empty() ? 1.25F * em : 2.0F * em;
    Frame const f{plot,
                  {start.x + gutter + 0.5F * em, start.y + 1.2F * em},
                  {start.x + room - 0.4F * em, start.y + height - below}};
    small_text(ui, {start.x, start.y}, paint::ink_soft, plot.up);
    if (!plot.across.empty()) small_text(ui, {start.x + room, start.y}, paint::ink_soft, "across: " + plot.across, 1);
    spans_and_grid(ui, f);
    marks_of(ui, f);
    lines_of(ui, f);
    ImGui::InvisibleButton(id, {room, height});
    mark(ui, std::string("plot.") + id);
    bool moved = false;
    float const pointer = ImGui::GetIO().MousePos.x;
    if (cursor) {
        if (ImGui::IsItemActive()) {
            double const to = f.across(pointer);
            moved = to != *cursor;
            *cursor = to;
        }
        float const x = f.at({*cursor, 0}).x;
        ImGui::GetWindowDrawList()->AddLine({x, f.low.y}, {x, f.high.y}, paint::leaf, 0.14F * em);
    }
    bool const over = ImGui::IsItemHovered() && pointer >= f.low.x && pointer <= f.high.x;
    if (over || (cursor && ImGui::IsItemActive())) values_at(ui, f, f.across(pointer));
    return moved;
}

namespace {

ImU32 pen_paint(Pen pen) {
    switch (pen) {
    case Pen::clay:
        return paint::clay_dark;
    case Pen::wall:
        return paint::border_strong;
    case Pen::wire:
        return paint::refusal;
    case Pen::soft:
        return paint::ink_soft;
    case Pen::ink:
        break;
    }
    return paint::ink;
}

// Even-odd by level strips: rings of a section are far from convex.
void fill_ring(ImDrawList& draw, std::span<ImVec2 const> ring, ImU32 ink) {
    float low = 1e9F;
    float high = -1e9F;
    for (ImVec2 const& p : ring) {
        low = std::min(low, p.y);
        high = std::max(high, p.y);
    }
    std::vector<float> crossings;
    for (float y = std::floor(low) + 0.5F; y < high; ++y) {
        crossings.clear();
        for (std::size_t i = 0; i < ring.size(); ++i) {
            ImVec2 const a = ring[i];
            ImVec2 const b = ring[(i + 1) % ring.size()];
            if ((a.y <= y) == (b.y <= y)) continue;
            crossings.push_back(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y));
        }
        std::sort(crossings.begin(), crossings.end());
        for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
            draw.AddRectFilled({crossings[i], y - 0.5F}, {crossings[i + 1], y + 0.5F}, ink);
    }
}

} // namespace

void show_drawing(UiState& ui, LineDrawing const& drawing, float height) {
    float const em = ui.theme.em;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    ImVec2 const start = ImGui::GetCursorScreenPos();
    float const room = ImGui::GetContentRegionAvail().x;
    Box2 const box = drawing.box();
    double const scale = std::min(static_cast<double>(room - em) / std::max(1.0, box.size().x),
                                  static_cast<double>(height - em) / std::max(1.0, box.size().y));
    Vec2 const middle{start.x + room / 2, start.y + height / 2};
    auto const on_screen = [&](Vec2 const& p) {
        Vec2 const d = scale * (p - box.centre());
        return ImVec2(static_cast<float>(middle.x + d.x), static_cast<float>(middle.y - d.y));
    };
    for (DrawnShape const& shape : drawing.shapes) {
        std::vector<ImVec2> points;
        for (Vec2 const& p : shape.points) points.push_back(on_screen(p));
        if (shape.filled) fill_ring(draw, points, shape.pen == Pen::clay ? paint::clay_pale : paint::border);
        float const width = (shape.pen == Pen::wire ? 0.14F : 0.09F) * em;
        if (shape.dashed) {
            if (shape.closed) points.push_back(points.front());
            broken(draw, points, 0.35F * em, 0.25F * em, pen_paint(shape.pen), 0.07F * em);
        } else {
            draw.AddPolyline(points.data(), static_cast<int>(points.size()), pen_paint(shape.pen),
                             shape.closed ? ImDrawFlags_Closed : 0, width);
        }
    }
    for (DrawnWord const& word : drawing.words) {
        std::string const text = sentence_in(word.text, ui.settings.units);
        ImVec2 const size = text_size(ui.theme.small, text);
        ImVec2 at = on_screen(word.at);
        at.x -= word.side < 0 ? size.x : word.side == 0 ? 0.5F * size.x : 0;
        at.x = std::clamp(at.x, start.x, std::max(start.x, start.x + room - size.x));
        at.y -= 0.5F * size.y;
        draw.AddRectFilled({at.x - 0.1F * em, at.y}, {at.x + size.x + 0.1F * em, at.y + size.y},
                           faded(paint::card, 0.8F));
        small_text(ui, at, paint::ink, text);
    }
    ImGui::Dummy({room, height});
}

} // namespace leafwright
