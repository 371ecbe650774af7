#include "gas/lanes.h"
#include "gas/term_table.h"
#include <cmath>

namespace isochore::gas {
namespace {

struct Powers {
    double of[TermTable::most_powers];
    explicit ISOCHORE_INLINE Powers(double delta)
    {
        double const square = delta * delta, fourth = square * square;
        Two::Type low = {1.0, delta}, high = low * square;
        for (std::size_t i = 0; i < TermTable::most_powers; i += 4, low *= fourth, high *= fourth) {
            store(low, of + i);
            store(high, of + i + 2);
        }
    }
};

// The sums of a block, kept apart by column so that two lanes and four add up in the same order.
template <class Lanes> struct ByColumn {
    static constexpr std::size_t parts = 4 / Lanes::count;
    typename Lanes::Type a[parts]{}, a1[parts]{}, a2[parts]{}, a3[parts]{}, a4[parts]{};

    static ISOCHORE_INLINE double total(typename Lanes::Type const (&x)[parts])
    {
        if constexpr (parts == 1)
            return (x[0][0] + x[0][2]) + (x[0][1] + x[0][3]);
        else
            return (x[0][0] + x[1][0]) + (x[0][1] + x[1][1]);
    }
};

// Each column is P(delta) exp(x(delta)). With D = d/d ln(delta) the exponential's derivatives are
// f = D x, f1 = D f and so on times it by the chain rule, and those of P by the product rule.
template <int order, class Lanes>
ISOCHORE_INLINE void add_columns(TermTable const& table, double const* exponent, double const* coefficient,
                                 Powers const& powers, std::size_t part, ByColumn<Lanes>& sum)
{
    using V = typename Lanes::Type;
    V x, v, f{}, f1{}, f2{}, f3{};
    load(x, exponent);
    for (auto const& row : table.exponent_rows) {
        load(v, exponent += 4);
        v *= powers.of[row.degree];
        x += v;
        f += row.by * v;
        if constexpr (order > 1)
            f1 += row.by_square * v;
        if constexpr (order > 2) {
            f2 += row.by_cube * v;
            f3 += row.by_fourth * v;
        }
    }
    exponential<Lanes>(x);
    V p{}, p1{}, p2{}, p3{}, p4{};
    for (auto const& row : table.rows) {
        load(v, coefficient);
        coefficient += 4;
        v *= powers.of[row.degree];
        p += v;
        p1 += row.by * v;
        if constexpr (order > 1)
            p2 += row.by_square * v;
        if constexpr (order > 2) {
            p3 += row.by_cube * v;
            p4 += row.by_fourth * v;
        }
    }
    sum.a1[part] += x * (p1 + f * p);
    V const ff = f * f, second = f1 + ff;
    if constexpr (order > 1) {
        sum.a[part] += x * p;
        sum.a2[part] += x * (p2 + 2.0 * f * p1 + second * p);
    }
    if constexpr (order > 2) {
        V const third = f2 + f * (3.0 * f1 + ff);
        V const fourth = f3 + 4.0 * f * f2 + 3.0 * f1 * (f1 + 2.0 * ff) + ff * ff;
        sum.a3[part] += x * (p3 + 3.0 * (f * p2 + second * p1) + third * p);
        sum.a4[part] += x * (p4 + 4.0 * (f * p3 + third * p1) + 6.0 * second * p2 + fourth * p);
    }
}

template <int order, class Lanes>
ISOCHORE_INLINE LogDerivatives sum_columns(TermTable const& table, double const* coefficient, double delta)
{
    Powers const powers(delta);
    ByColumn<Lanes> sum;
    double const* exponent = table.exponent.data();
    for (std::size_t block = 0; block < table.columns; block += 4) {
        for (std::size_t part = 0; part < sum.parts; ++part)
            add_columns<order>(table, exponent + part * Lanes::count, coefficient + part * Lanes::count,
                               powers, part, sum);
        exponent += 4 * (table.exponent_rows.size() + 1);
        coefficient += 4 * table.rows.size();
    }
    LogDerivatives all;
    all.a1 = sum.total(sum.a1);
    if constexpr (order > 1) {
        all.a = sum.total(sum.a);
        all.a2 = sum.total(sum.a2);
    }
    if constexpr (order > 2) {
        all.a3 = sum.total(sum.a3);
        all.a4 = sum.total(sum.a4);
    }
    return all;
}

template <class Lanes>
ISOCHORE_INLINE LogDerivatives sum_upto(TermTable const& table, double const* coefficient, double delta,
                                        Upto upto)
{
    if (upto == Upto::first)
        return sum_columns<1, Lanes>(table, coefficient, delta);
    if (upto == Upto::second)
        return sum_columns<2, Lanes>(table, coefficient, delta);
    return sum_columns<4, Lanes>(table, coefficient, delta);
}

// The Gaussians in tau, four or two at a time.
template <class Lanes> ISOCHORE_INLINE void fill_bells(TermTable const& table, double tau, double* bells)
{
    using V = typename Lanes::Type;
    for (std::size_t i = 0; i < table.bell_beta.size(); i += Lanes::count) {
        V beta, gamma;
        load(beta, table.bell_beta.data() + i);
        load(gamma, table.bell_gamma.data() + i);
        V const away = tau - gamma;
        V bell = -beta * (away * away);
        exponential<Lanes>(bell);
        store(bell, bells + i);
    }
}

// Every published exponent is a whole number of eighths: three square roots and a table of products.
void powers_by_steps(double tau, int last, double* powers)
{
    double const half = std::sqrt(tau), quarter = std::sqrt(half), eighth = std::sqrt(quarter);
    double const part[8] = {1.0,  eighth,        quarter,        eighth * quarter,
                            half, half * eighth, half * quarter, half * (eighth * quarter)};
    double whole = 1.0;
    for (int i = 0; i <= last; i += 8, whole *= tau)
        for (int j = 0; j < 8; ++j)
            powers[i + j] = whole * part[j];
}

// What a machine can do is asked once, when the first table is used.
#ifdef ISOCHORE_WIDE
bool has_wide()
{
    static bool const has = __builtin_cpu_supports("avx2");
    return has;
}

ISOCHORE_WIDE LogDerivatives sum_wide(TermTable const& table, double const* coefficient, double delta,
                                      Upto upto)
{
    return sum_upto<Four>(table, coefficient, delta, upto);
}

ISOCHORE_WIDE void bells_wide(TermTable const& table, double tau, double* bells)
{
    fill_bells<Four>(table, tau, bells);
}
#endif

} // namespace

LogDerivatives sum_table(TermTable const& table, double const* coefficient, double delta, Upto upto,
                         Width width)
{
#ifdef ISOCHORE_WIDE
    if (width == Width::widest && has_wide())
        return sum_wide(table, coefficient, delta, upto);
#endif
    return sum_upto<Two>(table, coefficient, delta, upto);
}

void fill_table(TermTable const& table, double tau, double* coefficient, Width width)
{
    double bells[TermTable::most_bells];
#ifdef ISOCHORE_WIDE
    if (width == Width::widest && has_wide())
        bells_wide(table, tau, bells);
    else
#endif
        fill_bells<Two>(table, tau, bells);
    // All parts first, then the sums: the parts do not wait for one another.
    double parts[TermTable::most_sources];
    double* part = parts;
    if (table.by_steps) {
        double powers[TermTable::most_steps + 8];
        powers_by_steps(tau, table.last_step, powers);
        for (auto const& source : table.sources)
            *part++ = source.n * powers[source.step] * bells[source.bell];
    } else {
        double const log_tau = std::log(tau);
        for (auto const& source : table.sources)
            *part++ = source.n * std::exp(source.t * log_tau) * bells[source.bell];
    }
    part = parts;
    for (std::size_t i = 0; i < table.places(); ++i)
        coefficient[i] = 0.0;
    for (auto const& cell : table.cells) {
        double sum = *part++;
        for (int left = cell.sources - 1; left > 0; --left)
            sum += *part++;
        coefficient[cell.place] = sum;
    }
}

} // namespace isochore::gas
