#include "piece/json_reader.h"

#include "base/parse_json.h"
#include "piece/json_gate.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

using Json = nlohmann::json;

constexpr int kVersion = 1;

std::string type_in_words(Json const& value) {
    if (value.is_null()) return "null";
    if (value.is_boolean()) return value.get<bool>() ? "true" : "false";
    if (value.is_string()) return "a text";
    if (value.is_array()) return "a list";
    if (value.is_object()) return "an object";
    return "a number";
}

MaybeProblem check_kind_of_file(Json const& root, std::string const& word) {
    if (!root.is_object())
        return Problem{"type", "", fmt::format("the file holds {}; a {} is one JSON object", type_in_words(root), word),
                       ""};
    auto const tag = root.find("leafwright");
    std::string const hint = fmt::format("Choose a file that was saved as a {}", word);
    if (tag == root.end() || !tag->is_string())
        return Problem{
            "not-a-" + word, "leafwright",
            fmt::format("{}; a {} file says \"{}\"", tag == root.end() ? "is missing" : "is no text", word, word),
            hint};
    if (*tag != word)
        return Problem{"not-a-" + word, "leafwright",
                       fmt::format("is {}; a {} file says \"{}\"", quoted_word(tag->get<std::string>()), word, word),
                       hint};
    auto const version = root.find("version");
    if (version == root.end()) return Problem{"missing", "version", "is missing", "This program writes version 1"};
    if (!version->is_number_integer())
        return Problem{"type", "version", "is " + type_in_words(*version) + "; a whole number is needed", ""};
    if (*version != kVersion)
        return Problem{"version", "version", "is version " + version->dump() + "; this program reads version 1",
                       "Update Leafwright, or save the file as version 1"};
    return {};
}

} // namespace

Outcome<Json> json_of_file(std::string_view text, std::string const& word) {
    if (MaybeProblem problem = check_json(text)) return *problem;
    Json root = parse_json(text);
    assert(!root.is_discarded());
    if (MaybeProblem problem = check_kind_of_file(root, word)) return *problem;
    root.erase("leafwright");
    root.erase("version");
    return root;
}

void JsonFields::number(std::string_view key, double& value, Range) {
    if (Json const* j = of_kind(key, Kind::number, "a number")) value = j->get<double>();
}

void JsonFields::angle(std::string_view key, double& value) { number(key, value, kAngleRange); }

void JsonFields::whole(std::string_view key, int& value, Range range, Need need) {
    Json const* j = of_kind(key, Kind::number, "a whole number", need);
    if (!j) return;
    double const read = j->get<double>();
    if (read != std::floor(read)) return fault("type", key, "is " + in_words(read) + "; a whole number is needed");
    if (in_range(key, read, range)) value = static_cast<int>(read);
}

void JsonFields::seed(std::string_view key, std::uint64_t& value) {
    Json const* j = of_kind(key, Kind::number, "a whole number");
    if (!j) return;
    if (!j->is_number_unsigned())
        return fault("range", key, "is " + j->dump() + "; the range is 0 to 18446744073709551615, whole numbers");
    value = j->get<std::uint64_t>();
}

void JsonFields::flag(std::string_view key, bool& value) {
    if (Json const* j = of_kind(key, Kind::flag, "true or false")) value = j->get<bool>();
}

void JsonFields::text(std::string_view key, std::string& value, std::size_t, Need need) {
    if (Json const* j = of_kind(key, Kind::text, "a text", need)) value = text_in(*j);
}

void JsonFields::words(std::string_view key, std::vector<std::string>& value, std::size_t most) {
    Json const* j = list_of(key, most);
    if (!j) return;
    value.clear();
    for (std::size_t i = 0; i < j->size() && !problem; ++i)
        if (is_kind(item_key(key, i), (*j)[i], Kind::text, "a text")) value.push_back(text_in((*j)[i]));
}

void JsonFields::numbers(std::string_view key, std::vector<double>& value, Range, std::size_t most) {
    Json const* one = member(key);
    if (!one) return;
    if (one->is_number()) return void(value = {one->get<double>()});
    Json const* j = list_of(key, most);
    if (!j) return;
    value.clear();
    for (std::size_t i = 0; i < j->size() && !problem; ++i)
        if (is_kind(item_key(key, i), (*j)[i], Kind::number, "a number")) value.push_back((*j)[i].get<double>());
}

void JsonFields::points(std::string_view key, std::vector<Vec2>& value, Range, std::size_t most) {
    Json const* j = list_of(key, most);
    if (!j) return;
    value.clear();
    for (std::size_t i = 0; i < j->size() && !problem; ++i) {
        Json const& p = (*j)[i];
        bool const pair = p.is_array() && p.size() == 2 && p[0].is_number() && p[1].is_number();
        if (!pair)
            return fault("type", item_key(key, i),
                         "is " + type_in_words(p) + "; a list of two numbers [x, y] is needed");
        value.emplace_back(p[0].get<double>(), p[1].get<double>());
    }
}

