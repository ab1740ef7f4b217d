// The bench without its window: acts, files and questions.
#include "bench/desk.h"
#include "bench/shortcuts.h"
#include "piece/piece_json.h"

#include <doctest/doctest.h>

#include <set>
#include <unistd.h>

using namespace leafwright;

namespace {

struct Tray {
    std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("leafwright-desk-test-" + std::to_string(getpid()));
    Desk desk{new_piece(), [] {}};
    Tray() {
        std::filesystem::remove_all(folder);
        std::filesystem::create_directories(folder);
        desk.config = folder / "config";
        desk.kept = folder / "state";
        desk.state.history.mark_saved();
        LeafPlacement leaf;
        leaf.kind = desk.state.history.now().leaf_kinds.front().id;
        leaf.from_crown_mm = 80;
        leaf.azimuth_deg = 30;
        carry_out(desk, Commit{AddLeaves{{leaf, leaf}}});
    }
    ~Tray() { std::filesystem::remove_all(folder); }
    std::vector<LeafPlacement> const& leaves() const { return desk.state.history.now().leaves; }
    void press(int key, bool ctrl = false, bool shift = false) {
        auto const intent = intent_of({key, ctrl, shift, false});
        REQUIRE(intent);
        carry_out(desk, *intent);
    }
};

} // namespace

TEST_CASE("keys act on the chosen leaf, and Ctrl+Z takes each act back") {
    Tray tray;
    int const id = tray.leaves()[0].id;
    carry_out(tray.desk, ChooseLeaves{{id}});
    Piece const before = tray.desk.state.history.now();
    tray.press('F');
    CHECK(tray.leaves()[0].flipped);
    tray.press('R');
    CHECK(tray.leaves()[0].turn_deg == 5);
    CHECK(tray.leaves()[0].pinned); // what the hand has laid stays when rows are laid again
    tray.press('P');
    CHECK(!tray.leaves()[0].pinned);
    tray.press(']');
    CHECK(tray.leaves()[1].id == id);
    tray.press('M');
    CHECK(tray.leaves().size() == 3);
    CHECK(tray.desk.ui.selected == std::vector<int>{tray.leaves()[2].id});
    tray.press('D', true);
    CHECK(tray.leaves().size() == 4);
    for (int i = 0; i < 6; ++i) tray.press('Z', true);
    CHECK(tray.desk.state.history.now() == before);
    tray.press('Y', true);
    CHECK(tray.leaves()[0].flipped);
}

TEST_CASE("Ctrl and the number keys choose the stages in the order of the making line; a bare figure does nothing") {
    Tray tray;
    std::set<MakingStage> seen;
    for (char const key : std::string("1234567890")) {
        CHECK(!intent_of({key, false, false, false}));
        tray.press(key, true);
        seen.insert(tray.desk.ui.stage);
    }
    CHECK(seen.size() == 10);
    CHECK(tray.desk.ui.stage == MakingStage::hang);
    tray.press('1', true);
    CHECK(tray.desk.ui.stage == MakingStage::knead);
}

TEST_CASE("a caution about one stage goes when another is looked at; a fault stays until it is closed") {
    Tray tray;
    tray.desk.ui.message = {"Row 1: tips reach far", MessageTone::caution, 1e9};
    carry_out(tray.desk, GoToStage{MakingStage::roll});
    CHECK(tray.desk.ui.message.text.empty());
    tray.desk.ui.message = {"The file could not be written", MessageTone::fault, 0};
    carry_out(tray.desk, GoToStage{MakingStage::dry});
    CHECK_FALSE(tray.desk.ui.message.text.empty());
}

TEST_CASE("no two lines of the keyboard table answer to the same press, and every act on the page has words") {
    auto const all = shortcuts();
    REQUIRE(all.size() > 30);
    for (std::size_t i = 0; i < all.size(); ++i) {
        auto const intent = intent_of({all[i].key, all[i].ctrl, all[i].shift, false});
        REQUIRE(intent);
        REQUIRE(std::holds_alternative<DoAct>(*intent));
        CHECK_MESSAGE(std::get<DoAct>(*intent).act == all[i].act, all[i].words);
        CHECK((all[i].keys[0] == '\0') == (all[i].words[0] == '\0'));
    }
}

TEST_CASE("unsaved work is never lost without a question") {
    Tray tray;
    carry_out(tray.desk, DoAct{Act::new_piece});
    REQUIRE(tray.desk.ui.dialogs.unsaved);
    CHECK(tray.leaves().size() == 2);
    carry_out(tray.desk, CloseBench{});
    CHECK(!tray.desk.ui.quit);
    Intent const then = tray.desk.ui.dialogs.unsaved->then;
    carry_out(tray.desk, then); // "let it go"
    CHECK(tray.desk.ui.quit);
}

TEST_CASE("saved and opened again, a piece is the same; a bad file changes nothing") {
    Tray tray;
    auto const file = tray.folder / "a.piece.json";
    carry_out(tray.desk, SaveAtPath{file});
    CHECK(!is_unsaved(tray.desk.state));
    Piece const saved = tray.desk.state.history.now();
    carry_out(tray.desk, DoAct{Act::new_piece});
    CHECK(tray.leaves().empty());
    REQUIRE(!write_file(tray.folder / "bad.piece.json", "{\"leafwright\": \"piece\", \"version\": 99}"));
    carry_out(tray.desk, OpenPath{tray.folder / "bad.piece.json"});
    CHECK(tray.desk.ui.message.tone == MessageTone::fault);
    CHECK(tray.leaves().empty());
    carry_out(tray.desk, OpenPath{file});
    CHECK(tray.desk.state.history.now() == saved);
    CHECK(tray.desk.ui.settings.recent.front() == file);
    CHECK(load_settings(tray.desk.config).recent.front() == file);
}

