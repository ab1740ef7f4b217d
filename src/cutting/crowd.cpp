#include "cutting/crowd.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace leafwright {

namespace {
// What being an overlap at all counts, against the mean size of a piece; it comes in over this many margins.
constexpr double kTouch = 0.015, kRamp = 10;
} // namespace

Crowd::Crowd(NestModel const& model, PairTables const& tables)
    : model_(model), tables_(tables), n_(static_cast<int>(model.pieces.size())) {
    std::size_t const groups = (idx(n_) + 3) / 4;
    low_x_.assign(groups, four(3e38F)), high_x_.assign(groups, four(-3e38F));
    low_y_.assign(groups, four(3e38F)), high_y_.assign(groups, four(-3e38F));
    depth_.assign(idx(n_) * idx(n_), 0);
    loss_ = depth_;
    weight_.assign(idx(n_) * idx(n_), 1);
    base_.assign(idx(n_) * idx(n_), 1);
    set_base();
    layout_.poses.resize(idx(n_));
    at_.resize(idx(n_));
    number_.resize(idx(n_));
}

void Crowd::set_base() {
    double mean = 0;
    auto const size = [&](int i) { return std::sqrt(model_.shapes[idx(model_.pieces[idx(i)].shape)].hull_mm2); };
    for (int i = 0; i < n_; ++i) mean += size(i) / n_;
    touch_ = static_cast<float>(kTouch * mean);
    ramp_ = static_cast<float>(kTouch * mean / (kRamp * tables_.margin()));
    for (int i = 0; i < n_; ++i)
        for (int j = 0; j < n_; ++j)
            base_[idx(i) * idx(n_) + idx(j)] = static_cast<float>(std::sqrt(size(i) * size(j)) / mean);
}

void Crowd::load(Layout const& layout) {
    layout_ = layout;
    for (int i = 0; i < n_; ++i) set_box(i);
    std::ranges::fill(depth_, 0.0F);
    std::ranges::fill(loss_, 0.0F);
    for (int i = 0; i < n_; ++i) refresh(i);
}

void Crowd::set_box(int i) {
    PiecePose const& p = pose(i);
    at_[idx(i)] = p.at;
    number_[idx(i)] = p.number;
    Box2 const& box = turned(p.number).box;
    double const wide = 0.5 * model_.gap_mm + tables_.margin();
    std::size_t const g = idx(i) / 4, lane = idx(i) % 4;
    low_x_[g][lane] = static_cast<float>(p.at.x + box.low.x - wide);
    high_x_[g][lane] = static_cast<float>(p.at.x + box.high.x + wide);
    low_y_[g][lane] = static_cast<float>(p.at.y + box.low.y - wide);
    high_y_[g][lane] = static_cast<float>(p.at.y + box.high.y + wide);
}

// Calls visit(j) for the others whose boxes meet; stops when it gives false.
template <class Visit> void Crowd::near(int i, TurnedShape const& t, Vec2 const& at, Visit&& visit) const {
    double const wide = 0.5 * model_.gap_mm + tables_.margin();
    Four const lx = four(static_cast<float>(at.x + t.box.low.x - wide)),
               hx = four(static_cast<float>(at.x + t.box.high.x + wide));
    Four const ly = four(static_cast<float>(at.y + t.box.low.y - wide)),
               hy = four(static_cast<float>(at.y + t.box.high.y + wide));
    std::size_t const groups = low_x_.size();
    for (std::size_t g = 0; g < groups; ++g) {
        unsigned bits = both_less(low_x_[g], hx, lx, high_x_[g]);
        if (bits == 0) continue;
        bits &= both_less(low_y_[g], hy, ly, high_y_[g]);
        for (; bits != 0; bits &= bits - 1) {
            int const j = static_cast<int>(4 * g) + std::countr_zero(bits);
            if (j != i && !visit(j)) return;
        }
    }
}

void Crowd::set_row(RowRoom const& row) {
    row_ = row;
    rooms_.clear();
    for (int sheet = 0; sheet < row.sheets; ++sheet) {
        double const start = sheet_start(model_, sheet);
        double const length = sheet + 1 < row.sheets ? model_.sheets.length_mm : row.end - start;
        for (TurnedShape const& t : model_.turned) {
            Box2 box = room_of(model_, t, length);
            box.low.x += start, box.high.x += start;
            rooms_.push_back(box);
        }
    }
}

