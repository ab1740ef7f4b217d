#include "rows/lay_grid.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kThickLayers = 4;
constexpr int kHoleWeight = 60;    // cells in a feature that one cell in a hole weighs up
constexpr int kMostCrossings = 16; // of one outline with one line of cells; lobed leaves have up to a dozen
constexpr int kBandLines = 128;    // lines worked at a time

// std::ceil and std::popcount are library calls on the machines that we build for.
int ceiling(double x) {
    int const below = static_cast<int>(x);
    return below + (x > static_cast<double>(below) ? 1 : 0);
}

int ones(std::uint64_t word) {
    word -= (word >> 1) & 0x5555555555555555U;
    word = (word & 0x3333333333333333U) + ((word >> 2) & 0x3333333333333333U);
    word = (word + (word >> 4)) & 0x0F0F0F0F0F0F0F0FU;
    return static_cast<int>((word * 0x0101010101010101U) >> 56);
}

struct Crossing {
    float x;
    std::int8_t way;
};

// The crossings of a ring with each line of cell middles, sorted by x. On the stack, only the counts are cleared.
class CrossingBand {
public:
    explicit CrossingBand(int first_line) : first_(first_line) { counts_.fill(0); }

    void add(int line, double x, int way) {
        auto const at_line = static_cast<std::size_t>(line - first_);
        auto& crossings = lines_[at_line];
        if (counts_[at_line] == kMostCrossings) return;
        auto at = static_cast<std::size_t>(counts_[at_line]++);
        auto const value = static_cast<float>(x);
        for (; at > 0 && crossings[at - 1].x > value; --at) crossings[at] = crossings[at - 1];
        crossings[at] = {value, static_cast<std::int8_t>(way)};
    }

    // Cells whose middle column + 0.5 lies in [from, to) of a piece with positive winding.
    void spans(int line, int sign, int columns, Spans& out) const {
        auto const at_line = static_cast<std::size_t>(line - first_);
        int winding = 0;
        double from = 0;
        for (std::size_t k = 0; k < counts_[at_line]; ++k) {
            Crossing const& crossing = lines_[at_line][k];
            bool const was_in = winding * sign > 0;
            winding += crossing.way;
            bool const is_in = winding * sign > 0;
            if (!was_in && is_in) from = static_cast<double>(crossing.x);
            if (!was_in || is_in) continue;
            int const begin = std::max(0, ceiling(from - 0.5));
            int const end = std::min(columns, ceiling(static_cast<double>(crossing.x) - 0.5));
            if (begin < end)
                out.push_back({static_cast<std::int16_t>(line), static_cast<std::int16_t>(begin),
                               static_cast<std::int16_t>(end)});
        }
    }

private:
    int first_;
    std::array<std::uint8_t, kBandLines> counts_;
    std::array<std::array<Crossing, kMostCrossings>, kBandLines> lines_;
};

std::uint64_t mask_of(int from_bit, int to_bit) { // bits [from, to) of a word, to <= 64
    std::uint64_t const high = to_bit >= 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << to_bit) - 1;
    return high & ~((std::uint64_t{1} << from_bit) - 1);
}

template <class Visit> void for_words(Span const& span, std::size_t stride, Visit&& visit) {
    std::size_t const base = static_cast<std::size_t>(span.row) * stride;
    int const first = span.begin >> 6;
    int const last = (span.end - 1) >> 6;
    for (int w = first; w <= last; ++w) {
        int const from = w == first ? span.begin & 63 : 0;
        int const to = w == last ? ((span.end - 1) & 63) + 1 : 64;
        visit(base + static_cast<std::size_t>(w), mask_of(from, to));
    }
}

} // namespace

CellBits::CellBits(int columns, int rows)
    : stride_(static_cast<std::size_t>((columns + 63) / 64)), words_(stride_ * static_cast<std::size_t>(rows)) {}

int CellBits::count(Span const& span) const {
    int sum = 0;
    for_words(span, stride_, [&](std::size_t w, std::uint64_t mask) { sum += ones(words_[w] & mask); });
    return sum;
}

int CellBits::count() const {
    int sum = 0;
    for (std::uint64_t const word : words_) sum += ones(word);
    return sum;
}

