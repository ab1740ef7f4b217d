// Four floats at a time, on any machine.
#pragma once

#if defined(__SSE2__)
#include <emmintrin.h>
#endif

namespace leafwright {

using Four = float __attribute__((vector_size(16)));

inline Four four(float v) { return Four{v, v, v, v}; }
inline Four least(Four a, Four b) { return a < b ? a : b; }
inline Four most(Four a, Four b) { return a > b ? a : b; }

// Whether any of a is at most the same of b.
inline bool any_at_most(Four a, Four b) {
#if defined(__SSE2__)
    return _mm_movemask_ps(_mm_cmple_ps(a, b)) != 0;
#else
    return a[0] <= b[0] || a[1] <= b[1] || a[2] <= b[2] || a[3] <= b[3];
#endif
}
// Bit k is set where lane k of both holds: a < b and c < d.
inline unsigned both_less(Four a, Four b, Four c, Four d) {
#if defined(__SSE2__)
    return static_cast<unsigned>(_mm_movemask_ps(_mm_and_ps(_mm_cmplt_ps(a, b), _mm_cmplt_ps(c, d))));
#else
    unsigned bits = 0;
    for (int k = 0; k < 4; ++k) bits |= static_cast<unsigned>(a[k] < b[k] && c[k] < d[k]) << k;
    return bits;
#endif
}
inline float least_of(Four a) {
    float const p = a[0] < a[1] ? a[0] : a[1];
    float const q = a[2] < a[3] ? a[2] : a[3];
    return p < q ? p : q;
}

} // namespace leafwright