bool Crowd::settle(int number, Vec2& at) const {
    int const lies = row_.sheets == 1 ? 0 : std::clamp(sheet_of(model_, at.x), 0, row_.sheets - 1);
    for (int sheet = lies; sheet >= 0; --sheet) {
        Box2 const& box = room(number, sheet);
        if (box.low.x > box.high.x || box.low.y > box.high.y) continue;
        at = {std::clamp(at.x, box.low.x, box.high.x), std::clamp(at.y, box.low.y, box.high.y)};
        return true;
    }
    return false;
}

float Crowd::cost(int i, int number, Vec2 const& at, float enough) const {
    ++samples_;
    if (!tables_.complete()) return solid_cost(i, number, at, enough);
    constexpr int kMany = 32;
    PairTables::Probe probes[kMany];
    float weights[kMany];
    float const* const weight = weight_.data() + idx(i) * idx(n_);
    float sum = 0;
    int count = 0;
    auto const reckon = [&] {
        int kept = 0;
        for (int k = 0; k < count; ++k)
            if (tables_.begin(probes[k])) probes[kept] = probes[k], weights[kept++] = weights[k];
        for (int k = 0; k < kept && sum < enough; ++k) sum += weights[k] * loss_of(tables_.depth(probes[k]));
        count = 0;
    };
    near(i, turned(number), at, [&](int j) {
        Vec2 const p = at - at_[idx(j)];
        if (!tables_.place(number, number_[idx(j)], static_cast<float>(p.x), static_cast<float>(p.y), probes[count]))
            return true;
        weights[count] = weight[j];
        if (++count < kMany) return true;
        reckon();
        return sum < enough;
    });
    reckon();
    return sum;
}

float Crowd::solid_cost(int i, int number, Vec2 const& at, float enough) const {
    float const* const weight = weight_.data() + idx(i) * idx(n_);
    float sum = 0;
    near(i, turned(number), at, [&](int j) {
        sum += weight[j] * loss_of(tables_.depth(number, number_[idx(j)], at - at_[idx(j)]));
        return sum < enough;
    });
    return sum;
}

float Crowd::present_cost(int i) const {
    float sum = 0;
    float const* const weight = weight_.data() + idx(i) * idx(n_);
    float const* const loss = loss_.data() + idx(i) * idx(n_);
    for (int j = 0; j < n_; ++j) sum += weight[j] * loss[j];
    return sum;
}

void Crowd::set_pair(std::size_t i, std::size_t j, float depth) {
    std::size_t const n = idx(n_);
    depth_[i * n + j] = depth_[j * n + i] = depth;
    loss_[i * n + j] = loss_[j * n + i] = loss_of(depth);
}

void Crowd::refresh(int i) {
    for (std::size_t j = 0; j < idx(n_); ++j) set_pair(idx(i), j, 0);
    PiecePose const& p = pose(i);
    near(i, turned(p.number), p.at, [&](int j) {
        if (is_pinned(i) && is_pinned(j)) return true;
        PiecePose const& other = layout_.poses[idx(j)];
        set_pair(idx(i), idx(j), tables_.depth(p.number, other.number, p.at - other.at));
        return true;
    });
}

void Crowd::move(int i, int number, Vec2 const& at) {
    layout_.poses[idx(i)] = {number, 0, false, at};
    set_box(i);
    refresh(i);
}

bool Crowd::overlaps(int i) const {
    float const* const depth = depth_.data() + idx(i) * idx(n_);
    return std::any_of(depth, depth + n_, [](float d) { return d > 0; });
}

float Crowd::total_loss() const {
    float sum = 0;
    for (float l : loss_) sum += l;
    return 0.5F * sum;
}

float Crowd::total_depth() const {
    float sum = 0;
    for (float d : depth_) sum += d;
    return 0.5F * sum;
}

void Crowd::learn() {
    constexpr float kLeastGrowth = 1.2F, kMostGrowth = 2.0F, kFading = 0.95F, kMost = 1e12F;
    float const worst = *std::ranges::max_element(loss_);
    if (worst <= 0) return;
    float const slope = (kMostGrowth - kLeastGrowth) / worst;
    for (std::size_t k = 0; k < weight_.size(); ++k) {
        float const grown = weight_[k] * (kLeastGrowth + slope * loss_[k]);
        float const faded = std::max(base_[k], kFading * weight_[k]);
        weight_[k] = loss_[k] > 0 ? std::min(grown, kMost) : faded;
    }
}

void Crowd::forget() { weight_ = base_; }

} // namespace leafwright
