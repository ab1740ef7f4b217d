// From layouts to sheets in the order of making, with their sums and their clay.
#include "base/units.h"
#include "piece/clay_answer.h"
#include "piece/cutting_groups.h"

#include <algorithm>
#include <numeric>

namespace leafwright {

namespace {

bool has_slab(CutSheet const& sheet, std::vector<CutItem> const& items) {
    return std::ranges::any_of(sheet.places, [&](CutPlace const& place) {
        return items[static_cast<std::size_t>(place.item)].kind == CutKind::slab;
    });
}

// The slab's sheet comes first, the one that is not full last; sheets with pins keep their numbers.
std::vector<CutSheet> sheets_of(CutGroup const& group, std::vector<CutItem> const& items) {
    std::vector<CutSheet> sheets(group.best.used_mm.size());
    for (std::size_t s = 0; s < sheets.size(); ++s) {
        sheets[s].thickness_mm = group.thickness_mm;
        sheets[s].size_mm = {group.best.used_mm[s], group.job.sheets.width_mm};
        sheets[s].edge_mm = group.job.edge_gap_mm;
    }
    for (NestPlacement const& placed : group.best.placements) {
        auto const shape = static_cast<std::size_t>(placed.shape);
        int const item = group.items[shape];
        CutSheet& sheet = sheets.at(static_cast<std::size_t>(placed.pose.sheet));
        sheet.places.push_back({item, placed.pose, !group.job.shapes[shape].pinned.empty()});
        sheet.cut_mm2 += items[static_cast<std::size_t>(item)].area_mm2;
    }
    if (!group.pinned) {
        std::erase_if(sheets, [](CutSheet const& sheet) { return sheet.places.empty(); });
        std::ranges::stable_sort(sheets, {}, [&](CutSheet const& sheet) { return !has_slab(sheet, items); });
    }
    for (std::size_t s = 0; s < sheets.size(); ++s) {
        sheets[s].in_group = static_cast<int>(s) + 1;
        for (CutPlace& place : sheets[s].places) place.pose.sheet = static_cast<int>(s);
    }
    return sheets;
}

struct Volumes {
    double rolled = 0;
    double cut = 0;
    double bars = 0;
    double bars_mm2 = 0;
};

Volumes add_up(CuttingAnswer& answer) {
    Volumes v;
    for (CutSheet const& sheet : answer.sheets) {
        answer.rolled_mm2 += sheet.rolled_mm2();
        answer.cut_mm2 += sheet.cut_mm2;
        v.rolled += sheet.rolled_mm2() * sheet.thickness_mm;
        v.cut += sheet.cut_mm2 * sheet.thickness_mm;
        bool slab_here = false;
        int leaves = 0;
        for (CutPlace const& place : sheet.places) {
            CutItem const& item = answer.item_of(place);
            slab_here = slab_here || item.kind == CutKind::slab;
            leaves += item.kind == CutKind::leaf ? 1 : 0;
            if (item.kind != CutKind::bar) continue;
            v.bars += item.area_mm2 * item.thickness_mm;
            v.bars_mm2 += item.area_mm2;
        }
        if (slab_here) answer.beside_slab = leaves;
    }
    answer.piece_mm2 = answer.cut_mm2 - v.bars_mm2;
    return v;
}

} // namespace

std::shared_ptr<CuttingAnswer> assembled(std::shared_ptr<Plan const> plan,
                                         std::shared_ptr<std::vector<CutItem> const> items, CutGroups const& groups) {
    auto answer = std::make_shared<CuttingAnswer>();
    answer->plan = std::move(plan);
    answer->items = std::move(items);
    answer->left_out = groups.left_out;
    answer->warnings = groups.warnings;
    for (CutGroup const& group : groups.groups)
        for (CutSheet& sheet : sheets_of(group, *answer->items)) answer->sheets.push_back(std::move(sheet));
    for (std::size_t s = 0; s < answer->sheets.size(); ++s) answer->sheets[s].number = static_cast<int>(s) + 1;

    Volumes const v = add_up(*answer);
    Figure const g_per_mm3 = plastic_density(answer->plan->piece.body) * (1.0 / kMm3PerCm3);
    answer->density = answer->rolled_mm2 > 0 ? answer->cut_mm2 / answer->rolled_mm2 : 0;
    answer->share = v.rolled > 0 ? (v.cut - v.bars) / v.rolled : 0;
    answer->rolled_g = g_per_mm3 * v.rolled;
    answer->cut_g = g_per_mm3 * v.cut;
    answer->offcut_g = g_per_mm3 * (v.rolled - v.cut);
    answer->bars_g = g_per_mm3 * v.bars;
    answer->clay = clay_answer(*answer->plan, v.rolled - v.cut + v.bars);
    return answer;
}

} // namespace leafwright
