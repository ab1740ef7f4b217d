// The keyboard: one table that drives both the keys and the page that lists them.
#pragma once

#include "bench/state.h"

namespace leafwright {

// Key codes: capital letters and signs by their character on the maker's own keyboard; others as GLFW numbers them.
struct KeyPress {
    int key = 0;
    bool ctrl = false;
    bool shift = false;
    bool repeat = false;
};

struct Shortcut {
    Act act;
    int key;
    bool ctrl = false;
    bool shift = false;
    bool shift_is_far = false; // Shift makes the step longer rather than another act
    char const* section = "";
    char const* keys = ""; // as the page shows them; "" for a second way to the same act
    char const* words = "";
};

std::span<Shortcut const> shortcuts();

// What a press asks for; nothing when it means nothing.
std::optional<Intent> intent_of(KeyPress const& press);

// Deeds of the mouse, for the page.
struct MouseLine {
    char const* how;
    char const* words;
};
std::span<MouseLine const> mouse_lines();

} // namespace leafwright
