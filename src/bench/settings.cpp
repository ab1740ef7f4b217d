#include "bench/settings.h"

#include "base/parse_json.h"
#include "piece/piece_json.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdlib>

namespace leafwright {
namespace {

using Json = nlohmann::json;

std::filesystem::path xdg_folder(char const* variable, char const* below_home) {
    char const* const set = std::getenv(variable);
    if (set && set[0] == '/') return std::filesystem::path(set) / "leafwright";
    char const* const home = std::getenv("HOME");
    if (home && home[0] == '/') return std::filesystem::path(home) / below_home / "leafwright";
    return {};
}

double number_in(Json const& json, char const* key, double low, double high, double otherwise) {
    auto const found = json.find(key);
    if (found == json.end() || !found->is_number()) return otherwise;
    double const value = found->get<double>();
    return value >= low && value <= high ? value : otherwise;
}

} // namespace

std::filesystem::path config_folder() { return xdg_folder("XDG_CONFIG_HOME", ".config"); }
std::filesystem::path state_folder() { return xdg_folder("XDG_STATE_HOME", ".local/state"); }
std::filesystem::path leaves_folder() {
    std::filesystem::path const data = xdg_folder("XDG_DATA_HOME", ".local/share");
    return data.empty() ? data : data / "leaves";
}

Settings settings_from_json(std::string_view text) {
    Settings settings;
    Json const json = parse_json(text);
    if (!json.is_object()) return settings;
    if (auto const units = json.find("units"); units != json.end() && *units == "inches")
        settings.units = Units::inches;
    settings.text_scale = number_in(json, "text_scale", 1, 2, 0);
    settings.window_width = static_cast<int>(number_in(json, "window_width", 640, 16384, settings.window_width));
    settings.window_height = static_cast<int>(number_in(json, "window_height", 480, 16384, settings.window_height));
    auto const recent = json.find("recent");
    if (recent == json.end() || !recent->is_array()) return settings;
    for (Json const& path : *recent)
        if (path.is_string() && settings.recent.size() < kRecentMost)
            settings.recent.emplace_back(path.get<std::string>());
    return settings;
}

std::string settings_to_json(Settings const& settings) {
    Json json;
    json["units"] = settings.units == Units::inches ? "inches" : "metric";
    if (settings.text_scale > 0) json["text_scale"] = settings.text_scale;
    json["window_width"] = settings.window_width;
    json["window_height"] = settings.window_height;
    json["recent"] = Json::array();
    for (auto const& path : settings.recent) json["recent"].push_back(path.string());
    // A file name need not be UTF-8; such bytes are replaced rather than refused.
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

Settings load_settings(std::filesystem::path const& folder) {
    std::error_code error;
    std::filesystem::path const file = folder / "settings.json";
    if (folder.empty() || !std::filesystem::is_regular_file(file, error)) return {};
    auto const text = read_file(file);
    return text ? settings_from_json(*text) : Settings{};
}

MaybeProblem save_settings(std::filesystem::path const& folder, Settings const& settings) {
    if (folder.empty()) return std::nullopt;
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    return write_file(folder / "settings.json", settings_to_json(settings));
}

void remember_recent(Settings& settings, std::filesystem::path const& path) {
    std::error_code error;
    std::filesystem::path const whole = std::filesystem::absolute(path, error);
    std::erase(settings.recent, whole);
    settings.recent.insert(settings.recent.begin(), whole);
    if (settings.recent.size() > kRecentMost) settings.recent.resize(kRecentMost);
}

} // namespace leafwright
