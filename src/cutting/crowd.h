// All pieces as they lie, with who overlaps whom how deep; made to try very many places quickly.
#pragma once

#include "cutting/layout.h"
#include "cutting/pair_depth.h"

#include "base/random.h"

namespace leafwright {

// The row of sheets up to where it ends.
struct RowRoom {
    int sheets = 1;
    double end = 0; // of the last sheet, from the start of the row
};

class Crowd {
public:
    Crowd(NestModel const& model, PairTables const& tables);

    int size() const { return n_; }
    bool is_pinned(int i) const { return model_.pieces[idx(i)].pinned >= 0; }
    void load(Layout const& layout);
    Layout const& layout() const { return layout_; }
    PiecePose const& pose(int i) const { return layout_.poses[idx(i)]; }

    // The places where a turned shape may lie on a sheet, with the row ending at `end`.
    Box2 const& room(int number, int sheet) const { return rooms_[idx(sheet) * model_.turned.size() + idx(number)]; }
    void set_row(RowRoom const& row);
    RowRoom const& row() const { return row_; }
    // The nearest place to `at` where the piece's turn has room, on the sheet where it lies or one before; false when
    // there is none.
    bool settle(int number, Vec2& at) const;

    // Sum over the others of weight times loss if piece i lay there; may stop early when it comes to `enough`.
    float cost(int i, int number, Vec2 const& at, float enough) const;
    float present_cost(int i) const;
    void move(int i, int number, Vec2 const& at);

    bool overlaps(int i) const;
    // Unweighted, each pair once.
    float total_loss() const;
    float total_depth() const;
    // Weights of pairs that overlap grow, the others' fade.
    void learn();
    void forget();

    std::int64_t samples() const { return samples_; }
    NestModel const& model() const { return model_; }
    TurnedShape const& turned(int number) const { return model_.turned[idx(number)]; }

private:
    static std::size_t idx(int k) { return static_cast<std::size_t>(k); }
    // What an overlap counts: its depth, and something for being one at all, so that one deep overlap is rather borne
    // than many slight ones, which nobody can resolve by moving one piece.
    float loss_of(float depth) const { return depth + (touch_ < depth * ramp_ ? touch_ : depth * ramp_); }
    float solid_cost(int i, int number, Vec2 const& at, float enough) const;
    void set_base();
    void set_box(int i);
    void refresh(int i);
    void set_pair(std::size_t i, std::size_t j, float depth);
    template <class Visit> void near(int i, TurnedShape const& t, Vec2 const& at, Visit&& visit) const;

    NestModel const& model_;
    PairTables const& tables_;
    int n_;
    RowRoom row_;
    std::vector<Box2> rooms_; // by sheet and turned shape
    Layout layout_;
    std::vector<Four> low_x_, high_x_, low_y_, high_y_; // boxes, four pieces at a time, half the gap wider
    std::vector<Vec2> at_;                              // once more, close together
    std::vector<int> number_;
    std::vector<float> depth_, loss_, weight_;
    float touch_ = 0, ramp_ = 0;
    std::vector<float> base_; // what weights fade to: large pieces count for more
    mutable std::int64_t samples_ = 0;
};

} // namespace leafwright
