#include "piece/fields.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

// Walks a piece and keeps the first value that breaks its range.
class RangeCheck {
public:
    MaybeProblem problem;

    void number(std::string_view key, double value, Range range) {
        if (problem || (value >= range.low && value <= range.high)) return;
        problem = Problem{
            "range", path_.with(key),
            "is " + in_words(value) + "; the range is " + in_words(range.low) + " to " + in_words(range.high), ""};
    }
    void angle(std::string_view key, double value) { number(key, value, kAngleRange); }
    void whole(std::string_view key, int value, Range range, Need = Need::optional) { number(key, value, range); }
    void seed(std::string_view, std::uint64_t) {}
    void flag(std::string_view, bool) {}
    void text(std::string_view key, std::string const& value, std::size_t longest, Need need) {
        if (problem) return;
        if (need == Need::required && value.empty())
            problem = Problem{"range", path_.with(key), "is empty", "Give it a name"};
        else if (value.size() > longest)
            problem =
                Problem{"range", path_.with(key), "is longer than " + std::to_string(longest) + " bytes", "Shorten it"};
    }
    template <class Names> void choice(std::string_view key, std::string const& value, Names const& names) {
        if (problem || std::find(names.begin(), names.end(), value) != names.end()) return;
        problem =
            Problem{"word", path_.with(key),
                    fmt::format("is {}; known are {}", quoted_word(value), listed({names.begin(), names.end()})), ""};
    }
    template <class Enum, class Words> void word(std::string_view, Enum, Words const&, Need) {}
    void words(std::string_view key, std::vector<std::string> const& list, std::size_t most) {
        count(key, list.size(), most);
    }
    void numbers(std::string_view key, std::vector<double> const& list, Range range, std::size_t most) {
        count(key, list.size(), most);
        for (std::size_t i = 0; i < list.size() && !problem; ++i)
            number(fmt::format("{}[{}]", key, i), list[i], range);
    }
    void points(std::string_view key, std::vector<Vec2> const& list, Range range, std::size_t most) {
        count(key, list.size(), most);
        for (std::size_t i = 0; i < list.size() && !problem; ++i) {
            std::string const item = std::string(key) + '[' + std::to_string(i) + ']';
            number(item + "[0]", list[i].x, range);
            number(item + "[1]", list[i].y, range);
        }
    }
    void figure(std::string_view key, Figure const& figure, Range range) {
        std::size_t const was = path_.enter(key);
        bool const bare = figure.is_exact();
        if (bare) path_.leave(was);
        number(bare ? key : "value", figure.value, range);
        if (!bare) {
            number("low", figure.low, range);
            number("high", figure.high, range);
            if (!problem && (figure.low > figure.value || figure.value > figure.high))
                problem = Problem{"range", path_.text(), "low, value and high are not in order",
                                  "Give low at most value, and high at least value"};
        }
        path_.leave(was);
    }
    template <class S> void object(std::string_view key, S const& value) {
        std::size_t const was = path_.enter(key);
        fields(*this, value);
        path_.leave(was);
    }
    void object(std::string_view key, OutlineSpec const& value) {
        std::size_t const was = path_.enter(key);
        OutlineSpec looked_at = value;
        if (value.kind == OutlineKind::round) looked_at.height_mm = value.width_mm; // not used by a round outline
        fields(*this, looked_at);
        if (!problem && value.kind == OutlineKind::free && value.points_mm.size() < 4)
            problem = Problem{
                "range", path_.with("points_mm"),
                "holds " + std::to_string(value.points_mm.size()) + " points; a free outline needs at least 4", ""};
        path_.leave(was);
    }
    template <class S> void list(std::string_view key, std::vector<S> const& list, std::size_t most) {
        count(key, list.size(), most);
        std::size_t const was = path_.enter(key);
        for (std::size_t i = 0; i < list.size() && !problem; ++i) {
            std::size_t const before = path_.enter(i);
            fields(*this, list[i]);
            path_.leave(before);
        }
        path_.leave(was);
    }

private:
    void count(std::string_view key, std::size_t size, std::size_t most) {
        if (problem || size <= most) return;
        problem = Problem{"too-many", path_.with(key),
                          "holds " + std::to_string(size) + " entries; at most " + std::to_string(most) + " are read",
                          "Split the piece"};
    }
    FieldPath path_;
};

