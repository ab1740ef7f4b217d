#include "bench/panels.h"

#include <algorithm>

namespace leafwright {

// Below these, what can be folded away is: the smaller window with the larger text still has a picture.
bool is_compact(float em, float width, float height) { return width < 66 * em || height < 34 * em; }

Layout layout_of(UiState const& ui, float width, float height) {
    float const em = ui.theme.em;
    Layout layout;
    layout.compact = is_compact(em, width, height);
    layout.top = {0, 0, width, (layout.compact ? 2.75F : 3.0F) * em};
    layout.figures = {0, layout.top.height, width, (layout.compact ? 3.4F : 3.9F) * em};
    float const line = layout.compact ? 5.0F * em : 6.6F * em;
    layout.line = {0, height - line, width, line};
    float const top = layout.figures.y + layout.figures.height;
    float const middle = std::max(1.0F, layout.line.y - top);
    // Plots and drawings want more room than sliders.
    bool const plots = ui.stage >= MakingStage::dry;
    float const worktop = std::min((plots ? 24.0F : 20.5F) * em, 0.4F * width);
    layout.worktop = {width - worktop, top, worktop, middle};
    bool const tray = ui.stage == MakingStage::leaves;
    layout.tray = {0, top, tray ? std::min(11.5F * em, 0.22F * width) : 0, middle};
    float const status = (layout.compact ? 1.9F : 2.3F) * em;
    float const picture = std::max(1.0F, width - worktop - layout.tray.width);
    layout.picture = {layout.tray.width, top, picture, std::max(1.0F, middle - status)};
    layout.status = {layout.tray.width, layout.picture.y + layout.picture.height, picture, status};
    return layout;
}

void begin_area(char const* name, Area const& area, ImU32 ground, bool scrolls, float padding) {
    ImGui::SetNextWindowPos({area.x, area.y});
    ImGui::SetNextWindowSize({std::max(1.0F, area.width), std::max(1.0F, area.height)});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {padding, padding});
    ImGui::PushStyleColor(ImGuiCol_WindowBg, ground);
    ImGuiWindowFlags flags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                             ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
                             ImGuiWindowFlags_NoNav;
    if (scrolls)
        flags &= ~ImGuiWindowFlags_NoScrollbar;
    else
        flags |= ImGuiWindowFlags_NoScrollWithMouse;
    ImGui::Begin(name, nullptr, flags);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
}

} // namespace leafwright
