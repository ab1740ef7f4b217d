// The laying solver's fast picture of the clay: square cells in the equal-area chart, the layers over each, and bit
// rows for what is bare, what leaves must keep off, and where the pile is thick.
//
// Leaves enter it a little smaller than they are, and the zone a little larger, so that a grid without bare cells means
// clay without bare spots; the overlap engine has the last word.
#pragma once

#include "base/polygon.h"

#include <cstdint>

namespace leafwright {

// Cells begin to end - 1 of one row.
struct Span {
    std::int16_t row = 0;
    std::int16_t begin = 0;
    std::int16_t end = 0;
};
using Spans = std::vector<Span>;

struct Tally {
    int cells = 0;     // all inside the grid
    int bare = 0;      // would be newly covered
    int forbidden = 0; // in features; a cell of an opening's hole counts for many
    int thick = 0;     // on cells that have 4 layers or more already
};

// One bit a cell.
class CellBits {
public:
    CellBits(int columns, int rows);
    bool test(int column, int row) const {
        return (words_[static_cast<std::size_t>(row) * stride_ + static_cast<std::size_t>(column >> 6)] >>
                (column & 63)) &
               1U;
    }
    void set(int column, int row) { word(column, row) |= std::uint64_t{1} << (column & 63); }
    void reset(int column, int row) { word(column, row) &= ~(std::uint64_t{1} << (column & 63)); }
    int count(Span const& span) const;
    int count() const;
    // Runs of set cells, row by row.
    std::vector<Span> runs() const;
    // Without the cells that have an unset one beside them.
    CellBits eroded() const;
    std::uint64_t print_of(int column_low, int row_low, int column_high, int row_high) const;
    std::vector<std::uint64_t> const& words() const { return words_; }
    std::size_t stride() const { return stride_; }

private:
    std::uint64_t& word(int column, int row) {
        return words_[static_cast<std::size_t>(row) * stride_ + static_cast<std::size_t>(column >> 6)];
    }
    std::size_t stride_;
    std::vector<std::uint64_t> words_;
};

// A connected patch of bare cells.
struct BarePatch {
    int cells = 0;
    Vec2 middle{0, 0};  // of its cells, chart
    Vec2 deepest{0, 0}; // the middle of a cell of it, as far inside as any
};

class CoverGrid {
public:
    CoverGrid(Box2 const& box, double cell_mm);

    double cell_mm() const { return cell_; }
    int columns() const { return columns_; }
    int rows() const { return rows_; }
    Vec2 middle(int column, int row) const { return low_ + cell_ * Vec2{column + 0.5, row + 0.5}; }

    // Cells whose middle lies within the ring, by positive winding (whatever way the ring runs as a whole); small loops
    // that run the other way, as an inset leaves at sharp teeth, do not count.
    void scan(std::span<Vec2 const> ring, Spans& out) const;

    // Before any leaf: the clad zone and the cells to keep off.
    void add_zone(Spans const& spans);
    void cut_zone(Spans const& spans);
    void forbid(Spans const& spans);
    void forbid_wholly(Spans const& spans);

    void add(Spans const& spans);
    void remove(Spans const& spans);
    Tally tally(std::span<Span const> spans) const;
    // Zone cells that these spans alone cover; they must have been added.
    int own(Spans const& spans) const;

    // Left and right (x and -x; the box must be centred) are mirror images, but for a few cells.
    bool symmetric() const;
    int bare() const { return bare_count_; }
    // Cells with six layers or more.
    int deep_cells() const;
    bool is_bare(int column, int row) const { return bare_.test(column, row); }
    bool is_forbidden(Vec2 const& chart) const;
    // Adds the point's cell if it lies in a hole: ends of stalks and tips are too thin for scan().
    void add_if_in_hole(Vec2 const& chart, Spans& spans) const;
    CellBits const& bare_bits() const { return bare_; }
    // Adds the middles of the bare cells within the box.
    void bare_cells(Box2 const& box, std::vector<Vec2>& out) const;
    int layers(int column, int row) const { return layers_[index(column, row)]; }
    // Any bare cell within `reach_mm` of the spans' rectangle.
    bool bare_near(std::span<Span const> spans, double reach_mm) const { return bare_print(spans, reach_mm) != 0; }
    // A fingerprint of the bare cells there; 0 when there is none.
    std::uint64_t bare_print(std::span<Span const> spans, double reach_mm) const;
    // Largest first.
    std::vector<BarePatch> bare_spots() const;

private:
    std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column);
    }
    void scan_band(std::span<Vec2 const> ring, int first, int last, int sign, Spans& out) const;
    void recount(int column, int row);

    Vec2 low_;
    double cell_;
    int columns_;
    int rows_;
    CellBits zone_;
    CellBits forbidden_;
    CellBits hole_;
    CellBits bare_;
    CellBits thick_;
    std::vector<std::uint8_t> layers_;
    int bare_count_ = 0;
};

// The ring moved inward by `distance`, edge by edge. May cross itself where the shape is narrower than twice that: read
// it by positive winding.
Ring inset(std::span<Vec2 const> ring, double distance);
// Fewer points, none of those left out further than `tolerance` from the new edges (Douglas and Peucker).
Ring simplified(std::span<Vec2 const> ring, double tolerance);

} // namespace leafwright
