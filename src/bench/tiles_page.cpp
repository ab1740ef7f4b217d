// Test tiles, typed as they are measured, and what they tell of the clay.
#include "bench/after_inputs.h"

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

constexpr Limits kLength{0.1, 2000};
constexpr Limits kMass{0.01, 100000};

// "Plastic   [length] [mass]"
Touch state_row(Worktop const& top, char const* label, TileState& state) {
    float const em = top.ui.theme.em;
    ImGui::PushID(label);
    float const left = ImGui::GetCursorPosX();
    float const name = 5.2F * em;
    float const box = 0.5F * (ImGui::GetContentRegionAvail().x - name) - 0.2F * em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    fitted_text(*ImGui::GetWindowDrawList(), ImGui::GetFont(), {at.x, at.y + 0.42F * em}, name - 0.3F * em, paint::ink,
                label);
    ImGui::SetCursorPosX(left + name);
    Touch touch = reading_box(top.ui, "##length", state.length_mm, Quantity::fine_length, kLength, box);
    ImGui::SameLine(0, 0.3F * em);
    touch = touch | reading_box(top.ui, "##mass", state.mass_g, Quantity::fine_mass, kMass, box);
    ImGui::PopID();
    return touch;
}

Touch mass_row(Worktop const& top, char const* label, Readings& readings) {
    float const em = top.ui.theme.em;
    ImGui::PushID(label);
    float const left = ImGui::GetCursorPosX();
    float const room = ImGui::GetContentRegionAvail().x;
    float const box = 0.5F * (room - 5.2F * em) - 0.2F * em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    fitted_text(*ImGui::GetWindowDrawList(), ImGui::GetFont(), {at.x, at.y + 0.42F * em}, room - box - 0.3F * em,
                paint::ink, label);
    ImGui::SetCursorPosX(left + room - box);
    Touch const touch = reading_box(top.ui, "##mass", readings, Quantity::fine_mass, kMass, box);
    ImGui::PopID();
    return touch;
}

Touch which_tile(Worktop const& top, TileSet& set) {
    UiState& ui = top.ui;
    int& shown = ui.after.tile;
    shown = std::clamp(shown, 0, std::max(0, static_cast<int>(set.tiles.size()) - 1));
    Touch touch = Touch::none;
    float const em = ui.theme.em;
    for (std::size_t i = 0; i < set.tiles.size(); ++i) {
        if (i > 0) ImGui::SameLine(0, 0.3F * em);
        std::string const label = fmt::format("Tile {}", i + 1);
        float const needed = text_size(ui.theme.text, label).x + 1.6F * em;
        if (ImGui::GetContentRegionAvail().x < needed) ImGui::NewLine();
        if (button(ui, label.c_str(), shown == static_cast<int>(i) ? ButtonLook::strong : ButtonLook::plain))
            shown = static_cast<int>(i);
    }
    if (set.tiles.size() < 12 && button(ui, "Add a tile", ButtonLook::plain, -1)) {
        TestTile tile;
        if (!set.tiles.empty()) { // all tiles are fired alike
            for (TileFiring const& firing : set.tiles.front().firings)
                tile.firings.push_back({firing.name, firing.top_degC, {}});
        } else {
            tile.firings.push_back({"last", 1260, {}});
        }
        set.tiles.push_back(std::move(tile));
        shown = static_cast<int>(set.tiles.size()) - 1;
        touch = Touch::done;
    }
    return touch;
}

Touch tile_readings(Worktop const& top, TileSet& set) {
    TestTile& tile = set.tiles[static_cast<std::size_t>(top.ui.after.tile)];
    float const em = top.ui.theme.em;
    float const left = ImGui::GetCursorPosX();
    float const box = 0.5F * (ImGui::GetContentRegionAvail().x - 5.2F * em) - 0.2F * em;
    ImGui::SetCursorPosX(left + 5.2F * em);
    soft(top.ui, "Between marks");
    ImGui::SameLine(left + 5.5F * em + box);
    soft(top.ui, "Weight");
    Touch touch = state_row(top, "Plastic", tile.plastic);
    touch = touch | state_row(top, "Bone dry", tile.dry);
    for (std::size_t i = 0; i < tile.firings.size(); ++i)
        touch = touch | state_row(top, fmt::format("Fired {}", i + 1).c_str(), tile.firings[i].state);
    touch = touch | mass_row(top, "Soaked, wiped", tile.soaked_g);
    touch = touch | mass_row(top, "Soaked, hung in water", tile.suspended_g);
    if (tile.firings.size() < 4 && button(top.ui, "Add a firing", ButtonLook::plain, -1)) {
        for (TestTile& each : set.tiles)
            each.firings.push_back({fmt::format("firing {}", each.firings.size() + 1), 0, {}});
        touch = Touch::done;
    }
    if (button(top.ui, "Take this tile out", ButtonLook::quiet, -1)) {
        set.tiles.erase(set.tiles.begin() + top.ui.after.tile);
        touch = Touch::done;
    }
    return touch;
}

