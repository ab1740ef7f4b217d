#include "piece/cutting_groups.h"

#include "base/units.h"
#include "piece/cutting_sizes.h"
#include "slab/flat_outline.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace leafwright {

namespace {

constexpr int kFewPieces = 12; // so few that several widths of sheet are worth trying

Box2 turned_box(CutItem const& item, double turn_deg) {
    return bounds(posed(item.outline_mm, {0, turn_deg, false, {}}).outer);
}

// Upright, across, or as it is narrowest.
std::vector<double> slab_turns(CutItem const& slab, double width_mm) {
    std::vector<double> turns{0, 90};
    for (double const turn : turns)
        if (turned_box(slab, turn).size().y <= width_mm) return turns;
    Vec2 const across = narrowest_strip(slab.outline_mm.outer).across;
    turns.push_back(90 - degrees(std::atan2(across.y, across.x)));
    return turns;
}

NestShape shape_for(CutItem const& item, CuttingSpec const& spec, double width_mm) {
    NestShape shape;
    shape.name = item.name;
    shape.outline = nest_outline(item);
    switch (item.kind) {
    case CutKind::leaf:
        if (spec.grain == Grain::along) {
            shape.turns_deg = {90, 270}; // a leaf's tip points up in its own drawing
            shape.turn_play_deg = spec.grain_play_deg;
        } else {
            shape.turn_play_deg = 180;
        }
        break;
    case CutKind::slab:
        shape.turns_deg = slab_turns(item, width_mm);
        break;
    case CutKind::strip:
    case CutKind::bar:
        shape.turns_deg = {0, 90};
        break;
    case CutKind::lug:
        break;
    }
    return shape;
}

// The slab's before the others', then by the outermost row; thick before thin.
std::vector<std::vector<int>> by_thickness(std::vector<CutItem> const& items) {
    std::map<double, std::vector<int>> groups;
    for (std::size_t i = 0; i < items.size(); ++i) groups[items[i].thickness_mm].push_back(static_cast<int>(i));
    std::vector<std::vector<int>> sorted;
    sorted.reserve(groups.size());
    for (auto& [thickness, group] : groups) sorted.push_back(std::move(group));
    auto const first_row = [&](std::vector<int> const& group) {
        int row = 1 << 30;
        for (int i : group) {
            CutItem const& item = items[static_cast<std::size_t>(i)];
            row = std::min(row, item.kind == CutKind::slab ? -1 : item.row);
        }
        return row;
    };
    std::ranges::stable_sort(sorted, {}, first_row);
    return sorted;
}

class GroupMaker {
public:
    GroupMaker(Plan const& plan, std::vector<CutItem> const& items, CuttingAnswer const* from)
        : plan_(plan), items_(items), from_(from), width_mm_(usable_width_mm(plan.piece)) {}

    CutGroups make() {
        for (std::vector<int> const& members : by_thickness(items_)) {
            CutGroup group = group_of(members);
            add_pins(group);
            lay_first(group);
            if (!group.items.empty()) out_.groups.push_back(std::move(group));
        }
        tell_left_out();
        return std::move(out_);
    }

private:
    CuttingSpec const& spec() const { return plan_.piece.cutting; }
    CutItem const& item(int index) const { return items_[static_cast<std::size_t>(index)]; }

    CutGroup group_of(std::vector<int> const& members) {
        CutGroup group;
        group.thickness_mm = item(members.front()).thickness_mm;
        group.items = members;
        group.job.sheets = {width_mm_, spec().table_length_mm, 0};
        group.job.gap_mm = spec().gap_mm;
        group.job.edge_gap_mm = spec().edge_mm;
        for (int i : members) {
            group.job.shapes.push_back(shape_for(item(i), spec(), width_mm_));
            if (item(i).kind == CutKind::slab) fit_margin(group, group.job.shapes.back(), item(i));
        }
        return group;
    }

    // A slab that needs the whole width gets a narrower margin: it has its trim.
    void fit_margin(CutGroup& group, NestShape const& shape, CutItem const& slab) {
        double most = -1;
        for (double const turn : shape.turns_deg) {
            Vec2 const size = turned_box(slab, turn).size();
            most = std::max(most, 0.5 * std::min(spec().table_length_mm - size.x, width_mm_ - size.y));
        }
        if (most < 0 || most >= spec().edge_mm) return;
        group.job.edge_gap_mm = 0.999 * most;
        out_.warnings.push_back({"cutting.margin", "Roll",
                                 fmt::format("The slab needs nearly the whole sheet: only {:.1f} mm stay clear at its "
                                             "edges.",
                                             group.job.edge_gap_mm),
                                 "Roll that sheet with clean edges, or roll a larger one.", false});
    }

    void add_pins(CutGroup& group) {
        for (std::size_t k = 0; k < group.items.size(); ++k)
            for (CutPin const& pin : spec().pins) {
                bool const here =
                    pin.cut == item(group.items[k]).name && pin.sheet <= static_cast<int>(group.items.size());
                if (!here) continue;
                group.job.shapes[k].pinned = {{pin.sheet - 1, pin.turn_deg, false, {pin.x_mm, pin.y_mm}}};
                group.pinned = true;
            }
    }

    void drop_pins(CutGroup& group, std::string const& why) {
        for (NestShape& shape : group.job.shapes) shape.pinned.clear();
        group.pinned = false;
        out_.warnings.push_back({"cutting.pins", "Roll",
                                 fmt::format("What was put down by hand on the {:g} mm sheets no longer fits: {}.",
                                             group.thickness_mm, why),
                                 "It was laid anew; put it down again, or free it.", false});
    }

