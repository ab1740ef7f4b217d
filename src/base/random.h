// Seeded random numbers, the same on every machine and compiler (the standard library's distributions are not).
// Generator: SplitMix64 (Steele, Lea, Flood, OOPSLA 2014), 64 bits of state.
#pragma once

#include <cstdint>

namespace leafwright {

class Random {
public:
    explicit Random(std::uint64_t seed) : state_(seed) {}

    std::uint64_t next() {
        std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
        return z ^ (z >> 31);
    }
    // In [0, 1), 53 bits.
    double unit() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }
    double between(double low, double high) { return low + (high - low) * unit(); }
    // In [0, count); count > 0.
    std::uint32_t below(std::uint32_t count) { return static_cast<std::uint32_t>(((next() >> 32) * count) >> 32); }
    // A generator of its own for part number `part`, so that parts may be worked in any order.
    Random split(std::uint64_t part) const {
        return Random(Random(state_ ^ (part * 0xD1342543DE82EF95ULL + 1)).next());
    }

private:
    std::uint64_t state_;
};

} // namespace leafwright