std::uint64_t CellBits::print_of(int column_low, int row_low, int column_high, int row_high) const {
    std::uint64_t print = 0;
    for (int r = row_low; r < row_high; ++r) {
        Span const span{static_cast<std::int16_t>(r), static_cast<std::int16_t>(column_low),
                        static_cast<std::int16_t>(column_high)};
        for_words(span, stride_, [&](std::size_t w, std::uint64_t mask) {
            std::uint64_t const word = words_[w] & mask;
            if (word != 0) print = (print ^ word ^ (w * 0xD1342543DE82EF95U)) * 0x9E3779B97F4A7C15U | 1U;
        });
    }
    return print;
}

CoverGrid::CoverGrid(Box2 const& box, double cell_mm)
    : low_(box.low),
      cell_(cell_mm),
      columns_(ceiling(box.size().x / cell_mm - 1e-9)),
      rows_(ceiling(box.size().y / cell_mm - 1e-9)),
      zone_(columns_, rows_),
      forbidden_(columns_, rows_),
      hole_(columns_, rows_),
      bare_(columns_, rows_),
      thick_(columns_, rows_),
      layers_(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_)) {}

void CoverGrid::scan(std::span<Vec2 const> ring, Spans& out) const {
    out.clear();
    double low = 1e300;
    double high = -1e300;
    for (Vec2 const& p : ring) {
        low = std::min(low, p.y);
        high = std::max(high, p.y);
    }
    int const first = std::max(0, ceiling((low - low_.y) / cell_ - 0.5));
    int const last = std::min(rows_, ceiling((high - low_.y) / cell_ - 0.5));
    if (first >= last) return;
    // A ring that runs counter-clockwise has its downward edge on the left.
    int const sign = signed_area(ring) > 0 ? -1 : 1;
    for (int line = first; line < last; line += kBandLines)
        scan_band(ring, line, std::min(last, line + kBandLines), sign, out);
}

void CoverGrid::scan_band(std::span<Vec2 const> ring, int first, int last, int sign, Spans& out) const {
    CrossingBand band(first);
    double const per_cell = 1.0 / cell_;
    Vec2 a = (ring.back() - low_) * per_cell;
    for (Vec2 const& point : ring) {
        Vec2 const b = (point - low_) * per_cell;
        int const way = b.y > a.y ? 1 : -1;
        int const from = std::max(first, ceiling(std::min(a.y, b.y) - 0.5));
        int const to = std::min(last, ceiling(std::max(a.y, b.y) - 0.5));
        if (from < to) {
            double const slope = (b.x - a.x) / (b.y - a.y);
            for (int line = from; line < to; ++line) band.add(line, a.x + slope * (line + 0.5 - a.y), way);
        }
        a = b;
    }
    for (int line = first; line < last; ++line) band.spans(line, sign, columns_, out);
}

void CoverGrid::recount(int column, int row) {
    std::uint8_t const layers = layers_[index(column, row)];
    bool const bare = layers == 0 && zone_.test(column, row);
    if (bare != bare_.test(column, row)) {
        bare_count_ += bare ? 1 : -1;
        if (bare)
            bare_.set(column, row);
        else
            bare_.reset(column, row);
    }
    if (layers >= kThickLayers)
        thick_.set(column, row);
    else
        thick_.reset(column, row);
}

void CoverGrid::add_zone(Spans const& spans) {
    for (Span const& span : spans) {
        for (int c = span.begin; c < span.end; ++c) {
            zone_.set(c, span.row);
            recount(c, span.row);
        }
    }
}

void CoverGrid::cut_zone(Spans const& spans) {
    for (Span const& span : spans) {
        for (int c = span.begin; c < span.end; ++c) {
            zone_.reset(c, span.row);
            recount(c, span.row);
        }
    }
}

void CoverGrid::forbid(Spans const& spans) {
    for (Span const& span : spans)
        for (int c = span.begin; c < span.end; ++c) forbidden_.set(c, span.row);
}

void CoverGrid::forbid_wholly(Spans const& spans) {
    for (Span const& span : spans)
        for (int c = span.begin; c < span.end; ++c) hole_.set(c, span.row);
}

