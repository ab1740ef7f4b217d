#include "bench/autosave.h"
#include "bench/file_list.h"
#include "bench/settings.h"
#include "piece/piece_json.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sys/wait.h>
#include <unistd.h>

using namespace leafwright;

namespace {

// A folder of its own for one test, gone at the end.
struct Scratch {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("leafwright-bench-test-" + std::to_string(getpid()));
    Scratch() {
        std::filesystem::remove_all(path);
        std::filesystem::create_directories(path);
    }
    ~Scratch() { std::filesystem::remove_all(path); }
};

// A process number that was running and is no more.
long gone_process() {
    pid_t const child = fork();
    if (child == 0) _exit(0);
    int status = 0;
    waitpid(child, &status, 0);
    return child;
}

} // namespace

TEST_CASE("settings come back as they were kept") {
    Scratch const scratch;
    Settings settings;
    settings.units = Units::inches;
    settings.text_scale = 1.5;
    settings.window_width = 1600;
    settings.window_height = 1000;
    settings.recent = {"/a/hare.piece.json", "/b/owl.piece.json"};
    REQUIRE(!save_settings(scratch.path / "new-folder", settings));
    CHECK(load_settings(scratch.path / "new-folder") == settings);
}

TEST_CASE("bad settings are left out one by one") {
    CHECK(settings_from_json("") == Settings{});
    CHECK(settings_from_json("[1, 2") == Settings{});
    CHECK(settings_from_json("[]") == Settings{});
    Settings const some = settings_from_json(
        R"({"units": "inches", "text_scale": 9, "window_width": "wide", "window_height": 900, "recent": [1, "/x", null]})");
    CHECK(some.units == Units::inches);
    CHECK(some.text_scale == 0);
    CHECK(some.window_width == Settings{}.window_width);
    CHECK(some.window_height == 900);
    CHECK(some.recent == std::vector<std::filesystem::path>{"/x"});
}

TEST_CASE("the list of recent pieces is short, newest first, without doubles") {
    Settings settings;
    for (int i = 0; i < 15; ++i) remember_recent(settings, "/p/" + std::to_string(i));
    CHECK(settings.recent.size() == kRecentMost);
    CHECK(settings.recent.front() == "/p/14");
    remember_recent(settings, "/p/10");
    CHECK(settings.recent.front() == "/p/10");
    CHECK(settings.recent.size() == kRecentMost);
    CHECK(std::count(settings.recent.begin(), settings.recent.end(), "/p/10") == 1);
}

TEST_CASE("the folders follow the XDG base directory rules") {
    setenv("XDG_CONFIG_HOME", "/c", 1);
    CHECK(config_folder() == "/c/leafwright");
    setenv("XDG_CONFIG_HOME", "relative", 1); // a relative path is to be ignored
    setenv("HOME", "/h", 1);
    CHECK(config_folder() == "/h/.config/leafwright");
    unsetenv("XDG_STATE_HOME");
    CHECK(state_folder() == "/h/.local/state/leafwright");
}

TEST_CASE("a copy of unsaved work is found again once its process is gone") {
    Scratch const scratch;
    Piece piece = new_piece();
    piece.name = "Half done";
    long const gone = gone_process();
    REQUIRE(!keep_copy(scratch.path, getpid(), piece, {}));
    REQUIRE(!keep_copy(scratch.path, gone, piece, "/pieces/half.piece.json"));
    auto const copies = copies_left_behind(scratch.path);
    REQUIRE(copies.size() == 1); // not our own: we are still running
    CHECK(copies[0].name == "Half done");
    CHECK(copies[0].origin == "/pieces/half.piece.json");
    CHECK(!copies[0].when.empty());
    auto const back = load_piece(copies[0].file);
    REQUIRE(back);
    CHECK(*back == piece);
    drop_copy(copies[0]);
    CHECK(copies_left_behind(scratch.path).empty());
    drop_copy(scratch.path, getpid());
    CHECK(std::filesystem::is_empty(scratch.path));
}

TEST_CASE("a process that has ended but was not waited for counts as gone") {
    Scratch const scratch;
    pid_t const child = fork();
    if (child == 0) _exit(0);
    siginfo_t info{};
    REQUIRE(waitid(P_PID, static_cast<id_t>(child), &info, WEXITED | WNOWAIT) == 0); // it stays in the table
    REQUIRE(!keep_copy(scratch.path, child, new_piece(), {}));
    CHECK(copies_left_behind(scratch.path).size() == 1);
    int status = 0;
    waitpid(child, &status, 0);
}

TEST_CASE("files that are no copies are left alone") {
    Scratch const scratch;
    for (char const* name : {"autosave-.piece.json", "autosave-x.piece.json", "autosave--3.piece.json", "other.txt"})
        std::ofstream(scratch.path / name) << "{}";
    CHECK(copies_left_behind(scratch.path).empty());
    CHECK(copies_left_behind(scratch.path / "nowhere").empty());
}

TEST_CASE("the file chooser shows folders and pieces by name, and nothing hidden") {
    Scratch const scratch;
    for (char const* name : {"b.piece.json", "A.piece.json", "notes.txt", ".hidden.piece.json"})
        std::ofstream(scratch.path / name) << "{}";
    std::filesystem::create_directories(scratch.path / "Zoo");
    std::filesystem::create_directories(scratch.path / ".git");
    FileList const list = file_list(scratch.path);
    CHECK(list.pieces == std::vector<std::string>{"A.piece.json", "b.piece.json"});
    CHECK(list.folders == std::vector<std::string>{"Zoo"});
    CHECK(list.problem.empty());
    CHECK(!file_list(scratch.path / "nowhere").problem.empty());
}

TEST_CASE("a typed file name is a path, or a name in the folder") {
    CHECK(typed_path("/pieces", "hare", true) == "/pieces/hare.piece.json");
    CHECK(typed_path("/pieces", "hare.piece.json", true) == "/pieces/hare.piece.json");
    CHECK(typed_path("/pieces", "../x/owl.piece.json", false) == "/x/owl.piece.json");
    CHECK(typed_path("/pieces", "/tmp/a.piece.json", false) == "/tmp/a.piece.json");
    setenv("HOME", "/home/maker", 1);
    CHECK(typed_path("/pieces", "~/b.piece.json", false) == "/home/maker/b.piece.json");
}
