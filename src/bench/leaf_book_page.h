// The leaf book in the window: the maker's own leaves, looked through, measured and used.
#pragma once

#include "bench/leaf_drawing.h"
#include "bench/state.h"
#include "leaf/leaf_measures.h"
#include "leaf/own_leaf.h"

namespace leafwright {

struct Desk;

struct BookEntry {
    OwnLeaf leaf;
    LeafMeasures measures;
    LeafDrawing drawing;
};

struct BinnedLeaf {
    std::string id;
    std::string name;
};

struct LeafBookPage {
    std::filesystem::path folder;
    std::vector<BookEntry> entries;
    std::vector<std::string> left_out;
    std::string chosen; // id
    OwnLeaf edited;     // the chosen one while its words are typed
    double thickness_mm = 5;
    std::vector<FineSpot> fine;     // of the chosen one, at its true size and that thickness
    std::vector<BinnedLeaf> binned; // what was deleted, the last one at the end
    std::string problem;
    std::filesystem::path sizeless; // a drawing that tells no size
    double sizeless_mm = 80;
    std::string export_to;
    int handle = -1; // what is dragged in the large picture: 0 the base, 1 the tip
    Vec2 handle_mm{0, 0};
    BookEntry const* chosen_entry() const;
};

// book_acts.cpp
void act_on_book(Desk& desk, BookAct const& act);
// The page itself.
void book_dialog(Desk const& desk, UiState& ui, Intents& intents);

} // namespace leafwright
