#include "piece/fields.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <numeric>

namespace leafwright {

namespace {

// Edit distance (Levenshtein 1966): insertions, deletions and replacements, one each.
std::size_t edits(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            std::size_t const replaced = diagonal + (a[i] == b[j] ? 0 : 1);
            diagonal = row[j + 1];
            row[j + 1] = std::min({replaced, row[j] + 1, row[j + 1] + 1});
        }
    }
    return row.back();
}

} // namespace

std::string in_words(double value) {
    if (std::isnan(value)) return "not a number";
    if (std::isinf(value)) return value < 0 ? "minus infinity" : "infinity";
    std::array<char, 40> room{};
    return {room.data(), std::to_chars(room.data(), room.data() + room.size(), value).ptr};
}

std::string nearest_word(std::string_view typed, std::vector<std::string_view> const& known) {
    if (typed.size() > 60) return "";
    std::string_view best;
    std::size_t least = std::max<std::size_t>(2, typed.size() / 3) + 1;
    for (std::string_view word : known) {
        std::size_t const distance = edits(typed, word);
        if (distance < least && distance < word.size()) {
            least = distance;
            best = word;
        }
    }
    return std::string(best);
}

std::string plain_word(std::string_view word) {
    constexpr std::size_t kMost = 60;
    bool const cut = word.size() > kMost;
    std::size_t end = cut ? kMost : word.size();
    while (cut && end > 0 && (static_cast<unsigned char>(word[end]) & 0xC0) == 0x80) --end; // no half character
    std::string text(word.substr(0, end));
    for (char& c : text)
        if (static_cast<unsigned char>(c) < 32 || c == 127) c = '?';
    return cut ? text + "..." : text;
}

std::string quoted_word(std::string_view word) { return fmt::format("\"{}\"", plain_word(word)); }

std::string listed(std::vector<std::string_view> const& words) {
    std::string text;
    for (std::string_view word : words) {
        if (!text.empty()) text += ", ";
        text += word;
    }
    return text;
}

} // namespace leafwright
