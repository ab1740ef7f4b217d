#include "bench/leaf_book_page.h"

#include "bench/desk.h"
#include "bench/panels.h"
#include "leaf/clay_leaf.h"

#include <imgui_stdlib.h>

#include <fmt/format.h>

#include <array>

namespace leafwright {
namespace {

using What = BookAct::What;

BookAct doing(What what, std::string id = {}) {
    BookAct act;
    act.what = what;
    act.id = std::move(id);
    return act;
}

// One scale for all pictures, so that they show their true size beside each other.
float page_scale(LeafBookPage const& page, float cell) {
    double longest = 60;
    for (BookEntry const& entry : page.entries) {
        Vec2 const size = bounds(entry.drawing.shape.outline_mm.outer).size();
        longest = std::max({longest, size.x, size.y});
    }
    return cell / static_cast<float>(longest);
}

void pictures(LeafBookPage const& page, UiState& ui, Intents& intents, float width) {
    float const em = ui.theme.em;
    float const cell = 9 * em;
    float const scale = page_scale(page, cell - 1.5F * em);
    int const columns = std::max(1, static_cast<int>((width - em) / (cell + 0.6F * em)));
    int column = 0;
    for (BookEntry const& entry : page.entries) {
        if (column++ % columns) ImGui::SameLine(0, 0.6F * em);
        ImGui::PushID(entry.leaf.id.c_str());
        auto const picture = [&](ImDrawList& draw, ImVec2 low, ImVec2 high) {
            draw_leaf_picture(draw, entry.drawing, {0.5F * (low.x + high.x), 0.5F * (low.y + high.y)}, scale,
                              paint::clay_pale, paint::clay_dark);
        };
        std::string const name = cut_to(ui.theme.text, entry.leaf.name, cell - em);
        if (picture_button(ui, name.c_str(), page.chosen == entry.leaf.id, {cell, cell + 2.2F * em}, picture))
            intents.emplace_back(doing(What::choose, entry.leaf.id));
        mark(ui, "book." + entry.leaf.id);
        ImGui::PopID();
    }
    if (page.entries.empty())
        soft(ui, "No leaves yet. Drop an SVG drawing, a leaf file or a photograph on the window.");
    for (std::string const& file : page.left_out) remark(ui, MarkKind::caution, file, {});
}

// The leaf as it is with one end set elsewhere.
OwnLeaf with_end(OwnLeaf leaf, int end, Vec2 const& to_mm) {
    Vec2 const base = end == 0 ? to_mm : leaf.base_mm();
    Vec2 const tip = end == 1 ? to_mm : leaf.tip_mm();
    if (glm::length(tip - base) < kLeastOwn_mm) return leaf;
    leaf.midrib_mm = {base, tip};
    if (end == 0) leaf.stalk_mm = 0;
    return upright(std::move(leaf));
}

// Base and tip, to be dragged where the guess was wrong.
void ends_of_picture(LeafBookPage& page, BookEntry const& entry, UiState& ui, Intents& intents, ImVec2 centre,
                     float scale) {
    float const em = ui.theme.em;
    Vec2 const middle = bounds(entry.drawing.shape.outline_mm.outer).centre();
    auto const screen = [&](Vec2 const& p) {
        return ImVec2{centre.x + static_cast<float>(p.x - middle.x) * scale,
                      centre.y - static_cast<float>(p.y - middle.y) * scale};
    };
    ImVec2 const mouse = ImGui::GetIO().MousePos;
    Vec2 const pointed = middle + Vec2{mouse.x - centre.x, centre.y - mouse.y} / static_cast<double>(scale);
    std::array<Vec2, 2> ends{entry.leaf.base_mm(), entry.leaf.tip_mm()};
    if (ImGui::IsItemActivated()) {
        page.handle = -1;
        double nearest = 1.2 * static_cast<double>(em / scale);
        for (int k = 0; k < 2; ++k)
            if (double const d = glm::length(ends[static_cast<std::size_t>(k)] - pointed); d < nearest)
                nearest = d, page.handle = k;
    }
    if (ImGui::IsItemActive() && page.handle >= 0)
        page.handle_mm = ends[static_cast<std::size_t>(page.handle)] = pointed;
    if (ImGui::IsItemDeactivated() && page.handle >= 0) {
        OwnLeaf moved = with_end(entry.leaf, page.handle, page.handle_mm);
        moved.name = page.edited.name;
        page.edited = std::move(moved);
        page.handle = -1;
        intents.emplace_back(doing(What::words));
    }
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddLine(screen(ends[0]), screen(ends[1]), faded(paint::leaf, 0.6F), 0.08F * em);
    draw.AddCircleFilled(screen(ends[0]), 0.4F * em, paint::leaf);
    draw.AddCircle(screen(ends[1]), 0.42F * em, paint::leaf, 0, 0.16F * em);
}

// The chosen leaf, its fine places ringed.
void large_picture(LeafBookPage& page, BookEntry const& entry, UiState& ui, Intents& intents, float width) {
    float const em = ui.theme.em;
    float const height = 13 * em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton("large", {width, height});
    mark(ui, "book.picture");
    Box2 const box = bounds(entry.drawing.shape.outline_mm.outer);
    float const scale = std::min((height - 1.6F * em) / static_cast<float>(box.size().y),
                                 (width - 1.6F * em) / static_cast<float>(box.size().x));
    ImVec2 const centre{at.x + 0.5F * width, at.y + 0.5F * height};
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw_leaf_picture(draw, entry.drawing, centre, scale, paint::clay_pale, paint::clay_dark);
    for (FineSpot const& spot : page.fine) {
        ImVec2 const p{centre.x + static_cast<float>(spot.at_mm.x - box.centre().x) * scale,
                       centre.y - static_cast<float>(spot.at_mm.y - box.centre().y) * scale};
        float const radius = std::max(0.55F * em, static_cast<float>(0.6 * page.thickness_mm) * scale);
        draw.AddCircle(p, radius, paint::caution, 0, 0.16F * em);
    }
    ends_of_picture(page, entry, ui, intents, centre, scale);
    soft(ui, "Drag the dot (foot) or the ring (tip) where they are off.");
}

bool typed(UiState& ui, char const* label, std::string& text) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(label);
    ImGui::SameLine(5 * ui.theme.em);
    ImGui::SetNextItemWidth(-FLT_MIN);
    ImGui::PushID(label);
    ImGui::InputText("##text", &text);
    bool const done = ImGui::IsItemDeactivatedAfterEdit();
    ImGui::PopID();
    return done;
}

void words(LeafBookPage& page, UiState& ui, Intents& intents) {
    bool done = typed(ui, "Name", page.edited.name);
    mark(ui, "book.name");
    done = typed(ui, "Date", page.edited.date) || done;
    done = typed(ui, "Place", page.edited.place) || done;
    static constexpr std::array<char const*, 7> kVeins{"Feather", "Lobed", "Palm",    "Lengthwise",
                                                       "Forking", "None",  "As drawn"};
    int const known = page.edited.drawn_veins_mm.empty() ? 6 : 7;
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Veins");
    int veins = static_cast<int>(page.edited.veins);
    ImGui::SameLine(5 * ui.theme.em);
    ImGui::SetNextItemWidth(-FLT_MIN);
    if (ImGui::Combo("##veins", &veins, kVeins.data(), known)) {
        page.edited.veins = static_cast<VeinPattern>(veins);
        done = true;
    }
    if (done) intents.emplace_back(doing(What::words));
}

void measured(BookEntry const& entry, UiState& ui) {
    LeafMeasures const& m = entry.measures;
    Units const units = ui.settings.units;
    double const whole = length_mm(entry.leaf);
    bool const stalked = whole > m.length_mm + 0.5;
    answer(ui, "Width and length", size_text(m.width_mm, m.length_mm, units),
           stalked ? fmt::format("{} long with its stalk", quantity_text(whole, Quantity::length, units)) : "");
    answer(ui, "Area", quantity_text(m.area_mm2, Quantity::area, units),
           m.size.empty() ? m.size : "botanists' size class: " + m.size);
    answer(ui, "Edge", quantity_text(m.perimeter_mm, Quantity::length, units));
    answer(ui, "Shape", m.shape,
           fmt::format("{} edge, {} tip, {} base, shape factor {:.2f}", m.margin, m.apex, m.base, m.shape_factor));
    if (entry.leaf.scale_error > 0)
        answer(ui, "True within", fmt::format("{:.1f} %", 200 * entry.leaf.scale_error), "from the photograph's scale");
}

std::string volume_text(double mm3, Units units) {
    return units == Units::inches ? fmt::format("{:.2f} in³", mm3 / (25.4 * 25.4 * 25.4))
                                  : fmt::format("{:.1f} cm³", 0.001 * mm3);
}

void in_clay(LeafBookPage const& page, BookEntry const& entry, BodySpec const& body, UiState& ui, Intents& intents) {
    double thickness = page.thickness_mm;
    if (value_row(ui, "Clay rolled to", thickness, Quantity::length, {2, 20}) != Touch::none)
        intents.emplace_back(BookAct{What::thickness, {}, {}, thickness});
    Units const units = ui.settings.units;
    double const shrinkage = 1 - (1 - body.drying_shrinkage.value) * (1 - body.firing_shrinkage.value);
    double const whole = length_mm(entry.leaf);
    answer(ui, "Clay for one", volume_text(clay_volume_mm3(entry.leaf.outline_mm, thickness), units));
    answer(ui, "Cut at true size it ends", quantity_text(finished_length_mm(whole, shrinkage), Quantity::length, units),
           fmt::format("To end at true size cut it {}.",
                       quantity_text(cut_length_mm(whole, shrinkage), Quantity::length, units)));
    if (page.fine.empty()) return;
    std::size_t const necks = static_cast<std::size_t>(
        std::count_if(page.fine.begin(), page.fine.end(), [](FineSpot const& spot) { return spot.neck; }));
    remark(ui, MarkKind::caution,
           fmt::format("{} too fine to hold in clay of this thickness{}.",
                       page.fine.size() == 1 ? "A place is" : fmt::format("{} places are", page.fine.size()),
                       !necks                  ? std::string()
                       : page.fine.size() == 1 ? std::string("; leaf hangs on it")
                                               : fmt::format("; leaf hangs on {} of them", necks)),
           "Ringed above. What is fine dries first, curls and snaps.");
    if (button(ui, page.fine.size() == 1 ? "Thicken it" : "Thicken them", ButtonLook::plain, -1))
        intents.emplace_back(doing(What::thicken));
    mark(ui, "book.thicken");
}

// What pressing it would do: the piece keeps its own copy of a leaf.
char const* use_words(BookEntry const& entry, Piece const& piece) {
    auto const same = std::ranges::find(piece.own_leaves, entry.leaf.id, &OwnLeaf::id);
    if (same == piece.own_leaves.end()) return "Use in this piece";
    return *same == entry.leaf ? "Lies in the tray as it is here" : "Change it in this piece too";
}

void buttons(LeafBookPage& page, BookEntry const& entry, Piece const& piece, UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    if (button(ui, use_words(entry, piece), ButtonLook::strong, -1)) intents.emplace_back(doing(What::use));
    mark(ui, "book.use");
    float const half = 0.5F * (ImGui::GetContentRegionAvail().x - 0.5F * em);
    if (button(ui, "Mirror it", ButtonLook::plain, half, true, "The other hand: left becomes right"))
        intents.emplace_back(doing(What::other_hand));
    ImGui::SameLine(0, 0.5F * em);
    if (button(ui, "Swap foot and tip", ButtonLook::plain, half, true, "The guess was wrong: the tip is the foot"))
        intents.emplace_back(doing(What::turn_round));
    if (button(ui, "Delete", ButtonLook::plain, half)) intents.emplace_back(doing(What::remove));
    mark(ui, "book.delete");
    ImGui::SameLine(0, 0.5F * em);
    if (button(ui, "Export", ButtonLook::plain, half)) page.export_to = page.chosen + ".leaf.json";
    mark(ui, "book.export");
    if (page.export_to.empty()) return;
    ImGui::SetNextItemWidth(-7 * em);
    ImGui::InputText("##export", &page.export_to);
    ImGui::SameLine();
    if (button(ui, "Write", ButtonLook::plain, -1)) {
        std::filesystem::path path = page.export_to;
        char const* const home = std::getenv("HOME");
        if (path.is_relative() && home) path = std::filesystem::path(home) / path;
        intents.emplace_back(BookAct{What::write, {}, path});
        page.export_to.clear();
    }
    soft(ui, "A name alone goes into your home folder.");
}

void last_row(LeafBookPage& page, UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    if (button(ui, "Import a file", ButtonLook::plain, 10 * em)) intents.emplace_back(doing(What::ask_file));
    mark(ui, "book.import");
    ImGui::SameLine();
    if (button(ui, "From a photograph", ButtonLook::plain, 12 * em)) {
        intents.emplace_back(doing(What::close));
        intents.emplace_back(OpenPhoto{});
    }
    if (!page.binned.empty()) {
        ImGui::SameLine();
        std::string const words = "Bring back " + cut_to(ui.theme.text, page.binned.back().name, 8 * em);
        if (button(ui, words.c_str()) || ui.dialogs.undo) intents.emplace_back(doing(What::restore));
        mark(ui, "book.restore");
    }
    ImGui::SameLine();
    if (button(ui, "Close", ButtonLook::plain, 7 * em) || ui.dialogs.escape) intents.emplace_back(doing(What::close));
    mark(ui, "book.close");
}

void what_is_wrong(LeafBookPage& page, UiState& ui, Intents& intents) {
    if (page.problem.empty()) return;
    remark(ui, MarkKind::refusal, page.problem, {});
    if (page.sizeless.empty()) return;
    value_row(ui, "The leaf is as long as", page.sizeless_mm, Quantity::length, {15, 400});
    if (button(ui, "Take it at that length", ButtonLook::strong, -1))
        intents.emplace_back(BookAct{What::import, {}, page.sizeless, page.sizeless_mm});
}

} // namespace

