// What is done with the leaf book: its files are changed at once, the page is read anew after.
#include "bench/desk.h"
#include "bench/leaf_book_page.h"
#include "leaf/clay_leaf.h"
#include "piece/leaf_book.h"
#include "piece/leaf_file.h"

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

void choose(LeafBookPage& page, std::string const& id) {
    page.chosen = id;
    page.fine.clear();
    page.export_to.clear();
    BookEntry const* const entry = page.chosen_entry();
    if (!entry) return;
    page.edited = entry->leaf;
    page.fine = fine_spots(entry->leaf.outline_mm, page.thickness_mm);
}

void read_anew(LeafBookPage& page, std::string const& id) {
    LeafBook book = read_book(page.folder);
    page.left_out = std::move(book.left_out);
    std::vector<BookEntry> entries;
    for (OwnLeaf& leaf : book.leaves) {
        auto const same = std::ranges::find(page.entries, leaf, &BookEntry::leaf);
        if (same != page.entries.end()) {
            entries.push_back(std::move(*same));
            continue;
        }
        LeafMeasures const measured = measures(leaf);
        LeafDrawing drawing = leaf_drawing(shape_from(leaf));
        entries.push_back({std::move(leaf), measured, std::move(drawing)});
    }
    page.entries = std::move(entries);
    choose(page, id);
    if (!page.chosen_entry()) choose(page, page.entries.empty() ? std::string() : page.entries[0].leaf.id);
}

LeafBookPage& opened(Desk& desk) {
    UiState& ui = desk.ui;
    if (!ui.book) {
        ui.book = std::make_shared<LeafBookPage>();
        ui.book->folder = desk.leaves;
        read_anew(*ui.book, "");
    }
    return *ui.book;
}

void import(Desk& desk, BookAct const& act) {
    LeafBookPage& page = opened(desk);
    page.problem.clear();
    Outcome<LeavesOfFile> const found = leaves_of_file(act.path, act.length_mm);
    if (!found) {
        Problem const& problem = found.problem();
        page.sizeless = problem.code == "svg.no-size" ? act.path : std::filesystem::path();
        page.problem = act.path.filename().string() + ": " + problem.sentence();
        return;
    }
    page.sizeless.clear();
    std::string first;
    for (OwnLeaf const& leaf : found->leaves) {
        Outcome<OwnLeaf> const added = add_to_book(page.folder, leaf);
        if (!added) {
            page.problem = added.problem().sentence();
            break;
        }
        if (first.empty()) first = added->id;
    }
    read_anew(page, first);
    std::string const remark = found->remarks.empty() ? std::string() : ": " + found->remarks.front();
    say(desk.ui,
        fmt::format("{} in My leaves{}.",
                    found->leaves.size() == 1 ? "The leaf is" : fmt::format("{} leaves are", found->leaves.size()),
                    remark));
}

void told(LeafBookPage& page, MaybeProblem const& problem) { page.problem = problem ? problem->sentence() : ""; }

void put(LeafBookPage& page, OwnLeaf const& leaf) {
    told(page, put_in_book(page.folder, leaf));
    read_anew(page, leaf.id);
}

} // namespace

BookEntry const* LeafBookPage::chosen_entry() const {
    auto const found = std::ranges::find_if(entries, [&](BookEntry const& entry) { return entry.leaf.id == chosen; });
    return found == entries.end() ? nullptr : &*found;
}

void act_on_book(Desk& desk, BookAct const& act) {
    using What = BookAct::What;
    if (act.what == What::close) return desk.ui.book.reset();
    if (act.what == What::ask_file) return show_chooser(desk, Chooser::For::leaf);
    if (act.what == What::import) return import(desk, act);
    LeafBookPage& page = opened(desk);
    BookEntry const* const entry = page.chosen_entry();
    switch (act.what) {
    case What::choose:
        return act.id.empty() ? void() : choose(page, act.id);
    case What::thickness:
        page.thickness_mm = act.length_mm;
        return choose(page, page.chosen);
    case What::restore:
        if (page.binned.empty()) return;
        told(page, take_from_bin(page.folder, page.binned.back().id));
        read_anew(page, page.binned.back().id);
        page.binned.pop_back();
        return;
    default:
        break;
    }
    if (!entry) return;
    OwnLeaf leaf = entry->leaf;
    switch (act.what) {
    case What::use: {
        std::vector<OwnLeaf> const& there = desk.state.history.now().own_leaves;
        auto const same = std::ranges::find(there, leaf.id, &OwnLeaf::id);
        if (same != there.end()) {
            if (*same != leaf) carry_out(desk, Commit{SetOwnLeaf{leaf, "Change leaf"}});
            say(desk.ui, fmt::format("{} lies in the tray as it is in My leaves.", leaf.name));
            return desk.ui.book.reset();
        }
        carry_out(desk, Commit{AddOwnLeaf{leaf, page.thickness_mm}});
        desk.ui.kind_shown =
            desk.state.history.now().leaf_kinds.empty() ? std::string() : desk.state.history.now().leaf_kinds.back().id;
        say(desk.ui, fmt::format("{} lies in the tray.", leaf.name));
        return desk.ui.book.reset();
    }
    case What::words:
        return put(page, page.edited);
    case What::other_hand:
        return put(page, mirrored(leaf));
    case What::turn_round: {
        std::ranges::reverse(leaf.midrib_mm);
        leaf.stalk_mm = 0;
        return put(page, upright(std::move(leaf)));
    }
    case What::thicken:
        return put(page, thickened(leaf, page.thickness_mm));
    case What::remove:
        told(page, put_in_bin(page.folder, leaf.id));
        if (page.problem.empty()) page.binned.push_back({leaf.id, leaf.name});
        return read_anew(page, "");
    case What::write: {
        std::filesystem::path to = act.path;
        if (!is_leaf_file(to)) to += ".leaf.json";
        std::error_code error;
        if (std::filesystem::exists(to, error)) {
            page.problem = "There is a file " + to.string() + " already. Export under another name.";
            return;
        }
        told(page, save_own_leaf(to, leaf));
        if (page.problem.empty()) say(desk.ui, "Written: " + to.string());
        return;
    }
    default:
        return;
    }
}

} // namespace leafwright