void CoverGrid::add(Spans const& spans) {
    for (Span const& span : spans) {
        std::uint8_t* const line = &layers_[index(0, span.row)];
        for (int c = span.begin; c < span.end; ++c) {
            std::uint8_t const layers = ++line[c];
            if (layers == 1 || layers == kThickLayers) recount(c, span.row);
        }
    }
}

void CoverGrid::remove(Spans const& spans) {
    for (Span const& span : spans) {
        std::uint8_t* const line = &layers_[index(0, span.row)];
        for (int c = span.begin; c < span.end; ++c) {
            std::uint8_t const layers = --line[c];
            if (layers == 0 || layers == kThickLayers - 1) recount(c, span.row);
        }
    }
}

Tally CoverGrid::tally(std::span<Span const> spans) const {
    Tally tally;
    auto const& bare = bare_.words();
    auto const& forbidden = forbidden_.words();
    auto const& hole = hole_.words();
    auto const& thick = thick_.words();
    for (Span const& span : spans) {
        tally.cells += span.end - span.begin;
        for_words(span, bare_.stride(), [&](std::size_t w, std::uint64_t mask) {
            tally.bare += ones(bare[w] & mask);
            tally.forbidden += ones(forbidden[w] & mask) + kHoleWeight * ones(hole[w] & mask);
            tally.thick += ones(thick[w] & mask);
        });
    }
    return tally;
}

int CoverGrid::own(Spans const& spans) const {
    int own = 0;
    for (Span const& span : spans)
        for (int c = span.begin; c < span.end; ++c)
            own += layers_[index(c, span.row)] == 1 && zone_.test(c, span.row) ? 1 : 0;
    return own;
}

int CoverGrid::deep_cells() const {
    return static_cast<int>(std::count_if(layers_.begin(), layers_.end(), [](std::uint8_t n) { return n >= 6; }));
}

bool CoverGrid::symmetric() const {
    int unlike = 0;
    for (int r = 0; r < rows_; ++r) {
        for (int c = 0; 2 * c < columns_; ++c) {
            int const image = columns_ - 1 - c;
            unlike += zone_.test(c, r) != zone_.test(image, r) || forbidden_.test(c, r) != forbidden_.test(image, r) ||
                      layers_[index(c, r)] != layers_[index(image, r)];
        }
    }
    return unlike < 1 + rows_ / 20;
}

bool CoverGrid::is_forbidden(Vec2 const& chart) const {
    Vec2 const at = (chart - low_) / cell_;
    int const c = static_cast<int>(std::floor(at.x));
    int const r = static_cast<int>(std::floor(at.y));
    return c >= 0 && c < columns_ && r >= 0 && r < rows_ && forbidden_.test(c, r);
}

std::uint64_t CoverGrid::bare_print(std::span<Span const> spans, double reach_mm) const {
    if (spans.empty() || bare_count_ == 0) return 0;
    int const reach = ceiling(reach_mm / cell_);
    int left = columns_;
    int right = 0;
    int low = rows_;
    int high = 0;
    for (Span const& span : spans) {
        left = std::min<int>(left, span.begin);
        right = std::max<int>(right, span.end);
        low = std::min<int>(low, span.row);
        high = std::max<int>(high, span.row + 1);
    }
    return bare_.print_of(std::max(0, left - reach), std::max(0, low - reach), std::min(columns_, right + reach),
                          std::min(rows_, high + reach));
}

void CoverGrid::bare_cells(Box2 const& box, std::vector<Vec2>& out) const {
    auto const cells = [&](double length, int all) { return std::clamp(static_cast<int>(length / cell_), 0, all); };
    int const left = cells(box.low.x - low_.x, columns_);
    int const right = cells(box.high.x - low_.x + cell_, columns_);
    int const low = cells(box.low.y - low_.y, rows_);
    int const high = cells(box.high.y - low_.y + cell_, rows_);
    for (int r = low; r < high && left < right; ++r) {
        Span const span{static_cast<std::int16_t>(r), static_cast<std::int16_t>(left),
                        static_cast<std::int16_t>(right)};
        for_words(span, bare_.stride(), [&](std::size_t w, std::uint64_t mask) {
            auto const first = static_cast<int>(w - static_cast<std::size_t>(r) * bare_.stride()) * 64;
            for (std::uint64_t bits = bare_.words()[w] & mask; bits != 0; bits &= bits - 1)
                out.push_back(middle(first + std::countr_zero(bits), r));
        });
    }
}

