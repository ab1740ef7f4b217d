// Copies, moves and ends of what panels and hand ask for, once for all who ask.
#include "bench/state.h"

namespace leafwright {

Intent::Intent(Intent const& other) = default;
Intent::Intent(Intent&& other) noexcept = default;
Intent& Intent::operator=(Intent const& other) = default;
Intent& Intent::operator=(Intent&& other) noexcept = default;
Intent::~Intent() = default;

Deed::Deed(Deed const& other) = default;
Deed::Deed(Deed&& other) noexcept = default;
Deed& Deed::operator=(Deed const& other) = default;
Deed& Deed::operator=(Deed&& other) noexcept = default;
Deed::~Deed() = default;

} // namespace leafwright
