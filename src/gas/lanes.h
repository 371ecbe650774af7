#pragma once
#include <cstdint>
#include <cstring>

// Several numbers in one register: four where the machine has AVX2, else two, which every 64-bit PC has.
// Multiply and add stay apart (no fused step), so both give the same figures.
namespace isochore::gas {

#define ISOCHORE_INLINE inline __attribute__((always_inline))
#if defined(__x86_64__)
#define ISOCHORE_WIDE __attribute__((target("avx2")))
#endif

struct Four {
    static constexpr std::size_t count = 4;
    using Type = double __attribute__((vector_size(32)));
    using Bits = std::uint64_t __attribute__((vector_size(32)));
};

struct Two {
    static constexpr std::size_t count = 2;
    using Type = double __attribute__((vector_size(16)));
    using Bits = std::uint64_t __attribute__((vector_size(16)));
};

template <class V> ISOCHORE_INLINE void load(V& lanes, double const* from)
{
    std::memcpy(&lanes, from, sizeof lanes);
}

template <class V> ISOCHORE_INLINE void store(V const& lanes, double* to)
{
    std::memcpy(to, &lanes, sizeof lanes);
}

/// x becomes exp(x), for x up to 700; below -700 it stays at exp(-700). Within 1.5 units of the last place.
/// x = k ln 2 + r, and exp(r) = 1 + r + r^2 q(r) with q interpolated at the Chebyshev nodes (error 2e-17).
template <class Lanes> ISOCHORE_INLINE void exponential(typename Lanes::Type& x)
{
    using V = typename Lanes::Type;
    using Bits = typename Lanes::Bits;
    constexpr double log2_e = 1.4426950408889634, ln2_high = 0x1.62e42fefa38p-1,
                     ln2_low = 0x1.ef35793c7673p-45;
    constexpr double round_by = 0x1.8p52; // adding it leaves the nearest whole number in the last bits
    x = x < -700.0 ? V{} - 700.0 : x;
    V const shifted = x * log2_e + round_by;
    V const k = shifted - round_by;
    V const r = (x - k * ln2_high) - k * ln2_low;
    V const r2 = r * r, r4 = r2 * r2;
    V const low = (0.5000000000000001 + 0.16666666666666669 * r) +
                  (0.04166666666662413 + 0.008333333333330062 * r) * r2;
    V const middle = (0.0013888888917213717 + 0.00019841269863053618 * r) +
                     (2.4801521295954376e-05 + 2.7557268459997064e-06 * r) * r2;
    V const high = 2.7620088445409746e-07 + 2.510038549551032e-08 * r;
    V const q = low + (middle + high * r4) * r4;
    x = (r + r2 * q) + 1.0;
    x = (V)((Bits)x + ((Bits)shifted << 52));
}

} // namespace isochore::gas
