// Leaves from a photograph: the page that opens when a picture is dropped on the bench.
#include "bench/trace_page.h"

#include "bench/desk.h"
#include "bench/panels.h"
#include "bench/window.h"

#include <imgui_stdlib.h>

#include <epoxy/gl.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <utility>

namespace leafwright {
namespace {

// What the maker said of the same leaf before it was traced anew.
void keep_by_hand(TracedEntry& entry, std::vector<TracedEntry> const& before, PhotoScale const& scale) {
    Vec2 const middle = centroid(entry.leaf.outline_px.outer);
    double const near = 0.05 * glm::length(bounds(entry.leaf.outline_px.outer).size());
    for (TracedEntry const& old : before) {
        if (glm::length(centroid(old.leaf.outline_px.outer) - middle) > near) continue;
        entry.name = old.name;
        if (old.leaf.looks_sound() == entry.leaf.looks_sound()) entry.taken = old.taken;
        if (!old.ends_by_hand) return;
        entry.leaf = with_ends(std::move(entry.leaf), scale, old.leaf.base_px, old.leaf.tip_px);
        entry.ends_by_hand = true;
        return;
    }
}

// What came from the worker.
void take_answer(TracePage& page) {
    if (auto photo = page.worker.take_photo()) page.photo = std::move(photo);
    auto answer = page.worker.take();
    if (!answer) return;
    if (answer->photo) page.photo = answer->photo;
    page.problem = answer->problem;
    if (page.problem && page.problem->code == "trace.cancelled") return;
    page.scale = answer->scale;
    if (!page.leaves.empty()) page.before = std::move(page.leaves);
    page.leaves.clear();
    page.remarks.clear();
    if (!answer->trace) return;
    page.remarks = answer->trace->remarks;
    std::string const stem = page.path.stem().string();
    std::size_t const count = answer->trace->leaves.size();
    for (std::size_t k = 0; k < count; ++k) {
        TracedEntry entry{std::move(answer->trace->leaves[k]), true, stem};
        entry.taken = entry.leaf.looks_sound();
        if (count > 1) entry.name += fmt::format(" {}", k + 1);
        keep_by_hand(entry, page.before, *page.scale);
        page.leaves.push_back(std::move(entry));
    }
}

// What is shown still has the size that was told before.
bool awaits_bar(TracePage const& page) {
    return page.options.scale.from == ScaleFrom::bar && !page.options.scale.bar_ends_px;
}
bool awaits_size(TracePage const& page) {
    return awaits_bar(page) || (page.options.scale.from == ScaleFrom::dpi && !page.dpi_is_right);
}

// Four corners to be dragged, where none were found.
void corners_by_hand(TracePage& page) {
    double const w = page.photo->width_px;
    double const h = page.photo->height_px;
    page.options.scale.corners_px = {Vec2{0.2 * w, 0.2 * h}, Vec2{0.8 * w, 0.2 * h}, Vec2{0.8 * w, 0.8 * h},
                                     Vec2{0.2 * w, 0.8 * h}};
    trace_again(page);
}

void paper_choice(TracePage& page, UiState& ui) {
    static constexpr std::array<char const*, 3> kNames{"A4", "A5", "Letter"};
    int paper = static_cast<int>(page.options.scale.paper);
    if (segmented(ui, "trace paper", kNames, paper, ImGui::GetContentRegionAvail().x)) {
        page.options.scale.paper = static_cast<KnownSheet>(paper);
        trace_again(page);
    }
    soft(ui, "A whole sheet lies under the leaves. If a corner is off, drag it.");
    if (page.photo && !page.scale && !page.worker.running()) {
        if (button(ui, "Set the corners by hand", ButtonLook::strong, -1)) corners_by_hand(page);
        mark(ui, "trace.corners");
    }
    if (page.options.scale.corners_px && button(ui, "Find the corners again", ButtonLook::plain, -1)) {
        page.options.scale.corners_px.reset();
        trace_again(page);
    }
}

// Once more puts it down again.
void take_tool(TracePage& page, TraceTool tool) {
    page.tool = page.tool == tool ? TraceTool::look : tool;
    page.line_from_px.reset();
    page.first_clicked = false;
}

void bar_choice(TracePage& page, UiState& ui) {
    if (value_row(ui, "Its true length", page.bar_mm, Quantity::length, {5, 1000}) == Touch::done) {
        page.options.scale.bar_mm = page.bar_mm;
        if (page.options.scale.bar_ends_px) trace_again(page);
    }
    char const* words = page.options.scale.bar_ends_px ? "Mark it anew" : "Mark the bar";
    if (page.tool == TraceTool::bar) words = page.first_clicked ? "Now its other end" : "Now click both its ends";
    if (button(ui, words, page.tool == TraceTool::bar ? ButtonLook::strong : ButtonLook::plain, -1))
        take_tool(page, TraceTool::bar);
    mark(ui, "trace.bar");
    soft(ui, page.options.scale.bar_ends_px
                 ? "Drag its ends where they are off. The camera must look straight down."
                 : "A ruler, or anything whose length you know. The camera must look straight down.");
}

void set_dpi(TracePage& page, double dpi) {
    page.dpi = page.options.scale.dpi = dpi;
    page.dpi_is_right = false;
    trace_again(page);
}

void dpi_choice(TracePage& page, UiState& ui) {
    if (value_row(ui, "Dots per inch", page.dpi, Quantity::count, {50, 2400}) == Touch::done) set_dpi(page, page.dpi);
    mark(ui, "trace.dpi");
    double const told = page.photo ? page.photo->tags.dpi : 0;
    if (told > 0 && std::abs(told - page.dpi) > 0.5 &&
        button(ui, fmt::format("Use {:.0f}, as the file says", told).c_str(), ButtonLook::plain, -1))
        set_dpi(page, told);
    if (told <= 0) soft(ui, "The file does not say. What was the scanner set to?");
    if (page.leaves.empty()) return;
    double longest = 0;
    for (TracedEntry const& entry : page.leaves)
        if (entry.leaf.looks_sound()) longest = std::max(longest, entry.leaf.length_mm);
    if (page.dpi_is_right || longest <= 0) return;
    remark(
        ui, MarkKind::caution,
        fmt::format("The longest leaf would be {} long.", quantity_text(longest, Quantity::length, ui.settings.units)),
        "Files often lie about this: hold a ruler to the leaf.");
    if (button(ui, "Yes, that is right", ButtonLook::strong, -1)) page.dpi_is_right = true;
    mark(ui, "trace.dpi-right");
}

void scale_card(TracePage& page, UiState& ui) {
    Card const card(ui);
    heading(ui, "True size from");
    static constexpr std::array<char const*, 3> kWays{"Paper", "Bar", "Scan"};
    TraceScale& scale = page.options.scale;
    int way = static_cast<int>(scale.from);
    if (segmented(ui, "trace scale", kWays, way, ImGui::GetContentRegionAvail().x)) {
        scale.from = static_cast<ScaleFrom>(way);
        if (scale.dpi <= 0 && page.photo && page.photo->tags.dpi > 0)
            page.dpi = std::clamp(page.photo->tags.dpi, 50.0, 2400.0);
        scale.dpi = page.dpi;
        page.line_from_px.reset();
        page.first_clicked = false;
        scale.bar_mm = page.bar_mm;
        page.tool = scale.from == ScaleFrom::bar && !scale.bar_ends_px ? TraceTool::bar : TraceTool::look;
        if (scale.from != ScaleFrom::bar || scale.bar_ends_px) trace_again(page);
    }
    if (scale.from == ScaleFrom::paper)
        paper_choice(page, ui);
    else if (scale.from == ScaleFrom::bar)
        bar_choice(page, ui);
    else
        dpi_choice(page, ui);
    if (page.scale && !awaits_bar(page))
        answer(ui, "Lengths are true within", fmt::format("{:.1f} %", 200 * page.scale->error), page.scale->error_from);
}

void outline_card(TracePage& page, UiState& ui) {
    Card const card(ui);
    heading(ui, "Outlines");
    TraceOptions& options = page.options;
    bool again = check_row(ui, "Keep the stalk", options.keep_stalk) == Touch::done;
    again = check_row(ui, "Close holes", options.close_holes) == Touch::done || again;
    again = value_row(ui, "Smooth to", options.tolerance_mm, Quantity::fine_length, {0.1, 0.5}) == Touch::done || again;
    bool const cutting = page.tool == TraceTool::cut;
    if (button(ui, cutting ? "Now draw a line between them" : "Part touching leaves",
               cutting ? ButtonLook::strong : ButtonLook::plain, -1))
        take_tool(page, TraceTool::cut);
    mark(ui, "trace.cut");
    if (!options.cuts.empty() && button(ui, "Take the last cut back", ButtonLook::plain, -1)) {
        options.cuts.pop_back();
        again = true;
    }
    if (again) trace_again(page);
}

void leaf_entry(TracePage& page, std::size_t index, UiState& ui) {
    TracedEntry& entry = page.leaves[index];
    TracedLeaf const& leaf = entry.leaf;
    ImGui::PushID(static_cast<int>(index));
    ImVec2 const start = ImGui::GetCursorScreenPos();
    Units const units = ui.settings.units;
    std::string const size = fmt::format("{}, {}", size_text(leaf.width_mm, leaf.length_mm, units),
                                         quantity_text(leaf.area_mm2, Quantity::area, units));
    bool taken = entry.taken;
    check_row(ui, fmt::format("{}   {}", index + 1, size).c_str(), taken);
    mark(ui, fmt::format("trace.leaf.{}", index + 1));
    if (!leaf.cut_by_edge) entry.taken = taken;
    if (leaf.stalk_mm > 0) {
        std::string const stalk = quantity_text(leaf.stalk_mm, Quantity::length, units);
        soft(ui, page.options.keep_stalk ? "The stalk adds " + stalk + "." : "Its stalk of " + stalk + " is left out.");
    }
    if (entry.taken) {
        ImGui::SetNextItemWidth(-FLT_MIN);
        ImGui::InputText("##name", &entry.name);
    }
    if (leaf.cut_by_edge) remark(ui, MarkKind::refusal, "Cut by the edge: a part is missing.", {});
    if (leaf.straight_edged) remark(ui, MarkKind::caution, "Straight-edged or grey: is it a leaf?", {});
    if (leaf.faint) remark(ui, MarkKind::caution, "Hardly any colour: does the line follow the leaf?", {});
    if (leaf.glared) remark(ui, MarkKind::caution, "Mirrored light at its edge: does the line follow the leaf?", {});
    if (leaf.several) remark(ui, MarkKind::caution, "Do leaves touch or lie on each other here?", {});
    ImVec2 const end{start.x + ImGui::GetContentRegionAvail().x, ImGui::GetCursorScreenPos().y};
    if (ImGui::IsMouseHoveringRect(start, end)) page.lit = static_cast<int>(index);
    ImGui::PopID();
}

void leaves_card(TracePage& page, UiState& ui) {
    page.lit = -1;
    if (page.leaves.empty()) return;
    Card const card(ui);
    heading(ui, "Leaves found");
    for (std::size_t k = 0; k < page.leaves.size(); ++k) leaf_entry(page, k, ui);
    soft(ui, "Drag the dot (foot) or the ring (tip) of a leaf where they are off.");
    check_row(ui, "Keep them in My leaves too", page.keep);
    mark(ui, "trace.keep");
}

// The leaves that are ticked, as leaves of the piece, and as pages of the leaf book.
void add_to_tray(TracePage& page, UiState& ui, Intents& intents) {
    Outcome<std::vector<OwnLeaf>> leaves = ticked_leaves(page);
    if (!leaves) {
        page.problem = leaves.problem();
        return;
    }
    MaybeProblem const unkept = page.keep ? keep_in_book(page.book, *leaves) : std::nullopt;
    std::string words =
        leaves->size() == 1 ? "The leaf lies in the tray" : fmt::format("{} leaves lie in the tray", leaves->size());
    if (page.keep && !unkept) words += " and in My leaves";
    if (unkept) words += "; not in My leaves: " + unkept->sentence();
    for (OwnLeaf& leaf : *leaves) intents.emplace_back(Commit{AddOwnLeaf{std::move(leaf)}});
    say(ui, words + (unkept ? "" : "."), unkept ? MessageTone::fault : MessageTone::note);
    ui.book.reset(); // it is read anew when it is opened
    ui.tracing.reset();
}

void last_rows(TracePage& page, UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    auto const ticked = std::count_if(page.leaves.begin(), page.leaves.end(), [](auto const& e) { return e.taken; });
    bool const busy = page.worker.running();
    std::string words = fmt::format("Add {} to the tray", ticked);
    if (ticked <= 1) words = ticked == 1 ? "Add it to the tray" : "Add to the tray";
    bool const add =
        button(ui, words.c_str(), ButtonLook::strong, -1, ticked > 0 && !busy && page.scale && !awaits_size(page));
    mark(ui, "trace.add");
    bool const cancel = button(ui, "Close", ButtonLook::plain, 7 * em) || ui.dialogs.escape;
    ImGui::SameLine();
    if (button(ui, "Another picture", ButtonLook::plain, -1)) {
        intents.emplace_back(OpenPhoto{});
        ui.tracing.reset();
        return;
    }
    if (add)
        add_to_tray(page, ui, intents);
    else if (cancel)
        ui.tracing.reset();
}

void side(TracePage& page, UiState& ui) {
    if (std::exchange(page.fresh, false)) ImGui::SetScrollY(0);
    title(ui, "Leaves from a photograph");
    soft(ui, page.path.filename().string());
    if (page.worker.running()) {
        ImGui::PushStyleColor(ImGuiCol_PlotHistogram, paint::leaf);
        ImGui::ProgressBar(static_cast<float>(page.worker.progress()), {-FLT_MIN, 1.4F * ui.theme.em}, "");
        ImGui::PopStyleColor();
        soft(ui, page.photo ? "Tracing" : "Reading and tracing");
        if (button(ui, "Stop", ButtonLook::plain, -1)) page.worker.cancel();
    }
    if (page.problem)
        remark(ui, MarkKind::refusal, "The picture " + page.problem->what + ".",
               page.problem->hint.empty() ? std::string() : page.problem->hint + ".");
    scale_card(page, ui);
    outline_card(page, ui);
    for (Problem const& told : page.remarks) remark(ui, MarkKind::caution, told.what + ".", told.hint + ".");
    leaves_card(page, ui);
}

} // namespace

TracePage::~TracePage() {
    if (texture) glDeleteTextures(1, &texture);
}

void trace_again(TracePage& page) {
    page.problem.reset();
    page.worker.start(page.photo, page.path, page.options);
}

bool is_picture_file(std::filesystem::path const& path) {
    std::ifstream file(path, std::ios::binary);
    std::string first(16, '\0');
    file.read(first.data(), static_cast<std::streamsize>(first.size()));
    first.resize(static_cast<std::size_t>(file.gcount()));
    return photo_kind(first) != PhotoKind::unknown;
}

void open_photo(Desk& desk, std::filesystem::path const& path) {
    if (path.empty()) return show_chooser(desk, Chooser::For::photo);
    desk.ui.tracing = std::make_shared<TracePage>(Window::wake);
    desk.ui.tracing->path = path;
    desk.ui.tracing->book = desk.leaves;
    trace_again(*desk.ui.tracing);
}

void trace_dialog(UiState& ui, Intents& intents) {
    if (!ui.tracing) return;
    float const em = ui.theme.em;
    ImVec2 const screen = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowSize({screen.x - em, screen.y - em});
    ImGui::SetNextWindowPos({0.5F * em, 0.5F * em});
    if (!begin_dialog(ui, "tracing")) return;
    std::shared_ptr<TracePage> const page = ui.tracing; // it may be taken away below
    take_answer(*page);
    float const side_width = std::min(24 * em, 0.45F * ImGui::GetContentRegionAvail().x);
    ImVec2 const avail = ImGui::GetContentRegionAvail();
    ImVec2 const room{avail.x, avail.y - 0.4F * em}; // a little spare, else the page scrolls
    trace_picture(*page, ui, {room.x - side_width - em, room.y});
    ImGui::SameLine(0, em);
    ImGui::BeginGroup();
    ImGui::BeginChild("side", {side_width, room.y - 5.4F * em});
    side(*page, ui);
    ImGui::EndChild();
    ImGui::BeginChild("last", {side_width, 5.2F * em}, false, ImGuiWindowFlags_NoScrollbar);
    last_rows(*page, ui, intents);
    ImGui::EndChild();
    ImGui::EndGroup();
    if (ui.tracing != page) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
}

} // namespace leafwright
