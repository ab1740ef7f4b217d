#include "piece/cutting_plan.h"

#include <fmt/format.h>

namespace leafwright {

std::string contents_words(CuttingAnswer const& answer, CutSheet const& sheet) {
    int counts[5] = {};
    for (CutPlace const& place : sheet.places) ++counts[static_cast<int>(answer.item_of(place).kind)];
    constexpr char const* kOne[] = {"slab", "leaf", "lug", "strip", "test bar"};
    constexpr char const* kMany[] = {"slabs", "leaves", "lugs", "strips", "test bars"};
    std::string words;
    for (int kind = 0; kind < 5; ++kind) {
        if (counts[kind] == 0) continue;
        if (!words.empty()) words += ", ";
        if (kind == 0)
            words += "slab";
        else
            words += fmt::format("{} {}", counts[kind], counts[kind] == 1 ? kOne[kind] : kMany[kind]);
    }
    return words.empty() ? "nothing" : words;
}

} // namespace leafwright
