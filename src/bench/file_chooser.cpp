// The bench's own file chooser.
#include "bench/file_list.h"
#include "bench/panels.h"

#include <imgui_stdlib.h>

namespace leafwright {
namespace {

bool saves(Chooser const& chooser) { return chooser.purpose == Chooser::For::save; }
bool wants_photo(Chooser const& chooser) { return chooser.purpose == Chooser::For::photo; }
bool wants_leaf(Chooser const& chooser) { return chooser.purpose == Chooser::For::leaf; }
ListOf listed_for(Chooser const& chooser) {
    return wants_leaf(chooser) ? ListOf::leaves : wants_photo(chooser) ? ListOf::photos : ListOf::pieces;
}

void choose(UiState& ui, Intents& intents, std::filesystem::path const& path) {
    Chooser& chooser = *ui.dialogs.chooser;
    std::error_code error;
    if (std::filesystem::is_directory(path, error)) {
        chooser.folder = path;
        chooser.problem.clear();
        if (!saves(chooser)) chooser.typed.clear();
        return;
    }
    bool const exists = std::filesystem::exists(path, error);
    if (!saves(chooser) && !exists) {
        chooser.problem = "There is no such file.";
        return;
    }
    if (saves(chooser) && exists && chooser.over != path) {
        chooser.over = path;
        chooser.problem = "There is a file of that name. Save once more to replace it.";
        return;
    }
    if (saves(chooser))
        intents.emplace_back(SaveAtPath{path});
    else if (wants_photo(chooser))
        intents.emplace_back(OpenPhoto{path});
    else if (wants_leaf(chooser))
        intents.emplace_back(BookAct{BookAct::What::import, {}, path});
    else
        intents.emplace_back(OpenPath{path});
    ui.dialogs.chooser.reset();
}

// The folders that lead here, each to be clicked.
void folder_path(UiState& ui, Chooser& chooser) {
    std::filesystem::path whole;
    std::filesystem::path target;
    float const room = ImGui::GetContentRegionAvail().x;
    float x = 0;
    int index = 0;
    for (std::filesystem::path const& part : chooser.folder) {
        if (part.empty()) continue;
        whole /= part;
        std::string const name = part == "/" ? std::string("/") : part.string();
        float const width = text_size(ui.theme.text, name).x + 1.5F * ui.theme.em;
        if (index && x + width < room)
            ImGui::SameLine(0, 0);
        else
            x = 0;
        x += width;
        ImGui::PushID(index++);
        if (button(ui, name.c_str(), ButtonLook::quiet)) target = whole;
        ImGui::PopID();
    }
    if (!target.empty()) chooser.folder = target;
}

void list_lines(UiState& ui, Intents& intents, float height) {
    float const em = ui.theme.em;
    Chooser const chooser = *ui.dialogs.chooser;
    FileList const list = file_list(chooser.folder, listed_for(chooser));
    ImGui::BeginChild("files", {0, height}, true);
    if (!list.problem.empty()) sentence(list.problem);
    for (std::string const& name : list.folders)
        if (ImGui::Selectable((name + "/").c_str(), false, 0, {0, 1.7F * em}))
            choose(ui, intents, chooser.folder / name);
    for (std::string const& name : list.pieces) {
        if (!ui.dialogs.chooser) break;
        bool const marked = chooser.typed == name;
        if (ImGui::Selectable(name.c_str(), marked, ImGuiSelectableFlags_AllowDoubleClick, {0, 1.7F * em})) {
            ui.dialogs.chooser->typed = name;
            if (!saves(chooser) && ImGui::IsMouseDoubleClicked(0)) choose(ui, intents, chooser.folder / name);
        }
        mark(ui, "file." + name);
    }
    if (list.folders.empty() && list.pieces.empty() && list.problem.empty())
        ImGui::TextDisabled("%s", wants_leaf(chooser)    ? "No drawings or leaf files here."
                                  : wants_photo(chooser) ? "No photographs here."
                                                         : "No pieces here.");
    ImGui::EndChild();
}

void last_row(UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    Chooser& chooser = *ui.dialogs.chooser;
    ImGui::TextUnformatted(saves(chooser) ? "File name" : "File name or path");
    ImGui::SetNextItemWidth(-FLT_MIN);
    if (ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
    bool done = ImGui::InputText("##typed", &chooser.typed, ImGuiInputTextFlags_EnterReturnsTrue);
    mark(ui, "chooser.typed");
    if (!chooser.problem.empty()) remark(ui, MarkKind::caution, chooser.problem, {});
    bool const can = !chooser.typed.empty();
    if (button(ui, saves(chooser) ? "Save here" : "Open it", ButtonLook::strong, 9 * em, can)) done = true;
    ImGui::SameLine();
    bool const cancel = button(ui, "Cancel", ButtonLook::plain, 7 * em) || ui.dialogs.escape;
    bool const for_saving = saves(chooser);
    if (done && can) choose(ui, intents, typed_path(chooser.folder, chooser.typed, for_saving));
    if (!cancel) return;
    ui.dialogs.chooser.reset();
    ui.dialogs.after_save.reset();
}

} // namespace

void file_chooser(UiState& ui, Intents& intents) {
    if (!ui.dialogs.chooser) return;
    float const em = ui.theme.em;
    ImVec2 const screen = ImGui::GetIO().DisplaySize;
    ImVec2 const size{std::min(40 * em, 0.94F * screen.x), std::min(34 * em, 0.94F * screen.y)};
    ImGui::SetNextWindowSize(size);
    ImGui::SetNextWindowPos({0.5F * (screen.x - size.x), 0.5F * (screen.y - size.y)});
    if (!begin_dialog(ui, "chooser")) return;
    Chooser const& asked = *ui.dialogs.chooser;
    title(ui, saves(asked) ? "Save the piece"
                           : (wants_leaf(asked)    ? "Open a drawing or a leaf file"
                              : wants_photo(asked) ? "Open a photograph of leaves"
                                                   : "Open a piece"));
    folder_path(ui, *ui.dialogs.chooser);
    float const below = 8.2F * em + (ui.dialogs.chooser->problem.empty() ? 0 : 3.6F * em);
    list_lines(ui, intents, std::max(5 * em, ImGui::GetContentRegionAvail().y - below));
    if (ui.dialogs.chooser) last_row(ui, intents);
    if (!ui.dialogs.chooser) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
}

} // namespace leafwright
