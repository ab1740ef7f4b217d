#include "cutting/search.h"

#include "cutting/press.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leafwright {

namespace {

// Samples of one move: over the whole row, and round the present place (within this share of the piece's diameter).
constexpr int kFarSamples = 24, kNearSamples = 16, kMostKept = 3;
constexpr double kNearShare = 0.25;
// Steps of the refinement, against the mean size of a piece.
constexpr double kFirstStep = 0.15, kCoarseStep = 0.02, kFineStep = 0.0003;
// Passes without gain before the best layout of the aim is taken up again, and how often.
constexpr int kPatience = 120, kStrikes = 3;
// By how much the row is shortened, against its length: while roaming, and at the end.
constexpr double kRoamStep = 0.005, kCloseStep = 0.001;
constexpr double kCloseShare = 0.75; // of the time: from then on
// Overlap, against the mean size, from which pressing is tried; how far pieces may go then; how often in a row.
constexpr float kPressLoss = 0.02F;
constexpr double kPressReach = 0.1;
constexpr int kPressTimes = 3;
constexpr std::size_t kPool = 20;

} // namespace

namespace {

// No row can be shorter: the area bound of a strip, and the shortest way any piece can lie.
double least_row(NestModel const& model) {
    double least = model.sheets.length_mm == 0 ? model.total_mm2 / model.sheets.width_mm : 0;
    for (std::vector<int> const& turns : model.turns_of) {
        double shortest = turns.empty() ? 0 : std::numeric_limits<double>::max();
        for (int t : turns) shortest = std::min(shortest, model.turned[static_cast<std::size_t>(t)].box.size().x);
        least = std::max(least, shortest + 2 * model.edge_gap_mm);
    }
    for (NestPiece const& p : model.pieces)
        if (p.pinned >= 0)
            least = std::max(least, p.pinned_at.x + model.turned[static_cast<std::size_t>(p.pinned)].box.high.x +
                                        model.edge_gap_mm);
    return least;
}

// No sheet shorter than this takes any piece.
double shortest_piece(NestModel const& model) {
    double least = std::numeric_limits<double>::max();
    for (TurnedShape const& t : model.turned) least = std::min(least, t.box.size().x);
    return least + 2 * model.edge_gap_mm;
}

} // namespace

Search::Search(NestModel const& model, PairTables const& tables, Layout const& first, Random random)
    : model_(model), crowd_(model, tables), random_(random) {
    for (NestPiece const& p : model.pieces)
        mean_size_ += std::sqrt(model.shapes[static_cast<std::size_t>(p.shape)].hull_mm2);
    mean_size_ /= static_cast<double>(model.pieces.size());
    least_length_ = least_row(model);
    shortest_ = shortest_piece(model);
    adopt(first);
}

void Search::adopt(Layout const& layout) {
    best_ = layout;
    best_length_ = row_length(model_, layout);
    aimed_ = false;
    pool_.clear();
}

// Ends the row a little before the best one, and brings all pieces inside.
void Search::aim(double step) {
    int const sheets = sheet_of(model_, best_length_ - 1e-9 * model_.scale_mm) + 1;
    RowRoom row{sheets, best_length_ - step * best_length_};
    if (row.sheets > 1 && row.end < sheet_start(model_, row.sheets - 1) + shortest_) {
        row.sheets -= 1;
        row.end = sheet_start(model_, row.sheets - 1) + model_.sheets.length_mm;
    }
    row.end = std::max(row.end, least_length_);
    if (best_length_ <= least_length_ * (1 + 1e-9) || row.end >= best_length_) {
        done_ = true;
        return;
    }
    crowd_.set_row(row);
    crowd_.load(best_);
    for (int i = 0; i < crowd_.size(); ++i) {
        PiecePose const& p = crowd_.pose(i);
        Vec2 at = p.at;
        if (crowd_.is_pinned(i)) continue;
        if (crowd_.settle(p.number, at) && at != p.at) crowd_.move(i, p.number, at);
    }
    aimed_ = true;
    least_loss_ = crowd_.total_loss();
    pressed_loss_ = 3e38F;
    least_layout_ = crowd_.layout();
    strike_loss_ = least_loss_;
    stale_ = strikes_ = 0;
    crowd_.forget();
    pool_.clear();
}

