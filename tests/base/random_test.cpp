#include "base/random.h"
#include "near.h"

using namespace leafwright;

TEST_CASE("the generator gives SplitMix64's published first values") {
    // Seed 1234567: the reference sequence that ports of SplitMix64 quote (from memory of the reference code's test).
    Random random{1234567};
    CHECK(random.next() == 6457827717110365317ULL);
    CHECK(random.next() == 3203168211198807973ULL);
    CHECK(random.next() == 9817491932198370423ULL);
}

TEST_CASE("unit numbers fill the interval evenly") {
    Random random{7};
    double sum = 0;
    double squares = 0;
    int const count = 100000;
    for (int i = 0; i < count; ++i) {
        double const u = random.unit();
        REQUIRE(u >= 0);
        REQUIRE(u < 1);
        sum += u;
        squares += u * u;
    }
    // Mean 1/2 and mean square 1/3, within five standard errors.
    CHECK_NEAR(sum / count, 0.5, 5 * 0.2887 / std::sqrt(count));
    CHECK_NEAR(squares / count, 1.0 / 3, 5 * 0.2981 / std::sqrt(count));
}

TEST_CASE("split generators differ from each other and repeat") {
    Random const root{42};
    CHECK(root.split(1).next() != root.split(2).next());
    CHECK(root.split(1).next() == root.split(1).next());
    Random random{3};
    for (int i = 0; i < 1000; ++i) REQUIRE(random.below(7) < 7);
}
