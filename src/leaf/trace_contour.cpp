// Marching squares. A place between two pixels is found by straight interpolation; where the four corners of a cell are
// crosswise in and out, the inside is kept together.
#include "leaf/trace_work.h"

#include <unordered_map>

namespace leafwright {

namespace {

constexpr float kHalf = 0.5F;

// A crossing lies on the edge from the pixel (x, y) to the right or downward; numbered by pixel and way.
struct Field {
    cv::Mat1f const& values;
    int cols() const { return values.cols + 1; } // with the border of 0 to the left and above
    float at(int x, int y) const {
        bool const in = x >= 0 && y >= 0 && x < values.cols && y < values.rows;
        return in ? values(y, x) : 0.0F;
    }
    bool inside(int x, int y) const { return at(x, y) >= kHalf; }
    std::int64_t number(int x, int y, int way) const {
        return 2 * (static_cast<std::int64_t>(y + 1) * (cols() + 1) + (x + 1)) + way;
    }
    Vec2 place(std::int64_t number) const {
        auto const pixel = number / 2;
        int const x = static_cast<int>(pixel % (cols() + 1)) - 1;
        int const y = static_cast<int>(pixel / (cols() + 1)) - 1;
        bool const down = number % 2 == 1;
        double const a = static_cast<double>(at(x, y));
        double const b = static_cast<double>(down ? at(x, y + 1) : at(x + 1, y));
        double const share = std::min(1.0, std::max(0.0, (0.5 - a) / (b - a)));
        return down ? Vec2{x, y + share} : Vec2{x + share, y};
    }
};

using Steps = std::unordered_map<std::int64_t, std::int64_t>;

// The cell with corners (x, y) to (x + 1, y + 1): its lines, with the inside where the cross product is positive, so
// that the signed area of an outer ring is positive and that of a hole negative.
void add_cell(Field const& field, int x, int y, Steps& next) {
    bool const a = field.inside(x, y);
    bool const b = field.inside(x + 1, y);
    bool const c = field.inside(x + 1, y + 1);
    bool const d = field.inside(x, y + 1);
    int const kind = (a ? 8 : 0) | (b ? 4 : 0) | (c ? 2 : 0) | (d ? 1 : 0);
    if (kind == 0 || kind == 15) return;
    std::int64_t const top = field.number(x, y, 0);
    std::int64_t const left = field.number(x, y, 1);
    std::int64_t const bottom = field.number(x, y + 1, 0);
    std::int64_t const right = field.number(x + 1, y, 1);
    switch (kind) {
    case 1:
        next[left] = bottom;
        break;
    case 2:
        next[bottom] = right;
        break;
    case 3:
        next[left] = right;
        break;
    case 4:
        next[right] = top;
        break;
    case 5:
        next[left] = top;
        next[right] = bottom;
        break;
    case 6:
        next[bottom] = top;
        break;
    case 7:
        next[left] = top;
        break;
    case 8:
        next[top] = left;
        break;
    case 9:
        next[top] = bottom;
        break;
    case 10:
        next[top] = right;
        next[bottom] = left;
        break;
    case 11:
        next[top] = right;
        break;
    case 12:
        next[right] = left;
        break;
    case 13:
        next[right] = bottom;
        break;
    default:
        next[bottom] = left;
        break;
    }
}

} // namespace

std::vector<Ring> half_lines(cv::Mat1f const& values) {
    Field const field{values};
    Steps next;
    std::vector<std::int64_t> starts;
    for (int y = -1; y < values.rows; ++y)
        for (int x = -1; x < values.cols; ++x) {
            if (x >= 0 && y >= 0 && x + 1 < values.cols && y + 1 < values.rows) {
                float const* const p = values[y] + x;
                float const* const q = values[y + 1] + x;
                int const in = (p[0] >= kHalf) + (p[1] >= kHalf) + (q[0] >= kHalf) + (q[1] >= kHalf);
                if (in == 0 || in == 4) continue;
            }
            std::size_t const before = next.size();
            add_cell(field, x, y, next);
            if (next.size() > before) {
                for (std::int64_t const n : {field.number(x, y, 0), field.number(x, y, 1), field.number(x, y + 1, 0),
                                             field.number(x + 1, y, 1)})
                    if (next.count(n)) starts.push_back(n);
            }
        }
    std::vector<Ring> rings;
    for (std::int64_t const start : starts) {
        Ring ring;
        for (auto step = next.find(start); step != next.end();) {
            ring.push_back(field.place(step->first));
            std::int64_t const there = step->second;
            next.erase(step);
            step = next.find(there);
        }
        if (ring.size() >= 3) rings.push_back(std::move(ring));
    }
    return rings;
}

} // namespace leafwright
