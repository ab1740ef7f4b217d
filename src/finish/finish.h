// The finish: true area of the face, grams of wash or glaze, and what is known of the fired body out of doors.
#pragma once

#include "base/figure.h"
#include "drying/clay_map.h"

#include <string>

namespace leafwright {

enum class FinishKind { none, oxide_wash, glaze, cold };
std::string_view finish_name(FinishKind kind); // "none", "oxide-wash", "glaze", "cold"

struct FinishSpec {
    FinishKind kind = FinishKind::oxide_wash;
    int layers = 1;       // 1 to 6
    double g_per_m2 = 0;  // dry, one layer; 0: the usual amount of the kind; to 3000
    bool outdoors = true; // where it is to hang
    // The maker's own test of the fired body, shares of its mass; 0: not tested; to 0.4.
    double cold_absorption = 0; // 24 h in cold water
    double boil_absorption = 0; // 5 h in boiling water
    bool operator==(FinishSpec const&) const = default;
};

// Dry matter of one layer, g/m2: oxide wash 30 (15 to 60), glaze 350 (250 to 500), cold finish 60 (40 to 100). Common
// practice, no source.
Figure usual_g_per_m2(FinishKind kind);

// Area of the outer face with its leaves, slopes and leaf edges, plastic size, mm2. Over a base with metric g (det 1) a
// height h has area sqrt(1 + grad h . g^-1 grad h); cells of the stack's own grid, the base by the face map.
double true_face_mm2(ClayMap const& clay, HeightPatch const& height);

struct FinishAnswer {
    FinishKind kind = FinishKind::none;
    double face_mm2 = 0;            // true area of the front when it is finished
    double plain_mm2 = 0;           // the slab's outer face alone, then
    Figure dry_g;                   // all layers
    Figure water_g;                 // to mix it with
    std::vector<std::string> steps; // in the order of work
    std::vector<std::string> cautions;
};
// `size_factor`: length then over plastic length.
FinishAnswer finish_answer(FinishSpec const& spec, double face_mm2, double plain_mm2, double size_factor);

// Groups of ISO 13006 by absorption (share of mass): Ia to 0.5 %, Ib to 3 %, IIa to 6 %, IIb to 10 %, III above.
std::string_view absorption_group(double absorption);
// Facing brick for severe weather, ASTM C216 (one piece): cold over boil at most 0.80, unless 24 h cold is at most 8 %;
// boil at most 20 %.
bool severe_weather(double cold_absorption, double boil_absorption);
// Water in the open pores above which ice has no room: density of ice over that of water.
inline constexpr double kCriticalSaturation = 916.7 / 999.84;

enum class Outdoors { likely, doubtful, unlikely };
std::string_view outdoors_name(Outdoors o); // "likely", "doubtful", "unlikely"

struct OutdoorAnswer {
    std::string group;     // of the best value
    std::string group_low; // and of the ends of its range
    std::string group_high;
    double saturation = 0; // cold over boil; 0: not tested
    Outdoors fit = Outdoors::doubtful;
    std::string words;                   // a sentence
    std::vector<std::string> known;      // what the figures tell
    std::vector<std::string> only_tests; // what only a test tells
};
OutdoorAnswer outdoor_answer(FinishSpec const& spec, Figure const& absorption);

} // namespace leafwright
