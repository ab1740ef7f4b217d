// The photograph on the tracing page: what was found drawn over it, and what the hand does there.
#include "bench/theme.h"
#include "bench/trace_page.h"
#include "bench/widgets.h"

#include <epoxy/gl.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr int kTextureSide = 3072;
constexpr double kMostZoom = 16;
constexpr int kFirstBar = 4; // of the handles
constexpr int kFirstLeaf = 6;

// The photo as a texture, by whole steps smaller where it is large.
void make_texture(TracePage& page) {
    Photo const& photo = *page.photo;
    int const step = 1 + (std::max(photo.width_px, photo.height_px) - 1) / kTextureSide;
    int const width = photo.width_px / step;
    int const height = photo.height_px / step;
    std::vector<std::uint8_t> small;
    small.reserve(3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int c = 0; c < 3; ++c) {
                int sum = 0;
                for (int k = 0; k < step * step; ++k) sum += photo.at(x * step + k % step, y * step + k / step)[c];
                small.push_back(static_cast<std::uint8_t>(sum / (step * step)));
            }
    glGenTextures(1, &page.texture);
    glBindTexture(GL_TEXTURE_2D, page.texture);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, width, height, 0, GL_RGB, GL_UNSIGNED_BYTE, small.data());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glGenerateMipmap(GL_TEXTURE_2D);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
}

// Photo pixels to the screen and back.
struct Sight {
    ImVec2 low;
    ImVec2 size;
    Vec2 middle_px{0, 0};
    double scale = 1; // window units a pixel

    Vec2 centre() const { return Vec2{low.x, low.y} + 0.5 * Vec2{size.x, size.y}; }
    ImVec2 screen(Vec2 const& px) const {
        Vec2 const at = centre() + (px - middle_px) * scale;
        return {static_cast<float>(at.x), static_cast<float>(at.y)};
    }
    Vec2 photo(ImVec2 const& at) const { return middle_px + (Vec2{at.x, at.y} - centre()) / scale; }
};

Sight sight_of(TracePage& page, ImVec2 low, ImVec2 size) {
    Photo const& photo = *page.photo;
    if (!page.placed) {
        page.middle_px = {0.5 * photo.width_px, 0.5 * photo.height_px};
        page.placed = true;
    }
    double const fit =
        std::min(static_cast<double>(size.x) / photo.width_px, static_cast<double>(size.y) / photo.height_px);
    return {low, size, page.middle_px, fit * page.zoom};
}

void draw_ring(ImDrawList& draw, Sight const& sight, Ring const& ring, ImU32 paint, float width) {
    std::vector<ImVec2> points;
    points.reserve(ring.size());
    for (Vec2 const& p : ring) points.push_back(sight.screen(p));
    draw.AddPolyline(points.data(), static_cast<int>(points.size()), paint, ImDrawFlags_Closed, width);
}

void draw_leaf(ImDrawList& draw, Sight const& sight, TracedEntry const& entry, bool lit, UiState const& ui,
               int number) {
    float const em = ui.theme.em;
    constexpr ImU32 kTaken = IM_COL32(255, 92, 40, 255);
    ImU32 const paint = entry.leaf.cut_by_edge ? paint::refusal : (entry.taken ? kTaken : IM_COL32(150, 150, 150, 255));
    float const width = (lit ? 0.22F : 0.13F) * em;
    draw_ring(draw, sight, entry.leaf.outline_px.outer, paint, width);
    for (Ring const& hole : entry.leaf.outline_px.holes) draw_ring(draw, sight, hole, paint, width);
    std::vector<ImVec2> midrib;
    for (Vec2 const& p : entry.leaf.midrib_px) midrib.push_back(sight.screen(p));
    draw.AddPolyline(midrib.data(), static_cast<int>(midrib.size()), faded(paint, 0.8F), 0, 0.08F * em);
    draw.AddCircleFilled(sight.screen(entry.leaf.base_px), 0.34F * em, paint);
    draw.AddCircle(sight.screen(entry.leaf.tip_px), 0.36F * em, paint, 0, 0.14F * em);
    Box2 const box = bounds(entry.leaf.outline_px.outer);
    ImVec2 const corner = sight.screen({box.high.x, box.low.y});
    ImVec2 const at{corner.x + 0.5F * em, corner.y - 0.3F * em}; // off the leaf's tip
    draw.AddCircleFilled({at.x, at.y}, 0.7F * em, paint::card);
    fitted_text(draw, ui.theme.strong, {at.x - 0.6F * em, at.y - 0.5F * em}, 1.2F * em, paint::ink,
                std::to_string(number), true);
}

bool shows_corners(TracePage const& page) {
    return page.options.scale.from == ScaleFrom::paper && page.scale && page.scale->corners_px;
}

