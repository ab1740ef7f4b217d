#include "bench/theme.h"

#include <imgui_freetype.h>

#include <array>
#include <filesystem>

namespace leafwright {
namespace {

constexpr std::array kRegularFonts = {"/usr/share/fonts/opentype/inter/Inter-Regular.otf",
                                      "/usr/share/fonts/truetype/inter/Inter-Regular.ttf",
                                      "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"};
constexpr std::array kStrongFonts = {"/usr/share/fonts/opentype/inter/Inter-SemiBold.otf",
                                     "/usr/share/fonts/truetype/inter/Inter-SemiBold.ttf",
                                     "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf"};

// Latin, Greek, Cyrillic (names of pieces), dashes and quotes, arrows, the signs of arithmetic, tick and cross.
constexpr std::array<ImWchar, 17> kTextGlyphs = {0x20,   0x17F,  0x370,  0x3FF,  0x400,  0x45F,  0x2010, 0x2044, 0x2070,
                                                 0x2079, 0x2190, 0x2199, 0x2212, 0x2265, 0x2713, 0x2717, 0};
constexpr std::array<ImWchar, 9> kFigureGlyphs = {0x20, 0xFF, 0x2010, 0x2044, 0x2212, 0x2212, 0x2248, 0x2248, 0};

template <std::size_t N> char const* first_file(std::array<char const*, N> const& paths) {
    std::error_code error;
    for (char const* path : paths)
        if (std::filesystem::exists(path, error)) return path;
    return nullptr;
}

ImFont* load(char const* path, float pixels, ImWchar const* glyphs) {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    ImFontConfig config;
    config.PixelSnapH = true;
    config.SizePixels = pixels;
    return path ? atlas.AddFontFromFileTTF(path, pixels, &config, glyphs) : atlas.AddFontDefault(&config);
}

void set_colors(ImGuiStyle& style) {
    auto const set = [&](ImGuiCol which, ImU32 paint) { style.Colors[which] = color(paint); };
    ImGui::StyleColorsLight(&style);
    set(ImGuiCol_Text, paint::ink);
    set(ImGuiCol_TextDisabled, paint::ink_soft);
    set(ImGuiCol_WindowBg, paint::panel);
    set(ImGuiCol_ChildBg, IM_COL32(0, 0, 0, 0));
    set(ImGuiCol_PopupBg, paint::card);
    set(ImGuiCol_Border, paint::border);
    set(ImGuiCol_FrameBg, paint::card);
    set(ImGuiCol_FrameBgHovered, paint::card);
    set(ImGuiCol_FrameBgActive, paint::card);
    set(ImGuiCol_Button, paint::card);
    set(ImGuiCol_ButtonHovered, paint::leaf_pale);
    set(ImGuiCol_ButtonActive, IM_COL32(205, 222, 196, 255));
    set(ImGuiCol_Header, paint::leaf_pale);
    set(ImGuiCol_HeaderHovered, paint::leaf_pale);
    set(ImGuiCol_HeaderActive, IM_COL32(205, 222, 196, 255));
    set(ImGuiCol_ScrollbarBg, IM_COL32(0, 0, 0, 0));
    set(ImGuiCol_ScrollbarGrab, paint::border_strong);
    set(ImGuiCol_ScrollbarGrabHovered, paint::clay);
    set(ImGuiCol_ScrollbarGrabActive, paint::clay_dark);
    set(ImGuiCol_TextSelectedBg, IM_COL32(190, 214, 180, 255));
    set(ImGuiCol_Separator, paint::border);
    set(ImGuiCol_CheckMark, paint::leaf);
    set(ImGuiCol_ModalWindowDimBg, IM_COL32(70, 58, 46, 90));
}

void set_sizes(ImGuiStyle& style, float em) {
    style.FramePadding = {0.75F * em, 0.6F * em};
    style.ItemSpacing = {0.55F * em, 0.55F * em};
    style.ItemInnerSpacing = {0.4F * em, 0.4F * em};
    style.WindowPadding = {em, em};
    style.WindowRounding = 0;
    style.WindowBorderSize = 0;
    style.ChildRounding = style.FrameRounding = style.PopupRounding = 0.47F * em;
    style.ScrollbarSize = 0.7F * em;
    style.ScrollbarRounding = 0.35F * em;
    style.FrameBorderSize = 1;
    style.PopupBorderSize = 1;
    style.WindowMinSize = {1, 1};
    style.DisabledAlpha = 0.45F;
    style.CurveTessellationTol = 0.8F;
}

} // namespace

Theme make_theme(float em, float pixel_ratio) {
    ImGuiIO& io = ImGui::GetIO();
    io.Fonts->Clear();
    // FreeType's light hinting keeps small text even; the built-in rasterizer has none.
    io.Fonts->FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
    io.Fonts->FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
    char const* const regular = first_file(kRegularFonts);
    char const* const strong = first_file(kStrongFonts);
    float const pixels = em * pixel_ratio;
    Theme theme;
    theme.em = em;
    theme.text = load(regular, pixels, kTextGlyphs.data());
    theme.strong = load(strong, pixels, kTextGlyphs.data());
    theme.small = load(regular, 0.86F * pixels, kTextGlyphs.data());
    theme.title = load(strong, 1.3F * pixels, kTextGlyphs.data());
    theme.figure = load(strong, 1.55F * pixels, kFigureGlyphs.data());
    io.FontGlobalScale = 1 / pixel_ratio;
    ImGuiStyle style;
    set_colors(style);
    set_sizes(style, em);
    ImGui::GetStyle() = style;
    return theme;
}

ImVec4 color(ImU32 paint) { return ImGui::ColorConvertU32ToFloat4(paint); }

ImU32 faded(ImU32 paint, float share) {
    auto const alpha = static_cast<float>((paint >> IM_COL32_A_SHIFT) & 0xFF) * share;
    return (paint & ~IM_COL32_A_MASK) | (static_cast<ImU32>(alpha) << IM_COL32_A_SHIFT);
}

} // namespace leafwright
