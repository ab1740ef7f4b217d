// For the one .cpp file that makes what once_made.h declares: template struct OnceMade<std::variant<...>>;
#pragma once

#include "base/once_made.h"

namespace leafwright {

template <class Variant> OnceMade<Variant>::OnceMade(OnceMade const& other) = default;
template <class Variant> OnceMade<Variant>::OnceMade(OnceMade&& other) noexcept = default;
template <class Variant> OnceMade<Variant>& OnceMade<Variant>::operator=(OnceMade const& other) = default;
template <class Variant> OnceMade<Variant>& OnceMade<Variant>::operator=(OnceMade&& other) noexcept = default;
template <class Variant> OnceMade<Variant>::~OnceMade() = default;

} // namespace leafwright
