#include "leaf/svg_path.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kMostParts = 4000; // of one curve

Vec2 reflected(Vec2 const& handle, Vec2 const& about) { return 2.0 * about - handle; }

double angle_between(Vec2 const& u, Vec2 const& v) { return std::atan2(cross(u, v), glm::dot(u, v)); }

// The state between one command and the next.
class PathReader {
public:
    PathReader(std::string_view data, PathPen& pen) : scan_(data), pen_(pen) {}

    std::size_t read() {
        if (scan_.at_end()) return std::string_view::npos;
        if (scan_.peek() != 'M' && scan_.peek() != 'm') return scan_.position();
        while (!scan_.at_end() && !pen_.full()) {
            char const command = scan_.peek();
            if (!scan_.take(command)) return scan_.position();
            std::size_t const was = scan_.position();
            if (!run(command)) return std::max(was, scan_.position());
        }
        return std::string_view::npos;
    }

private:
    // A command with all its sets of numbers; false at a fault.
    bool run(char command) {
        bool const relative = command >= 'a';
        char const kind = relative ? static_cast<char>(command - 'a' + 'A') : command;
        if (kind == 'Z') {
            pen_.close();
            last_ = 'Z';
            return true;
        }
        if (std::string_view("MLHVCSQTA").find(kind) == std::string_view::npos) return false;
        bool first = true;
        do {
            Vec2 const from = relative ? pen_.at() : Vec2{0, 0};
            // After a move come lines.
            char const now = kind == 'M' && !first ? 'L' : kind;
            if (!one(now, from)) return false;
            last_ = now;
            first = false;
        } while (another() && !pen_.full());
        return true;
    }

    bool another() {
        char const next = scan_.peek();
        return next == ',' || next == '.' || next == '-' || next == '+' || (next >= '0' && next <= '9');
    }

    bool point(Vec2 const& from, Vec2& p) {
        std::optional<double> const x = scan_.number();
        std::optional<double> const y = x ? scan_.number() : x;
        if (!x || !y) return false;
        p = from + Vec2{*x, *y};
        return true;
    }

    bool one(char kind, Vec2 const& from) {
        Vec2 to{0, 0};
        switch (kind) {
        case 'M':
            if (!point(from, to)) return false;
            pen_.move(to);
            return true;
        case 'L':
            if (!point(from, to)) return false;
            pen_.line(to);
            return true;
        case 'H':
        case 'V':
            return level(kind == 'H', from);
        case 'C':
        case 'S':
            return cubic(kind == 'S', from);
        case 'Q':
        case 'T':
            return quadratic(kind == 'T', from);
        default:
            return arc(from);
        }
    }

    bool level(bool across, Vec2 const& from) {
        std::optional<double> const v = scan_.number();
        if (!v) return false;
        Vec2 to = pen_.at();
        (across ? to.x : to.y) = (across ? from.x : from.y) + *v;
        pen_.line(to);
        return true;
    }

    bool cubic(bool smooth, Vec2 const& from) {
        Vec2 first = last_ == 'C' || last_ == 'S' ? reflected(handle_, pen_.at()) : pen_.at();
        Vec2 second{0, 0};
        Vec2 to{0, 0};
        if (!smooth && !point(from, first)) return false;
        if (!point(from, second) || !point(from, to)) return false;
        pen_.cubic(first, second, to);
        handle_ = second;
        return true;
    }

    bool quadratic(bool smooth, Vec2 const& from) {
        Vec2 handle = last_ == 'Q' || last_ == 'T' ? reflected(handle_, pen_.at()) : pen_.at();
        Vec2 to{0, 0};
        if (!smooth && !point(from, handle)) return false;
        if (!point(from, to)) return false;
        pen_.quadratic(handle, to);
        handle_ = handle;
        return true;
    }

    bool arc(Vec2 const& from) {
        Vec2 radii{0, 0};
        Vec2 to{0, 0};
        if (!point({0, 0}, radii)) return false;
        std::optional<double> const turn = scan_.number();
        if (!turn) return false;
        std::optional<bool> const large = scan_.flag();
        std::optional<bool> const sweep = large ? scan_.flag() : large;
        if (!large || !sweep || !point(from, to)) return false;
        pen_.arc(radii, *turn, *large, *sweep, to);
        return true;
    }

    SvgScanner scan_;
    PathPen& pen_;
    char last_ = 0;
    Vec2 handle_{0, 0}; // of the last curve
};

} // namespace

int PathPen::parts(double bend) const {
    double const count = std::ceil(std::sqrt(bend / (8 * tolerance_)));
    return std::clamp(count < kMostParts ? static_cast<int>(count) : kMostParts, 1, kMostParts);
}

void PathPen::add(Vec2 const& p) {
    at_ = p;
    if (full() || !(std::abs(p.x) < 1e9 && std::abs(p.y) < 1e9)) return;
    if (!open_) {
        paths_.push_back({{start_}, false});
        open_ = true;
        ++count_;
    }
    paths_.back().points.push_back(p);
    ++count_;
}

void PathPen::move(Vec2 const& to) {
    open_ = false;
    start_ = at_ = to;
}

void PathPen::line(Vec2 const& to) { add(to); }

