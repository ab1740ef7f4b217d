// Fit for out of doors: what absorption and saturation tell, and what only a test tells.
#include "finish/finish.h"

#include <fmt/format.h>

namespace leafwright {

std::string_view absorption_group(double absorption) {
    if (absorption <= 0.005) return "Ia";
    if (absorption <= 0.03) return "Ib";
    if (absorption <= 0.06) return "IIa";
    return absorption <= 0.10 ? "IIb" : "III";
}

bool severe_weather(double cold_absorption, double boil_absorption) {
    constexpr double kMostBoil = 0.20;
    constexpr double kWaived = 0.08;
    constexpr double kMostSaturation = 0.80;
    if (!(boil_absorption > 0) || boil_absorption > kMostBoil) return false;
    return cold_absorption <= kWaived || cold_absorption / boil_absorption <= kMostSaturation;
}

std::string_view outdoors_name(Outdoors o) {
    return o == Outdoors::likely ? "likely" : o == Outdoors::doubtful ? "doubtful" : "unlikely";
}

namespace {

// By the absorption alone: dense bodies take up too little to burst; common practice, no source, for the limits of use.
Outdoors by_absorption(Figure const& absorption) {
    if (absorption.high <= 0.03) return Outdoors::likely;
    return absorption.value <= 0.06 ? Outdoors::doubtful : Outdoors::unlikely;
}

std::string words_of(Outdoors fit, bool tested) {
    if (fit == Outdoors::likely)
        return tested ? "The test lets it stand severe weather"
                      : "Dense enough to stand frost, if it comes out as reckoned";
    if (fit == Outdoors::doubtful) return "Frost may harm it: test a tile of the same firing before it hangs outside";
    return "Too porous for frost: keep it indoors, or fire the body until it is dense";
}

} // namespace

OutdoorAnswer outdoor_answer(FinishSpec const& spec, Figure const& absorption) {
    OutdoorAnswer a;
    a.group = absorption_group(absorption.value);
    a.group_low = absorption_group(absorption.low);
    a.group_high = absorption_group(absorption.high);
    bool const tested = spec.cold_absorption > 0 && spec.boil_absorption > 0;
    if (tested) a.saturation = spec.cold_absorption / spec.boil_absorption;
    a.fit = !tested                                                      ? by_absorption(absorption)
            : severe_weather(spec.cold_absorption, spec.boil_absorption) ? Outdoors::likely
                                                                         : Outdoors::unlikely;
    a.words = words_of(a.fit, tested);
    a.known.push_back(fmt::format("Absorption {:.1f} % ({:.1f} to {:.1f} %): group {} of ISO 13006.",
                                  100 * absorption.value, 100 * absorption.low, 100 * absorption.high, a.group));
    if (tested)
        a.known.push_back(
            fmt::format("Saturation coefficient {:.2f}; ASTM C216 asks at most 0.80 of one piece, unless 24 "
                        "h cold absorption is 8 % or less.",
                        a.saturation));
    a.known.push_back(
        fmt::format("Ice takes 9 % more room: pores more than {:.0f} % full burst.", 100 * kCriticalSaturation));
    a.only_tests = {"ISO 10545-3: absorption of a tile from the same firing, under vacuum.",
                    "ASTM C67: cold and boil absorption, and 50 cycles of freezing and thawing.",
                    "ISO 10545-12: at least 100 cycles between +5 and -5 degC after vacuum soaking.",
                    "ASTM C1026: 300 cycles, saturated."};
    return a;
}

} // namespace leafwright