void CoverGrid::add_if_in_hole(Vec2 const& chart, Spans& spans) const {
    Vec2 const at = (chart - low_) / cell_;
    int const c = static_cast<int>(std::floor(at.x));
    int const r = static_cast<int>(std::floor(at.y));
    if (c < 0 || c >= columns_ || r < 0 || r >= rows_ || !hole_.test(c, r)) return;
    auto const column = static_cast<std::int16_t>(c);
    spans.push_back({static_cast<std::int16_t>(r), column, static_cast<std::int16_t>(column + 1)});
}

std::vector<Span> CellBits::runs() const {
    std::vector<Span> runs;
    int const lines = static_cast<int>(words_.size() / stride_);
    for (int r = 0; r < lines; ++r) {
        std::uint64_t carry = 0; // whether the last cell of the word before is set
        for (std::size_t w = 0; w < stride_; ++w) {
            std::uint64_t const word = words_[static_cast<std::size_t>(r) * stride_ + w];
            std::uint64_t const before = (word << 1) | carry;
            carry = word >> 63;
            for (std::uint64_t change = word ^ before; change != 0; change &= change - 1) {
                auto const c = static_cast<std::int16_t>(static_cast<int>(w) * 64 + std::countr_zero(change));
                if ((word >> (c & 63)) & 1U)
                    runs.push_back({static_cast<std::int16_t>(r), c, c});
                else
                    runs.back().end = c;
            }
        }
        if (carry != 0) runs.back().end = static_cast<std::int16_t>(64 * stride_);
    }
    return runs;
}

namespace {

// Runs of bare cells joined to patches: each run's patch is that of the first run it hangs together with.
class RunPatches {
public:
    explicit RunPatches(std::vector<Span> const& runs) : parent_(runs.size()) {
        for (std::size_t k = 0; k < parent_.size(); ++k) parent_[k] = k;
        std::size_t above = 0; // the first run of the line before that may touch
        for (std::size_t k = 0; k < runs.size(); ++k) {
            while (above < k && (runs[above].row + 1 < runs[k].row ||
                                 (runs[above].row + 1 == runs[k].row && runs[above].end < runs[k].begin)))
                ++above;
            for (std::size_t j = above; j < k && runs[j].row + 1 == runs[k].row && runs[j].begin <= runs[k].end; ++j)
                join(j, k);
        }
    }
    std::size_t patch(std::size_t run) {
        while (parent_[run] != run) run = parent_[run] = parent_[parent_[run]];
        return run;
    }

private:
    void join(std::size_t a, std::size_t b) {
        std::size_t const pa = patch(a);
        std::size_t const pb = patch(b);
        if (pa != pb) parent_[std::max(pa, pb)] = std::min(pa, pb);
    }
    std::vector<std::size_t> parent_;
};

} // namespace

CellBits CellBits::eroded() const {
    CellBits out = *this;
    std::size_t const lines = words_.size() / stride_;
    for (std::size_t r = 0; r < lines; ++r) {
        std::uint64_t const* const line = &words_[r * stride_];
        for (std::size_t w = 0; w < stride_; ++w) {
            std::uint64_t const left = (line[w] << 1) | (w > 0 ? line[w - 1] >> 63 : 0);
            std::uint64_t const right = (line[w] >> 1) | (w + 1 < stride_ ? line[w + 1] << 63 : 0);
            std::uint64_t const below = r > 0 ? words_[(r - 1) * stride_ + w] : 0;
            std::uint64_t const above = r + 1 < lines ? words_[(r + 1) * stride_ + w] : 0;
            out.words_[r * stride_ + w] &= left & right & below & above;
        }
    }
    return out;
}

