#include "cutting/search.h"

#include "cutting/press.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leafwright {

namespace {

// Passes without gain before the best layout since the beginning is taken up again, and how often.
constexpr int kPatience = 120, kStrikes = 3;
constexpr float kGain = 0.98F;
// By how much the row is shortened, against its length: while roaming, and at the end.
constexpr double kRoamStep = 0.003, kLeastStep = 0.001, kCloseStep = 0.001;
// An aim that is missed so often is brought nearer; one that is met lets the next be set farther.
constexpr int kManyMisses = 20;
constexpr double kNearer = 0.7, kFarther = 1.5;
constexpr double kCloseShare = 0.75; // of the time: from then on
// Depth of all overlaps, against the mean size, from which pressing is tried; how far pieces may go; how often in a
// row.
constexpr float kPressDepth = 0.02F;
constexpr double kPressReach = 0.1, kPressWorth = 1e-4;
constexpr int kPressTimes = 3;

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

double mean_size(NestModel const& model) {
    double sum = 0;
    for (NestPiece const& p : model.pieces) sum += std::sqrt(model.shapes[static_cast<std::size_t>(p.shape)].hull_mm2);
    return sum / static_cast<double>(model.pieces.size());
}

} // namespace

Search::Search(NestModel const& model, PairTables const& tables, Layout const& first, Random random)
    : model_(model),
      crowd_(model, tables),
      random_(random),
      mean_size_(mean_size(model)),
      mover_(crowd_, mean_size_),
      shortest_(shortest_piece(model)),
      least_length_(least_row(model)),
      step_(kRoamStep) {
    adopt(first);
}

void Search::adopt(Layout const& layout) { take(layout, row_length(model_, layout)); }

void Search::take(Layout const& layout, double length) {
    best_ = layout;
    best_length_ = length;
    aimed_ = false;
}

// Ends the row a little before the best one; false when that cannot be.
bool Search::set_row(double step) {
    int const sheets = sheet_of(model_, best_length_ - 1e-9 * model_.scale_mm) + 1;
    RowRoom row{sheets, best_length_ - step * best_length_};
    if (row.sheets > 1 && row.end < sheet_start(model_, row.sheets - 1) + shortest_) {
        row.sheets -= 1;
        row.end = sheet_start(model_, row.sheets - 1) + model_.sheets.length_mm;
    }
    row.end = std::max(row.end, least_length_);
    if (best_length_ <= least_length_ * (1 + 1e-9) || row.end >= best_length_) return false;
    crowd_.set_row(row);
    return true;
}

void Search::aim() {
    if (given_up_ == 0) step_ = std::min(kRoamStep, step_ * kFarther);
    given_up_ = 0;
    misses_.clear();
    done_ = !set_row(closing_ ? kCloseStep : step_);
    if (done_) return;
    begin_from(best_);
    aimed_ = true;
}

void Search::part(Layout const& layout) {
    double const ends = std::max(least_length_, row_length(model_, layout));
    if (ends >= best_length_) return;
    double const end = 0.5 * (ends + best_length_); // some room to part in
    crowd_.set_row({sheet_of(model_, end - 1e-9 * model_.scale_mm) + 1, end});
    begin_from(layout);
    aimed_ = true;
}

// Brings all pieces inside the row.
void Search::begin_from(Layout const& layout) {
    crowd_.load(layout);
    for (int i = 0; i < crowd_.size(); ++i) {
        PiecePose const p = crowd_.pose(i);
        Vec2 at = p.at;
        if (!crowd_.is_pinned(i) && crowd_.settle(p.number, at) && at != p.at) crowd_.move(i, p.number, at);
    }
    watch_anew();
}

void Search::watch_anew() {
    crowd_.forget();
    least_loss_ = strike_loss_ = crowd_.total_loss();
    least_layout_ = crowd_.layout();
    pressed_depth_ = 3e38F;
    stale_ = strikes_ = 0;
}

// Every piece that overlaps is moved once, in any order.
void Search::pass() {
    ++passes_;
    order_.clear();
    for (int i = 0; i < crowd_.size(); ++i)
        if (!crowd_.is_pinned(i) && crowd_.overlaps(i)) order_.push_back(i);
    for (std::size_t k = order_.size(); k > 1; --k)
        std::swap(order_[k - 1], order_[random_.below(static_cast<std::uint32_t>(k))]);
    for (int i : order_)
        if (crowd_.overlaps(i)) mover_.move(i, random_);
    float const depth = crowd_.total_depth();
    if (depth == 0) {
        take(crowd_.layout(), row_length(model_, crowd_.layout()));
        try_press(best_);
        return;
    }
    if (depth < kPressDepth * static_cast<float>(mean_size_) && depth < 0.5F * pressed_depth_) {
        pressed_depth_ = depth;
        if (try_press(crowd_.layout())) return;
    }
    watch(crowd_.total_loss());
}

void Search::watch(float loss) {
    crowd_.learn();
    if (loss < least_loss_) {
        if (loss < kGain * least_loss_) stale_ = 0;
        least_loss_ = loss;
        least_layout_ = crowd_.layout();
    } else {
        ++stale_;
    }
    if (stale_ < kPatience) return;
    stale_ = 0;
    strikes_ = least_loss_ < kGain * strike_loss_ ? 0 : strikes_ + 1;
    strike_loss_ = least_loss_;
    if (strikes_ >= (closing_ ? 1 : kStrikes))
        give_up();
    else
        crowd_.load(least_layout_);
}

// Presses a layout, which may overlap a little; true when it comes out shorter than the best.
bool Search::try_press(Layout layout) {
    bool better = false;
    for (int k = 0; k < kPressTimes; ++k) {
        std::optional<double> const end = pressed(model_, layout, kPressReach * mean_size_);
        if (!end || *end >= best_length_ - 1e-9 * model_.scale_mm) break;
        double const gain = best_length_ - *end;
        take(layout, *end);
        better = true;
        if (gain < kPressWorth * best_length_) break;
    }
    return better;
}

void Search::give_up() {
    if (closing_ && random_.unit() < 0.5) {
        aimed_ = false; // once more from the best, in another order
        return;
    }
    misses_.add(least_layout_, least_loss_);
    if (++given_up_ % kManyMisses == 0 && !closing_) come_nearer();
    crowd_.load(misses_.pick(random_));
    disturb(crowd_, random_);
    watch_anew();
}

// A longer row takes every layout of a shorter one, so that what was nearly reached stays worth a try.
void Search::come_nearer() {
    if (step_ <= kLeastStep) return;
    step_ = std::max(kLeastStep, kNearer * step_);
    set_row(step_);
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
        if (!aimed_) aim();
        if (!done_) pass();
    }
}

} // namespace leafwright
