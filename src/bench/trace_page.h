// Leaves from a photograph: the state of the page, and its two halves.
#pragma once

#include "bench/state.h"
#include "bench/trace_worker.h"

namespace leafwright {

enum class TraceTool { look, cut, bar };

struct TracedEntry {
    TracedLeaf leaf;
    bool taken = true;
    std::string name;
    bool ends_by_hand = false; // base and tip were set by the maker
};

struct TracePage {
    explicit TracePage(std::function<void()> wake) : worker(std::move(wake)) {}
    ~TracePage();
    TracePage(TracePage const&) = delete;
    TracePage& operator=(TracePage const&) = delete;

    std::filesystem::path path;
    std::filesystem::path book; // the leaf book's folder
    bool keep = true;           // leaves go into the book as well as into the piece
    TraceOptions options;
    TraceWorker worker;
    std::shared_ptr<Photo const> photo;
    std::optional<PhotoScale> scale;
    MaybeProblem problem;
    std::vector<Problem> remarks;
    std::vector<TracedEntry> leaves;
    std::vector<TracedEntry> before; // as last traced: what the maker said of them is kept
    bool fresh = true;               // not shown yet
    double dpi = 300;
    bool dpi_is_right = false; // the maker has looked at what the leaf's length would be
    double bar_mm = 100;

    // How the picture is looked at.
    TraceTool tool = TraceTool::look;
    unsigned texture = 0;
    double zoom = 1; // 1: the whole picture
    Vec2 middle_px{0, 0};
    bool placed = false;
    // What the hand does: a line that is drawn, or a handle that is dragged.
    std::optional<Vec2> line_from_px;
    bool first_clicked = false; // one end of the line is set; the next click ends it
    int handle = -1;            // 0 to 3 a corner, 4 and 5 the ends of the bar; then two for each leaf, base and tip
    Vec2 handle_px{0, 0};
    int lit = -1; // the leaf under the pointer in the list
};

// Traces again with what is asked now.
void trace_again(TracePage& page);
// The photograph with what was found drawn over it.
void trace_picture(TracePage& page, UiState& ui, ImVec2 size);
// The leaves that are ticked, named. Problem of check_own_leaf().
Outcome<std::vector<OwnLeaf>> ticked_leaves(TracePage const& page);
// Pages of the leaf book; ids become those of the book. Problem "file.write": those before it are kept.
MaybeProblem keep_in_book(std::filesystem::path const& folder, std::vector<OwnLeaf>& leaves);
// Everything; the page takes itself away when it is done.
void trace_dialog(UiState& ui, Intents& intents);
// A picture by its first bytes, also of kinds that cannot be read (the page then says what to do).
bool is_picture_file(std::filesystem::path const& path);

} // namespace leafwright
