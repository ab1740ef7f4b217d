// Crank, The Mathematics of Diffusion, 2nd ed. 1975; values of his series reckoned apart with 30 digits.
#include "base/units.h"
#include "drying/column.h"
#include "near.h"

#include <array>
#include <cmath>

using namespace leafwright;

namespace {

ColumnFace const kSealed{};

// Share of the final change of a sheet with one face sealed and the other with that exchange, at T = D t/a^2.
double change(double exchange, double time, int cells, int steps) {
    Column column(cells, 1.0, 1.0, 1.0, 1.0);
    for (int i = 0; i < steps; ++i) column.step(time / steps, kSealed, {exchange, 0, 0});
    return 1 - column.mean();
}

// Time at which the change reaches a share, by steps of dt and a straight line within the last.
double time_of(double share, double exchange, double dt) {
    Column column(200, 1.0, 1.0, 1.0, 1.0);
    double before = 0;
    for (double time = 0;; time += dt) {
        column.step(dt, kSealed, {exchange, 0, 0});
        double const now = 1 - column.mean();
        if (now >= share) return time + dt * (share - before) / (now - before);
        before = now;
    }
}

} // namespace

TEST_CASE("a sheet whose face is held dries as Crank's series (4.18)") {
    std::array<std::array<double, 2>, 8> const values{{{0.05, 0.252313252178},
                                                       {0.1, 0.356823400452},
                                                       {0.2, 0.504087820203},
                                                       {0.25, 0.562233541762},
                                                       {0.5, 0.763950330744},
                                                       {1.0, 0.931259678463},
                                                       {1.5, 0.979981929341},
                                                       {2.0, 0.994170478926}}};
    for (auto const& [time, share] : values) CHECK_NEAR(change(kHeld, time, 200, 800), share, 1e-4);
}

TEST_CASE("its sealed face follows Crank's series (4.17)") {
    std::array<std::array<double, 2>, 5> const values{{{0.1, 0.0506946373155},
                                                       {0.2, 0.227688393141},
                                                       {0.25, 0.314554233110},
                                                       {0.5, 0.629222570200},
                                                       {1.0, 0.892022955556}}};
    for (auto const& [time, share] : values) {
        Column column(200, 1.0, 1.0, 1.0, 1.0);
        for (int i = 0; i < 800; ++i) column.step(time / 800, kSealed, {kHeld, 0, 0});
        CHECK_NEAR(1 - column.left_value(kSealed), share, 1e-4);
    }
}

TEST_CASE("half, 90, 95 and 99 per cent are reached when Crank's series says") {
    CHECK_NEAR(time_of(0.5, kHeld, 5e-4), 0.196730739524, 1e-4);
    CHECK_NEAR(time_of(0.9, kHeld, 1e-3), 0.848085408046, 2e-4);
    CHECK_NEAR(time_of(0.95, kHeld, 1e-3), 1.12900737673, 2e-4);
    CHECK_NEAR(time_of(0.99, kHeld, 1e-3), 1.78128799387, 5e-4);
}

TEST_CASE("for short times the change is 2 sqrt(T/pi)") {
    for (double time : {0.01, 0.02, 0.05}) CHECK_NEAR(change(kHeld, time, 400, 400), 2 * std::sqrt(time / kPi), 1e-4);
}

TEST_CASE("drying under a surface resistance follows Crank 4.3.6") {
    std::array<std::array<double, 3>, 6> const values{{{1, 0.5, 0.318895434553},
                                                       {1, 1, 0.529602751135},
                                                       {5, 0.5, 0.614825157617},
                                                       {5, 1, 0.837518836484},
                                                       {10, 0.5, 0.684983732852},
                                                       {10, 1, 0.886504358880}}};
    for (auto const& [exchange, time, share] : values) CHECK_NEAR(change(exchange, time, 200, 800), share, 1e-4);
}

TEST_CASE("time goes with the square of the thickness") {
    // Coulson and Richardson, Chemical Engineering vol. 2, example 16.2: strips of 10 mm and planks of 60 mm.
    auto const left = [](double half_mm, double ks) {
        Column column(100, half_mm, 1.0, 0.52, 1.0); // k t/L^2 = 0.52 at 25 ks and 5 mm
        for (int i = 0; i < 400; ++i) column.step(ks / 400, kSealed, {kHeld, 0, 0});
        return column.mean();
    };
    CHECK_NEAR(left(5, 25), left(30, 25 * 36), 1e-12);
    Column planks(100, 30, 1.0, 0.52, 1.0);
    for (int i = 0; i < 400; ++i) planks.step(1090.384615 / 400, kSealed, {kHeld, 0, 0});
    CHECK_NEAR(1 - planks.mean(), change(kHeld, 0.63, 200, 800), 1e-4); // k t/L^2 = 0.63
}

TEST_CASE("a steady flux at the surface bends the profile by F a/(2 D)") {
    // Crank 4.3.7: F = 0.1 kg/m2h, a = 5 mm, D = 1e-9 m2/s: 69.44444444 kg/m3.
    Column column(200, 5e-3, 1.0, 1e-9, 500.0);
    ColumnFace const out{0, 0, -0.1 / 3600};
    for (int i = 0; i < 1000; ++i) column.step(2 * 25e-6 / 1e-9 / 1000, kSealed, out); // T = 2
    CHECK_REL(column.left_value(kSealed) - column.right_value(out), 69.44444444, 1e-4);
}

TEST_CASE("what leaves the column is what crosses its face") {
    Column column(50, 1.0, 2.0, 0.7, 1.0);
    for (int i = 0; i < 100; ++i) column.step(0.01, kSealed, {0, 0, -0.3});
    CHECK_NEAR(column.mean(), 1 - 0.3 * 1.0 / 2.0, 1e-12);
}

TEST_CASE("constant and falling rate take the hours of a printed example") {
    // Coulson and Richardson, Chemical Engineering vol. 2, example 16.1: from 0.25 to 0.10 in 15 ks, critical 0.15,
    // balance 0.05; then 0.30 to 0.08 takes 23.95514845 ks by t = (1/mA)[(w1 - wc)/(wc - we) + ln((wc - we)/(w - we))].
    double const critical = 0.15;
    double const balance = 0.05;
    auto const ks = [&](double from, double to, double rate) {
        Column clay(2, 1.0, 1.0, 1e6, from); // no gradient: the air sets the pace
        double const dt = 0.001;
        double time = 0;
        double before = from;
        while (clay.mean() > to) {
            before = clay.mean();
            bool const constant = clay.mean() > critical;
            ColumnFace const air{constant ? 0.0 : rate, balance, constant ? -rate * (critical - balance) : 0.0};
            clay.step(dt, kSealed, air);
            time += dt;
        }
        return time - dt * (to - clay.mean()) / (before - clay.mean());
    };
    double const rate = 0.1128764787; // per ks, as the first run gives it
    CHECK_NEAR(ks(0.25, 0.10, rate), 15, 0.003);
    CHECK_NEAR(ks(0.30, 0.08, rate), 23.95514845, 0.003);
}