void JsonFields::figure(std::string_view key, Figure& value, Range range) {
    Json const* j = member(key);
    if (!j) return;
    if (j->is_number()) {
        double const read = j->get<double>();
        value = {read, read, read, FigureFrom::measured};
    } else if (is_kind(key, *j, Kind::object, "a number, or an object with value, low and high")) {
        inside(key, *j, [&] { figure_members(value, range); });
    }
}

void JsonFields::figure_members(Figure& value, Range range) {
    static constexpr std::array<std::string_view, 3> kFrom = {"computed", "measured", "default"};
    Figure read{0, 0, 0, FigureFrom::measured};
    required_ = true;
    number("value", read.value, range);
    required_ = false;
    read.low = read.high = read.value;
    number("low", read.low, range);
    number("high", read.high, range);
    Json const* from = of_kind("from", Kind::text, "a text");
    if (from && is_known("from", text_in(*from), {kFrom.begin(), kFrom.end()}))
        read.from = text_in(*from) == kFrom[0]   ? FigureFrom::computed
                    : text_in(*from) == kFrom[1] ? FigureFrom::measured
                                                 : FigureFrom::by_default;
    value = read;
}

nlohmann::json const* JsonFields::member(std::string_view key) {
    known_.push_back(key);
    if (problem) return nullptr;
    auto const found = json_->find(std::string(key));
    return found == json_->end() ? nullptr : &*found;
}

nlohmann::json const* JsonFields::of_kind(std::string_view key, Kind kind, char const* needed, Need need) {
    Json const* j = member(key);
    if (!j && !problem && (need == Need::required || required_)) fault("missing", key, "is missing");
    return j && is_kind(key, *j, kind, needed) ? j : nullptr;
}

nlohmann::json const* JsonFields::list_of(std::string_view key, std::size_t most) {
    Json const* j = of_kind(key, Kind::list, "a list");
    if (!j || j->size() <= most) return j;
    fault("too-many", key, fmt::format("holds {} entries; at most {} are read", j->size(), most));
    return nullptr;
}

std::size_t JsonFields::size_of(Json const& list) { return list.size(); }
nlohmann::json const& JsonFields::item(Json const& list, std::size_t index) { return list[index]; }
std::string JsonFields::item_key(std::string_view key, std::size_t index) { return fmt::format("{}[{}]", key, index); }
std::string const& JsonFields::text_in(Json const& text) { return text.get_ref<std::string const&>(); }

bool JsonFields::is_kind(std::string_view key, Json const& json, Kind kind, char const* needed) {
    bool const is = kind == Kind::number ? json.is_number()
                    : kind == Kind::text ? json.is_string()
                    : kind == Kind::flag ? json.is_boolean()
                    : kind == Kind::list ? json.is_array()
                                         : json.is_object();
    if (!is) fault("type", key, fmt::format("is {}; {} is needed", type_in_words(json), needed));
    return is;
}

bool JsonFields::is_known(std::string_view key, std::string const& read, std::vector<std::string_view> const& names) {
    if (std::find(names.begin(), names.end(), read) != names.end()) return true;
    std::string const near = nearest_word(read, names);
    fault("word", key, fmt::format("is {}; known are {}", quoted_word(read), listed(names)),
          near.empty() ? "" : fmt::format("Did you mean \"{}\"", near));
    return false;
}

bool JsonFields::in_range(std::string_view key, double value, Range range) {
    if (value >= range.low && value <= range.high) return true;
    fault("range", key,
          fmt::format("is {}; the range is {} to {}", in_words(value), in_words(range.low), in_words(range.high)));
    return false;
}

void JsonFields::fault(std::string code, std::string_view key, std::string what, std::string hint) {
    if (!problem) problem = Problem{std::move(code), path_.with(key), std::move(what), std::move(hint)};
}

bool JsonFields::holds_any() const {
    return std::ranges::any_of(known_, [&](std::string_view name) { return json_->contains(std::string(name)); });
}

void JsonFields::refuse_unknown() {
    if (problem) return;
    for (auto const& [key, ignored] : json_->items()) {
        if (std::find(known_.begin(), known_.end(), key) != known_.end()) continue;
        std::string const near = nearest_word(key, known_);
        return fault("key.unknown", plain_word(key), std::string("is not a key of ") + file_,
                     near.empty() ? "Known here: " + listed(known_) : fmt::format("Did you mean \"{}\"", near));
    }
}

} // namespace leafwright
