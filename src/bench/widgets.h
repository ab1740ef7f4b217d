// Building blocks of the panels: large targets, plain words, values with units.
#pragma once

#include "bench/state.h"

#include <functional>

namespace leafwright {

// What happened to a value: nothing, it moves under the hand, or the hand let go.
enum class Touch { none, moving, done };
inline Touch operator|(Touch a, Touch b) { return a > b ? a : b; }

// A moving value is shown as a preview, one that was let go becomes an entry of the history.
void send(Intents& intents, Touch touch, Command command);

struct Limits {
    double low = 0;
    double high = 1;
};

// Label, box to type in (with units) and slider. Values are kept in the range.
Touch value_row(UiState& ui, char const* label, double& value, Quantity quantity, Limits range,
                char const* note = nullptr);
// A tip at the pointer, wrapped to a readable width.
void tip(UiState const& ui, std::string_view words);
// The box alone.
Touch value_box(UiState& ui, char const* id, double& value, Quantity quantity, Limits range, float width);
Touch check_row(UiState& ui, char const* label, bool& value);

enum class ButtonLook { plain, strong, quiet };
// width 0: as the text asks; below 0: the width that is left.
// A texture of OpenGL as the drawing library takes it.
ImTextureID texture_id(unsigned texture);

bool button(UiState& ui, char const* label, ButtonLook look = ButtonLook::plain, float width = 0, bool enabled = true,
            char const* hint = nullptr);
// A choice among two or more, side by side. Returns whether it changed.
bool segmented(UiState& ui, char const* id, std::span<char const* const> labels, int& chosen, float width = 0);

using Drawing = std::function<void(ImDrawList&, ImVec2 low, ImVec2 high)>;
// A large button with a picture and a word beneath; the chosen one carries a frame and a tick.
bool picture_button(UiState& ui, char const* label, bool chosen, ImVec2 size, Drawing const& draw);

void title(UiState& ui, char const* text);
void heading(UiState& ui, char const* text);
void sentence(std::string_view text);
void soft(UiState& ui, std::string_view text); // smaller and softer, wrapped
// "Label ............ value", and a note beneath.
void answer(UiState& ui, char const* label, std::string_view value, std::string_view note = {});
// The same with a bar that shows its share of the whole.
void part_bar(UiState& ui, char const* label, std::string_view value, double share);

enum class MarkKind { caution, refusal, tick };
// Triangle with "!", octagon with a bar, or a tick: told apart by shape.
void draw_mark(ImDrawList& draw, MarkKind kind, ImVec2 centre, float size);
void remark(UiState& ui, MarkKind kind, std::string_view text, std::string_view hint);
void remarks_of(UiState& ui, std::vector<Warning> const& warnings, MakingStage stage);

// A white sheet with a soft border behind what is drawn until its end.
class Card {
public:
    explicit Card(UiState const& ui);
    ~Card();
    Card(Card const&) = delete;
    Card& operator=(Card const&) = delete;

private:
    float pad_;
    ImVec2 start_;
    float width_;
};

// Text in one line, made smaller until it fits; returns its width.
float fitted_text(ImDrawList& draw, ImFont* font, ImVec2 at, float width, ImU32 paint, std::string_view text,
                  bool centred = false);
// The text, its end replaced by "…" when it is wider.
std::string cut_to(ImFont* font, std::string_view text, float width);
ImVec2 text_size(ImFont* font, std::string_view text);
// Remembers where the last item is on the screen.
void mark(UiState& ui, std::string const& name);

} // namespace leafwright