std::optional<std::array<Vec2, 2>> bar_of(TracePage const& page) {
    if (page.options.scale.from != ScaleFrom::bar) return std::nullopt;
    return page.options.scale.bar_ends_px;
}

void draw_found(ImDrawList& draw, Sight const& sight, TracePage const& page, UiState const& ui) {
    float const em = ui.theme.em;
    if (shows_corners(page)) {
        auto corners = *page.scale->corners_px;
        if (page.handle >= 0 && page.handle < 4) corners[static_cast<std::size_t>(page.handle)] = page.handle_px;
        draw_ring(draw, sight, {corners.begin(), corners.end()}, IM_COL32(40, 120, 220, 255), 0.12F * em);
        for (Vec2 const& c : corners) {
            draw.AddCircleFilled(sight.screen(c), 0.45F * em, IM_COL32(40, 120, 220, 255));
            draw.AddCircle(sight.screen(c), 0.5F * em, paint::card, 0, 0.1F * em);
        }
    }
    for (std::size_t k = 0; k < page.leaves.size(); ++k)
        draw_leaf(draw, sight, page.leaves[k], page.lit == static_cast<int>(k), ui, static_cast<int>(k) + 1);
    for (CutLine const& cut : page.options.cuts)
        draw.AddLine(sight.screen(cut.from_px), sight.screen(cut.to_px), IM_COL32(255, 255, 255, 230), 0.14F * em);
    if (auto ends = bar_of(page)) {
        if (page.handle >= kFirstBar && page.handle < kFirstLeaf)
            (*ends)[static_cast<std::size_t>(page.handle - kFirstBar)] = page.handle_px;
        draw.AddLine(sight.screen((*ends)[0]), sight.screen((*ends)[1]), IM_COL32(40, 120, 220, 255), 0.2F * em);
        for (Vec2 const& end : *ends)
            draw.AddCircle(sight.screen(end), 0.5F * em, IM_COL32(40, 120, 220, 255), 0, 0.16F * em);
    }
}

// What lies around the pointer, four times as large, while something is set to a place.
void draw_loupe(ImDrawList& draw, Sight const& sight, TracePage const& page, ImVec2 pointer, float em) {
    float const side = 10 * em;
    bool const left = pointer.x > sight.low.x + 0.5F * sight.size.x;
    ImVec2 const low{left ? sight.low.x + em : sight.low.x + sight.size.x - side - em, sight.low.y + em};
    ImVec2 const high{low.x + side, low.y + side};
    Vec2 const at = sight.photo(pointer);
    double const half = 0.5 * static_cast<double>(side) / std::max(4 * sight.scale, 1.0);
    Vec2 const whole{page.photo->width_px, page.photo->height_px};
    auto const uv = [&](double x, double y) {
        return ImVec2{static_cast<float>((at.x + x + 0.5) / whole.x), static_cast<float>((at.y + y + 0.5) / whole.y)};
    };
    draw.AddImage(texture_id(page.texture), low, high, uv(-half, -half), uv(half, half));
    draw.AddRect(low, high, paint::ink, 0, 0, 0.12F * em);
    ImVec2 const c{0.5F * (low.x + high.x), 0.5F * (low.y + high.y)};
    draw.AddLine({low.x, c.y}, {high.x, c.y}, IM_COL32(40, 120, 220, 200), 1);
    draw.AddLine({c.x, low.y}, {c.x, high.y}, IM_COL32(40, 120, 220, 200), 1);
}

// Where each handle is: corners, the bar's ends, then base and tip of every leaf.
std::vector<std::pair<int, Vec2>> handles_of(TracePage const& page) {
    std::vector<std::pair<int, Vec2>> handles;
    if (shows_corners(page))
        for (int k = 0; k < 4; ++k) handles.emplace_back(k, (*page.scale->corners_px)[static_cast<std::size_t>(k)]);
    if (auto const ends = bar_of(page))
        for (int k = 0; k < 2; ++k) handles.emplace_back(kFirstBar + k, (*ends)[static_cast<std::size_t>(k)]);
    for (std::size_t k = 0; k < page.leaves.size(); ++k) {
        handles.emplace_back(kFirstLeaf + static_cast<int>(2 * k), page.leaves[k].leaf.base_px);
        handles.emplace_back(kFirstLeaf + 1 + static_cast<int>(2 * k), page.leaves[k].leaf.tip_px);
    }
    return handles;
}

