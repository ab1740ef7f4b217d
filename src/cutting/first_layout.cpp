#include "cutting/layout.h"
#include "cutting/pair_depth.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

namespace leafwright {

namespace {

struct Taken {
    double low, high;
};

class Builder {
public:
    Builder(NestModel const& model, PairTables const& tables) : model_(model), tables_(tables) {
        layout_.poses.resize(model.pieces.size());
    }

    // Pieces of `kept` that lie on the allowed sheets stay where they are.
    Layout build(Layout const* kept = nullptr) {
        std::vector<std::size_t> order;
        for (std::size_t k = 0; k < model_.pieces.size(); ++k) {
            NestPiece const& piece = model_.pieces[k];
            if (kept && sheet_of(model_, kept->poses[k].at.x) < model_.sheets.at_most)
                put(k, kept->poses[k]);
            else if (piece.pinned < 0)
                order.push_back(k);
            else
                put(k, {piece.pinned, 0, false, piece.pinned_at});
        }
        std::ranges::stable_sort(order, std::greater<>{}, [&](std::size_t k) {
            ShapeModel const& s = model_.shapes[static_cast<std::size_t>(model_.pieces[k].shape)];
            return s.hull_mm2 * s.diameter_mm;
        });
        for (std::size_t k : order) place(k);
        return std::move(layout_);
    }

private:
    void put(std::size_t piece, PiecePose const& pose) {
        layout_.poses[piece] = pose;
        placed_.push_back(piece);
    }

    TurnedShape const& turned(int number) const { return model_.turned[static_cast<std::size_t>(number)]; }

    void place(std::size_t piece) {
        for (int sheet = first_open_[static_cast<std::size_t>(model_.pieces[piece].shape)];; ++sheet) {
            best_end_ = std::numeric_limits<double>::max();
            try_turns(model_.turns_of[static_cast<std::size_t>(model_.pieces[piece].shape)], sheet);
            if (best_end_ == std::numeric_limits<double>::max()) {
                first_open_[static_cast<std::size_t>(model_.pieces[piece].shape)] =
                    sheet + 1; // full for this shape, and stays so
                continue;
            }
            put(piece, best_);
            return;
        }
    }

    // Of very many turns a few, evenly spread, will do for a beginning.
    void try_turns(std::vector<int> const& turns, int sheet) {
        std::size_t const most = tables_.complete() ? 8 : model_.pieces.size() > 40 ? 3 : 6;
        std::size_t const step = (turns.size() + most - 1) / most;
        for (std::size_t k = 0; k < turns.size(); k += step) try_turn(turns[k], sheet);
    }

    void try_turn(int number, int sheet) {
        TurnedShape const& t = turned(number);
        Box2 room = room_of(model_, t, model_.sheets.length_mm);
        room.low.x += sheet_start(model_, sheet);
        room.high.x += sheet_start(model_, sheet);
        near_.clear();
        for (std::size_t p : placed_)
            if (model_.sheets.length_mm == 0 || sheet_of(model_, layout_.poses[p].at.x) == sheet) near_.push_back(p);
        load_tables(number);
        heights(t, room);
        for (double y : heights_) try_height(number, t, room, y);
    }

    void load_tables(int number) {
        flips_.assign(near_.size(), 0);
        views_.resize(near_.size());
        if (tables_.complete()) {
            for (std::size_t k = 0; k < near_.size(); ++k) {
                bool flip = false;
                views_[k] = &tables_.get(number, layout_.poses[near_[k]].number, flip);
                flips_[k] = flip;
            }
            return;
        }
        // Without tables the hulls will do for a beginning: one sum a pair.
        if (scratch_.size() < near_.size()) scratch_.resize(near_.size());
        for (std::size_t k = 0; k < near_.size(); ++k) {
            scratch_[k].build(coarse(number), coarse(layout_.poses[near_[k]].number), model_.gap_mm, tables_.margin());
            views_[k] = &scratch_[k];
        }
    }

    TurnedShape const& coarse(int number) {
        std::optional<TurnedShape>& made = coarse_[static_cast<std::size_t>(number)];
        TurnedShape const& t = turned(number);
        if (!made) made = coarse_shape(model_.shapes[static_cast<std::size_t>(t.shape)], t);
        return *made;
    }

    // Heights worth a try: the edges, an even ladder, and where the piece's box stands on or hangs under another's.
    void heights(TurnedShape const& t, Box2 const& room) {
        heights_ = {room.low.y, room.high.y};
        for (int k = 1; k < 12; ++k) heights_.push_back(room.low.y + (room.high.y - room.low.y) * k / 12.0);
        std::size_t const last = std::min<std::size_t>(near_.size(), 16);
        double const apart = model_.gap_mm + 2 * tables_.margin();
        for (std::size_t k = near_.size() - last; k < near_.size(); ++k) {
            PiecePose const& other = layout_.poses[near_[k]];
            Box2 const& box = turned(other.number).box;
            heights_.push_back(other.at.y + box.high.y - t.box.low.y + apart);
            heights_.push_back(other.at.y + box.low.y - t.box.high.y - apart);
        }
        std::erase_if(heights_, [&](double y) { return y < room.low.y || y > room.high.y; });
    }

    void try_height(int number, TurnedShape const& t, Box2 const& room, double y) {
        taken_.clear();
        for (std::size_t k = 0; k < near_.size(); ++k) {
            Vec2 const& other = layout_.poses[near_[k]].at;
            auto const dy = static_cast<float>(y - other.y);
            if (flips_[k])
                views_[k]->stretches(
                    -dy, [&](float low, float high) { take(other.x - double{high}, other.x - double{low}); });
            else
                views_[k]->stretches(
                    dy, [&](float low, float high) { take(other.x + double{low}, other.x + double{high}); });
        }
        std::ranges::sort(taken_, {}, &Taken::low);
        double x = room.low.x;
        for (Taken const& s : taken_)
            if (s.low < x)
                x = std::max(x, s.high);
            else
                break;
        double const end = x + t.box.high.x;
        if (x > room.high.x || end > best_end_ || (end == best_end_ && y >= best_.at.y)) return;
        best_end_ = end;
        best_ = {number, 0, false, {x, y}};
    }

    void take(double low, double high) {
        double const slack = tables_.margin();
        taken_.push_back({low - slack, high + slack});
    }

    NestModel const& model_;
    PairTables const& tables_;
    Layout layout_;
    std::vector<std::size_t> placed_, near_;
    std::vector<PairTable const*> views_;
    std::vector<char> flips_;
    std::vector<PairTable> scratch_;
    std::vector<std::optional<TurnedShape>> coarse_ = std::vector<std::optional<TurnedShape>>(model_.turned.size());
    std::vector<double> heights_;
    std::vector<Taken> taken_;
    std::vector<int> first_open_ = std::vector<int>(model_.shapes.size(), 0);
    PiecePose best_;
    double best_end_ = 0;
};

} // namespace

Layout first_layout(NestModel const& model, PairTables const& tables) { return Builder(model, tables).build(); }

Layout filled_up(NestModel const& model, PairTables const& tables, Layout const& layout) {
    return Builder(model, tables).build(&layout);
}

} // namespace leafwright
