#include "leaf/leaf_form.h"

#include "base/parse_json.h"

#include <cassert>
#include <map>
#include <nlohmann/json.hpp>

namespace leafwright {

namespace {

using Json = nlohmann::json;

// A key that is not there keeps the default.
template <class T> void take(Json const& from, char const* key, T& into) {
    if (auto const found = from.find(key); found != from.end()) into = found->get<T>();
}

template <class E> void take_word(Json const& from, char const* key, std::map<std::string, E> const& words, E& into) {
    auto const found = from.find(key);
    if (found == from.end()) return;
    auto const word = words.find(found->get<std::string>());
    assert(word != words.end());
    into = word->second;
}

void take_ends(Json const& json, LeafForm& form) {
    Json const base = json.value("base", Json::object());
    take(base, "angle_deg", form.base.angle_deg);
    take(base, "fullness", form.base.fullness);
    take(base, "oblique_deg", form.base.oblique_deg);
    Json const apex = json.value("apex", Json::object());
    take(apex, "angle_deg", form.apex.angle_deg);
    take(apex, "fullness", form.apex.fullness);
    take(apex, "tip", form.apex.tip);
}

void take_lobes(Json const& json, LobeForm& lobes) {
    take(json, "angles_deg", lobes.angles_deg);
    take(json, "reach", lobes.reach);
    take(json, "depth", lobes.depth);
    take(json, "count", lobes.count);
    take(json, "roundness", lobes.roundness);
    take(json, "tip_deg", lobes.tip_deg);
    take(json, "fullness", lobes.fullness);
}

void take_teeth(Json const& json, ToothForm& teeth) {
    take_word<ToothStyle>(json, "style",
                          {{"serrate", ToothStyle::serrate},
                           {"round", ToothStyle::round},
                           {"spiny", ToothStyle::spiny},
                           {"wavy", ToothStyle::wavy}},
                          teeth.style);
    take(json, "count", teeth.count);
    take(json, "at_veins", teeth.at_veins);
    take(json, "secondary", teeth.secondary);
    take(json, "depth", teeth.depth);
    take(json, "lean", teeth.lean);
    take(json, "from", teeth.from);
    take(json, "to", teeth.to);
}

void take_veins(Json const& json, VeinForm& veins) {
    take_word<VeinPlan>(json, "plan",
                        {{"pinnate", VeinPlan::pinnate},
                         {"palmate", VeinPlan::palmate},
                         {"parallel", VeinPlan::parallel},
                         {"dichotomous", VeinPlan::dichotomous}},
                        veins.plan);
    take_word<VeinEnd>(json, "end", {{"margin", VeinEnd::margin}, {"arch", VeinEnd::arch}}, veins.end);
    take(json, "count", veins.count);
    take(json, "angle_deg", veins.angle_deg);
    take(json, "curve_deg", veins.curve_deg);
    take(json, "from", veins.from);
    take(json, "to", veins.to);
    take(json, "edge_from", veins.edge_from);
    take(json, "edge_to", veins.edge_to);
    take(json, "alternate", veins.alternate);
    take(json, "forks", veins.forks);
    take(json, "basal", veins.basal);
    take(json, "fine", veins.fine);
    take(json, "midrib", veins.midrib);
}

} // namespace

LeafForm leaf_form_of(std::string_view json_text) {
    Json const json = parse_json(json_text);
    assert(json.is_object());
    LeafForm form;
    take(json, "label", form.label);
    take(json, "usual_length_mm", form.usual_length_mm);
    take(json, "usual_thickness_mm", form.usual_thickness_mm);
    take_word<BladePlan>(json, "pattern",
                         {{"blade", BladePlan::blade},
                          {"lobed", BladePlan::lobed},
                          {"palmate", BladePlan::palmate},
                          {"fan", BladePlan::fan}},
                         form.plan);
    take(json, "length_to_width", form.length_to_width);
    take(json, "widest", form.widest);
    take(json, "shoulder_low", form.shoulder_low);
    take(json, "shoulder_high", form.shoulder_high);
    take(json, "cleft", form.cleft);
    take_ends(json, form);
    take_lobes(json.value("lobes", Json::object()), form.lobes);
    take_teeth(json.value("teeth", Json::object()), form.teeth);
    take_veins(json.value("veins", Json::object()), form.veins);
    take(json, "seed", form.seed);
    take(json, "unevenness", form.unevenness);
    take(json, "bow", form.bow);
    take(json, "points", form.points);
    return form;
}

} // namespace leafwright
