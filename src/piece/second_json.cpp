// The keys of plan.json that belong to the second half.
#include "piece/json_text.h"
#include "piece/plan_json.h"
#include "piece/second_half.h"

namespace leafwright {

namespace {

JsonText number(double value) { return JsonText::number(value); }
JsonText figure(Figure const& f) { return f.is_exact() ? number(f.value) : figure_text(f); }
JsonText pair(Vec2 const& p) { return std::move(JsonText::list().add(number(p.x)).add(number(p.y))); }

std::string_view contact_name(Contact contact) {
    return contact == Contact::flush ? "flush" : contact == Contact::leaning ? "leaning" : "top-pressed";
}

std::string_view place_name(KilnPlace place) {
    return place == KilnPlace::flat ? "flat" : place == KilnPlace::standing ? "standing" : "none";
}

JsonText hanging_text(HangingAnswer const& h) {
    JsonText centre = JsonText::list();
    centre.add(number(h.centre_mm.x)).add(number(h.centre_mm.y)).add(number(h.centre_mm.z));
    JsonText text = JsonText::object();
    text.add("mass_g", figure(h.mass_g)).add("centre_mm", std::move(centre));
    text.add("contact", JsonText::text(contact_name(h.state.contact))).add("lean_deg", number(h.state.lean_deg));
    text.add("wire_tension_N", number(h.state.tension_N)).add("wire_angle_deg", number(h.state.angle_deg));
    text.add("pull_out_N", number(h.state.pull_out_N)).add("breaking_N", number(h.breaking_N));
    text.add("factor", number(h.factor)).add("lug_factor", number(h.lug_factor));
    if (h.lug_factor > 0) text.add("lug_range", figure(h.lug_range));
    text.add("edge_mm", number(h.edge_mm)).add("side_tilt_deg", number(h.side_tilt_deg));
    if (h.true_above_centre_mm) text.add("true_above_centre_mm", number(*h.true_above_centre_mm));
    return text;
}

JsonText drying_text(DryingAnswer const& d) {
    JsonText crack = JsonText::object();
    crack.add("index", number(d.crack.index_most)).add("class", JsonText::text(crack_class_name(d.crack.found)));
    crack.add("day", number(d.crack.day)).add("chart_mm", pair(d.crack.chart)).add("why", JsonText::text(d.crack.why));
    crack.add("pull", number(d.crack.pull))
        .add("bears", figure(d.crack.bears))
        .add("calibrated", JsonText::flag(false));
    JsonText text = JsonText::object();
    text.add("days_to_leather_hard", figure(d.days_to_leather_hard));
    text.add("days_to_bone_dry", figure(d.days_to_bone_dry)).add("former_out_day", number(d.former_out_day));
    text.add("worst_moisture_spread", number(d.worst_moisture_spread));
    text.add("worst_spread_day", number(d.worst_spread_day)).add("crack_index_most", number(d.crack.index_most));
    text.add("crack", std::move(crack)).add("dry_g", number(d.dry_g)).add("dried_g", number(d.dried_g));
    text.add("open_mm2", number(d.open_mm2));
    return text;
}

JsonText firings_text(std::vector<FiringAnswer> const& firings) {
    JsonText list = JsonText::list();
    for (FiringAnswer const& f : firings) {
        JsonText segments = JsonText::list();
        for (FiringSegment const& s : f.segments) {
            JsonText segment = JsonText::object();
            segment.add("rate_K_h", number(s.rate_K_h)).add("target_degC", number(s.target_degC));
            segments.add(std::move(segment.add("hold_h", number(s.hold_h))));
        }
        JsonText text = JsonText::object();
        text.add("name", JsonText::text(f.name)).add("top_degC", number(f.top_degC));
        text.add("proposed", JsonText::flag(f.proposed)).add("segments", std::move(segments));
        text.add("hours_up", number(f.hours_up)).add("hours_down", number(f.hours_down)).add("kWh", number(f.kWh));
        text.add("ware_kWh", number(f.ware_kWh)).add("worst_gradient_K", number(f.worst_gradient_K));
        text.add("worst_cooling_K", number(f.worst_cooling_K)).add("bearable_K", figure(f.bearable_K));
        text.add("bearable_cooling_K", figure(f.bearable_cooling_K));
        text.add("quartz_rate_K_h", number(f.quartz_rate_K_h));
        text.add("kiln_place", JsonText::text(place_name(f.fit.place))).add("kiln_spare_mm", number(f.fit.spare_mm));
        list.add(std::move(text));
    }
    return list;
}

JsonText finish_text(FinishAnswer const& f, OutdoorAnswer const& o) {
    JsonText outdoors = JsonText::object();
    outdoors.add("group", JsonText::text(o.group)).add("group_low", JsonText::text(o.group_low));
    outdoors.add("group_high", JsonText::text(o.group_high)).add("fit", JsonText::text(outdoors_name(o.fit)));
    JsonText text = JsonText::object();
    text.add("kind", JsonText::text(finish_name(f.kind))).add("face_mm2", number(f.face_mm2));
    text.add("plain_mm2", number(f.plain_mm2)).add("dry_g", figure(f.dry_g)).add("water_g", figure(f.water_g));
    return std::move(text.add("outdoors", std::move(outdoors)));
}

JsonText cost_text(CostAnswer const& c) {
    JsonText hours = JsonText::object();
    for (StageHours const& h : c.hours) hours.add(h.stage, number(h.hours));
    JsonText text = JsonText::object();
    text.add("clay", figure(c.clay)).add("firing", figure(c.firing)).add("finish", figure(c.finish));
    text.add("labour", figure(c.labour)).add("overhead", figure(c.overhead)).add("total", figure(c.total));
    text.add("price", figure(c.price)).add("hours_total", number(c.hours_total)).add("hours", std::move(hours));
    return text;
}

std::string whole_json(Plan const& plan, SecondHalf const& second, CuttingAnswer const* cutting) {
    JsonText text = plan_head_text(plan);
    if (cutting) text.add("cutting", cutting_text(*cutting, false));
    if (second.hanging) text.add("hanging", hanging_text(*second.hanging));
    text.add("drying", drying_text(*second.drying)).add("firing", firings_text(second.firings));
    text.add("finish", finish_text(second.finish, second.outdoors)).add("cost", cost_text(second.cost));
    std::vector<Warning> warnings = plan.warnings;
    warnings.insert(warnings.end(), second.warnings.begin(), second.warnings.end());
    text.add("warnings", warnings_text(warnings));
    return text.str();
}

} // namespace

std::string plan_to_json(Plan const& plan, SecondHalf const& second) { return whole_json(plan, second, nullptr); }

std::string plan_to_json(Plan const& plan, SecondHalf const& second, CuttingAnswer const& cutting) {
    return whole_json(plan, second, &cutting);
}

} // namespace leafwright
