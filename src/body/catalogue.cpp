// The clay bodies of assets/bodies/. The files are our own: a fault in one is an assertion, and a test reads them all.
#include "base/assets.h"
#include "base/parse_json.h"
#include "body/body.h"

#include <cassert>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace leafwright {

namespace {

constexpr std::string_view kFolder = "assets/bodies/";
constexpr std::string_view kEnding = ".json";
constexpr std::string_view kBody = "body:";

bool is_body(std::string_view path) { return path.starts_with(kFolder) && path.ends_with(kEnding); }

std::string_view name_of(std::string_view path) {
    return path.substr(kFolder.size(), path.size() - kFolder.size() - kEnding.size());
}

Figure figure_of(nlohmann::json const& json, char const* key) {
    assert(json.contains(key));
    nlohmann::json const& figure = json[key];
    return {figure["value"].get<double>(), figure["low"].get<double>(), figure["high"].get<double>(),
            FigureFrom::by_default};
}

Problem unknown(std::string_view name) {
    std::string names;
    for (BodyEntry const& entry : body_entries())
        names += fmt::format("{}body:{}", names.empty() ? "" : ", ", entry.name);
    return {"body.unknown", "body.clay", fmt::format("no clay body is called '{}'", name),
            fmt::format("Choose one of {}", names)};
}

} // namespace

std::vector<BodyEntry> body_entries() {
    std::vector<BodyEntry> entries;
    for (Asset const& asset : assets()) {
        if (!is_body(asset.path)) continue;
        auto const json = parse_json(asset.text);
        entries.push_back({std::string(name_of(asset.path)), json["label"].get<std::string>()});
    }
    return entries;
}

Outcome<BodySpec> body_of(std::string_view name) {
    std::string_view const bare = name.starts_with(kBody) ? name.substr(kBody.size()) : name;
    std::string_view const text = asset_text(fmt::format("{}{}{}", kFolder, bare, kEnding));
    if (text.empty()) return unknown(name);
    auto const json = parse_json(text);
    BodySpec body;
    body.clay = fmt::format("{}{}", kBody, bare);
    body.water_dry_basis = figure_of(json, "water_dry_basis");
    body.particle_density_g_cm3 = figure_of(json, "particle_density_g_cm3");
    body.drying_shrinkage = figure_of(json, "drying_shrinkage");
    body.firing_shrinkage = figure_of(json, "firing_shrinkage");
    body.first_firing_share = figure_of(json, "first_firing_share");
    body.loss_on_ignition = figure_of(json, "loss_on_ignition");
    body.absorption = figure_of(json, "absorption");
    return body;
}

} // namespace leafwright