void PathPen::cubic(Vec2 const& first, Vec2 const& second, Vec2 const& to) {
    Vec2 const from = at_;
    int const n = parts(6 * std::max(glm::length(from - 2.0 * first + second), glm::length(first - 2.0 * second + to)));
    for (int i = 1; i < n; ++i) {
        double const t = static_cast<double>(i) / n;
        double const s = 1 - t;
        add(s * s * s * from + 3 * s * s * t * first + 3 * s * t * t * second + t * t * t * to);
    }
    add(to);
}

void PathPen::quadratic(Vec2 const& handle, Vec2 const& to) {
    Vec2 const from = at_;
    int const n = parts(2 * glm::length(from - 2.0 * handle + to));
    for (int i = 1; i < n; ++i) {
        double const t = static_cast<double>(i) / n;
        add((1 - t) * (1 - t) * from + 2 * t * (1 - t) * handle + t * t * to);
    }
    add(to);
}

void PathPen::arc(Vec2 radii, double turn_deg, bool large, bool sweep, Vec2 const& to) {
    Vec2 const from = at_;
    radii = glm::abs(radii);
    if (from == to) return;
    if (radii.x == 0 || radii.y == 0) return line(to);
    double const turn = radians(turn_deg);
    double const c = std::cos(turn);
    double const s = std::sin(turn);
    Vec2 const half = 0.5 * (from - to);
    Vec2 const p{c * half.x + s * half.y, -s * half.x + c * half.y};
    double const need = p.x * p.x / (radii.x * radii.x) + p.y * p.y / (radii.y * radii.y);
    if (need > 1) radii *= std::sqrt(need);
    double const rx2 = radii.x * radii.x;
    double const ry2 = radii.y * radii.y;
    double const below = rx2 * p.y * p.y + ry2 * p.x * p.x;
    double const root = below > 0 ? std::sqrt(std::max(0.0, (rx2 * ry2 - below) / below)) : 0;
    Vec2 const mid = (large == sweep ? -root : root) * Vec2{radii.x * p.y / radii.y, -radii.y * p.x / radii.x};
    Vec2 const centre = Vec2{c * mid.x - s * mid.y, s * mid.x + c * mid.y} + 0.5 * (from + to);
    Vec2 const u = (p - mid) / radii;
    Vec2 const v = (-p - mid) / radii;
    double const start = std::atan2(u.y, u.x);
    double span = angle_between(u, v);
    if (sweep && span < 0) span += kTwoPi;
    if (!sweep && span > 0) span -= kTwoPi;
    int const n = parts(span * span * std::max(radii.x, radii.y));
    for (int i = 1; i < n; ++i) {
        double const t = start + span * i / n;
        Vec2 const q = radii * Vec2{std::cos(t), std::sin(t)};
        add(centre + Vec2{c * q.x - s * q.y, s * q.x + c * q.y});
    }
    add(to);
}

void PathPen::close() {
    if (open_) paths_.back().closed = true;
    open_ = false;
    at_ = start_;
}

std::size_t draw_path(std::string_view data, PathPen& pen) { return PathReader(data, pen).read(); }

std::size_t draw_points(std::string_view data, bool closed, PathPen& pen) {
    SvgScanner scan(data);
    bool first = true;
    while (!scan.at_end() && !pen.full()) {
        std::optional<double> const x = scan.number();
        std::optional<double> const y = x ? scan.number() : x;
        if (!x || !y) break;
        if (first)
            pen.move({*x, *y});
        else
            pen.line({*x, *y});
        first = false;
    }
    if (closed) pen.close();
    return scan.at_end() || pen.full() ? std::string_view::npos : scan.position();
}

void draw_rect(Vec2 const& corner, Vec2 const& size, Vec2 radii, PathPen& pen) {
    if (!(size.x > 0 && size.y > 0)) return;
    radii = {std::min(radii.x, 0.5 * size.x), std::min(radii.y, 0.5 * size.y)};
    Vec2 const far = corner + size;
    bool const round = radii.x > 0 && radii.y > 0;
    if (!round) radii = {0, 0};
    pen.move({corner.x + radii.x, corner.y});
    pen.line({far.x - radii.x, corner.y});
    if (round) pen.arc(radii, 0, false, true, {far.x, corner.y + radii.y});
    pen.line({far.x, far.y - radii.y});
    if (round) pen.arc(radii, 0, false, true, {far.x - radii.x, far.y});
    pen.line({corner.x + radii.x, far.y});
    if (round) pen.arc(radii, 0, false, true, {corner.x, far.y - radii.y});
    pen.line({corner.x, corner.y + radii.y});
    if (round) pen.arc(radii, 0, false, true, {corner.x + radii.x, corner.y});
    pen.close();
}

void draw_ellipse(Vec2 const& centre, Vec2 const& radii, PathPen& pen) {
    if (!(radii.x > 0 && radii.y > 0)) return;
    pen.move(centre + Vec2{radii.x, 0});
    pen.arc(radii, 0, false, true, centre - Vec2{radii.x, 0});
    pen.arc(radii, 0, false, true, centre + Vec2{radii.x, 0});
    pen.close();
}

} // namespace leafwright
