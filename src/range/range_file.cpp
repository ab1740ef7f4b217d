#include "range/range_file.h"

#include "base/assets.h"
#include "base/parse_json.h"
#include "piece/json_gate.h"
#include "piece/json_text.h"
#include "piece/piece_json.h"
#include "range/range_fields.h"

#include <nlohmann/json.hpp>

#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

using Json = nlohmann::json;

std::string in_a_word(Json const& value) {
    if (value.is_null()) return "null";
    if (value.is_boolean()) return value.get<bool>() ? "true" : "false";
    return value.is_string() ? "a text" : value.is_array() ? "a list" : value.is_object() ? "an object" : "a number";
}

// Walks the tables over one JSON value; what is missing stays as it was.
class RangeReader {
public:
    explicit RangeReader(Json const& json) : json_(&json) {}
    MaybeProblem problem;

    void number(std::string_view key, double& value, Range range) {
        Json const* const j = of_type(key, &Json::is_number, "a number", Need::optional);
        if (j && in_range(key, j->get<double>(), range)) value = j->get<double>();
    }
    void whole(std::string_view key, int& value, Range range) {
        Json const* const j = of_type(key, &Json::is_number, "a whole number", Need::optional);
        if (!j) return;
        double const read = j->get<double>();
        if (read != std::floor(read)) return fault("type", key, "is " + in_words(read) + "; a whole number is needed");
        if (in_range(key, read, range)) value = static_cast<int>(read);
    }
    void seed(std::string_view key, std::uint64_t& value) {
        Json const* const j = of_type(key, &Json::is_number, "a whole number", Need::optional);
        if (j && !j->is_number_unsigned())
            return fault("range", key, "is " + j->dump() + "; the range is 0 to 18446744073709551615, whole numbers");
        if (j) value = j->get<std::uint64_t>();
    }
    void flag(std::string_view key, bool& value) {
        if (Json const* const j = of_type(key, &Json::is_boolean, "true or false", Need::optional))
            value = j->get<bool>();
    }
    void text(std::string_view key, std::string& value, std::size_t most, Need need) {
        Json const* const j = of_type(key, &Json::is_string, "a text", need);
        if (!j) return;
        value = j->get<std::string>();
        if (value.size() > most)
            fault("range", key, fmt::format("is {} bytes long; at most {} are read", value.size(), most));
    }
    template <class Enum, class Words> void word(std::string_view key, Enum& value, Words const& words, Need need) {
        Json const* const j = of_type(key, &Json::is_string, "a text", need);
        if (!j) return;
        std::vector<std::string_view> names;
        for (auto const& word : words) {
            names.push_back(word.name);
            if (word.name == j->get_ref<std::string const&>()) return void(value = word.value);
        }
        no_such_word(std::string(key), j->get<std::string>(), names);
    }
    void day(std::string_view key, Day& value) {
        if (Json const* const j = of_type(key, &Json::is_string, "a date as a text", Need::required))
            read_day(key, *j, value);
    }
    void optional_day(std::string_view key, std::optional<Day>& value) {
        Json const* const j = of_type(key, &Json::is_string, "a date as a text", Need::optional);
        if (j) read_day(key, *j, value.emplace());
    }
    void weekdays(std::string_view key, std::array<bool, 7>& days) {
        Json const* const j = list_of(key, 7);
        if (!j) return;
        days = {};
        for (std::size_t i = 0; i < j->size() && !problem; ++i) {
            std::string const item = item_key(key, i);
            if (!(*j)[i].is_string()) return wrong_type(item, (*j)[i], "a text");
            std::string const& name = (*j)[i].get_ref<std::string const&>();
            auto const found = std::find(kDayWords.begin(), kDayWords.end(), name);
            if (found == kDayWords.end()) return no_such_word(item, name, {kDayWords.begin(), kDayWords.end()});
            bool& day = days[static_cast<std::size_t>(found - kDayWords.begin())];
            if (day) return fault("day.twice", item, "is given twice", "Keep one of the two");
            day = true;
        }
    }
    template <class S> void object(std::string_view key, S& value) {
        if (Json const* const j = of_type(key, &Json::is_object, "an object", Need::optional))
            inside(key, *j, [&] { fields(*this, value); });
    }
    template <class S> void optional_object(std::string_view key, std::optional<S>& value) {
        if (Json const* const j = of_type(key, &Json::is_object, "an object", Need::optional))
            inside(key, *j, [&] { fields(*this, value.emplace()); });
    }
    // Without any key of the kiln itself the pieces keep theirs.
    void kiln(std::string_view key, std::optional<KilnSpec>& kiln, ShelfSpec& shelves) {
        Json const* const j = of_type(key, &Json::is_object, "an object", Need::optional);
        if (!j) return;
        inside(key, *j, [&] {
            KilnSpec read;
            fields(*this, read);
            bool const any = std::any_of(known_.begin(), known_.end(),
                                         [&](std::string_view name) { return j->contains(std::string(name)); });
            if (any) kiln = read;
            fields(*this, shelves);
        });
    }
    template <class S> void list(std::string_view key, std::vector<S>& value, std::size_t most) {
        Json const* const j = list_of(key, most);
        if (!j) return;
        value.clear();
        for (std::size_t i = 0; i < j->size() && !problem; ++i) {
            if (!(*j)[i].is_object()) return wrong_type(item_key(key, i), (*j)[i], "an object");
            value.emplace_back();
            inside(item_key(key, i), (*j)[i], [&] { fields(*this, value.back()); });
        }
    }
    void whole_of(RangeSpec& value) {
        fields(*this, value);
        refuse_unknown();
    }

private:
    template <class Work> void inside(std::string_view key, Json const& json, Work work) {
        Json const* const outer = std::exchange(json_, &json);
        std::vector<std::string_view> outer_known = std::exchange(known_, {});
        std::size_t const was = path_.enter(key);
        work();
        refuse_unknown();
        path_.leave(was);
        json_ = outer;
        known_ = std::move(outer_known);
    }
    Json const* of_type(std::string_view key, bool (Json::*is)() const noexcept, char const* needed, Need need) {
        known_.push_back(key);
        if (problem) return nullptr;
        auto const found = json_->find(std::string(key));
        if (found == json_->end()) {
            if (need == Need::required) fault("missing", key, "is missing");
            return nullptr;
        }
        if (((*found).*is)()) return &*found;
        wrong_type(key, *found, needed);
        return nullptr;
    }
    Json const* list_of(std::string_view key, std::size_t most) {
        Json const* const j = of_type(key, &Json::is_array, "a list", Need::optional);
        if (!j || j->size() <= most) return j;
        fault("too-many", key, fmt::format("holds {} entries; at most {} are read", j->size(), most));
        return nullptr;
    }
    void read_day(std::string_view key, Json const& json, Day& value) {
        std::string const& text = json.get_ref<std::string const&>();
        Outcome<Day> const day = day_from_text(text);
        if (day) return void(value = *day);
        fault("date", key, fmt::format("{} {}", quoted_word(text), day.problem().what), day.problem().hint);
    }
    bool in_range(std::string_view key, double value, Range range) {
        if (value >= range.low && value <= range.high) return true;
        fault("range", key,
              fmt::format("is {}; the range is {} to {}", in_words(value), in_words(range.low), in_words(range.high)));
        return false;
    }
    static std::string item_key(std::string_view key, std::size_t index) { return fmt::format("{}[{}]", key, index); }
    void no_such_word(std::string const& key, std::string const& read, std::vector<std::string_view> const& names) {
        std::string const near = nearest_word(read, names);
        fault("word", key, fmt::format("is {}; known are {}", quoted_word(read), listed(names)),
              near.empty() ? "" : fmt::format("Did you mean \"{}\"", near));
    }
    void wrong_type(std::string_view key, Json const& found, char const* needed) {
        fault("type", key, fmt::format("is {}; {} is needed", in_a_word(found), needed));
    }
    void fault(std::string code, std::string_view key, std::string what, std::string hint = "") {
        if (!problem) problem = Problem{std::move(code), path_.with(key), std::move(what), std::move(hint)};
    }
    void refuse_unknown() {
        if (problem) return;
        for (auto const& [key, ignored] : json_->items()) {
            if (std::find(known_.begin(), known_.end(), key) != known_.end()) continue;
            std::string const near = nearest_word(key, known_);
            return fault("key.unknown", plain_word(key), "is not a key of a range",
                         near.empty() ? "Known here: " + listed(known_) : fmt::format("Did you mean \"{}\"", near));
        }
    }

