// Text, answers, remarks and cards on the panels.
#include "bench/panels.h"

#include <imgui_internal.h>

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

void wrapped(std::string_view text) {
    ImGui::PushTextWrapPos(0);
    ImGui::TextUnformatted(text.data(), text.data() + text.size());
    ImGui::PopTextWrapPos();
}

} // namespace

void title(UiState& ui, char const* text) {
    ImGui::PushFont(ui.theme.title);
    wrapped(text);
    ImGui::PopFont();
}

void heading(UiState& ui, char const* text) {
    ImGui::PushFont(ui.theme.strong);
    wrapped(text);
    ImGui::PopFont();
}

void sentence(std::string_view text) { wrapped(text); }

void soft(UiState& ui, std::string_view text) {
    ImGui::PushFont(ui.theme.small);
    ImGui::PushStyleColor(ImGuiCol_Text, paint::ink_soft);
    wrapped(text);
    ImGui::PopStyleColor();
    ImGui::PopFont();
}

void answer(UiState& ui, char const* label, std::string_view value, std::string_view note) {
    float const left = ImGui::GetCursorPosX();
    float const room = ImGui::GetContentRegionAvail().x;
    float const width = text_size(ui.theme.strong, value).x;
    float const label_width = text_size(ui.theme.text, label).x;
    ImGui::PushStyleColor(ImGuiCol_Text, paint::ink_soft);
    bool const beside = label_width + width + 0.6F * ui.theme.em < room;
    if (beside)
        ImGui::TextUnformatted(label);
    else
        wrapped(label);
    ImGui::PopStyleColor();
    if (beside) ImGui::SameLine(0, 0);
    ImGui::SetCursorPosX(std::max(left, left + room - width));
    ImGui::PushFont(ui.theme.strong);
    if (width <= room)
        ImGui::TextUnformatted(value.data(), value.data() + value.size());
    else
        wrapped(value);
    ImGui::PopFont();
    if (!note.empty()) soft(ui, note);
}

void part_bar(UiState& ui, char const* label, std::string_view value, double share) {
    answer(ui, label, value);
    float const em = ui.theme.em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    float const width = ImGui::GetContentRegionAvail().x;
    float const y = at.y - 0.2F * em;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    auto const filled = static_cast<float>(std::clamp(share, 0.0, 1.0)) * width;
    draw.AddRectFilled({at.x, y}, {at.x + width, y + 0.35F * em}, paint::clay_pale, 0.17F * em);
    if (filled > 0.35F * em) draw.AddRectFilled({at.x, y}, {at.x + filled, y + 0.35F * em}, paint::clay, 0.17F * em);
    ImGui::Dummy({width, 0.25F * em});
}

void draw_mark(ImDrawList& draw, MarkKind kind, ImVec2 centre, float size) {
    float const r = size;
    if (kind == MarkKind::caution) {
        ImVec2 const a{centre.x, centre.y - r};
        ImVec2 const b{centre.x + 1.05F * r, centre.y + 0.85F * r};
        ImVec2 const c{centre.x - 1.05F * r, centre.y + 0.85F * r};
        draw.AddTriangleFilled(a, b, c, paint::caution);
        draw.AddLine({centre.x, centre.y - 0.35F * r}, {centre.x, centre.y + 0.25F * r}, paint::card, 0.26F * r);
        draw.AddCircleFilled({centre.x, centre.y + 0.55F * r}, 0.15F * r, paint::card);
    } else if (kind == MarkKind::refusal) {
        draw.AddNgonFilled(centre, r, paint::refusal, 8);
        draw.AddRectFilled({centre.x - 0.55F * r, centre.y - 0.15F * r}, {centre.x + 0.55F * r, centre.y + 0.15F * r},
                           paint::card);
    } else {
        draw.AddCircleFilled(centre, r, paint::leaf);
        ImVec2 const tick[] = {{centre.x - 0.42F * r, centre.y + 0.02F * r},
                               {centre.x - 0.1F * r, centre.y + 0.36F * r},
                               {centre.x + 0.45F * r, centre.y - 0.34F * r}};
        draw.AddPolyline(tick, 3, paint::card, 0, 0.24F * r);
    }
}

void remark(UiState& ui, MarkKind kind, std::string_view text, std::string_view hint) {
    float const em = ui.theme.em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    float const width = ImGui::GetContentRegionAvail().x;
    float const pad = 0.6F * em;
    float const wrap = width - 2.4F * em - pad;
    std::string const words = hint.empty() ? fmt::format("{}", text) : fmt::format("{} {}", text, hint);
    ImVec2 const size = ui.theme.text->CalcTextSizeA(em, FLT_MAX, wrap, words.data(), words.data() + words.size());
    float const height = std::max(size.y, 1.2F * em) + 2 * pad;
    ImU32 const ground = kind == MarkKind::tick      ? paint::leaf_pale
                         : kind == MarkKind::caution ? paint::caution_pale
                                                     : paint::refusal_pale;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled(at, {at.x + width, at.y + height}, ground, 0.47F * em);
    draw_mark(draw, kind, {at.x + 1.25F * em, at.y + pad + 0.6F * em}, 0.6F * em);
    draw.AddText(ui.theme.text, em, {at.x + 2.4F * em, at.y + pad}, paint::ink, words.data(),
                 words.data() + words.size(), wrap);
    ImGui::Dummy({width, height});
}