Vec2 Search::refine(int i, int number, Vec2 at, float& cost, double step, double finest) {
    while (step > finest && cost > 0) {
        Vec2 d{0};
        switch (random_.below(3)) {
        case 0:
            d = {step, 0};
            break;
        case 1:
            d = {0, step};
            break;
        default: {
            double const a = random_.between(0, 6.283185307179586);
            d = {step * std::cos(a), step * std::sin(a)};
        }
        }
        bool better = false;
        for (int side = 0; side < 2; ++side) {
            Vec2 tried = side == 0 ? at + d : at - d;
            if (!crowd_.settle(number, tried)) continue;
            float const c = crowd_.cost(i, number, tried, cost);
            if (c < cost) {
                cost = c;
                at = tried;
                better = true;
                break;
            }
        }
        step *= better ? 1.1 : 0.6;
    }
    return at;
}

void Search::move_piece(int i) {
    PiecePose const now = crowd_.pose(i);
    int const shape = model_.pieces[static_cast<std::size_t>(i)].shape;
    std::vector<int> const& turns = model_.turns_of[static_cast<std::size_t>(shape)];
    float const present = crowd_.present_cost(i);
    struct Try {
        int number;
        Vec2 at;
        float cost;
    };
    Try top[8];
    int const most = kMostKept;
    int count = 0;
    auto const offer = [&](int number, Vec2 at) {
        if (!crowd_.settle(number, at)) return;
        float const enough = count < most ? 3e38F : top[count - 1].cost;
        float const c = crowd_.cost(i, number, at, enough);
        if (c >= enough) return;
        int k = count < most ? count++ : most - 1;
        for (; k > 0 && top[k - 1].cost > c; --k) top[k] = top[k - 1];
        top[k] = {number, at, c};
    };
    top[count++] = {now.number, now.at, present};
    double const diameter = model_.shapes[static_cast<std::size_t>(shape)].diameter_mm;
    for (int k = 0; k < kNearSamples; ++k) {
        int const number =
            random_.unit() < 0.7 ? now.number : turns[random_.below(static_cast<std::uint32_t>(turns.size()))];
        double const r = kNearShare * diameter * random_.unit();
        double const a = random_.between(0, 6.283185307179586);
        offer(number, now.at + Vec2(r * std::cos(a), r * std::sin(a)));
    }
    for (int k = 0; k < kFarSamples; ++k) {
        int const number = turns[random_.below(static_cast<std::uint32_t>(turns.size()))];
        Box2 const room =
            crowd_.room(number, static_cast<int>(random_.below(static_cast<std::uint32_t>(crowd_.row().sheets))));
        if (room.low.x > room.high.x) continue;
        offer(number, {random_.between(room.low.x, room.high.x), random_.between(room.low.y, room.high.y)});
    }
    Try best{now.number, now.at, present};
    for (int k = 0; k < count; ++k) {
        Try t = top[k];
        t.at = refine(i, t.number, t.at, t.cost, kFirstStep * mean_size_, kCoarseStep * mean_size_);
        if (t.cost < best.cost) best = t;
    }
    best.at = refine(i, best.number, best.at, best.cost, kCoarseStep * mean_size_, kFineStep * mean_size_);
    if (best.cost < present) crowd_.move(i, best.number, best.at);
}

void Search::pass() {
    ++passes_;
    order_.clear();
    for (int i = 0; i < crowd_.size(); ++i)
        if (!crowd_.is_pinned(i) && crowd_.piece_loss(i) > 0) order_.push_back(i);
    for (std::size_t k = order_.size(); k > 1; --k)
        std::swap(order_[k - 1], order_[random_.below(static_cast<std::uint32_t>(k))]);
    for (int i : order_)
        if (crowd_.piece_loss(i) > 0) move_piece(i);
    float const loss = crowd_.total_loss();
    if (loss == 0) {
        succeed();
        return;
    }
    crowd_.learn(crowd_.deepest());
    if (loss < kPressLoss * static_cast<float>(mean_size_) && loss < 0.5F * pressed_loss_) {
        pressed_loss_ = loss;
        if (try_press(crowd_.layout(), kPressTimes)) return;
    }
    if (loss < least_loss_) {
        if (loss < 0.98F * least_loss_) stale_ = 0;
        least_loss_ = loss;
        least_layout_ = crowd_.layout();
    } else {
        ++stale_;
    }
    if (stale_ < kPatience) return;
    stale_ = 0;
    strikes_ = least_loss_ < 0.98F * strike_loss_ ? 0 : strikes_ + 1;
    strike_loss_ = least_loss_;
    if (strikes_ >= (closing_ ? 1 : kStrikes)) {
        give_up();
        return;
    }
    crowd_.load(least_layout_);
}