void measured_answer(UiState& ui, char const* label, std::optional<Measured> const& m, double factor, char const* unit,
                     int digits = 2) {
    if (m)
        answer(ui, label,
               fmt::format("{:.{}f} ± {:.{}f} {}", factor * m->value, digits, factor * m->uncertainty, digits, unit));
}

void results(Worktop const& top) {
    if (!top.second) return;
    UiState& ui = top.ui;
    if (top.second->tiles_problem) {
        std::string const words = top.second->tiles_problem->sentence();
        remark(ui, MarkKind::refusal, words, "");
        return;
    }
    if (!top.second->tiles) return;
    TileAnswer const& tiles = *top.second->tiles;
    bool const fired = !tiles.firings.empty() && tiles.firings.front().total_shrinkage != Measured{};
    bool const told =
        tiles.drying_shrinkage || tiles.water_of_plasticity || tiles.absorption || tiles.lump_water || fired;
    if (!told) return;
    Card const card(ui);
    heading(ui, "What the tiles tell");
    soft(ui, "± one standard uncertainty: scatter of the tiles and reading errors together.");
    measured_answer(ui, "Drying shrinkage", tiles.drying_shrinkage, 100, "%");
    measured_answer(ui, "Drying, by volume", tiles.drying_volume_shrinkage, 100, "%");
    measured_answer(ui, "Water when plastic", tiles.water_of_plasticity, 100, "%");
    for (FiredTiles const& after : tiles.firings) {
        heading(ui, fmt::format("After the {} firing", after.name).c_str());
        auto const known = [](Measured const& m) {
            return m.value != 0 || m.uncertainty != 0 ? std::optional(m) : std::nullopt;
        };
        measured_answer(ui, "Shrinkage in firing", known(after.firing_shrinkage), 100, "%");
        measured_answer(ui, "Shrinkage in all", known(after.total_shrinkage), 100, "%");
        measured_answer(ui, "In all, by volume", known(after.volume_shrinkage), 100, "%");
        measured_answer(ui, "Loss on firing", known(after.loss_on_ignition), 100, "%");
    }
    measured_answer(ui, "Absorption", tiles.absorption, 100, "%");
    measured_answer(ui, "Open pores", tiles.open_porosity, 100, "%");
    measured_answer(ui, "Bulk density", tiles.bulk_g_cm3, 1, "g/cm³", 3);
    measured_answer(ui, "Density without open pores", tiles.apparent_g_cm3, 1, "g/cm³", 3);
    measured_answer(ui, "Water of the recycled lump", tiles.lump_water, 100, "%");
    bool const used = top.second->tiles_body == top.piece.body;
    if (used) soft(ui, "The piece is reckoned with these figures.");
    if (!used && button(ui, "Reckon the piece with my tiles", ButtonLook::strong, -1))
        top.intents.emplace_back(Commit{SetBody{top.second->tiles_body}});
}

Touch recycled(Worktop const& top, TileSet& set) {
    Card const card(top.ui);
    heading(top.ui, "Recycled clay");
    soft(top.ui,
         "Clay from the bucket is often wetter. Weigh a lump as you use it, dry it through (a day near 110 °C or "
         "some weeks), weigh it again.");
    Touch const touch = mass_row(top, "The lump, wet", set.lump_wet_g);
    return touch | mass_row(top, "The lump, bone dry", set.lump_dry_g);
}

} // namespace

void tiles_page(Worktop const& top) {
    TileSet set = top.piece.tiles;
    Touch touch = Touch::none;
    {
        Card const card(top.ui);
        heading(top.ui, "Test tiles");
        soft(top.ui,
             "Roll tiles of your clay, press two marks 100 mm apart, measure and weigh at every state. Leave out "
             "what you did not measure.");
        touch = which_tile(top, set);
        if (!set.tiles.empty()) touch = touch | tile_readings(top, set);
        touch = touch | value_row(top.ui, "Rule reads to ±", set.length_error_mm, Quantity::fine_length, {0.01, 1});
        touch = touch | value_row(top.ui, "Balance reads to ±", set.mass_error_g, Quantity::fine_mass, {0.01, 5});
    }
    touch = touch | recycled(top, set);
    send(top.intents, touch, SetTiles{set});
    results(top);
}

} // namespace leafwright