void let_go(TracePage& page) {
    if (page.handle < kFirstBar) {
        auto corners = *page.scale->corners_px;
        corners[static_cast<std::size_t>(page.handle)] = page.handle_px;
        page.options.scale.corners_px = corners;
        page.scale->corners_px = corners;
        page.handle = -1;
        return trace_again(page);
    }
    if (page.handle < kFirstLeaf) {
        (*page.options.scale.bar_ends_px)[static_cast<std::size_t>(page.handle - kFirstBar)] = page.handle_px;
        page.handle = -1;
        return trace_again(page);
    }
    auto const index = static_cast<std::size_t>(page.handle - kFirstLeaf) / 2;
    bool const tip = page.handle % 2 == 1;
    page.handle = -1;
    if (index >= page.leaves.size()) return;
    TracedLeaf& leaf = page.leaves[index].leaf;
    page.leaves[index].ends_by_hand = true;
    leaf = with_ends(leaf, *page.scale, tip ? leaf.base_px : page.handle_px, tip ? page.handle_px : leaf.tip_px);
}

void end_line(TracePage& page, Vec2 const& to) {
    Vec2 const from = *page.line_from_px;
    page.line_from_px.reset();
    page.first_clicked = false;
    if (glm::length(to - from) < 4) return;
    if (page.tool == TraceTool::cut) {
        page.options.cuts.push_back({from, to});
    } else {
        page.options.scale.bar_ends_px = {from, to};
        page.options.scale.bar_mm = page.bar_mm;
    }
    page.tool = TraceTool::look;
    trace_again(page);
}

// A line is drawn from end to end, or its two ends are clicked.
void click_or_drag(TracePage& page, Vec2 const& at, bool stayed) {
    if (!page.first_clicked && stayed)
        page.first_clicked = true;
    else
        end_line(page, at);
}

void hand(TracePage& page, Sight const& sight, UiState const& ui) {
    ImGuiIO const& io = ImGui::GetIO();
    Vec2 const at = sight.photo(io.MousePos);
    if (ImGui::IsItemHovered() && io.MouseWheel != 0) {
        double const before = page.zoom;
        page.zoom = std::clamp(page.zoom * std::pow(1.25, static_cast<double>(io.MouseWheel)), 1.0, kMostZoom);
        page.middle_px = at + (page.middle_px - at) * (before / page.zoom);
        if (page.zoom <= 1.0) page.placed = false;
    }
    if (ImGui::IsItemActivated()) {
        if (page.tool != TraceTool::look) {
            if (!page.first_clicked) page.line_from_px = at;
        } else {
            double nearest = 1.1 * static_cast<double>(ui.theme.em) / sight.scale;
            for (auto const& [handle, px] : handles_of(page)) {
                if (glm::length(px - at) > nearest) continue;
                nearest = glm::length(px - at);
                page.handle = handle;
                page.handle_px = px;
            }
        }
    }
    if (ImGui::IsItemActive() && page.handle >= 0) page.handle_px = at;
    bool const pans = ImGui::IsItemActive() && page.handle < 0 && !page.line_from_px;
    if (pans) page.middle_px -= Vec2{io.MouseDelta.x, io.MouseDelta.y} / sight.scale;
    if (!ImGui::IsItemDeactivated()) return;
    if (page.handle >= 0)
        let_go(page);
    else if (page.line_from_px)
        click_or_drag(page, at,
                      glm::length(at - *page.line_from_px) * sight.scale < 0.6 * static_cast<double>(ui.theme.em));
}

} // namespace

void trace_picture(TracePage& page, UiState& ui, ImVec2 size) {
    float const em = ui.theme.em;
    ImVec2 const low = ImGui::GetCursorScreenPos();
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled(low, {low.x + size.x, low.y + size.y}, IM_COL32(60, 54, 48, 255));
    ImGui::InvisibleButton("photo", size);
    mark(ui, "trace.photo");
    bool const over = ImGui::IsItemHovered();
    if (!page.photo) {
        fitted_text(draw, ui.theme.text, {low.x, low.y + 0.5F * size.y}, size.x, paint::card,
                    page.problem ? "There is no picture to show." : "Reading the picture", true);
        return;
    }
    if (!page.texture) make_texture(page);
    Sight const sight = sight_of(page, low, size);
    hand(page, sight, ui);
    draw.PushClipRect(low, {low.x + size.x, low.y + size.y}, true);
    Vec2 const whole{page.photo->width_px, page.photo->height_px};
    draw.AddImage(texture_id(page.texture), sight.screen({-0.5, -0.5}), sight.screen(whole - 0.5));
    draw_found(draw, sight, page, ui);
    ImVec2 const pointer = ImGui::GetIO().MousePos;
    if (page.line_from_px)
        draw.AddLine(sight.screen(*page.line_from_px), pointer, IM_COL32(255, 255, 255, 230), 0.14F * em);
    if (page.line_from_px || page.handle >= 0 || (over && page.tool != TraceTool::look))
        draw_loupe(draw, sight, page, pointer, em);
    draw.PopClipRect();
}

} // namespace leafwright