// Walks a piece and moves what is outside its range to the nearest limit.
class RangeHold {
public:
    void number(std::string_view, double& value, Range range) {
        value = value >= range.low ? std::min(value, range.high) : range.low;
    }
    void angle(std::string_view, double& value) {
        if (value >= kAngleRange.low && value <= kAngleRange.high) return;
        value = std::isfinite(value) ? std::remainder(value, 360.0) : 0.0;
    }
    void whole(std::string_view, int& value, Range range, Need = Need::optional) {
        value = std::clamp(value, static_cast<int>(range.low), static_cast<int>(range.high));
    }
    void seed(std::string_view, std::uint64_t) {}
    void flag(std::string_view, bool) {}
    void text(std::string_view, std::string& value, std::size_t longest, Need) {
        if (value.size() <= longest) return;
        std::size_t end = longest;
        while (end > 0 && (static_cast<unsigned char>(value[end]) & 0xC0) == 0x80) --end; // no half character
        value.resize(end);
    }
    template <class Names> void choice(std::string_view, std::string& value, Names const& names) {
        if (std::find(names.begin(), names.end(), value) == names.end()) value = names.front();
    }
    template <class Enum, class Words> void word(std::string_view, Enum, Words const&, Need) {}
    void words(std::string_view, std::vector<std::string>& list, std::size_t most) {
        if (list.size() > most) list.resize(most);
    }
    void numbers(std::string_view, std::vector<double>& list, Range range, std::size_t most) {
        if (list.size() > most) list.resize(most);
        for (double& value : list) number("", value, range);
    }
    void points(std::string_view, std::vector<Vec2>& list, Range range, std::size_t most) {
        if (list.size() > most) list.resize(most);
        for (Vec2& p : list) {
            number("", p.x, range);
            number("", p.y, range);
        }
    }
    void figure(std::string_view, Figure& figure, Range range) {
        number("", figure.value, range);
        number("", figure.low, range);
        number("", figure.high, range);
        figure.low = std::min(figure.low, figure.value);
        figure.high = std::max(figure.high, figure.value);
    }
    template <class S> void object(std::string_view, S& value) { fields(*this, value); }
    void object(std::string_view, OutlineSpec& value) {
        fields(*this, value);
        if (value.kind == OutlineKind::round) value.height_mm = value.width_mm;
    }
    template <class S> void list(std::string_view, std::vector<S>& list, std::size_t most) {
        if (list.size() > most) list.resize(most);
        for (S& item : list) fields(*this, item);
    }
};

} // namespace

MaybeProblem check_ranges(Piece const& piece) {
    RangeCheck check;
    fields(check, piece);
    return check.problem;
}

MaybeProblem check_ranges(OwnLeaf const& leaf) {
    RangeCheck check;
    fields(check, leaf);
    return check.problem;
}

template <class S> void hold_in_range(S& value) {
    RangeHold hold;
    hold.object("", value);
}

template void hold_in_range(Piece&);
template void hold_in_range(FormerSpec&);
template void hold_in_range(SlabSpec&);
template void hold_in_range(BodySpec&);
template void hold_in_range(TileSet&);
template void hold_in_range(HangingSpec&);
template void hold_in_range(ExtraClaySpec&);
template void hold_in_range(RowRules&);
template void hold_in_range(FiringSpec&);
template void hold_in_range(DryingSpec&);
template void hold_in_range(FinishSpec&);
template void hold_in_range(KilnSpec&);
template void hold_in_range(CostSpec&);
template void hold_in_range(CuttingSpec&);
template void hold_in_range(OwnLeaf&);
template void hold_in_range(LeafKindSpec&);
template void hold_in_range(LeafPlacement&);
template void hold_in_range(Feature&);

} // namespace leafwright
