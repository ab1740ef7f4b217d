// libnest2d as a peer of the nesting: a strip instance laid by the library. Only where the library was there to build.
// Plain values alone: the library needs C++17, our own headers C++20.
#pragma once

#include <utility>
#include <vector>

namespace leafwright {

struct PeerJob {
    std::vector<std::vector<std::pair<double, double>>> outlines; // a piece each
    std::vector<double> turns_rad;
    double width = 0, area = 0; // of the strip; of all pieces
};

bool nest_peer_is_built();

// The best density, 0 to 1, that the library reaches in so many seconds: laid again and again, by another share of
// height against length each time. True no-fit polygons; all else by its defaults. 0 when it lays none.
double nest_peer_density(PeerJob const& job, double seconds);

} // namespace leafwright
