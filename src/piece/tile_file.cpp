#include "piece/tile_file.h"

#include "base/parse_json.h"
#include "piece/fields.h"
#include "piece/json_gate.h"
#include "piece/piece_json.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <fmt/format.h>

namespace leafwright {

namespace {

using Json = nlohmann::json;

constexpr std::size_t kMostFileTiles = 200;
constexpr std::size_t kMostTileFirings = 10;
constexpr std::size_t kMostRepeats = 50;

// One object of the file; every key that is asked for is known, the others are refused at the end.
class TileObject {
public:
    TileObject(Json const& json, std::string path, MaybeProblem& problem)
        : json_(json), path_(std::move(path)), problem_(problem) {
        if (!json.is_object()) fault("type", "", "is no object; an object is needed");
    }

    void number(char const* key, double& value, Range range) {
        Json const* const j = member(key);
        if (!j) return;
        if (!j->is_number()) return fault("type", key, "is no number; a number is needed");
        double const read = j->get<double>();
        if (!(read >= range.low && read <= range.high))
            return fault(
                "range", key,
                fmt::format("is {}; the range is {} to {}", in_words(read), in_words(range.low), in_words(range.high)));
        value = read;
    }
    void text(char const* key, std::string& value) {
        Json const* const j = member(key);
        if (!j) return;
        if (!j->is_string()) return fault("type", key, "is no text; a text is needed");
        value = plain_word(j->get<std::string>());
    }
    void readings(char const* key, Readings& value) {
        Json const* const j = member(key);
        if (!j) return;
        bool const list = j->is_array() && !j->empty() && j->size() <= kMostRepeats &&
                          std::all_of(j->begin(), j->end(), [](Json const& item) { return item.is_number(); });
        if (list)
            value = j->get<Readings>();
        else if (j->is_number())
            value = {j->get<double>()};
        else
            fault("type", key,
                  fmt::format("is no reading; a number or a list of 1 to {} numbers is needed", kMostRepeats));
    }
    template <class Work> void object(char const* key, Work work) {
        if (Json const* const j = member(key)) inside(*j, at(key), work);
    }
    // work(object, index) for each entry of a list.
    template <class Work> void list(char const* key, std::size_t most, Work work) {
        Json const* const j = member(key);
        if (!j) return;
        if (!j->is_array() || j->size() > most)
            return fault("type", key, fmt::format("is no list of at most {} entries", most));
        for (std::size_t i = 0; i < j->size() && !problem_; ++i)
            inside((*j)[i], fmt::format("{}[{}]", at(key), i), work);
    }
    void refuse_unknown() {
        if (problem_ || !json_.is_object()) return;
        for (auto const& [key, ignored] : json_.items()) {
            if (std::find(known_.begin(), known_.end(), key) != known_.end()) continue;
            std::string const near = nearest_word(key, known_);
            return fault("key.unknown", plain_word(key), "is not a key of a tile file",
                         near.empty() ? "Known here: " + listed(known_) : fmt::format("Did you mean \"{}\"", near));
        }
    }

private:
    template <class Work> void inside(Json const& json, std::string path, Work work) {
        TileObject object(json, std::move(path), problem_);
        if (problem_) return;
        work(object);
        object.refuse_unknown();
    }
    std::string at(std::string_view key) const {
        if (path_.empty() || key.empty()) return path_ + std::string(key);
        return path_ + '.' + std::string(key);
    }
    Json const* member(char const* key) {
        known_.push_back(key);
        if (problem_ || !json_.is_object()) return nullptr;
        auto const found = json_.find(key);
        return found == json_.end() ? nullptr : &*found;
    }
    void fault(std::string code, std::string_view key, std::string what, std::string hint = "") {
        if (!problem_) problem_ = Problem{std::move(code), at(key), std::move(what), std::move(hint)};
    }

    Json const& json_;
    std::string path_;
    MaybeProblem& problem_;
    std::vector<std::string_view> known_;
};

void read_state(TileObject& object, TileState& state) {
    object.readings("length_mm", state.length_mm);
    object.readings("mass_g", state.mass_g);
}

TestTile read_tile(TileObject& object) {
    TestTile tile;
    object.text("name", tile.name);
    object.object("plastic", [&](TileObject& o) { read_state(o, tile.plastic); });
    object.object("dry", [&](TileObject& o) { read_state(o, tile.dry); });
    object.list("fired", kMostTileFirings, [&](TileObject& o) {
        TileFiring firing;
        o.text("name", firing.name);
        o.number("top_degC", firing.top_degC, Range{0, 1400});
        read_state(o, firing.state);
        tile.firings.push_back(std::move(firing));
    });
    object.readings("soaked_g", tile.soaked_g);
    object.readings("suspended_g", tile.suspended_g);
    return tile;
}

void read_set(TileObject& root, TileSet& set) {
    std::string tag;
    double version = 1;
    root.text("leafwright", tag);
    root.number("version", version, Range{1, 1});
    root.text("name", set.name);
    root.text("clay", set.clay);
    root.number("length_error_mm", set.length_error_mm, Range{0, 10});
    root.number("mass_error_g", set.mass_error_g, Range{0, 100});
    root.number("water_g_cm3", set.water_g_cm3, Range{0.95, 1.05});
    root.list("tiles", kMostFileTiles, [&](TileObject& o) { set.tiles.push_back(read_tile(o)); });
    root.object("lump", [&](TileObject& o) {
        o.readings("wet_g", set.lump_wet_g);
        o.readings("dry_g", set.lump_dry_g);
    });
    root.refuse_unknown();
}

} // namespace

Outcome<TileSet> tiles_from_json(std::string_view text) {
    if (MaybeProblem problem = check_json(text)) return *problem;
    Json const json = parse_json(text);
    if (!json.is_object() || json.value("leafwright", Json()) != Json("tiles"))
        return Problem{"not-tiles", "leafwright", "does not say \"tiles\"", "Choose a file of test tiles"};
    TileSet set;
    MaybeProblem problem;
    TileObject root(json, "", problem);
    read_set(root, set);
    if (problem) return *problem;
    if (set.tiles.empty() && set.lump_wet_g.empty() && set.lump_dry_g.empty())
        return Problem{"tile.missing", "tiles", "holds no tile", "Add at least one tile, or a lump"};
    if (Outcome<BodySpec> const body = body_of(set.clay); !body) {
        Problem unknown = body.problem();
        unknown.where = "clay";
        return unknown;
    }
    return set;
}

Outcome<TileSet> load_tiles(std::filesystem::path const& path) {
    Outcome<std::string> const text = read_file(path);
    if (!text) return text.problem();
    return tiles_from_json(*text);
}

} // namespace leafwright
