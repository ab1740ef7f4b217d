// The former: a plan outline raised to a crown by a profile. Plan x right, y up (as the piece hangs), z away from the
// board: rim at z = 0, crown at z = crown_mm.
#pragma once

#include "former/outline.h"

namespace leafwright {

enum class ProfileKind { dome, saucer, full, tape };

struct ProfileSpec {
    ProfileKind kind = ProfileKind::dome;
    double crown_mm = 90;      // 3 to 500
    double fullness = 2.0;     // dome: exponent of the superellipse in the profile, 1.5 to 8; full: 1/share of shoulder
    double tape_across_mm = 0; // tape: length over the crown from rim to rim, left-right
    double tape_along_mm = 0;  // and up-down
    bool operator==(ProfileSpec const&) const = default;
};

struct FormerSpec {
    OutlineSpec outline;
    ProfileSpec profile;
    bool operator==(FormerSpec const&) const = default;
};

// A point of the surface and its derivatives along the meridian parameter w (crown 0, rim 1) and the azimuth.
struct MeridianJet {
    Vec3 position;
    Vec3 by_w;
    Vec3 by_azimuth;
};

class Profile;

struct FormerMeasures {
    double surface_mm2 = 0;
    double plan_mm2 = 0;
    double rim_mm = 0;
    double tape_across_mm = 0; // rim to rim over the crown, left-right
    double tape_along_mm = 0;  // up-down
    double volume_mm3 = 0;     // between surface and board
};

class Former {
public:
    // Problem "range" names the field; "tape.short"/"tape.long" when no profile of that crown has such a tape length
    // (the sentence tells the possible range).
    static Outcome<Former> make(FormerSpec const& spec);

    FormerSpec const& spec() const;
    Outline const& outline() const;
    Profile const& profile() const;

    // w in [0, 1]; the meridian is smooth between profile_breaks(). by_w may jump there.
    MeridianJet at(double azimuth_rad, double w) const;
    std::vector<double> const& profile_breaks() const; // 0, ..., 1

    // Relative error below 1e-6 on the closed forms (sphere, ellipsoid, cap).
    FormerMeasures measures() const;

private:
    struct Data;
    explicit Former(std::shared_ptr<Data const> data);
    std::shared_ptr<Data const> data_;
};

} // namespace leafwright