    Json const* json_;
    FieldPath path_;
    std::vector<std::string_view> known_;
};

class RangeWriter {
public:
    JsonText out = JsonText::object();

    void number(std::string_view key, double value, Range) { out.add(key, JsonText::number(value)); }
    void whole(std::string_view key, int value, Range) { out.add(key, JsonText::whole(value)); }
    void seed(std::string_view key, std::uint64_t value) { out.add(key, JsonText::natural(value)); }
    void flag(std::string_view key, bool value) { out.add(key, JsonText::flag(value)); }
    void text(std::string_view key, std::string const& value, std::size_t, Need) {
        out.add(key, JsonText::text(value));
    }
    template <class Enum, class Words> void word(std::string_view key, Enum value, Words const& words, Need) {
        for (auto const& word : words)
            if (word.value == value) out.add(key, JsonText::text(word.name));
    }
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
    template <class S> void object(std::string_view key, S const& value) { out.add(key, text_of(value)); }
    template <class S> void optional_object(std::string_view key, std::optional<S> const& value) {
        if (value) object(key, *value);
    }
    void kiln(std::string_view key, std::optional<KilnSpec> const& kiln, ShelfSpec const& shelves) {
        RangeWriter part;
        if (kiln) fields(part, *kiln);
        fields(part, shelves);
        out.add(key, std::move(part.out));
    }
    template <class S> void list(std::string_view key, std::vector<S> const& list, std::size_t) {
        JsonText items = JsonText::list();
        for (S const& item : list) items.add(text_of(item));
        out.add(key, std::move(items));
    }

private:
    template <class S> static JsonText text_of(S const& value) {
        RangeWriter part;
        fields(part, value);
        return std::move(part.out);
    }
};

