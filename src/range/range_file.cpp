#include "range/range_file.h"

#include "base/assets.h"
#include "piece/json_reader.h"
#include "piece/json_writer.h"
#include "piece/piece_json.h"
#include "range/range_fields.h"

#include <nlohmann/json.hpp>

#include <fmt/format.h>

namespace leafwright {

namespace {

using Json = nlohmann::json;

// Dates, weekdays and the kiln with its shelves besides; numbers and texts are held to their limits at once.
class RangeReader : public JsonReader<RangeReader> {
public:
    using JsonReader::JsonReader;

    void number(std::string_view key, double& value, Range range) {
        Json const* const j = of_kind(key, Kind::number, "a number");
        if (j && in_range(key, j->get<double>(), range)) value = j->get<double>();
    }
    void text(std::string_view key, std::string& value, std::size_t most, Need need) {
        Json const* const j = of_kind(key, Kind::text, "a text", need);
        if (!j) return;
        value = j->get<std::string>();
        if (value.size() > most)
            fault("range", key, fmt::format("is {} bytes long; at most {} are read", value.size(), most));
    }
    void day(std::string_view key, Day& value) {
        if (Json const* const j = of_kind(key, Kind::text, "a date as a text", Need::required))
            read_day(key, *j, value);
    }
    void optional_day(std::string_view key, std::optional<Day>& value) {
        Json const* const j = of_kind(key, Kind::text, "a date as a text", Need::optional);
        if (j) read_day(key, *j, value.emplace());
    }
    void weekdays(std::string_view key, std::array<bool, 7>& days) {
        Json const* const j = list_of(key, 7);
        if (!j) return;
        days = {};
        for (std::size_t i = 0; i < j->size() && !problem; ++i) {
            std::string const item = item_key(key, i);
            if (!is_kind(item, (*j)[i], Kind::text, "a text")) return;
            std::string const& name = text_in((*j)[i]);
            if (!is_known(item, name, {kDayWords.begin(), kDayWords.end()})) return;
            auto const found = std::find(kDayWords.begin(), kDayWords.end(), name);
            bool& day = days[static_cast<std::size_t>(found - kDayWords.begin())];
            if (day) return fault("day.twice", item, "is given twice", "Keep one of the two");
            day = true;
        }
    }
    template <class S> void optional_object(std::string_view key, std::optional<S>& value) {
        if (Json const* const j = of_kind(key, Kind::object, "an object"))
            inside(key, *j, [&] { fields(*this, value.emplace()); });
    }
    // Without any key of the kiln itself the pieces keep theirs.
    void kiln(std::string_view key, std::optional<KilnSpec>& kiln, ShelfSpec& shelves) {
        Json const* const j = of_kind(key, Kind::object, "an object");
        if (!j) return;
        inside(key, *j, [&] {
            KilnSpec read;
            fields(*this, read);
            if (holds_any()) kiln = read;
            fields(*this, shelves);
        });
    }

private:
    void read_day(std::string_view key, Json const& json, Day& value) {
        std::string const& text = text_in(json);
        Outcome<Day> const day = day_from_text(text);
        if (day) return void(value = *day);
        fault("date", key, fmt::format("{} {}", quoted_word(text), day.problem().what), day.problem().hint);
    }
};

class RangeWriter : public JsonWriter<RangeWriter> {
public:
    void day(std::string_view key, Day value) { out.add(key, JsonText::text(iso_date(value))); }
    void optional_day(std::string_view key, std::optional<Day> const& value) {
        if (value) day(key, *value);
    }
    void weekdays(std::string_view key, std::array<bool, 7> const& days) {
        JsonText items = JsonText::list();
        for (std::size_t i = 0; i < days.size(); ++i)
            if (days[i]) items.add(JsonText::text(kDayWords[i]));
        out.add(key, std::move(items));
    }
    template <class S> void optional_object(std::string_view key, std::optional<S> const& value) {
        if (value) object(key, *value);
    }
    void kiln(std::string_view key, std::optional<KilnSpec> const& kiln, ShelfSpec const& shelves) {
        RangeWriter part;
        if (kiln) fields(part, *kiln);
        fields(part, shelves);
        out.add(key, std::move(part.out));
    }
};

MaybeProblem check_whole(RangeSpec const& spec) {
    if (spec.pieces.empty())
        return Problem{"range", "pieces", "holds no piece",
                       "Name at least one: {\"file\": \"hare.piece.json\", \"copies\": 1}"};
    int copies = 0;
    for (RangePieceSpec const& piece : spec.pieces) copies += piece.copies;
    if (copies > kMostCopies)
        return Problem{"too-many", "pieces",
                       fmt::format("come to {} copies; at most {} are planned", copies, kMostCopies),
                       "Split the range in two"};
    for (std::size_t i = 0; i < spec.pieces.size(); ++i)
        if (spec.pieces[i].file.empty())
            return Problem{"range", fmt::format("pieces[{}].file", i), "is empty", "Name a piece file, or demo:NAME"};
    if (std::none_of(spec.work.days.begin(), spec.work.days.end(), [](bool day) { return day; }))
        return Problem{"range", "work.days", "names no day", "Name at least one: \"mon\""};
    for (std::size_t i = 0; i < spec.work.away.size(); ++i)
        if (spec.work.away[i].to < spec.work.away[i].from)
            return Problem{
                "away.order", fmt::format("work.away[{}].to", i),
                fmt::format("is {}, before {}", iso_date(spec.work.away[i].to), iso_date(spec.work.away[i].from)),
                "Give the first day away, then the last"};
    if (spec.due && *spec.due < spec.start)
        return Problem{"due.order", "due", fmt::format("is {}, before the start", iso_date(*spec.due)),
                       "Set a later day, or an earlier start"};
    return {};
}

constexpr std::string_view kDemoFolder = "assets/demo/";
constexpr std::string_view kEnding = ".range.json";

} // namespace

Outcome<RangeSpec> range_from_json(std::string_view text) {
    Outcome<Json> root = json_of_file(text, "range");
    if (!root) return root.problem();
    RangeSpec spec;
    RangeReader reader(*root, "a range");
    reader.whole_of(spec);
    if (reader.problem) return *reader.problem;
    if (MaybeProblem problem = check_whole(spec)) return *problem;
    return spec;
}

std::string range_to_json(RangeSpec const& spec) {
    RangeWriter writer;
    writer.head("range");
    fields(writer, spec);
    return writer.out.str();
}

Outcome<RangeSpec> load_range(std::filesystem::path const& path) {
    Outcome<std::string> const text = read_file(path);
    if (!text) return text.problem();
    return range_from_json(*text);
}

MaybeProblem save_range(std::filesystem::path const& path, RangeSpec const& spec) {
    return write_file(path, range_to_json(spec));
}

std::vector<std::string> demo_range_names() {
    std::vector<std::string> names;
    for (Asset const& asset : assets()) {
        if (!asset.path.starts_with(kDemoFolder) || !asset.path.ends_with(kEnding)) continue;
        std::string_view const name = asset.path.substr(kDemoFolder.size());
        names.emplace_back(name.substr(0, name.size() - kEnding.size()));
    }
    return names;
}

Outcome<RangeSpec> demo_range(std::string_view name) {
    std::string_view const text = asset_text(fmt::format("{}{}{}", kDemoFolder, name, kEnding));
    if (text.data() != nullptr) return range_from_json(text);
    std::vector<std::string> const names = demo_range_names();
    return Problem{"demo.unknown", "", "there is no demo range " + quoted_word(name),
                   "There are: " + listed({names.begin(), names.end()})};
}

} // namespace leafwright
