// What the pages of a range share. Internal to the room.
#pragma once

#include "range/range_plan.h"
#include "sheet/paper.h"
#include "sheet/words.h"

namespace leafwright {

inline constexpr Ink kRangeInk{0.16, 0.14, 0.12};
inline constexpr Ink kRangeSoft{0.45, 0.42, 0.38};
inline constexpr Ink kRangeRule{0.80, 0.76, 0.70};
inline constexpr Ink kRangeClay{0.93, 0.89, 0.83};
inline constexpr double kRangeMargin = 14;

struct RangeSheet {
    Paper& paper;
    RangePlan const& plan;
    UnitWords units;
    double y = kRangeMargin;

    double width() const { return paper.size().width_mm - 2 * kRangeMargin; }
    double bottom() const { return paper.size().height_mm - kRangeMargin; }
    void page(std::string_view title);    // a new one with its title
    void heading(std::string_view words); // on a new page when there is no room for some lines
    void words(std::string_view text, TextStyle const& style = {}); // a paragraph
    // Goes to a new page of that title when less than `mm` are left.
    void room_for(double mm, std::string_view title);
};

std::vector<Vec2> range_box(Vec2 const& low, Vec2 const& high);

// Text shortened with an ellipsis until it is no wider.
std::string fitted_words(Paper& paper, std::string text, double width_mm, TextStyle const& style);

void load_pages(RangeSheet& sheet);     // kiln loads
void calendar_pages(RangeSheet& sheet); // bars by week, then the list

} // namespace leafwright
