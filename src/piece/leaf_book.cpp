#include "piece/leaf_book.h"

#include "leaf/svg_leaves.h"
#include "piece/leaf_file.h"
#include "piece/piece_json.h"

#include <algorithm>
#include <fmt/format.h>

namespace leafwright {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view kEnding = ".leaf.json";
constexpr std::size_t kMostFiles = 2000;

fs::path page_of(fs::path const& folder, std::string const& id) { return folder / (id + std::string(kEnding)); }

std::string lower(std::string text) {
    for (char& c : text)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return text;
}

Problem no_folder(fs::path const& folder) {
    return {"file.write", folder.string(), "the folder of My leaves cannot be made", "Look whether the disk is full"};
}

MaybeProblem moved(fs::path const& from, fs::path const& to) {
    std::error_code error;
    fs::create_directories(to.parent_path(), error);
    if (error) return no_folder(to.parent_path());
    fs::rename(from, to, error);
    if (error) return Problem{"file.write", from.filename().string(), "cannot be moved: " + error.message(), ""};
    return {};
}

} // namespace

LeafBook read_book(fs::path const& folder) {
    LeafBook book;
    std::error_code error;
    std::vector<fs::path> files;
    for (auto at = fs::directory_iterator(folder, error); !error && at != fs::directory_iterator(); at.increment(error))
        if (at->path().filename().string().ends_with(kEnding) && files.size() < kMostFiles) files.push_back(at->path());
    std::ranges::sort(files);
    for (fs::path const& file : files) {
        Outcome<OwnLeaf> leaf = load_own_leaf(file);
        if (!leaf) {
            book.left_out.push_back(file.filename().string() + ": " + leaf.problem().sentence());
            continue;
        }
        std::string const stem = file.filename().string();
        leaf->id = stem.substr(0, stem.size() - kEnding.size()); // a file that was renamed by hand
        book.leaves.push_back(std::move(*leaf));
    }
    std::ranges::stable_sort(book.leaves, {}, [](OwnLeaf const& leaf) { return lower(leaf.name); });
    return book;
}

Outcome<OwnLeaf> add_to_book(fs::path const& folder, OwnLeaf leaf) {
    std::error_code error;
    fs::create_directories(folder, error);
    if (folder.empty() || error) return no_folder(folder);
    if (leaf.name.empty()) leaf.name = leaf.id.empty() ? "Leaf" : leaf.id;
    std::string const stem = leaf_id_of(leaf.name);
    leaf.id = stem;
    for (int n = 2; fs::exists(page_of(folder, leaf.id), error) || fs::exists(page_of(folder / "bin", leaf.id), error);
         ++n)
        leaf.id = fmt::format("{}-{}", stem, n);
    if (MaybeProblem problem = save_own_leaf(page_of(folder, leaf.id), leaf)) return *problem;
    return leaf;
}

MaybeProblem put_in_book(fs::path const& folder, OwnLeaf const& leaf) {
    std::error_code error;
    fs::create_directories(folder, error);
    if (folder.empty() || error || leaf.id.find('/') != std::string::npos) return no_folder(folder);
    return save_own_leaf(page_of(folder, leaf.id), leaf);
}

MaybeProblem put_in_bin(fs::path const& folder, std::string const& id) {
    if (id.find('/') != std::string::npos) return no_folder(folder);
    return moved(page_of(folder, id), page_of(folder / "bin", id));
}

MaybeProblem take_from_bin(fs::path const& folder, std::string const& id) {
    if (id.find('/') != std::string::npos) return no_folder(folder);
    return moved(page_of(folder / "bin", id), page_of(folder, id));
}

bool is_leaf_file(fs::path const& path) {
    std::string const name = lower(path.filename().string());
    return name.ends_with(".svg") || name.ends_with(kEnding);
}

Outcome<LeavesOfFile> leaves_of_file(fs::path const& path, double length_mm) {
    LeavesOfFile found;
    if (lower(path.filename().string()).ends_with(kEnding)) {
        Outcome<OwnLeaf> leaf = load_own_leaf(path);
        if (!leaf) return leaf.problem();
        found.leaves.push_back(std::move(*leaf));
        return found;
    }
    Outcome<std::string> const text = read_file(path);
    if (!text) return text.problem();
    SvgLeafOptions options;
    if (length_mm > 0) options.length_mm = length_mm;
    Outcome<SvgLeaves> drawn = leaves_of_svg(*text, options);
    if (!drawn) return drawn.problem();
    found.remarks = drawn->remarks;
    std::string const stem = path.stem().string();
    for (std::size_t i = 0; i < drawn->leaves.size(); ++i) {
        OwnLeaf leaf = std::move(drawn->leaves[i]);
        leaf.name = drawn->leaves.size() > 1 ? fmt::format("{} {}", stem, i + 1) : stem;
        leaf.id = leaf_id_of(leaf.name);
        found.leaves.push_back(std::move(leaf));
    }
    return found;
}

} // namespace leafwright
