#include "cutting/mover.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

// Samples of one move: over the whole row, and round the present place (within this share of the piece's diameter).
constexpr int kFarSamples = 24, kNearSamples = 16;
constexpr double kNearShare = 0.25;
constexpr double kSameTurn = 0.7; // of the near samples
// Steps of the refinement, against the mean size of a piece.
constexpr double kFirstStep = 0.15, kCoarseStep = 0.02, kFineStep = 0.0003;

std::uint32_t count(std::vector<int> const& list) { return static_cast<std::uint32_t>(list.size()); }

Vec2 direction(Random& random) {
    double const a = random.between(0, kTwoPi);
    return {std::cos(a), std::sin(a)};
}

} // namespace

std::vector<int> const& Mover::turns(int i) const {
    NestModel const& model = crowd_.model();
    return model.turns_of[static_cast<std::size_t>(model.pieces[static_cast<std::size_t>(i)].shape)];
}

// Keeps the best of all that are offered, in order.
void Mover::offer(int i, int number, Vec2 at) {
    if (!crowd_.settle(number, at)) return;
    float const enough = count_ < kMostKept ? 3e38F : top_[count_ - 1].cost;
    float const cost = crowd_.cost(i, number, at, enough);
    if (cost >= enough) return;
    int k = count_ < kMostKept ? count_++ : kMostKept - 1;
    for (; k > 0 && top_[k - 1].cost > cost; --k) top_[k] = top_[k - 1];
    top_[k] = {number, at, cost};
}

void Mover::try_near(int i, Random& random) {
    PiecePose const& now = crowd_.pose(i);
    NestModel const& model = crowd_.model();
    int const shape = model.pieces[static_cast<std::size_t>(i)].shape;
    double const reach = kNearShare * model.shapes[static_cast<std::size_t>(shape)].diameter_mm;
    for (int k = 0; k < kNearSamples; ++k) {
        int const number = random.unit() < kSameTurn ? now.number : turns(i)[random.below(count(turns(i)))];
        double const away = reach * random.unit();
        offer(i, number, now.at + away * direction(random));
    }
}

void Mover::try_far(int i, Random& random) {
    for (int k = 0; k < kFarSamples; ++k) {
        int const number = turns(i)[random.below(count(turns(i)))];
        int const sheet = static_cast<int>(random.below(static_cast<std::uint32_t>(crowd_.row().sheets)));
        Box2 const& room = crowd_.room(number, sheet);
        if (room.low.x > room.high.x) continue;
        double const x = random.between(room.low.x, room.high.x);
        offer(i, number, {x, random.between(room.low.y, room.high.y)});
    }
}

// Steps along, across or anywhere, forth and back: longer while they help, shorter when not.
void Mover::refine(int i, Try& tried, double step, double finest, Random& random) const {
    while (step > finest && tried.cost > 0) {
        std::uint32_t const way = random.below(3);
        Vec2 const d = way == 0 ? Vec2(step, 0) : way == 1 ? Vec2(0, step) : step * direction(random);
        bool better = false;
        for (int side = 0; side < 2 && !better; ++side) {
            Vec2 at = side == 0 ? tried.at + d : tried.at - d;
            if (!crowd_.settle(tried.number, at)) continue;
            float const cost = crowd_.cost(i, tried.number, at, tried.cost);
            better = cost < tried.cost;
            if (better) tried.cost = cost, tried.at = at;
        }
        step *= better ? 1.1 : 0.6;
    }
}

void Mover::move(int i, Random& random) {
    PiecePose const& now = crowd_.pose(i);
    Try best{now.number, now.at, crowd_.present_cost(i)};
    float const present = best.cost;
    top_[0] = best;
    count_ = 1;
    try_near(i, random);
    try_far(i, random);
    for (int k = 0; k < count_; ++k) {
        refine(i, top_[k], kFirstStep * mean_size_, kCoarseStep * mean_size_, random);
        if (top_[k].cost < best.cost) best = top_[k];
    }
    refine(i, best, kCoarseStep * mean_size_, kFineStep * mean_size_, random);
    if (best.cost < present) crowd_.move(i, best.number, best.at);
}

} // namespace leafwright
