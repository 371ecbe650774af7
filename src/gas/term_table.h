#pragma once
#include "gas/fluid_data.h"
#include <cstddef>
#include <vector>

namespace isochore::gas {

/// The published terms of an equation laid out as a table, so that none is computed twice. A column is one
/// exponential of the density (the first has none), a row is one power of it, and a cell adds up all terms
/// that share both. Columns are computed four at a time and are filled up to fours.
struct TermTable {
    struct Power {
        int degree;
        double by, by_square, by_cube, by_fourth; // powers of the degree, as factors
    };
    struct Cell { // one that is used
        int place, sources;
        double b, c; // weight of its coefficient in the power series of alpha_r in delta
    };
    struct Source { // the temperature part of one published term, in the order of the cells
        double n, t;
        int step; // t in units of 1/8, where all are whole
        int bell; // index of the Gaussian in tau
    };

    static constexpr int most_powers = 16; // of delta
    static constexpr int most_steps = 256; // of tau^(1/8)
    static constexpr std::size_t most_bells = 16, most_sources = 64;

    std::size_t columns = 0;
    std::vector<Power> rows;
    std::vector<Power> exponent_rows;
    std::vector<double> exponent; // by four columns: the share at zero, then of each exponent row
    std::vector<Cell> cells;
    std::vector<Source> sources;
    std::vector<double> bell_beta, bell_gamma; // filled up to fours; the first is 1 at every temperature
    int last_step = 0;
    bool by_steps = true;

    [[nodiscard]] std::size_t places() const { return rows.size() * columns; }
};

[[nodiscard]] TermTable lay_out(FluidData const& data);

/// alpha_r and its derivatives by ln(delta).
struct LogDerivatives {
    double a = 0.0, a1 = 0.0, a2 = 0.0, a3 = 0.0, a4 = 0.0;
};

/// What is wanted of the sums: a1 alone; a, a1 and a2; or all.
enum class Upto { first, second, fourth };
/// How many columns at once: as many as the machine can, or two, which it always can. The figures are the
/// same to the last bit.
enum class Width { widest, two };

/// Fills `coefficient`, of table.places() numbers, for one reduced temperature.
void fill_table(TermTable const& table, double tau, double* coefficient, Width width = Width::widest);

[[nodiscard]] LogDerivatives sum_table(TermTable const& table, double const* coefficient, double delta,
                                       Upto upto, Width width = Width::widest);

} // namespace isochore::gas
