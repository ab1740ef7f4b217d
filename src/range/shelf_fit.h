// Whether a set of pieces has room on one shelf. Internal to the room.
#pragma once

#include "range/kiln_loads.h"

#include <map>
#include <optional>

namespace leafwright {

// What a kind takes of the kiln.
struct Stance {
    bool fits = false;
    bool standing = false;
    double height_mm = 0;
    Polygon foot; // on the shelf
    double area_mm2 = 0;
    double radius_mm = 0;  // of a circle within the foot
    double turn_deg = 0;   // in which it fits alone
    double missing_mm = 0; // when it does not fit: the least that is missing
};

class ShelfFit {
public:
    ShelfFit(KilnSpec const& kiln, ShelfSpec const& shelves, std::vector<LoadPiece> const& pieces,
             LoadOptions const& options);

    std::vector<Stance> const& stances() const { return stances_; }
    double floor_mm2() const;
    double room_height_mm() const { return height_mm_; }
    // Two pieces for which no shelf has room, by area or by the circles within them: a proof, not a search.
    bool never_together(int a, int b) const;
    // Copies by kind. Remembers what it was asked.
    bool fits(std::vector<int> const& of_kind);
    // Of a set that fits.
    std::vector<ShelfPlace> places(std::vector<int> const& of_kind);
    bool gave_up() const { return gave_up_; } // some set was refused for lack of time, not of room

private:
    using Places = std::vector<ShelfPlace>;
    Stance stance_of(LoadPiece const& piece) const;
    bool foot_fits(Polygon const& foot, Stance& stance) const;
    Places alone(int kind) const;
    // Kinds with the same foot and height count as the first of them; and back.
    std::vector<int> by_class(std::vector<int> const& of_kind) const;
    Places by_kind(Places places, std::vector<int> of_kind) const;
    std::optional<Places> in_rows(std::vector<int> const& of_kind) const;
    std::optional<Places> nested(std::vector<int> const& of_kind, bool hulls) const;
    bool is_proven_too_much(std::vector<int> const& of_kind) const;

    bool round_ = false;
    double width_mm_ = 0; // of the floor; of a round one its diameter
    double depth_mm_ = 0;
    double height_mm_ = 0;
    double gap_mm_ = 0;
    LoadOptions options_;
    std::vector<Stance> stances_;
    std::vector<int> class_of_;
    std::map<std::vector<int>, std::optional<Places>> known_;
    int nestings_ = 0;
    bool gave_up_ = false;
};

} // namespace leafwright
