#include "hanging/wire.h"
#include "near.h"

using namespace leafwright;

TEST_CASE("breaking loads of copper and rope wire") {
    // Annealed copper 210 N/mm2 (Mechanical Engineers' Handbook 1998 ch. 4): 164.9336, 371.1006, 659.7345 N.
    CHECK_NEAR(wire_of("wire:copper-1.0")->breaking_N, 164.9336, 1e-4);
    CHECK_NEAR(wire_of("wire:copper-1.5")->breaking_N, 371.1006, 1e-4);
    CHECK_NEAR(wire_of("wire:copper-2.0")->breaking_N, 659.7345, 1e-4);
    // EN 10264-1: 1.0 mm of grade 1770: 1390.155 N at least.
    CHECK_NEAR(wire_of("wire:rope-1.0")->breaking_N, 1390.155, 1e-3);
    // ASTM B3 prints 0.823 mm2 for 1.024 mm.
    CHECK_NEAR(wire_of("wire:copper-1.024")->breaking_N / 210, 0.823549665, 1e-8);
}

TEST_CASE("the wire advised is the thinnest that breaks at five times the pull") {
    Wire const w = *wire_for("copper", 60); // 300 N
    CHECK(w.name == "wire:copper-1.5");
    CHECK(wire_for("copper", 32.9)->diameter_mm == 1.0); // 164.5 N
    CHECK(wire_for("copper", 33.1)->diameter_mm == 1.2);
    CHECK(!wire_for("copper", 1e5));
    CHECK(!wire_for("string", 1));
}

TEST_CASE("wires that are not known are refused") {
    for (char const* name : {"wire:gold-1.0", "wire:copper", "wire:copper-", "wire:copper-1x", "wire:copper-0.1",
                             "wire:copper-9", "wire:copper-nan", ""})
        CHECK(wire_of(name).problem().code == "wire.unknown");
}
