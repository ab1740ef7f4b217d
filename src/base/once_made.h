// A variant whose copies, moves and end are made in one file (once_made_in.h). Written by the compiler in every file that
// handles it, a variant of large values takes more than a second of building each.
#pragma once

namespace leafwright {

// Variant: a std::variant. For std::visit, std::get_if and the others it is that variant.
template <class Variant> struct OnceMade : Variant {
    using Variant::Variant;
    OnceMade(OnceMade const& other);
    OnceMade(OnceMade&& other) noexcept;
    OnceMade& operator=(OnceMade const& other);
    OnceMade& operator=(OnceMade&& other) noexcept;
    ~OnceMade();
};

} // namespace leafwright