    // Widths that are worth trying, the full one first.
    std::vector<double> widths(CutGroup const& group) const {
        if (from_)
            for (CutSheet const& sheet : from_->sheets)
                if (sheet.thickness_mm == group.thickness_mm) return {sheet.size_mm.y};
        std::vector<double> found{width_mm_};
        if (static_cast<int>(group.items.size()) > kFewPieces) return found;
        double const margin = 2 * group.job.edge_gap_mm;
        for (std::size_t k = 0; k < group.items.size(); ++k) {
            CutItem const& piece = item(group.items[k]);
            if (piece.kind != CutKind::slab) continue;
            for (double const turn : group.job.shapes[k].turns_deg)
                for (double const beside : {0.0, kBarWidth_mm + spec().gap_mm, 2 * kBarWidth_mm})
                    found.push_back(turned_box(piece, turn).size().y + margin + beside + 1e-3);
        }
        for (double const share : {0.3, 0.45, 0.6, 0.8}) found.push_back(share * width_mm_);
        std::erase_if(found, [&](double w) { return w > width_mm_ || w < 50; });
        return found;
    }

    // The width that takes the least clay; the first layout goes with it.
    std::optional<Problem> try_widths(CutGroup& group) {
        std::optional<Problem> fault;
        double least = 1e300, chosen = 0;
        for (double const width : widths(group)) {
            NestJob job = group.job;
            job.sheets.width_mm = width;
            Outcome<NestResult> laid = first_nest(job);
            if (!laid) {
                if (!fault) fault = laid.problem(); // that of the full width
                continue;
            }
            double const rolled = width * laid->length_mm;
            if (rolled >= least) continue;
            least = rolled;
            chosen = width;
            group.best = std::move(*laid);
        }
        if (chosen > 0) {
            group.job.sheets.width_mm = chosen;
            return {};
        }
        return fault;
    }

    void lay_first(CutGroup& group) {
        while (!group.items.empty()) {
            std::optional<Problem> const fault = try_widths(group);
            if (!fault) return;
            if (group.pinned)
                drop_pins(group, fault->what);
            else
                leave_out(group);
        }
    }

    // What does not fit a sheet of its own; when nothing is found, all of it, so that the work ends.
    void leave_out(CutGroup& group) {
        std::vector<std::size_t> gone;
        for (std::size_t k = 0; k < group.items.size(); ++k) {
            NestJob alone = group.job;
            alone.shapes = {group.job.shapes[k]};
            if (!first_nest(alone)) gone.push_back(k);
        }
        if (gone.empty())
            for (std::size_t k = 0; k < group.items.size(); ++k) gone.push_back(k);
        for (std::size_t i = gone.size(); i-- > 0;) {
            auto const at = static_cast<std::ptrdiff_t>(gone[i]);
            out_.left_out.push_back(group.items[gone[i]]);
            group.items.erase(group.items.begin() + at);
            group.job.shapes.erase(group.job.shapes.begin() + at);
        }
    }

    void tell_left_out() {
        std::ranges::sort(out_.left_out);
        if (out_.left_out.empty()) return;
        std::string names = item(out_.left_out.front()).name;
        names[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(names[0])));
        if (out_.left_out.size() > 1) names += fmt::format(" and {} more", out_.left_out.size() - 1);
        out_.warnings.insert(
            out_.warnings.begin(),
            {"cutting.left-out", "Roll",
             fmt::format("{} {} no sheet of {:g} x {:g} mm.", names, out_.left_out.size() == 1 ? "fits" : "fit",
                         spec().table_length_mm, width_mm_),
             "Roll a larger sheet, or choose smaller leaves or a smaller former.", true});
    }

    Plan const& plan_;
    std::vector<CutItem> const& items_;
    CuttingAnswer const* from_;
    double width_mm_;
    CutGroups out_;
};

} // namespace

CutGroups first_groups(Plan const& plan, std::vector<CutItem> const& items, CuttingAnswer const* from) {
    return GroupMaker(plan, items, from).make();
}

std::vector<NestPlacement> start_of(CutGroup const& group, std::vector<CutItem> const& items,
                                    CuttingAnswer const& from) {
    std::map<std::string, NestPose> poses;
    std::vector<CutSheet const*> sheets;
    for (CutSheet const& sheet : from.sheets)
        if (sheet.thickness_mm == group.thickness_mm) sheets.push_back(&sheet);
    // The order of making may have put a short sheet before a full one: the nesting wants it last.
    if (!group.pinned) std::ranges::stable_sort(sheets, std::greater<>{}, [](auto* s) { return s->size_mm.x; });
    for (std::size_t s = 0; s < sheets.size(); ++s)
        for (CutPlace const& place : sheets[s]->places) {
            NestPose pose = place.pose;
            pose.sheet = static_cast<int>(s);
            poses[from.item_of(place).name] = pose;
        }
    std::vector<NestPlacement> start;
    for (std::size_t k = 0; k < group.items.size(); ++k) {
        auto const found = poses.find(items[static_cast<std::size_t>(group.items[k])].name);
        if (found == poses.end()) return {};
        start.push_back({static_cast<int>(k), 0, found->second});
    }
    return start;
}

} // namespace leafwright
