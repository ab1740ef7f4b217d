// How the bench looks: paper, clay and one leaf green; Inter; sizes in text heights ("em").
#pragma once

#include <imgui.h>

namespace leafwright {

// Ink on paper. Each pair of text and ground used together has a contrast of 4.5 or more (WCAG 2, SC 1.4.3).
namespace paint {
inline constexpr ImU32 paper = IM_COL32(244, 238, 228, 255); // the bench top
inline constexpr ImU32 panel = IM_COL32(251, 248, 242, 255); // panels
inline constexpr ImU32 card = IM_COL32(255, 255, 255, 255);
inline constexpr ImU32 border = IM_COL32(225, 214, 198, 255);
inline constexpr ImU32 border_strong = IM_COL32(196, 181, 160, 255);
inline constexpr ImU32 ink = IM_COL32(54, 46, 39, 255);
inline constexpr ImU32 ink_soft = IM_COL32(106, 94, 82, 255);
inline constexpr ImU32 clay = IM_COL32(201, 150, 112, 255);
inline constexpr ImU32 clay_pale = IM_COL32(236, 216, 197, 255);
inline constexpr ImU32 clay_dark = IM_COL32(138, 90, 58, 255);
inline constexpr ImU32 leaf = IM_COL32(74, 117, 70, 255); // the accent
inline constexpr ImU32 leaf_dark = IM_COL32(52, 88, 50, 255);
inline constexpr ImU32 leaf_pale = IM_COL32(225, 236, 218, 255);
inline constexpr ImU32 caution = IM_COL32(166, 103, 12, 255);
inline constexpr ImU32 caution_pale = IM_COL32(252, 240, 214, 255);
inline constexpr ImU32 refusal = IM_COL32(158, 52, 38, 255);
inline constexpr ImU32 refusal_pale = IM_COL32(250, 226, 219, 255);
} // namespace paint

struct Theme {
    ImFont* text = nullptr;
    ImFont* strong = nullptr;
    ImFont* small = nullptr;
    ImFont* title = nullptr;
    ImFont* figure = nullptr; // large digits
    float em = 17;            // height of the text, in window units
};

inline constexpr float kTextHeight = 17; // at text size 1 on a screen of ordinary density

// Loads the fonts into the current ImGui context and sets its style. `pixel_ratio`: framebuffer pixels a window unit.
// Inter where Debian installs it, else DejaVu, else ImGui's own.
Theme make_theme(float em, float pixel_ratio);

ImVec4 color(ImU32 paint);
ImU32 faded(ImU32 paint, float share); // with its opacity times share

} // namespace leafwright
