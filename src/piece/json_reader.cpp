#include "piece/json_reader.h"

#include "base/parse_json.h"
#include "piece/json_gate.h"

#include <cassert>

namespace leafwright {

namespace {

using Json = nlohmann::json;

constexpr int kVersion = 1;

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

std::string type_in_words(Json const& value) {
    if (value.is_null()) return "null";
    if (value.is_boolean()) return value.get<bool>() ? "true" : "false";
    if (value.is_string()) return "a text";
    if (value.is_array()) return "a list";
    if (value.is_object()) return "an object";
    return "a number";
}

Outcome<Json> json_of_file(std::string_view text, std::string const& word) {
    if (MaybeProblem problem = check_json(text)) return *problem;
    Json root = parse_json(text);
    assert(!root.is_discarded());
    if (MaybeProblem problem = check_kind_of_file(root, word)) return *problem;
    root.erase("leafwright");
    root.erase("version");
    return root;
}

} // namespace leafwright
