// CHECK_NEAR(value, expected, tolerance): absolute; CHECK_REL: relative to the expected value. Both print what was
// found.
#pragma once

#include <doctest/doctest.h>

#include <cmath>

#define CHECK_NEAR(value, expected, tolerance)                                                                         \
    do {                                                                                                               \
        double const near_value = (value);                                                                             \
        double const near_expected = (expected);                                                                       \
        INFO(#value " = ", near_value, ", expected ", near_expected, ", off by ", near_value - near_expected);         \
        CHECK(std::abs(near_value - near_expected) <= (tolerance));                                                    \
    } while (false)

#define CHECK_REL(value, expected, tolerance)                                                                          \
    do {                                                                                                               \
        double const rel_value = (value);                                                                              \
        double const rel_expected = (expected);                                                                        \
        INFO(#value " = ", rel_value, ", expected ", rel_expected, ", relative ", rel_value / rel_expected - 1.0);     \
        CHECK(std::abs(rel_value - rel_expected) <= (tolerance)*std::abs(rel_expected));                               \
    } while (false)