void Search::succeed() {
    best_ = crowd_.layout();
    best_length_ = row_length(model_, best_);
    aimed_ = false;
    pool_.clear();
    try_press(best_, kPressTimes);
}

// Presses a layout, which may overlap a little; true when it comes out shorter than the best.
bool Search::try_press(Layout layout, int times) {
    bool better = false;
    for (int k = 0; k < times; ++k) {
        std::optional<double> const end = pressed(model_, layout, kPressReach * mean_size_);
        if (!end || *end >= best_length_ - 1e-9 * model_.scale_mm) break;
        double const gain = best_length_ - *end;
        best_ = layout;
        best_length_ = *end;
        better = true;
        aimed_ = false;
        if (gain < 1e-4 * best_length_) break;
    }
    if (better) pool_.clear();
    return better;
}

void Search::give_up() {
    if (closing_ && random_.unit() < 0.5) {
        aimed_ = false; // once more from the best, in another order
        return;
    }
    pool_.push_back({least_layout_, least_loss_});
    std::ranges::stable_sort(pool_, {}, &Kept::loss);
    if (pool_.size() > kPool) pool_.pop_back();
    disturb();
}

// Starts again from one of the better layouts of this aim, with two large pieces changed for each other.
void Search::disturb() {
    double const u = random_.unit();
    Kept const& from = pool_[static_cast<std::size_t>(u * u * u * static_cast<double>(pool_.size()))];
    crowd_.load(from.layout);
    std::vector<int> movable;
    for (int i = 0; i < crowd_.size(); ++i)
        if (!crowd_.is_pinned(i)) movable.push_back(i);
    auto const hull = [&](int i) {
        return model_.shapes[static_cast<std::size_t>(model_.pieces[static_cast<std::size_t>(i)].shape)].hull_mm2;
    };
    std::ranges::stable_sort(movable, std::greater<>{}, hull);
    double whole = 0, sum = 0;
    for (int i : movable) whole += hull(i);
    std::size_t large = 0;
    while (large < movable.size() && sum < 0.75 * whole) sum += hull(movable[large++]);
    if (large >= 2) {
        int const a = movable[random_.below(static_cast<std::uint32_t>(large))];
        int b = a;
        for (int tries = 0; tries < 20; ++tries) {
            b = movable[random_.below(static_cast<std::uint32_t>(large))];
            if (model_.pieces[static_cast<std::size_t>(a)].shape != model_.pieces[static_cast<std::size_t>(b)].shape)
                break;
        }
        if (a != b) {
            PiecePose const pa = crowd_.pose(a), pb = crowd_.pose(b);
            Vec2 at_a = pb.at, at_b = pa.at;
            if (crowd_.settle(pa.number, at_a)) crowd_.move(a, pa.number, at_a);
            if (crowd_.settle(pb.number, at_b)) crowd_.move(b, pb.number, at_b);
        }
    }
    crowd_.forget();
    pressed_loss_ = 3e38F;
    least_loss_ = strike_loss_ = crowd_.total_loss();
    least_layout_ = crowd_.layout();
    stale_ = strikes_ = 0;
}

void Search::round(std::int64_t samples, double share, Stop const& stop) {
    // A pass costs something even when no piece finds a place to try.
    auto const work = [&] { return crowd_.samples() + passes_ * crowd_.size(); };
    std::int64_t const until = work() + samples;
    if (!closing_ && share >= kCloseShare) {
        closing_ = true;
        aimed_ = false;
    }
    while (!done_ && work() < until) {
        if (stop()) return;
        if (!aimed_) aim(closing_ ? kCloseStep : kRoamStep);
        if (!done_) pass();
    }
}

} // namespace leafwright
