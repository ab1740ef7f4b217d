#include "piece/plan_json.h"
#include "base/units.h"
#include "piece/planner.h"
#include "piece/spots.h"

#include <cassert>

namespace leafwright {

namespace {

JsonText number(double value) { return JsonText::number(value); }

JsonText figure(Figure const& figure) { return figure.is_exact() ? number(figure.value) : figure_text(figure); }

JsonText former_text(FormerMeasures const& m) {
    JsonText text = JsonText::object();
    text.add("surface_mm2", number(m.surface_mm2)).add("plan_mm2", number(m.plan_mm2)).add("rim_mm", number(m.rim_mm));
    text.add("tape_across_mm", number(m.tape_across_mm)).add("tape_along_mm", number(m.tape_along_mm));
    text.add("volume_mm3", number(m.volume_mm3));
    return text;
}

JsonText pair_text(Vec2 const& p) { return std::move(JsonText::list().add(number(p.x)).add(number(p.y))); }

JsonText ring_text(Ring const& ring) {
    JsonText text = JsonText::list();
    for (Vec2 const& p : ring) text.add(pair_text(p));
    return text;
}

JsonText cut_text(SlabCut const& cut) {
    JsonText text = JsonText::object();
    text.add("azimuth_deg", number(cut.azimuth_deg)).add("length_mm", number(cut.length_mm));
    return text;
}

JsonText way_text(SlabWay const& way) {
    constexpr std::string_view kNames[] = {"one_slab", "with_cuts", "two_halves"};
    JsonText text = JsonText::object();
    text.add("way", JsonText::text(kNames[static_cast<int>(way.kind)]));
    text.add("cuts", JsonText::whole(static_cast<int>(way.cuts.size())));
    text.add("rms_stretch", number(way.rms_stretch)).add("pucker_mm2", number(way.pucker_mm2));
    text.add("surplus_rim_mm", number(way.surplus_rim_mm)).add("flat_mm2", number(way.flat_mm2));
    text.add("waste_mm2", number(way.waste_mm2));
    return text;
}

// What the membrane model tells beyond the slab as cut.
void add_drape(JsonText& text, SlabAnswer const& slab) {
    JsonText cuts = JsonText::list(), proposed = JsonText::list(), ways = JsonText::list();
    for (SlabCutAnswer const& cut : slab.cuts) {
        JsonText one = cut_text(cut.cut);
        one.add("opening_mm", number(cut.opening_mm)).add("tip_mm", pair_text(cut.tip_mm));
        cuts.add(std::move(one.add("notch_mm", ring_text(cut.notch_mm))));
    }
    for (SlabCut const& cut : slab.proposed_cuts) proposed.add(cut_text(cut));
    for (SlabWay const& way : slab.ways) ways.add(way_text(way));
    text.add("sliding_mm", ring_text(slab.sliding_mm)).add("sliding_mm2", number(slab.sliding_mm2));
    text.add("sticking_mm", ring_text(slab.sticking_mm)).add("sticking_mm2", number(slab.sticking_mm2));
    text.add("rms_stretch", number(slab.rms_stretch)).add("surplus_rim_mm", number(slab.surplus_rim_mm));
    text.add("tears", JsonText::flag(slab.tears)).add("settled", JsonText::flag(slab.settled));
    text.add("uncovered_mm2", number(slab.uncovered_mm2)).add("uncovered_mm", number(slab.uncovered_mm));
    text.add("cuts", std::move(cuts)).add("proposed_cuts", std::move(proposed)).add("ways", std::move(ways));
}

JsonText slab_text(SlabAnswer const& slab) {
    JsonText outline = ring_text(slab.outline_mm);
    JsonText thickness = JsonText::object();
    thickness.add("rolled", number(slab.thickness_mm.rolled)).add("least", number(slab.thickness_mm.least));
    thickness.add("mean", number(slab.thickness_mm.mean)).add("most", number(slab.thickness_mm.most));
    JsonText stretch = JsonText::object();
    stretch.add("most", number(slab.stretch_most)).add("least", number(slab.stretch_least));
    JsonText text = JsonText::object();
    text.add("flat_mm2", number(slab.flat_mm2)).add("outline_mm", std::move(outline));
    text.add("bounds_mm", pair_text(slab.bounds_mm)).add("volume_mm3", number(slab.volume_mm3));
    text.add("shell_mm3", number(slab.shell_mm3)).add("trimmed_mm3", number(slab.trimmed_mm3));
    text.add("thickness_mm", std::move(thickness)).add("stretch", std::move(stretch));
    text.add("pucker_mm2", number(slab.pucker_mm2)).add("draped_mm2", number(slab.draped_mm2));
    add_drape(text, slab);
    return text;
}

JsonText spot_text(Spot const& spot) {
    JsonText text = JsonText::object();
    text.add("azimuth_deg", number(degrees(spot.azimuth_rad))).add("from_crown_mm", number(spot.from_crown_mm));
    return text;
}

JsonText bare_spots_text(Plan const& plan) {
    JsonText list = JsonText::list();
    for (BareSpot const& spot : plan.leaves.bare_spots) {
        JsonText text = spot_text(spot.at);
        text.add("place", JsonText::text(place_words(plan, spot.at))).add("area_mm2", number(spot.area_mm2));
        list.add(std::move(text.add("ring", ring_text(spot.ring))));
    }
    return list;
}

JsonText thick_spots_text(Plan const& plan) {
    JsonText list = JsonText::list();
    for (ThickSpot const& spot : plan.leaves.thick_spots) {
        JsonText text = spot_text(spot.at);
        text.add("place", JsonText::text(place_words(plan, spot.at)));
        text.add("thickness_mm", number(spot.thickness_mm)).add("area_mm2", number(spot.area_mm2));
        list.add(std::move(text));
    }
    return list;
}

JsonText each_leaf_text(Plan const& plan) {
    JsonText list = JsonText::list();
    for (std::size_t i = 0; i < plan.leaves.overlap.leaves.size(); ++i) {
        OverlapOfLeaf const& leaf = plan.leaves.overlap.leaves[i];
        JsonText text = JsonText::object();
        text.add("id", JsonText::whole(leaf.id)).add("row", JsonText::whole(plan.piece.leaves[i].row));
        text.add("area_mm2", number(leaf.area_mm2)).add("exposed_mm2", number(leaf.exposed_mm2));
        text.add("lap", number(leaf.lap)).add("overhang_mm2", number(leaf.overhang_mm2));
        if (LeafRelief const* const relief = plan.relief_of(leaf.id))
            text.add("bonded_mm2", number(relief->bonded_mm2)).add("hollow_mm3", number(relief->gap_mm3));
        list.add(std::move(text));
    }
    return list;
}

JsonText leaves_text(Plan const& plan) {
    LeavesAnswer const& leaves = plan.leaves;
    JsonText layers = JsonText::list();
    for (double area : leaves.overlap.layers_mm2) layers.add(number(area));
    JsonText pairs = JsonText::list();
    for (OverlapPair const& pair : leaves.overlap.pairs) {
        JsonText text = JsonText::object();
        text.add("upper", JsonText::whole(pair.upper)).add("lower", JsonText::whole(pair.lower));
        pairs.add(std::move(text.add("area_mm2", number(pair.area_mm2))));
    }
    JsonText text = JsonText::object();
    text.add("count", JsonText::whole(leaves.count)).add("rows", JsonText::whole(leaves.rows));
    text.add("area_mm2", number(leaves.area_mm2)).add("volume_mm3", number(leaves.volume_mm3));
    text.add("union_mm2", number(leaves.overlap.union_mm2)).add("lap", number(leaves.lap));
    text.add("bare_mm2", number(leaves.overlap.bare_mm2)).add("zone_mm2", number(leaves.overlap.zone_mm2));
    text.add("overhang_mm2", number(leaves.overlap.overhang_mm2)).add("layers_mm2", std::move(layers));
    text.add("stack_most_mm", number(leaves.stack_most_mm)).add("pairs", std::move(pairs));
    text.add("bonded_mm2", number(leaves.bonded_mm2)).add("hollow_mm3", number(leaves.hollow_mm3));
    text.add("bare_spots", bare_spots_text(plan)).add("thick_spots", thick_spots_text(plan));
    text.add("each", each_leaf_text(plan));
    return text;
}

JsonText clay_text(ClayAnswer const& clay) {
    JsonText text = JsonText::object();
    text.add("slab_g", figure(clay.slab_g)).add("leaves_g", figure(clay.leaves_g));
    text.add("features_g", figure(clay.features_g)).add("lugs_g", figure(clay.lugs_g));
    text.add("slip_g", figure(clay.slip_g)).add("offcuts_g", figure(clay.offcuts_g));
    text.add("spare_g", figure(clay.spare_g)).add("knead_g", figure(clay.knead_g));
    constexpr std::string_view kOffcutsBy[] = {"usual_share", "sheets", "sheets_of_before"};
    text.add("offcuts_by", JsonText::text(kOffcutsBy[static_cast<int>(clay.offcuts_by)]));
    return text;
}

JsonText stages_text(std::vector<StageAnswer> const& stages) {
    JsonText list = JsonText::list();
    for (StageAnswer const& stage : stages) {
        JsonText text = JsonText::object();
        text.add("name", JsonText::text(stage_name(stage.stage))).add("mass_g", figure(stage.mass_g));
        text.add("length_factor", figure(stage.length_factor)).add("volume_mm3", number(stage.volume_mm3));
        text.add("water_dry_basis", number(stage.water_dry_basis)).add("width_mm", number(stage.width_mm));
        text.add("height_mm", number(stage.height_mm)).add("depth_mm", number(stage.depth_mm));
        list.add(std::move(text));
    }
    return list;
}

} // namespace

JsonText warnings_text(std::vector<Warning> const& warnings) {
    JsonText list = JsonText::list();
    for (Warning const& warning : warnings) {
        JsonText text = JsonText::object();
        text.add("code", JsonText::text(warning.code)).add("stage", JsonText::text(warning.stage));
        text.add("text", JsonText::text(warning.text)).add("hint", JsonText::text(warning.hint));
        list.add(std::move(text.add("refusal", JsonText::flag(warning.refusal))));
    }
    return list;
}

JsonText plan_head_text(Plan const& plan) {
    assert(!plan.coarse); // what is roughly reckoned for the eye goes into no file
    JsonText text = JsonText::object();
    text.add("leafwright", JsonText::text("plan")).add("version", JsonText::whole(1));
    text.add("name", JsonText::text(plan.piece.name)).add("former", former_text(plan.former_measures));
    text.add("slab", slab_text(*plan.slab)).add("leaves", leaves_text(plan)).add("clay", clay_text(plan.clay));
    text.add("stages", stages_text(plan.stages));
    return text;
}

std::string plan_to_json(Plan const& plan) {
    JsonText text = plan_head_text(plan);
    text.add("warnings", warnings_text(plan.warnings));
    return text.str();
}

} // namespace leafwright