bool begin_popup_below(UiState const& ui, char const* name) {
    ImVec2 const low = ImGui::GetItemRectMin();
    ImVec2 const high = ImGui::GetItemRectMax();
    if (!ImGui::IsPopupOpen(name)) return false;
    bool const on_the_right = low.x > 0.55F * ImGui::GetIO().DisplaySize.x;
    float const y = high.y + 0.2F * ui.theme.em;
    if (on_the_right)
        ImGui::SetNextWindowPos({high.x, y}, ImGuiCond_Always, {1, 0});
    else
        ImGui::SetNextWindowPos({low.x, y});
    return ImGui::BeginPopup(name);
}

bool begin_dialog(UiState const& ui, char const* name) {
    if (!ImGui::IsPopupOpen(name)) ImGui::OpenPopup(name);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0.6F * ui.theme.em);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {1.4F * ui.theme.em, 1.2F * ui.theme.em});
    bool const open = ImGui::BeginPopupModal(
        name, nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoResize);
    ImGui::PopStyleVar(2);
    return open;
}

void remarks_of(UiState& ui, std::vector<Warning> const& warnings, MakingStage stage) {
    for (Warning const& warning : warnings)
        if (warning.stage == label(stage))
            remark(ui, warning.refusal ? MarkKind::refusal : MarkKind::caution,
                   sentence_in(warning.text, ui.settings.units), sentence_in(warning.hint, ui.settings.units));
}

Card::Card(UiState const& ui)
    : pad_(0.8F * ui.theme.em), start_(ImGui::GetCursorScreenPos()), width_(ImGui::GetContentRegionAvail().x) {
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.ChannelsSplit(2);
    draw.ChannelsSetCurrent(1);
    ImGui::SetCursorScreenPos({start_.x + pad_, start_.y + pad_});
    ImGui::BeginGroup();
    // What is drawn inside ends before the card's right edge.
    ImGui::GetCurrentWindow()->WorkRect.Max.x -= pad_;
    ImGui::GetCurrentWindow()->ContentRegionRect.Max.x -= pad_;
}

Card::~Card() {
    ImGui::GetCurrentWindow()->WorkRect.Max.x += pad_;
    ImGui::GetCurrentWindow()->ContentRegionRect.Max.x += pad_;
    ImGui::EndGroup();
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    ImVec2 const end{start_.x + width_, ImGui::GetItemRectMax().y + pad_};
    draw.ChannelsSetCurrent(0);
    float const round = ImGui::GetStyle().FrameRounding;
    draw.AddRectFilled(start_, end, paint::card, round);
    draw.AddRect(start_, end, paint::border, round);
    draw.ChannelsMerge();
    ImGui::SetCursorScreenPos({start_.x, end.y + 0.5F * pad_});
    ImGui::Dummy({width_, 0});
}

ImVec2 text_size(ImFont* font, std::string_view text) {
    float const size = font->FontSize * ImGui::GetIO().FontGlobalScale;
    return font->CalcTextSizeA(size, FLT_MAX, 0, text.data(), text.data() + text.size());
}

std::string cut_to(ImFont* font, std::string_view text, float width) {
    if (text_size(font, text).x <= width) return std::string(text);
    float const dots = text_size(font, "…").x;
    std::size_t end = text.size();
    while (end > 0 && text_size(font, text.substr(0, end)).x + dots > width) {
        --end;
        while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end; // whole characters
    }
    while (end > 0 && text[end - 1] == ' ') --end;
    return std::string(text.substr(0, end)) + "…";
}

float fitted_text(ImDrawList& draw, ImFont* font, ImVec2 at, float width, ImU32 paint, std::string_view text,
                  bool centred) {
    float size = font->FontSize * ImGui::GetIO().FontGlobalScale;
    float natural = text_size(font, text).x;
    float const full = size;
    if (natural > width && natural > 0) {
        size *= std::max(0.3F, width / natural);
        natural = width;
    }
    float const x = centred ? at.x + 0.5F * (width - natural) : at.x;
    draw.AddText(font, size, {x, at.y + 0.5F * (full - size)}, paint, text.data(), text.data() + text.size());
    return natural;
}

void mark(UiState& ui, std::string const& name) {
    ImVec2 const low = ImGui::GetItemRectMin();
    ImVec2 const high = ImGui::GetItemRectMax();
    if (ImGuiID const id = ImGui::GetItemID()) {
        auto const [seen, fresh] = ui.items.emplace(id, ScreenBox{low.x, low.y, high.x, high.y});
        if (!fresh && (seen->second.x0 != low.x || seen->second.y0 != low.y)) ui.twins.insert(name);
    }
    ui.marks[name] = {low.x, low.y, high.x, high.y};
}

} // namespace leafwright
