#include "cutting/press.h"

#include "cutting/linear_program.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leafwright {

namespace {

struct Side {
    Vec2 normal{0};
    double apart = -std::numeric_limits<double>::max(); // how far beyond the gap: negative when too near
};

// The direction in which a (moved by p) and b lie farthest apart, among the edges' normals and, for the gap round
// corners, the line between the nearest corners.
class SideFinder {
public:
    SideFinder(Ring const& a, Ring const& b, Vec2 const& p, double gap) : a_(a), b_(b), p_(p), gap_(gap) {}

    Side find(double enough) {
        for (std::size_t k = 0; k < b_.size() && best_.apart <= enough; ++k) try_edge(b_, k, 1);
        for (std::size_t k = 0; k < a_.size() && best_.apart <= enough; ++k) try_edge(a_, k, -1);
        if (gap_ > 0 && best_.apart > -gap_) try_corners();
        return best_;
    }

private:
    void try_edge(Ring const& ring, std::size_t k, double sign) {
        Vec2 const edge = ring[(k + 1) % ring.size()] - ring[k];
        double const length = glm::length(edge);
        if (length > 0) try_normal(Vec2(edge.y, -edge.x) * (sign / length));
    }
    void try_corners() {
        Vec2 nearest{0};
        double least = std::numeric_limits<double>::max();
        for (Vec2 const& q : a_)
            for (Vec2 const& r : b_) {
                Vec2 const d = q + p_ - r;
                if (glm::dot(d, d) < least) least = glm::dot(d, d), nearest = d;
            }
        if (least > 0) try_normal(nearest / std::sqrt(least));
    }
    void try_normal(Vec2 const& n) {
        double near = std::numeric_limits<double>::max(), far = -near;
        for (Vec2 const& q : a_) near = std::min(near, glm::dot(q, n));
        for (Vec2 const& r : b_) far = std::max(far, glm::dot(r, n));
        double const apart = near + glm::dot(p_, n) - far - gap_;
        if (apart > best_.apart) best_ = {n, apart};
    }

    Ring const& a_;
    Ring const& b_;
    Vec2 p_;
    double gap_;
    Side best_;
};

class Press {
public:
    Press(NestModel const& model, Layout const& layout, double reach)
        : model_(model),
          layout_(layout),
          reach_(reach),
          scale_(reach),
          turned_(layout.poses.size()),
          scratch_(layout.poses.size()) {
        for (std::size_t k = 0; k < layout.poses.size(); ++k)
            turned_[k] = &turned_of(model, static_cast<int>(k), layout.poses[k], scratch_[k]);
        last_sheet_ = sheet_of(model, row_length(model, layout) - 1e-9 * model.scale_mm);
        number_pieces();
    }

    std::optional<double> solve(Layout& into) {
        if (unknowns_ == 0) return {};
        for (std::size_t k = 0; k < layout_.poses.size(); ++k) bound_piece(k);
        for (std::size_t i = 0; i < layout_.poses.size(); ++i)
            for (std::size_t j = i + 1; j < layout_.poses.size(); ++j) keep_apart(i, j);
        LinearAnswer const answer = minimised(unknowns_ + 1, unknowns_, rows_);
        if (!(answer.least_slack * scale_ > -1e-11 * model_.scale_mm)) return {};
        for (std::size_t k = 0; k < layout_.poses.size(); ++k)
            if (first_[k] >= 0) into.poses[k].at += scale_ * Vec2(answer.x[index(k)], answer.x[index(k) + 1]);
        return row_length(model_, into);
    }

private:
    std::size_t index(std::size_t k) const { return static_cast<std::size_t>(first_[k]); }

    void number_pieces() {
        first_.assign(layout_.poses.size(), -1);
        for (std::size_t k = 0; k < first_.size(); ++k) {
            if (model_.pieces[k].pinned >= 0) continue;
            first_[k] = unknowns_;
            unknowns_ += 2;
        }
    }

    // The unknowns are moves over scale_, and the row's end (seen from its present one) over scale_.
    void bound_piece(std::size_t k) {
        Vec2 const& at = layout_.poses[k].at;
        int const sheet = sheet_of(model_, at.x);
        double const start = sheet_start(model_, sheet);
        bool const is_last = sheet == last_sheet_;
        double const end_now = row_length(model_, layout_);
        if (is_last) { // at.x + move + box <= end
            LinearRow row;
            row.add(unknowns_, 1);
            if (first_[k] >= 0) row.add(first_[k], -1);
            row.bound = (at.x + turned_[k]->box.high.x + model_.edge_gap_mm - end_now) / scale_;
            rows_.push_back(row);
        }
        if (first_[k] < 0) return;
        double const length = model_.sheets.length_mm > 0 ? model_.sheets.length_mm : 0;
        Box2 const room = room_of(model_, *turned_[k], length);
        Vec2 const low = Vec2(start, 0) + room.low - at, high = Vec2(start, 0) + room.high - at;
        for (int axis = 0; axis < 2; ++axis) {
            single(first_[k] + axis, 1, std::max(low[axis], std::min(-reach_, high[axis])));
            single(first_[k] + axis, -1, -std::min(high[axis], std::max(reach_, low[axis])));
        }
    }

    void single(int unknown, double sign, double bound) {
        LinearRow row;
        row.add(unknown, sign);
        row.bound = bound / scale_;
        rows_.push_back(row);
    }

    void keep_apart(std::size_t i, std::size_t j) {
        if (first_[i] < 0 && first_[j] < 0) return;
        Vec2 const p = layout_.poses[i].at - layout_.poses[j].at;
        double const far = 3 * reach_ + model_.gap_mm; // no two come nearer than by 2 sqrt 2 of the reach
        if (!near(turned_[i]->box, turned_[j]->box, p, far)) return;
        for (Ring const& a : turned_[i]->parts)
            for (Ring const& b : turned_[j]->parts) {
                if (!near(bounds(a), bounds(b), p, far)) continue;
                Side const side = SideFinder(a, b, p, model_.gap_mm).find(3 * reach_);
                if (side.apart <= 3 * reach_) add_side(i, j, side);
            }
    }

    static bool near(Box2 const& a, Box2 const& b, Vec2 const& p, double far) {
        return a.low.x + p.x < b.high.x + far && b.low.x < a.high.x + p.x + far && a.low.y + p.y < b.high.y + far &&
               b.low.y < a.high.y + p.y + far;
    }

    void add_side(std::size_t i, std::size_t j, Side const& side) {
        LinearRow row;
        if (first_[i] >= 0) row.add(first_[i], side.normal.x), row.add(first_[i] + 1, side.normal.y);
        if (first_[j] >= 0) row.add(first_[j], -side.normal.x), row.add(first_[j] + 1, -side.normal.y);
        row.bound = -side.apart / scale_;
        rows_.push_back(row);
    }

    NestModel const& model_;
    Layout const& layout_;
    double reach_, scale_;
    std::vector<TurnedShape const*> turned_;
    std::vector<TurnedShape> scratch_;
    int last_sheet_ = 0;
    int unknowns_ = 0;
    std::vector<int> first_;
    std::vector<LinearRow> rows_;
};

} // namespace

std::optional<double> pressed(NestModel const& model, Layout& layout, double reach_mm) {
    Layout moved = layout;
    std::optional<double> const end = Press(model, layout, reach_mm).solve(moved);
    if (end) layout = std::move(moved);
    return end;
}

} // namespace leafwright