std::vector<BarePatch> CoverGrid::bare_spots() const {
    std::vector<Span> const runs = bare_.runs();
    RunPatches patches(runs);
    std::vector<BarePatch> spots;
    std::vector<std::size_t> spot_of(runs.size());
    for (std::size_t k = 0; k < runs.size(); ++k) {
        std::size_t const patch = patches.patch(k);
        if (patch == k) {
            spot_of[k] = spots.size();
            spots.emplace_back();
        }
        spot_of[k] = spot_of[patch];
        int const cells = runs[k].end - runs[k].begin;
        spots[spot_of[k]].cells += cells;
        spots[spot_of[k]].middle +=
            static_cast<double>(cells) * Vec2{0.5 * (runs[k].begin + runs[k].end), runs[k].row + 0.5};
    }
    for (std::size_t k = 0; k < runs.size(); ++k) {
        BarePatch& spot = spots[spot_of[k]];
        if (k == patches.patch(k)) spot.middle = low_ + cell_ / spot.cells * spot.middle;
    }
    // Peeled cell by cell from outside, what is left last lies deepest.
    CellBits left = bare_;
    for (std::vector<Span> rest = runs; !rest.empty(); left = left.eroded(), rest = left.runs()) {
        std::size_t k = 0;
        for (Span const& run : rest) {
            while (runs[k].row < run.row || (runs[k].row == run.row && runs[k].end <= run.begin)) ++k;
            spots[spot_of[k]].deepest = middle((run.begin + run.end) / 2, run.row);
        }
    }
    std::stable_sort(spots.begin(), spots.end(), [](auto const& a, auto const& b) { return a.cells > b.cells; });
    return spots;
}

Ring inset(std::span<Vec2 const> ring, double distance) {
    double const sign = signed_area(ring) > 0 ? 1.0 : -1.0;
    std::size_t const n = ring.size();
    Ring out;
    for (std::size_t k = 0; k < n; ++k) {
        Vec2 const before = ring[k] - ring[(k + n - 1) % n];
        Vec2 const after = ring[(k + 1) % n] - ring[k];
        double const lb = glm::length(before);
        double const la = glm::length(after);
        if (lb < 1e-9 || la < 1e-9) continue;
        Vec2 const nb = sign / lb * Vec2{-before.y, before.x};
        Vec2 const na = sign / la * Vec2{-after.y, after.x};
        double const share = 1.0 + glm::dot(nb, na);
        if (share > 0.4) {
            out.push_back(ring[k] + distance / share * (nb + na));
        } else if (sign * cross(before, after) >
                   0) { // a sharp tip: cut back to where the two edges meet, within reason
            out.push_back(ring[k] + distance / std::max(share, 0.06) * (nb + na));
        } else { // the bottom of a sharp notch
            out.push_back(ring[k] + distance * nb);
            out.push_back(ring[k] + distance * na);
        }
    }
    return out;
}

namespace {

void keep_far_points(std::span<Vec2 const> ring, std::size_t first, std::size_t last, double tolerance,
                     std::vector<char>& keep) {
    if (last <= first + 1) return;
    Vec2 const a = ring[first];
    Vec2 const chord = ring[last % ring.size()] - a;
    double const length2 = glm::dot(chord, chord);
    std::size_t far = first;
    double worst = tolerance * tolerance;
    for (std::size_t k = first + 1; k < last; ++k) {
        Vec2 const d = ring[k] - a;
        double const t = length2 > 0 ? std::clamp(glm::dot(d, chord) / length2, 0.0, 1.0) : 0.0;
        Vec2 const off = d - t * chord;
        double const distance2 = glm::dot(off, off);
        if (distance2 > worst) {
            worst = distance2;
            far = k;
        }
    }
    if (far == first) return;
    keep[far] = 1;
    keep_far_points(ring, first, far, tolerance, keep);
    keep_far_points(ring, far, last, tolerance, keep);
}

} // namespace

Ring simplified(std::span<Vec2 const> ring, double tolerance) {
    if (ring.size() < 5) return Ring(ring.begin(), ring.end());
    std::vector<char> keep(ring.size(), 0);
    std::size_t const half = ring.size() / 2;
    keep[0] = keep[half] = 1;
    keep_far_points(ring, 0, half, tolerance, keep);
    keep_far_points(ring, half, ring.size(), tolerance, keep);
    Ring out;
    for (std::size_t k = 0; k < ring.size(); ++k)
        if (keep[k] != 0) out.push_back(ring[k]);
    return out;
}

} // namespace leafwright
