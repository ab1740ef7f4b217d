#include "bench/file_list.h"

#include "piece/leaf_book.h"

#include <algorithm>
#include <cstdlib>

namespace leafwright {
namespace {

constexpr std::size_t kShownMost = 2000;

void sort_by_name(std::vector<std::string>& names) {
    auto const lower = [](std::string text) {
        for (char& c : text)
            if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        return text;
    };
    std::sort(names.begin(), names.end(), [&](auto const& a, auto const& b) {
        std::string const la = lower(a);
        std::string const lb = lower(b);
        return la != lb ? la < lb : a < b;
    });
}

bool is_photo_name(std::string name) {
    for (char& c : name)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    for (char const* ending : {".jpg", ".jpeg", ".png", ".heic", ".heif"}) // the last two are answered with what to do
        if (name.ends_with(ending)) return true;
    return false;
}

} // namespace

FileList file_list(std::filesystem::path const& folder, ListOf what) {
    FileList list;
    std::error_code error;
    std::filesystem::directory_iterator entry(folder, error);
    if (error) {
        list.problem = "This folder cannot be read.";
        return list;
    }
    for (; entry != std::filesystem::directory_iterator(); entry.increment(error)) {
        if (error || list.folders.size() + list.pieces.size() >= kShownMost) break;
        std::string const name = entry->path().filename().string();
        if (name.starts_with(".")) continue;
        std::error_code ignored;
        if (entry->is_directory(ignored))
            list.folders.push_back(name);
        else if (what == ListOf::photos   ? is_photo_name(name)
                 : what == ListOf::leaves ? is_leaf_file(entry->path())
                                          : name.ends_with(".piece.json"))
            list.pieces.push_back(name);
    }
    sort_by_name(list.folders);
    sort_by_name(list.pieces);
    return list;
}

std::filesystem::path typed_path(std::filesystem::path const& folder, std::string const& typed, bool for_saving) {
    std::string text = typed;
    char const* const home = std::getenv("HOME");
    if (home && (text == "~" || text.starts_with("~/"))) text = home + text.substr(1);
    std::filesystem::path path = folder / text; // an absolute right side replaces the folder
    if (for_saving && !path.has_extension() && path.has_filename()) path += ".piece.json";
    return path.lexically_normal();
}

} // namespace leafwright
