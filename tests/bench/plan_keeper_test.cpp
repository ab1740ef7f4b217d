#include "bench/plan_keeper.h"
#include "near.h"

using namespace leafwright;
using namespace std::chrono_literals;

namespace {

Piece bare_dome(double crown_mm) {
    Piece piece = new_piece();
    piece.former.profile.crown_mm = crown_mm;
    return piece;
}

// The next answer, or nothing after ten seconds.
std::optional<PlanReply> next(PlanKeeper& keeper) {
    for (int k = 0; k < 1000; ++k) {
        if (auto reply = keeper.take(5ms)) return reply;
        std::this_thread::sleep_for(5ms);
    }
    return std::nullopt;
}

} // namespace

TEST_CASE("a coarse question is answered roughly, then in full once the hand rests") {
    PlanKeeper keeper([] {});
    keeper.ask(bare_dome(90), 1, true);
    auto const rough = next(keeper);
    REQUIRE(rough);
    CHECK((*rough->plan)->coarse);
    CHECK_FALSE(keeper.busy()); // the full answer comes by itself
    auto const full = next(keeper);
    REQUIRE(full);
    CHECK(full->revision == 1);
    CHECK_FALSE((*full->plan)->coarse);
    CHECK((*full->plan)->slab->sliding_mm == (*Planner().plan(bare_dome(90)))->slab->sliding_mm);
}

TEST_CASE("while the hand moves every answer is rough and of the newest question") {
    PlanKeeper keeper([] {});
    int rough = 0;
    for (std::uint64_t k = 1; k <= 12; ++k) {
        keeper.ask(bare_dome(80 + static_cast<double>(k)), k, true);
        auto const reply = keeper.take(2s);
        REQUIRE(reply);
        CHECK(reply->revision == k);
        if ((*reply->plan)->coarse) ++rough;
    }
    CHECK(rough == 12);
    // Letting go asks in full: the last answer is that of the piece as it stands.
    keeper.ask(bare_dome(92), 13);
    auto const full = next(keeper);
    REQUIRE(full);
    CHECK(full->revision == 13);
    CHECK_FALSE((*full->plan)->coarse);
}
