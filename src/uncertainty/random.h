#pragma once
#include "uncertainty/input.h"
#include <bit>
#include <cmath>
#include <cstdint>

namespace isochore::uncertainty {

/// xoshiro256++ of D. Blackman and S. Vigna (ACM Trans. Math. Softw. 47(4), 36, 2021), seeded by splitmix64.
/// The seed is always given: the same inputs give the same interval on every tablet.
class Random {
public:
    explicit Random(std::uint64_t seed)
    {
        for (auto& word : m_state) {
            seed += 0x9e3779b97f4a7c15u;
            std::uint64_t z = seed;
            z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
            z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
            word = z ^ (z >> 31);
        }
    }

    [[nodiscard]] std::uint64_t next()
    {
        std::uint64_t const result = std::rotl(m_state[0] + m_state[3], 23) + m_state[0];
        std::uint64_t const t = m_state[1] << 17;
        m_state[2] ^= m_state[0];
        m_state[3] ^= m_state[1];
        m_state[1] ^= m_state[2];
        m_state[0] ^= m_state[3];
        m_state[2] ^= t;
        m_state[3] = std::rotl(m_state[3], 45);
        return result;
    }

    /// 0 <= x < 1 in steps of 2^-53.
    [[nodiscard]] double uniform() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }

    /// Standard normal (Marsaglia's polar method, two at a time).
    [[nodiscard]] double normal()
    {
        if (m_has_spare) {
            m_has_spare = false;
            return m_spare;
        }
        double x, y, s;
        do {
            x = 2.0 * uniform() - 1.0;
            y = 2.0 * uniform() - 1.0;
            s = x * x + y * y;
        } while (s >= 1.0 || s == 0.0);
        double const scale = std::sqrt(-2.0 * std::log(s) / s);
        m_spare = y * scale;
        m_has_spare = true;
        return x * scale;
    }

    /// A draw of the input's distribution (JCGM 101, 6.4.2 rectangular, 6.4.5 triangular, 6.4.7 normal, 6.4.9
    /// t).
    [[nodiscard]] double draw(Input const& input)
    {
        switch (input.shape) {
        case Shape::rectangular:
            return input.value + input.u * 1.7320508075688772 * (2.0 * uniform() - 1.0);
        case Shape::triangular:
            return input.value + input.u * 2.449489742783178 * (uniform() - uniform());
        case Shape::student:
            return input.value + input.u * student(input.degrees_of_freedom);
        case Shape::normal:
            break;
        }
        return input.value + input.u * normal();
    }

private:
    // Bailey's polar method for t (Math. Comp. 62, 779, 1994); any positive degrees of freedom.
    [[nodiscard]] double student(double degrees_of_freedom)
    {
        if (!(degrees_of_freedom < 1e7))
            return normal();
        double x, y, s;
        do {
            x = 2.0 * uniform() - 1.0;
            y = 2.0 * uniform() - 1.0;
            s = x * x + y * y;
        } while (s >= 1.0 || s == 0.0);
        return x * std::sqrt(degrees_of_freedom * (std::pow(s, -2.0 / degrees_of_freedom) - 1.0) / s);
    }

    std::uint64_t m_state[4] = {};
    double m_spare = 0.0;
    bool m_has_spare = false;
};

} // namespace isochore::uncertainty