MaybeProblem check_head(Json const& root) {
    if (!root.is_object())
        return Problem{"type", "", fmt::format("the file holds {}; a range is one JSON object", in_a_word(root)), ""};
    auto const tag = root.find("leafwright");
    if (tag == root.end() || *tag != "range")
        return Problem{"not-a-range", "leafwright",
                       tag == root.end() ? "is missing; a range file says \"range\""
                       : tag->is_string()
                           ? fmt::format("is {}; a range file says \"range\"", quoted_word(tag->get<std::string>()))
                           : "is no text; a range file says \"range\"",
                       "Choose a file that was saved as a range"};
    auto const version = root.find("version");
    if (version == root.end()) return Problem{"missing", "version", "is missing", "This program writes version 1"};
    if (!version->is_number_integer() || *version != 1)
        return Problem{"version", "version", "is " + plain_word(version->dump()) + "; this program reads version 1",
                       "Update Leafwright, or save the file as version 1"};
    return {};
}

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
    if (MaybeProblem problem = check_json(text)) return *problem;
    Json root = parse_json(text);
    assert(!root.is_discarded());
    if (MaybeProblem problem = check_head(root)) return *problem;
    root.erase("leafwright");
    root.erase("version");
    RangeSpec spec;
    RangeReader reader(root);
    reader.whole_of(spec);
    if (reader.problem) return *reader.problem;
    if (MaybeProblem problem = check_whole(spec)) return *problem;
    return spec;
}

std::string range_to_json(RangeSpec const& spec) {
    RangeWriter writer;
    writer.out.add("leafwright", JsonText::text("range"));
    writer.out.add("version", JsonText::whole(1));
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
