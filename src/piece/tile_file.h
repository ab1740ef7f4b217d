// Test tiles as a file (*.tiles.json). Keys: leafwright "tiles", version 1, name, clay, length_error_mm, mass_error_g,
// water_g_cm3, tiles[] {name, plastic {length_mm, mass_g}, dry {...}, fired[] {name, top_degC, length_mm, mass_g},
// soaked_g, suspended_g}, lump {wet_g, dry_g}. A reading is a number, or a list of numbers when it was repeated.
#pragma once

#include "body/tiles.h"

#include <filesystem>

namespace leafwright {

// Limits: 200 tiles, 10 firings, 50 repeats. Problems name the key by its JSON path; keys that are not known are
// refused, so that a slip of the pen does not leave a reading out.
Outcome<TileSet> tiles_from_json(std::string_view text);
Outcome<TileSet> load_tiles(std::filesystem::path const& path);

} // namespace leafwright
