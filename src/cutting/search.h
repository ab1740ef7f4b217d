// One seeded search for shorter layouts: shrink the row, part the pieces that overlap, again and again.
#pragma once

#include "cutting/disturb.h"
#include "cutting/mover.h"

#include <functional>

namespace leafwright {

class Search {
public:
    Search(NestModel const& model, PairTables const& tables, Layout const& first, Random random);

    // Works for about this many samples. `share` of the whole time that is over, 0 to 1: early on it roams, later it
    // presses together.
    using Stop = std::function<bool()>;
    void round(std::int64_t samples, double share, Stop const& stop);

    Layout const& best() const { return best_; }
    double best_length() const { return best_length_; }
    bool is_closing() const { return closing_; }
    void adopt(Layout const& layout);
    // Makes this layout, which may overlap, a sound one first, in a row between its own and the best one's: when its
    // own is shorter.
    void part(Layout const& layout);
    std::int64_t samples() const { return crowd_.samples(); }
    bool is_done() const { return done_; } // no shorter row can be

private:
    void aim();
    bool set_row(double step);
    void begin_from(Layout const& layout);
    void watch_anew();
    void pass();
    void watch(float loss);
    void take(Layout const& layout, double length);
    bool try_press(Layout layout);
    void give_up();
    void come_nearer();

    NestModel const& model_;
    Crowd crowd_;
    Random random_;
    double mean_size_ = 0;
    Mover mover_;
    Layout best_;
    double best_length_ = 0;
    bool done_ = false;
    std::int64_t passes_ = 0;
    double shortest_ = 0;
    double least_length_ = 0; // the area bound, and the longest piece

    bool aimed_ = false;
    double step_;          // of the next aim
    int given_up_ = 0;     // at this aim
    float least_loss_ = 0; // since the last beginning
    Layout least_layout_;
    float strike_loss_ = 0;
    float pressed_depth_ = 0; // of the last layout that was tried to press
    int stale_ = 0, strikes_ = 0;
    bool closing_ = false;
    NearMisses misses_; // at this aim
    std::vector<int> order_;
};

} // namespace leafwright
