#include "bench/second_keeper.h"
#include "near.h"
#include "piece/planner.h"

using namespace leafwright;

TEST_CASE("drying to hanging is reckoned beside the window, and the newest plan wins") {
    Planner planner;
    Piece piece = new_piece();
    std::mutex mutex;
    std::condition_variable woken;
    int wakes = 0;
    SecondHalfKeeper keeper([&] {
        std::lock_guard const lock(mutex);
        ++wakes;
        woken.notify_all();
    });
    CHECK(!keeper.take());
    CHECK(!keeper.busy());
    std::shared_ptr<Plan const> newest;
    for (double degC : {14.0, 16.0, 18.0, 20.0, 22.0}) { // as a slider would
        piece.drying.room_degC = degC;
        newest = *planner.plan(piece);
        keeper.ask(newest);
    }
    std::shared_ptr<SecondHalf const> last;
    std::unique_lock lock(mutex);
    for (int tries = 0; tries < 600 && !(last && last->plan == newest); ++tries) {
        woken.wait_for(lock, std::chrono::milliseconds(100));
        if (auto answer = keeper.take()) last = std::move(answer);
    }
    REQUIRE(last);
    CHECK(last->plan == newest);
    CHECK(last->drying->finished);
    CHECK(wakes >= 1);
    CHECK(wakes <= 5);
}

TEST_CASE("a window that closes does not wait for the answer") {
    Planner planner;
    auto const plan = *planner.plan(new_piece());
    SecondHalfKeeper keeper([] {});
    keeper.ask(plan);
    // Its end breaks the work off; a keeper that could not would hang here.
}
