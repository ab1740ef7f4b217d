// The parts of the window. Each reads the piece and its plan, and pushes what the maker asks for.
#pragma once

#include "bench/desk.h"
#include "bench/leaf_drawing.h"
#include "bench/picture_pane.h"
#include "bench/widgets.h"

namespace leafwright {

struct Area {
    float x = 0;
    float y = 0;
    float width = 0;
    float height = 0;
};

// How the window is divided, in window units.
struct Layout {
    bool compact = false; // little room for the size of the text
    Area top;             // what to do with the piece
    Area figures;         // the key figures
    Area tray;            // width 0 when no leaves are laid
    Area picture;
    Area status;
    Area worktop;
    Area line;
};
Layout layout_of(UiState const& ui, float width, float height);

void top_bar(Area const& area, Desk const& desk, UiState& ui, Intents& intents);
void key_figures(Area const& area, Desk const& desk, UiState& ui);
void leaf_tray(Area const& area, Piece const& piece, UiState& ui, LeafDrawings& drawings, Intents& intents);
void making_line(Area const& area, Plan const* plan, SecondHalf const* second, UiState& ui, Intents& intents);
void status_line(Area const& area, Desk const& desk, LeafDrawings const& drawings, UiState& ui, Intents& intents);
void worktop(Area const& area, Desk const& desk, UiState& ui, LeafDrawings& drawings, Intents& intents);
void dialogs(Desk const& desk, UiState& ui, Intents& intents);
void file_chooser(UiState& ui, Intents& intents);
void keys_page(UiState& ui);
void message_bar(Area const& picture, UiState& ui);

// The picture with its handles; what the hand does there is carried out at once.
// The looks and home views: over the picture, or in a menu where room is scarce.
void look_choice(UiState& ui, Intents& intents, float width);
void view_choice(UiState& ui, Intents& intents, float width);
void picture_panel(Area const& area, Desk& desk, PicturePane& pane, std::span<PointerRecord const> records,
                   Intents& intents);
void draw_overlay(Desk& desk, ImDrawList& draw);
// Of the leaves: pins, bare spots, the lap of the leaf in hand.
void draw_row_guides(Desk& desk, ImDrawList& draw);
void proposals_page(Desk const& desk, UiState& ui, Intents& intents);
// The figure that is spread over the piece: made when the plan or the choice changed; its scale, and the value under
// the pointer; what to choose among at this stage.
void refresh_map(Desk& desk);
void draw_map_scale(Desk& desk, ImDrawList& draw);
struct Worktop;
void map_choice(Worktop const& top);
HandleKind handle_under(Desk const& desk, Vec2 const& at_window);

// One stage's inputs and answers, on the worktop.
struct Worktop {
    Piece const& piece;
    Plan const* plan;         // the newest answer; null before the first
    SecondHalf const* second; // likewise, of drying to hanging; may belong to an older plan
    bool second_is_old;
    UiState& ui;
    LeafDrawings& drawings;
    Intents& intents;
    Units units() const { return ui.settings.units; }
};
void knead_panel(Worktop const& top);
void roll_panel(Worktop const& top);
void drape_panel(Worktop const& top);
void leaves_panel(Worktop const& top);
void leaf_card(Worktop const& top);
void row_card(Worktop const& top);
void kind_card(Worktop const& top);
void features_panel(Worktop const& top);
void dry_panel(Worktop const& top);
void firing_panel(Worktop const& top, std::size_t index); // 0: the first firing, 1: the last
void finish_panel(Worktop const& top);
void hang_panel(Worktop const& top);
// The piece at this stage, and what becomes of its size and weight along the making line.
void state_card(Worktop const& top);

void draw_stage_icon(ImDrawList& draw, MakingStage stage, ImVec2 low, ImVec2 high);
void draw_outline_icon(ImDrawList& draw, OutlineKind kind, ImVec2 low, ImVec2 high);
void draw_profile_icon(ImDrawList& draw, ProfileKind kind, ImVec2 low, ImVec2 high);
void draw_feature_icon(ImDrawList& draw, FeatureKind kind, ImVec2 low, ImVec2 high);

char const* feature_label(FeatureKind kind);

// A popup that opens right below the last item.
bool begin_popup_below(UiState const& ui, char const* name);
// A question over everything; its size and place are set before. End with ImGui::EndPopup() when it is true.
bool begin_dialog(UiState const& ui, char const* name);

// Begins a part of the window; end with ImGui::End().
void begin_area(char const* name, Area const& area, ImU32 ground, bool scrolls, float padding);

} // namespace leafwright