void book_dialog(Desk const& desk, UiState& ui, Intents& intents) {
    if (!ui.book || ui.dialogs.chooser) return;
    float const em = ui.theme.em;
    ImVec2 const screen = ImGui::GetIO().DisplaySize;
    ImVec2 const size{std::min(64 * em, screen.x - em), std::min(46 * em, screen.y - em)};
    ImGui::SetNextWindowSize(size);
    ImGui::SetNextWindowPos({0.5F * (screen.x - size.x), 0.5F * (screen.y - size.y)});
    if (!begin_dialog(ui, "leaf book")) return;
    std::shared_ptr<LeafBookPage> const page = ui.book; // it may be taken away by what is done
    title(ui, "My leaves");
    float const side = std::min(25 * em, 0.48F * size.x);
    ImVec2 const room = ImGui::GetContentRegionAvail();
    float const height = room.y - 3.2F * em;
    ImGui::BeginChild("pictures", {room.x - side - em, height}, true);
    what_is_wrong(*page, ui, intents);
    pictures(*page, ui, intents, room.x - side - em);
    ImGui::EndChild();
    ImGui::SameLine(0, em);
    ImGui::BeginChild("leaf", {side, height});
    if (BookEntry const* const entry = page->chosen_entry()) {
        // What is ringed in the picture is told farther down: it stays in sight where there is room.
        bool const stays = height > 34 * em;
        large_picture(*page, *entry, ui, intents, ImGui::GetContentRegionAvail().x);
        if (stays) ImGui::BeginChild("words");
        words(*page, ui, intents);
        buttons(*page, *entry, desk.state.history.shown(), ui, intents);
        measured(*entry, ui);
        in_clay(*page, *entry, desk.state.history.shown().body, ui, intents);
        ImGui::Dummy({1, 0.5F * em});
        if (stays) ImGui::EndChild();
    }
    ImGui::EndChild();
    last_row(*page, ui, intents);
    ImGui::EndPopup();
}

} // namespace leafwright
