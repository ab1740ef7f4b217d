// New, open, save, close and recover; nothing unsaved goes without a question.
#include "bench/desk.h"

#include "piece/piece_json.h"

#include <fmt/format.h>

#include <unistd.h>

#include <cctype>

namespace leafwright {
namespace {

// Asks when there is unsaved work; returns whether one may go on.
bool may_go_on(Desk& desk, bool asked, Intent const& then) {
    if (asked || !is_unsaved(desk.state)) return true;
    desk.ui.dialogs.unsaved = UnsavedQuestion{then};
    return false;
}

void put_on_bench(Desk& desk, Piece piece, std::filesystem::path const& path) {
    drop_copy(desk.kept, getpid());
    desk.kept_revision = 0;
    desk.kept_s = desk.ui.now_s;
    desk.layer.cancel();
    desk.state.history = History(std::move(piece));
    desk.state.history.mark_saved();
    desk.state.recovered = false;
    desk.state.path = path;
    desk.asked_revision = 0;
    UiState& ui = desk.ui;
    ui.laying = false;
    ui.hand = Resting{};
    ui.selected.clear();
    ui.selected_feature = -1;
    ui.kind_shown.clear();
    ui.camera_set = {false, false};
}

void remember(Desk& desk, std::filesystem::path const& path) {
    remember_recent(desk.ui.settings, path);
    // A recent list that cannot be kept is no reason to trouble the maker.
    (void)save_settings(desk.config, desk.ui.settings);
}

std::filesystem::path first_folder(Desk const& desk) {
    std::error_code error;
    if (!desk.state.path.empty()) return std::filesystem::absolute(desk.state.path, error).parent_path();
    if (!desk.ui.settings.recent.empty()) {
        std::filesystem::path folder = desk.ui.settings.recent.front().parent_path();
        if (std::filesystem::is_directory(folder, error)) return folder;
    }
    char const* const home = std::getenv("HOME");
    if (home && std::filesystem::is_directory(home, error)) return home;
    return std::filesystem::current_path(error);
}

// A file name from the piece's name: letters, digits and dashes.
std::string file_name_for(std::string const& name) {
    std::string file;
    for (char const c : name) {
        bool const plain = std::isalnum(static_cast<unsigned char>(c)) || static_cast<unsigned char>(c) >= 0x80;
        if (plain)
            file += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        else if (!file.empty() && file.back() != '-')
            file += '-';
    }
    while (!file.empty() && file.back() == '-') file.pop_back();
    return (file.empty() ? std::string("piece") : file) + ".piece.json";
}

} // namespace

void open_path(Desk& desk, std::filesystem::path const& path, bool asked) {
    if (!may_go_on(desk, asked, OpenPath{path, true})) return;
    auto piece = load_piece(path);
    if (!piece) {
        say(desk.ui, path.filename().string() + ": " + piece.problem().sentence(), MessageTone::fault);
        return;
    }
    std::string const name = piece->name;
    put_on_bench(desk, std::move(*piece), path);
    remember(desk, path);
    say(desk.ui, fmt::format("“{}” is on the bench.", name));
}

// A piece that was never named takes the name that it is saved under.
void take_name_of(Desk& desk, std::filesystem::path const& path) {
    if (desk.state.history.now().name != new_piece().name) return;
    std::string name = path.stem().string();
    if (name.ends_with(".piece")) name.resize(name.size() - 6);
    if (!name.empty()) desk.state.history.commit(SetName{name});
}

void save_at(Desk& desk, std::filesystem::path const& path) {
    take_name_of(desk, path);
    if (auto const problem = save_piece(path, desk.state.history.now())) {
        say(desk.ui, path.filename().string() + ": " + problem->sentence(), MessageTone::fault);
        desk.ui.dialogs.after_save.reset();
        return;
    }
    desk.state.path = path;
    desk.state.history.mark_saved();
    desk.state.recovered = false;
    refresh_copy(desk);
    remember(desk, path);
    say(desk.ui, fmt::format("Saved as {}.", path.filename().string()));
    if (auto const then = std::exchange(desk.ui.dialogs.after_save, std::nullopt)) carry_out(desk, *then);
}

void save_or_ask(Desk& desk) {
    if (desk.state.path.empty())
        show_chooser(desk, Chooser::For::save);
    else
        save_at(desk, desk.state.path);
}

void start_anew(Desk& desk, bool asked) {
    if (!may_go_on(desk, asked, StartAnew{true})) return;
    put_on_bench(desk, new_piece(), {});
    desk.ui.stage = MakingStage::drape;
}

void close_bench(Desk& desk, bool asked) {
    if (!may_go_on(desk, asked, CloseBench{true})) return;
    drop_copy(desk.kept, getpid());
    desk.ui.quit = true;
}

void recover(Desk& desk, KeptCopy const& copy, bool open) {
    if (open) {
        auto piece = load_piece(copy.file);
        if (!piece) {
            say(desk.ui, "The safety copy cannot be read: " + piece.problem().sentence(), MessageTone::fault);
            return;
        }
        put_on_bench(desk, std::move(*piece), copy.origin);
        desk.state.recovered = true; // the copy is all there is of the work
        desk.kept_s = -1e9;          // a copy of our own is made at once
        refresh_copy(desk);
    }
    drop_copy(copy);
}

void show_chooser(Desk& desk, Chooser::For purpose) {
    Chooser chooser;
    chooser.purpose = purpose;
    chooser.folder = first_folder(desk);
    if (purpose == Chooser::For::save)
        chooser.typed = desk.state.path.empty() ? file_name_for(desk.state.history.now().name)
                                                : desk.state.path.filename().string();
    desk.ui.dialogs.chooser = std::move(chooser);
}

} // namespace leafwright
