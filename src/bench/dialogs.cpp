// Questions, and the page of keys.
#include "bench/leaf_book_page.h"
#include "bench/panels.h"
#include "bench/shortcuts.h"
#include "bench/trace_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>

namespace leafwright {
namespace {

bool begin_question(UiState const& ui, char const* name, float width_em) {
    float const em = ui.theme.em;
    ImVec2 const screen = ImGui::GetIO().DisplaySize;
    float const width = std::min(width_em * em, 0.94F * screen.x);
    ImGui::SetNextWindowSize({width, 0});
    ImGui::SetNextWindowPos({0.5F * screen.x, 0.45F * screen.y}, ImGuiCond_Always, {0.5F, 0.5F});
    return begin_dialog(ui, name);
}

void unsaved_question(Desk const& desk, UiState& ui, Intents& intents) {
    if (!ui.dialogs.unsaved || !begin_question(ui, "unsaved", 32)) return;
    std::string const& name = desk.state.history.now().name;
    title(ui, fmt::format("Save “{}” first?", name).c_str());
    sentence("It was changed since it was last saved.");
    Intent const then = ui.dialogs.unsaved->then;
    bool answered = false;
    if (button(ui, "Save it", ButtonLook::strong)) {
        answered = true;
        ui.dialogs.after_save = then;
        intents.emplace_back(DoAct{Act::save});
    }
    ImGui::SameLine();
    if (button(ui, "Let it go")) {
        answered = true;
        intents.push_back(then);
    }
    ImGui::SameLine();
    if (button(ui, "Go back") || ui.dialogs.escape) answered = true;
    if (answered) {
        ui.dialogs.unsaved.reset();
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

void recovery_question(UiState& ui, Intents& intents) {
    if (!ui.dialogs.recovery || !begin_question(ui, "recovery", 34)) return;
    KeptCopy const copy = *ui.dialogs.recovery;
    title(ui, "The bench was not closed properly last time");
    std::string const name = copy.name.empty() ? std::string("A piece") : fmt::format("“{}”", copy.name);
    sentence(fmt::format("{} was being worked on. A copy was kept at {}.", name, copy.when));
    bool answered = false;
    if (button(ui, "Bring it back", ButtonLook::strong, 0, !copy.name.empty())) {
        answered = true;
        intents.emplace_back(RecoverCopy{copy, true});
    }
    ImGui::SameLine();
    if (button(ui, "Throw the copy away")) {
        answered = true;
        intents.emplace_back(RecoverCopy{copy, false});
    }
    ImGui::SameLine();
    if (button(ui, "Later") || ui.dialogs.escape) answered = true;
    if (answered) {
        ui.dialogs.recovery.reset();
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

void key_line(UiState& ui, char const* keys, char const* words, float column) {
    float const left = ImGui::GetCursorPosX();
    ImGui::PushFont(ui.theme.strong);
    ImGui::PushTextWrapPos(left + column - 0.5F * ui.theme.em);
    ImVec2 const start = ImGui::GetCursorPos();
    ImGui::TextUnformatted(keys);
    float const end = ImGui::GetCursorPosY();
    ImGui::PopTextWrapPos();
    ImGui::PopFont();
    ImGui::SetCursorPos({left + column, start.y});
    sentence(words);
    ImGui::SetCursorPosY(std::max(end, ImGui::GetCursorPosY()) - 0.25F * ui.theme.em);
}

} // namespace

void keys_page(UiState& ui) {
    if (!ui.dialogs.keys_page) return;
    float const em = ui.theme.em;
    ImVec2 const screen = ImGui::GetIO().DisplaySize;
    ImVec2 const size{std::min(44 * em, 0.94F * screen.x), 0.92F * screen.y};
    ImGui::SetNextWindowSize(size);
    ImGui::SetNextWindowPos({0.5F * (screen.x - size.x), 0.04F * screen.y});
    if (!begin_dialog(ui, "keys")) return;
    title(ui, "Keys and mouse");
    ImGui::BeginChild("lines", {0, ImGui::GetContentRegionAvail().y - 3.4F * em});
    float const column = std::min(17 * em, 0.42F * size.x);
    heading(ui, "Mouse");
    for (MouseLine const& line : mouse_lines()) key_line(ui, line.how, line.words, column);
    char const* section = "";
    for (Shortcut const& shortcut : shortcuts()) {
        if (std::strcmp(section, shortcut.section) != 0) {
            section = shortcut.section;
            ImGui::Dummy({0, 0.3F * em});
            heading(ui, section);
            if (std::strcmp(section, "Looking") == 0)
                key_line(ui, "Ctrl + 1 to 9, 0", "The stages of the making line", column);
        }
        if (shortcut.keys[0]) key_line(ui, shortcut.keys, shortcut.words, column);
    }
    ImGui::EndChild();
    if (button(ui, "Close", ButtonLook::strong, 8 * em) || ui.dialogs.escape) ui.dialogs.keys_page = false;
    if (!ui.dialogs.keys_page) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
}

void dialogs(Desk const& desk, UiState& ui, Intents& intents) {
    // One at a time; the most pressing first.
    if (ui.dialogs.recovery)
        recovery_question(ui, intents);
    else if (ui.dialogs.unsaved)
        unsaved_question(desk, ui, intents);
    else if (ui.dialogs.chooser)
        file_chooser(ui, intents);
    else if (ui.tracing)
        trace_dialog(ui, intents);
    else if (ui.book)
        book_dialog(desk, ui, intents);
    else if (ui.proposals)
        proposals_page(desk, ui, intents);
    else
        keys_page(ui);
    ui.dialogs.escape = false;
    ui.dialogs.undo = false;
}

} // namespace leafwright
