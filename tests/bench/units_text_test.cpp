#include "bench/units_text.h"

#include "near.h"

#include <doctest/doctest.h>

using namespace leafwright;

TEST_CASE("a length in millimetres or inches, by the international inch of 25.4 mm") {
    CHECK(quantity_text(305, Quantity::length, Units::metric) == "305 mm");
    CHECK(quantity_text(304.8, Quantity::length, Units::inches) == "12.0 in");
    CHECK(quantity_text(25.4, Quantity::length, Units::inches) == "1.00 in");
    CHECK(quantity_text(6.5, Quantity::length, Units::metric) == "6.5 mm");
    CHECK(quantity_text(-0.2, Quantity::length, Units::metric) == "-0.2 mm");
    CHECK(quantity_text(-0.001, Quantity::length, Units::metric) == "0 mm");
}

TEST_CASE("a mass in grams or kilograms, ounces or pounds, by the avoirdupois pound of 453.59237 g") {
    CHECK(quantity_text(850, Quantity::mass, Units::metric) == "850 g");
    CHECK(quantity_text(3213.2, Quantity::mass, Units::metric) == "3.21 kg");
    CHECK(quantity_text(12345, Quantity::mass, Units::metric) == "12.3 kg");
    CHECK(quantity_text(453.59237 * 5, Quantity::mass, Units::inches) == "5.00 lb");
    CHECK(quantity_text(453.59237 / 2, Quantity::mass, Units::inches) == "8.0 oz");
    CHECK(quantity_text(999.6, Quantity::mass, Units::metric) == "1.00 kg"); // never "1000 g"
}

TEST_CASE("areas and shares") {
    CHECK(quantity_text(135972.6, Quantity::area, Units::metric) == "1360 cm²");
    CHECK(quantity_text(1.2, Quantity::area, Units::metric) == "1 mm²");
    CHECK(quantity_text(99.4, Quantity::area, Units::metric) == "99 mm²");
    CHECK(quantity_text(99.6, Quantity::area, Units::metric) == "1.0 cm²");
    CHECK(quantity_text(0, Quantity::area, Units::metric) == "0 cm²");
    CHECK(read_quantity("40 mm²", Quantity::area, Units::metric) == 40.0);
    CHECK(quantity_text(645.16, Quantity::area, Units::inches) == "1.0 in²"); // 25.4 squared
    CHECK(quantity_text(0.345, Quantity::share, Units::metric) == "34 %");
    CHECK(quantity_text(0.065, Quantity::share, Units::metric) == "6.5 %");
    CHECK(quantity_text(90, Quantity::angle, Units::inches) == "90°");
}

TEST_CASE("a range is shown only where its ends differ as shown") {
    Figure const wide{3210, 3060, 3390, FigureFrom::by_default};
    CHECK(figure_text(wide, Quantity::mass, Units::metric) == "3.21 kg (3.06 to 3.39)");
    CHECK(range_text(wide, Quantity::mass, Units::metric) == "3.06 to 3.39 kg");
    Figure const narrow{3210, 3209.9, 3210.1, FigureFrom::measured};
    CHECK(figure_text(narrow, Quantity::mass, Units::metric) == "3.21 kg");
    CHECK(range_text(narrow, Quantity::mass, Units::metric).empty());
    CHECK(range_text(Figure::exact(5), Quantity::mass, Units::metric).empty());
}

TEST_CASE("what a maker types is read in the units on the screen, or in its own") {
    auto const read = [](char const* text, Quantity quantity, Units units) {
        auto const value = read_quantity(text, quantity, units);
        REQUIRE_MESSAGE(value, text);
        return *value;
    };
    CHECK_NEAR(read("300", Quantity::length, Units::metric), 300, 1e-12);
    CHECK_NEAR(read(" 30,5 cm ", Quantity::length, Units::metric), 305, 1e-12);
    CHECK_NEAR(read("12", Quantity::length, Units::inches), 304.8, 1e-12);
    CHECK_NEAR(read("11 3/4", Quantity::length, Units::inches), 298.45, 1e-9);
    CHECK_NEAR(read("5/16 in", Quantity::length, Units::metric), 7.9375, 1e-12);
    CHECK_NEAR(read("1\"", Quantity::length, Units::metric), 25.4, 1e-12);
    CHECK_NEAR(read("2 lb", Quantity::mass, Units::metric), 907.18474, 1e-9);
    CHECK_NEAR(read("35", Quantity::share, Units::metric), 0.35, 1e-12);
    CHECK_NEAR(read("6.5 %", Quantity::share, Units::inches), 0.065, 1e-12);
    CHECK_NEAR(read("-12°", Quantity::angle, Units::metric), -12, 1e-12);
    CHECK_NEAR(read("1000 °C", Quantity::temperature, Units::metric), 1000, 1e-12);
}

TEST_CASE("what cannot be read is not guessed at") {
    for (char const* text : {"", "mm", "3 kg", "1/0", "1 2", "3..5", "nan", "inf", "1e400", "3 mm x", "--3"})
        CHECK_MESSAGE(!read_quantity(text, Quantity::length, Units::metric), text);
}

TEST_CASE("what is shown can be typed in again") {
    int checked = 0;
    for (Units const units : {Units::metric, Units::inches})
        for (double const mm : {3.0, 6.5, 12.0, 75.0, 305.0, 1200.0}) {
            auto const back = read_quantity(quantity_text(mm, Quantity::length, units), Quantity::length, units);
            REQUIRE(back);
            CHECK_NEAR(*back, mm, units == Units::metric ? 0.05 : 1.3); // half of the last digit shown: 0.05 in
            ++checked;
        }
    CHECK(checked == 12);
}

TEST_CASE("sentences of the plan are told in the units on screen") {
    // 1 in = 25.4 mm, 1 lb = 453.59237 g, exactly (1959 agreement).
    CHECK(sentence_in("Tips reach 254 mm beyond the rim, 20 % over 12 leaves.", Units::metric) ==
          "Tips reach 254 mm beyond the rim, 20 % over 12 leaves.");
    CHECK(sentence_in("Tips reach 254 mm beyond the rim, 20 % over 12 leaves.", Units::inches) ==
          "Tips reach " + quantity_text(254, Quantity::length, Units::inches) +
              " beyond the rim, 20 % over 12 leaves.");
    CHECK(sentence_in("274 cm² pucker; 1.5 kg hang.", Units::inches) ==
          quantity_text(27400, Quantity::area, Units::inches) + " pucker; " +
              quantity_text(1500, Quantity::mass, Units::inches) + " hang.");
    CHECK(sentence_in("Leaf 47 goes in 3 mmm.", Units::inches) == "Leaf 47 goes in 3 mmm.");
}
