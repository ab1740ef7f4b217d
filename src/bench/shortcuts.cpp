#include "bench/shortcuts.h"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

namespace leafwright {
namespace {

constexpr char const* kFile = "The piece";
constexpr char const* kLeaf = "Chosen leaves";
constexpr char const* kLook = "Looking";
constexpr char const* kBench = "The bench";

constexpr Shortcut kShortcuts[] = {
    {Act::new_piece, 'N', true, false, false, kFile, "Ctrl+N", "New piece"},
    {Act::open, 'O', true, false, false, kFile, "Ctrl+O", "Open a piece"},
    {Act::save, 'S', true, false, false, kFile, "Ctrl+S", "Save"},
    {Act::save_as, 'S', true, true, false, kFile, "Ctrl+Shift+S", "Save under another name"},
    {Act::undo, 'Z', true, false, false, kFile, "Ctrl+Z", "Undo"},
    {Act::redo, 'Y', true, false, false, kFile, "Ctrl+Y", "Redo"},
    {Act::redo, 'Z', true, true, false, kFile, "", ""},
    {Act::close_bench, 'Q', true, false, false, kFile, "Ctrl+Q", "Close the bench"},

    {Act::nudge_left, GLFW_KEY_LEFT, false, false, true, kLeaf, "Arrow keys", "Move by 1 mm; with Shift by 10 mm"},
    {Act::nudge_right, GLFW_KEY_RIGHT, false, false, true, kLeaf, "", ""},
    {Act::nudge_up, GLFW_KEY_UP, false, false, true, kLeaf, "", ""},
    {Act::nudge_down, GLFW_KEY_DOWN, false, false, true, kLeaf, "", ""},
    {Act::turn_left, 'R', false, false, false, kLeaf, "R", "Turn left by 5°"},
    {Act::turn_right, 'R', false, true, false, kLeaf, "Shift+R", "Turn right by 5°"},
    {Act::larger, '+', false, false, true, kLeaf, "+", "Larger"},
    {Act::larger, '=', false, false, true, kLeaf, "", ""},
    {Act::larger, GLFW_KEY_KP_ADD, false, false, true, kLeaf, "", ""},
    {Act::smaller, '-', false, false, true, kLeaf, "−", "Smaller"},
    {Act::smaller, GLFW_KEY_KP_SUBTRACT, false, false, true, kLeaf, "", ""},
    {Act::flip, 'F', false, false, false, kLeaf, "F", "Turn over to the mirror image"},
    {Act::lift, 'L', false, false, false, kLeaf, "L", "Lift: take it in hand again"},
    {Act::copy, 'D', true, false, false, kLeaf, "Ctrl+D", "Copy"},
    {Act::mirror, 'M', false, false, false, kLeaf, "M", "Add mirror images on the other side"},
    {Act::over, ']', false, false, false, kLeaf, "] or Page up", "Over the next leaf that touches it"},
    {Act::over, GLFW_KEY_PAGE_UP, false, false, false, kLeaf, "", ""},
    {Act::under, '[', false, false, false, kLeaf, "[ or Page down", "Under the next leaf that touches it"},
    {Act::under, GLFW_KEY_PAGE_DOWN, false, false, false, kLeaf, "", ""},
    {Act::to_top, GLFW_KEY_PAGE_UP, false, true, false, kLeaf, "Shift+Page up", "On top of all"},
    {Act::to_bottom, GLFW_KEY_PAGE_DOWN, false, true, false, kLeaf, "Shift+Page down", "Beneath all"},
    {Act::pin, 'P', false, false, false, kLeaf, "P", "Pin: stays when rows are laid again"},
    {Act::remove, GLFW_KEY_DELETE, false, false, false, kLeaf, "Delete", "Take off"},
    {Act::remove, GLFW_KEY_BACKSPACE, false, false, false, kLeaf, "", ""},
    {Act::next_leaf, GLFW_KEY_TAB, false, false, false, kLeaf, "Tab", "Next leaf, in laying order"},
    {Act::previous_leaf, GLFW_KEY_TAB, false, true, false, kLeaf, "Shift+Tab", "Leaf before"},
    {Act::select_all, 'A', true, false, false, kLeaf, "Ctrl+A", "Choose all leaves"},
    {Act::put_back, GLFW_KEY_ESCAPE, false, false, false, kLeaf, "Esc", "Put back what is in hand; choose nothing"},

    {Act::toggle_look, GLFW_KEY_SPACE, false, false, false, kLook, "Space", "The piece, or the slab laid flat"},
    {Act::view_front, GLFW_KEY_F2, false, false, false, kLook, "F2", "From the front"},
    {Act::view_side, GLFW_KEY_F3, false, false, false, kLook, "F3", "From the side"},
    {Act::view_above, GLFW_KEY_F4, false, false, false, kLook, "F4", "From above"},
    {Act::view_quarter, GLFW_KEY_F5, false, false, false, kLook, "F5", "From a quarter"},
    {Act::view_home, GLFW_KEY_HOME, false, false, false, kLook, "Home", "The whole piece again"},

    {Act::lay_rows, GLFW_KEY_F8, false, false, false, kBench, "F8", "Lay rows by the rules"},
    {Act::another_arrangement, GLFW_KEY_F8, false, true, false, kBench, "Shift+F8", "Try another arrangement"},
    {Act::show_proposals, GLFW_KEY_F9, false, false, false, kBench, "F9", "Four arrangements to choose from"},
    {Act::toggle_units, 'U', true, false, false, kBench, "Ctrl+U", "Metric, or inches and pounds"},
    {Act::text_larger, '+', true, false, true, kBench, "Ctrl +", "Larger text"},
    {Act::text_larger, '=', true, false, true, kBench, "", ""},
    {Act::text_smaller, '-', true, false, true, kBench, "Ctrl −", "Smaller text"},
    {Act::toggle_keys, GLFW_KEY_F1, false, false, false, kBench, "F1 or ?", "This page"},
    {Act::toggle_keys, '?', false, false, true, kBench, "", ""},
};

constexpr MouseLine kMouseLines[] = {
    {"Click a leaf", "Choose it; with Shift, one more"},
    {"Drag a leaf", "Move it over the clay; it settles on a row near by, with Ctrl held it lies anywhere"},
    {"Drag the round handle", "Turn the leaf or the feature"},
    {"Drag the square handle", "Size the leaf or the feature"},
    {"Ctrl + drag", "Choose all leaves in a box; with Shift, add them"},
    {"Double click a leaf", "Its card"},
    {"Click in the tray", "Take a leaf in hand; each click lays one, Esc puts it back"},
    {"Drag from the tray", "Lay one leaf"},
    {"Ctrl + wheel", "Turn what is in hand or chosen"},
    {"Shift + wheel", "Size what is in hand or chosen"},
    {"Drag beside the leaves, or right drag", "Turn the piece"},
    {"Middle drag, or Shift + drag", "Move the picture"},
    {"Wheel", "Nearer and farther"},
    {"Arrow keys over a slider", "One step left or right; with Shift, ten"},
    {"Drop a file on the window", "Open it"},
};

// With Ctrl, for a figure typed beside its field must not lead away from the page.
std::optional<MakingStage> stage_of_key(KeyPress const& press) {
    if (!press.ctrl || press.shift || press.key < '0' || press.key > '9') return std::nullopt;
    return kMakingLine[static_cast<std::size_t>(press.key == '0' ? 9 : press.key - '1')];
}

} // namespace

std::span<Shortcut const> shortcuts() { return kShortcuts; }
std::span<MouseLine const> mouse_lines() { return kMouseLines; }

std::optional<Intent> intent_of(KeyPress const& press) {
    if (auto const stage = stage_of_key(press)) return GoToStage{*stage};
    for (Shortcut const& shortcut : kShortcuts) {
        bool const shift_fits = shortcut.shift_is_far || shortcut.shift == press.shift;
        if (shortcut.key == press.key && shortcut.ctrl == press.ctrl && shift_fits)
            return DoAct{shortcut.act, shortcut.shift_is_far && press.shift};
    }
    return std::nullopt;
}

} // namespace leafwright
