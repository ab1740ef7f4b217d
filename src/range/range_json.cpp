// range.json.
#include "piece/json_text.h"
#include "range/range_plan.h"

namespace leafwright {

namespace {

JsonText number(double value) { return JsonText::number(value); }
JsonText figure(Figure const& f) { return f.is_exact() ? number(f.value) : figure_text(f); }
JsonText date(Day day) { return JsonText::text(iso_date(day)); }
JsonText words(std::string_view text) { return JsonText::text(text); }
JsonText whole(std::int64_t value) { return JsonText::whole(value); }

JsonText ring_text(Ring const& ring) {
    JsonText list = JsonText::list();
    for (Vec2 const& p : ring) list.add(std::move(JsonText::list().add(number(p.x)).add(number(p.y))));
    return list;
}

JsonText cost_text(CostAnswer const& c) {
    JsonText text = JsonText::object();
    text.add("clay", figure(c.clay)).add("firing", figure(c.firing)).add("finish", figure(c.finish));
    text.add("labour", figure(c.labour)).add("overhead", figure(c.overhead)).add("total", figure(c.total));
    return std::move(text.add("price", figure(c.price)).add("hours", number(c.hours_total)));
}

JsonText pieces_text(RangePlan const& plan) {
    JsonText list = JsonText::list();
    for (RangeEntry const& e : plan.entries) {
        StageAnswer const& wet = e.plan->stages.front();
        StageAnswer const& last = e.plan->stages.back();
        JsonText text = JsonText::object();
        text.add("name", words(e.name)).add("copies", whole(e.copies));
        text.add("former", words(plan.shapes[static_cast<std::size_t>(e.shape)].name));
        text.add("knead_g", figure(e.plan->clay.knead_g)).add("leaves", whole(e.plan->leaves.count));
        text.add("wet_g", figure(wet.mass_g)).add("wall_g", figure(last.mass_g));
        text.add("width_mm", number(last.width_mm)).add("height_mm", number(last.height_mm));
        text.add("depth_mm", number(last.depth_mm)).add("make_hours", number(e.make_hours));
        text.add("days_to_bone_dry", figure(e.second->drying->days_to_bone_dry));
        text.add("former_out_day", number(e.second->drying->former_out_day)).add("kWh", number(e.kWh));
        text.add("cost", cost_text(e.cost)).add("firing_alone", figure(e.firing_alone));
        list.add(std::move(text));
    }
    return list;
}

JsonText ready_text(RangePlan const& plan) {
    JsonText clay = JsonText::list();
    for (RangeClay const& c : plan.clay) {
        JsonText text = JsonText::object();
        text.add("body", words(c.body)).add("knead_g", figure(c.knead_g));
        clay.add(std::move(text.add("bags", whole(c.bags)).add("bags_most", whole(c.bags_most))));
    }
    JsonText leaves = JsonText::list();
    for (RangeLeaves const& l : plan.leaves) {
        JsonText text = JsonText::object();
        text.add("kind", words(l.outline))
            .add("label", words(l.label))
            .add("cut", whole(l.cut))
            .add("gather", whole(l.gather));
        leaves.add(std::move(text.add("shortest_mm", number(l.shortest_mm)).add("longest_mm", number(l.longest_mm))));
    }
    JsonText formers = JsonText::list();
    for (RangeShape const& s : plan.shapes) {
        JsonText text = JsonText::object();
        text.add("shape", words(s.name)).add("copies", whole(s.copies)).add("formers", whole(s.formers));
        formers.add(std::move(text.add("enough", whole(s.enough))));
    }
    JsonText text = JsonText::object();
    text.add("clay", std::move(clay)).add("leaves", std::move(leaves));
    return std::move(text.add("formers", std::move(formers)));
}

JsonText shelves_text(RangePlan const& plan, KilnLoad const& load) {
    JsonText shelves = JsonText::list();
    for (KilnShelf const& shelf : load.shelves) {
        JsonText places = JsonText::list();
        for (ShelfPlace const& place : shelf.places) {
            JsonText text = JsonText::object();
            text.add("piece", words(plan.entries[static_cast<std::size_t>(place.kind)].name));
            text.add("standing", JsonText::flag(place.standing));
            places.add(std::move(text.add("outline_mm", ring_text(place.outline_mm.outer))));
        }
        JsonText text = JsonText::object();
        text.add("base_mm", number(shelf.base_mm)).add("height_mm", number(shelf.height_mm));
        shelves.add(std::move(text.add("places", std::move(places))));
    }
    return shelves;
}

JsonText loads_text(RangePlan const& plan) {
    JsonText loads = JsonText::list();
    for (KilnLoad const& load : plan.loads) {
        JsonText pieces = JsonText::object();
        for (std::size_t e = 0; e < load.of_kind.size(); ++e)
            if (load.of_kind[e] > 0) pieces.add(plan.entries[e].name, whole(load.of_kind[e]));
        JsonText text = JsonText::object();
        text.add("firing", words(load.firing_name)).add("top_degC", number(load.top_degC));
        text.add("hours_up", number(load.hours_up)).add("hours_down", number(load.hours_down));
        text.add("kWh", number(load.kWh)).add("mass_g", number(load.mass_g)).add("filled", number(load.filled));
        text.add("used_height_mm", number(load.used_height_mm)).add("pieces", std::move(pieces));
        loads.add(std::move(text.add("shelves", shelves_text(plan, load))));
    }
    JsonText bounds = JsonText::list();
    for (RangeFiring const& firing : plan.firings) {
        JsonText text = JsonText::object();
        text.add("firing", whole(firing.firing + 1)).add("loads", whole(std::ssize(firing.answer.loads)));
        text.add("least", whole(firing.answer.least)).add("least_by", words(firing.answer.least_by));
        if (firing.answer.least_by_shelves > 0) text.add("least_by_shelves", whole(firing.answer.least_by_shelves));
        bounds.add(std::move(text.add("all_tried", JsonText::flag(firing.answer.all_tried))));
    }
    JsonText text = JsonText::object();
    text.add("width_mm", number(plan.kiln.width_mm));
    text.add("depth_mm", number(plan.kiln.shape == KilnShape::round ? plan.kiln.width_mm : plan.kiln.depth_mm));
    text.add("height_mm", number(plan.kiln.height_mm)).add("clearance_mm", number(plan.kiln.clearance_mm));
    text.add("firings", std::move(bounds));
    return std::move(text.add("loads", std::move(loads)));
}

std::string_view held_name(HeldBy by) {
    constexpr std::array<std::string_view, 7> kNames = {"start", "step before", "former",  "drying place",
                                                        "kiln",  "hands",       "days off"};
    return kNames[static_cast<std::size_t>(by)];
}

JsonText step_text(RangePlan const& plan, ScheduleStep const& step) {
    JsonText text = JsonText::object();
    text.add("from", date(plan.schedule.day(step.from, plan.job.start)));
    text.add("to", date(plan.schedule.day(step.to, plan.job.start))).add("step", words(step_name(step.kind)));
    if (step.copy >= 0) text.add("piece", words(copy_name(plan, step.copy)));
    if (step.load >= 0) text.add("load", whole(step.load + 1));
    if (step.minutes > 0) text.add("hours", number(step.minutes / 60.0));
    return text;
}

JsonText calendar_text(RangePlan const& plan) {
    Schedule const& s = plan.schedule;
    JsonText steps = JsonText::list(), chain = JsonText::list(), copies = JsonText::list(), reliefs = JsonText::list();
    for (ScheduleStep const& step : s.steps) steps.add(step_text(plan, step));
    for (ChainLink const& link : s.chain) {
        JsonText text = step_text(plan, s.steps[static_cast<std::size_t>(link.step)]);
        chain.add(std::move(text.add("held_by", words(held_name(link.by)))));
    }
    for (std::size_t c = 0; c < s.copies.size(); ++c) {
        CopyDates const& dates = s.copies[c];
        JsonText loads = JsonText::list();
        for (int load : dates.loads) loads.add(whole(load + 1));
        JsonText text = JsonText::object();
        text.add("piece", words(copy_name(plan, static_cast<int>(c))));
        text.add("make_from", date(s.day(dates.make_from, plan.job.start)));
        text.add("make_to", date(s.day(dates.make_to, plan.job.start)));
        text.add("former_out", date(s.day(dates.former_out, plan.job.start)));
        text.add("bone_dry", date(s.day(dates.bone_dry, plan.job.start))).add("loads", std::move(loads));
        copies.add(std::move(text.add("done", date(s.day(dates.done, plan.job.start)))));
    }
    for (Relief const& relief : plan.reliefs)
        reliefs.add(std::move(JsonText::object().add("more", words(relief.what)).add("days", whole(relief.days))));
    JsonText days = JsonText::object();
    constexpr std::array<std::string_view, 5> kWhose = {"hands", "drying", "kiln", "formers", "days_off"};
    for (std::size_t i = 0; i < kWhose.size(); ++i) days.add(kWhose[i], whole(s.days_by[i]));
    JsonText text = JsonText::object();
    text.add("start", date(plan.job.start)).add("done", date(plan.done));
    text.add("done_early", date(plan.done_early)).add("done_late", date(plan.done_late));
    text.add("days", whole(s.done)).add("least_days", whole(s.least)).add("least_by", words(s.least_by));
    text.add("tried", whole(s.tried)).add("all_tried", JsonText::flag(s.all_tried));
    if (plan.spec.due) text.add("due", date(*plan.spec.due));
    if (plan.latest) {
        text.add("latest_start", date(plan.latest->start)).add("latest_done", date(plan.latest->done));
        text.add("never_after", date(plan.latest->never_after));
    }
    text.add("held_up_days", std::move(days)).add("reliefs", std::move(reliefs)).add("copies", std::move(copies));
    return std::move(text.add("chain", std::move(chain)).add("steps", std::move(steps)));
}

JsonText costs_text(RangeCosts const& c) {
    JsonText text = JsonText::object();
    text.add("clay", figure(c.clay)).add("firing", figure(c.firing)).add("finish", figure(c.finish));
    text.add("labour", figure(c.labour)).add("overhead", figure(c.overhead)).add("total", figure(c.total));
    text.add("price", figure(c.price)).add("saving", figure(c.saving)).add("hours", number(c.hours));
    text.add("kWh", number(c.kWh));
    if (!c.currency.empty()) text.add("currency", words(c.currency));
    return text;
}

} // namespace

std::string range_plan_to_json(RangePlan const& plan) {
    JsonText warnings = JsonText::list();
    for (Warning const& w : plan.warnings) {
        JsonText text = JsonText::object();
        text.add("code", words(w.code)).add("stage", words(w.stage)).add("text", words(w.text));
        warnings.add(std::move(text.add("hint", words(w.hint)).add("refusal", JsonText::flag(w.refusal))));
    }
    JsonText text = JsonText::object();
    text.add("leafwright", words("range-plan")).add("version", whole(1)).add("name", words(plan.spec.name));
    text.add("pieces", pieces_text(plan)).add("ready", ready_text(plan)).add("kiln", loads_text(plan));
    if (!plan.loads.empty()) text.add("calendar", calendar_text(plan));
    text.add("costs", costs_text(plan.costs)).add("warnings", std::move(warnings));
    return text.str();
}

} // namespace leafwright