TEST_CASE("a piece that was never named takes the name that it is saved under, once") {
    Tray tray;
    carry_out(tray.desk, SaveAtPath{tray.folder / "My wreath.piece.json"});
    CHECK(tray.desk.state.history.now().name == "My wreath");
    CHECK(!is_unsaved(tray.desk.state));
    carry_out(tray.desk, SaveAtPath{tray.folder / "Copy.piece.json"});
    CHECK(tray.desk.state.history.now().name == "My wreath");
}

TEST_CASE("under goes below the next leaf in contact, not one place down the list") {
    Tray tray;
    Piece const before = tray.desk.state.history.now();
    LeafPlacement far = before.leaves.front();
    far.azimuth_deg = 210;
    carry_out(tray.desk, Commit{AddLeaves{{far, before.leaves.front()}}}); // order: near, near, far, near
    Planner planner;
    auto const plan = planner.plan(tray.desk.state.history.now());
    REQUIRE(plan.ok());
    tray.desk.state.plan = *plan;
    int const top = tray.leaves().back().id;
    carry_out(tray.desk, ChooseLeaves{{top}});
    carry_out(tray.desk, DoAct{Act::under});
    CHECK(tray.leaves()[1].id == top); // past the far leaf and past one near leaf
}

TEST_CASE("what waited for a first saving is done after it") {
    Tray tray;
    tray.desk.ui.dialogs.after_save = CloseBench{};
    carry_out(tray.desk, DoAct{Act::save}); // it has no file yet, so a file is asked for
    REQUIRE(tray.desk.ui.dialogs.chooser);
    CHECK(!tray.desk.ui.quit);
    carry_out(tray.desk, SaveAtPath{tray.folder / "b.piece.json"});
    CHECK(tray.desk.ui.quit);
}

TEST_CASE("saving into a folder that is not there is told in a sentence, and the work stays unsaved") {
    Tray tray;
    carry_out(tray.desk, SaveAtPath{tray.folder / "nowhere" / "b.piece.json"});
    CHECK(tray.desk.ui.message.tone == MessageTone::fault);
    CHECK(is_unsaved(tray.desk.state));
    CHECK(tray.desk.state.path.empty());
}

TEST_CASE("a copy is kept 20 s after a change, and goes when the work is saved") {
    Tray tray;
    tray.desk.ui.now_s = 5;
    refresh_copy(tray.desk);
    CHECK(!std::filesystem::exists(tray.desk.kept));
    tray.desk.ui.now_s = 21;
    refresh_copy(tray.desk);
    auto const copy = tray.desk.kept / ("autosave-" + std::to_string(getpid()) + ".piece.json");
    REQUIRE(std::filesystem::exists(copy));
    auto const kept = load_piece(copy);
    REQUIRE(kept);
    CHECK(*kept == tray.desk.state.history.now());
    carry_out(tray.desk, SaveAtPath{tray.folder / "c.piece.json"});
    CHECK(!std::filesystem::exists(copy));
}

TEST_CASE("work brought back after a crash counts as unsaved, under its old path") {
    Tray tray;
    Piece piece = new_piece();
    piece.name = "Brought back";
    REQUIRE(!keep_copy(tray.folder, 999999999, piece, "/p/old.piece.json"));
    auto const copies = copies_left_behind(tray.folder);
    REQUIRE(copies.size() == 1);
    carry_out(tray.desk, RecoverCopy{copies[0], true});
    CHECK(tray.desk.state.history.now() == piece);
    CHECK(tray.desk.state.path == "/p/old.piece.json");
    CHECK(is_unsaved(tray.desk.state));
    CHECK(copies_left_behind(tray.folder).empty());
}

TEST_CASE("the plan follows the piece, and an impossible piece leaves the old plan in sight") {
    Tray tray;
    auto const settle = [&] {
        for (int i = 0; i < 400; ++i) {
            refresh_plan(tray.desk);
            if (!tray.desk.plans.busy()) break;
            std::this_thread::sleep_for(std::chrono::milliseconds(25));
        }
        refresh_plan(tray.desk);
    };
    settle();
    REQUIRE(tray.desk.state.plan);
    CHECK(tray.desk.state.plan->leaves.count == 2);
    CHECK(!tray.desk.state.plan_is_old);
    FormerSpec former = tray.desk.state.history.now().former;
    former.profile.kind = ProfileKind::tape;
    former.profile.tape_across_mm = 1900; // far longer than any profile of that crown
    former.profile.tape_along_mm = 1900;
    carry_out(tray.desk, Commit{SetFormer{former}});
    settle();
    CHECK(tray.desk.state.plan_problem);
    CHECK(tray.desk.state.plan_is_old);
    CHECK(tray.desk.state.plan->leaves.count == 2);
    tray.press('Z', true);
    settle();
    CHECK(!tray.desk.state.plan_problem);
    CHECK(!tray.desk.state.plan_is_old);
}
