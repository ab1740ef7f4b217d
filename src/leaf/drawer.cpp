#include "base/assets.h"
#include "leaf/grow_leaf.h"

#include <algorithm>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr std::string_view kFolder = "assets/leaves/";
constexpr std::string_view kEnding = ".json";
constexpr std::string_view kDrawer = "drawer:";

std::string_view name_of(std::string_view path) {
    return path.substr(kFolder.size(), path.size() - kFolder.size() - kEnding.size());
}

bool is_leaf(std::string_view path) { return path.starts_with(kFolder) && path.ends_with(kEnding); }

Problem unknown(std::string_view name) {
    std::string names;
    for (Asset const& asset : assets())
        if (is_leaf(asset.path)) names += fmt::format("{}{}", names.empty() ? "" : ", ", name_of(asset.path));
    return {"leaf.unknown", "outline", fmt::format("no leaf kind of the drawer is called '{}'", name),
            fmt::format("Choose one of drawer:NAME with {}", names)};
}

MaybeProblem out_of_range(char const* key, double value, double low, double high) {
    if (value >= low && value <= high) return {};
    return Problem{"range", key, fmt::format("is {} mm; the range is {} to {} mm", value, low, high),
                   "Give a number within the range"};
}

} // namespace

std::vector<DrawerEntry> drawer_entries() {
    std::vector<DrawerEntry> entries;
    for (Asset const& asset : assets()) {
        if (!is_leaf(asset.path)) continue;
        LeafForm const form = leaf_form_of(asset.text);
        entries.push_back(
            {std::string(name_of(asset.path)), form.label, form.usual_length_mm, form.usual_thickness_mm});
    }
    std::ranges::sort(entries, {}, &DrawerEntry::name);
    return entries;
}

Outcome<LeafShape> draw_leaf(std::string_view drawer_name, double length_mm) {
    std::string_view const text = asset_text(fmt::format("{}{}{}", kFolder, drawer_name, kEnding));
    if (text.empty()) return unknown(drawer_name);
    if (MaybeProblem problem = out_of_range("length_mm", length_mm, 15, 400)) return *problem;
    return scaled(grown_leaf(leaf_form_of(text)), length_mm);
}

Outcome<LeafPattern> resolve_leaf_kind(LeafKindSpec const& spec) {
    if (!spec.outline.starts_with(kDrawer)) return unknown(spec.outline);
    if (MaybeProblem problem = out_of_range("thickness_mm", spec.thickness_mm, 2, 20)) return *problem;
    Outcome<LeafShape> shape = draw_leaf(std::string_view(spec.outline).substr(kDrawer.size()), spec.length_mm);
    if (!shape) return shape.problem();
    return LeafPattern{spec, std::move(shape).value()};
}

} // namespace leafwright
