#include "gas/term_table.h"
#include <algorithm>
#include <array>
#include <cmath>

namespace isochore::gas {
namespace {

constexpr std::size_t at_a_time = 4;

// x0 + x1 delta + x2 delta^2 + …, of which the column has the exponential.
using Exponent = std::array<double, 8>;

struct Piece { // a published term, its column found
    std::size_t column;
    int degree;
    TermTable::Source source;
};

template <class Thing> std::size_t place_of(std::vector<Thing>& all, Thing const& thing)
{
    auto const found = std::find(all.begin(), all.end(), thing);
    auto const place = static_cast<std::size_t>(found - all.begin());
    if (found == all.end())
        all.push_back(thing);
    return place;
}

TermTable::Power power(int degree)
{
    double const d = degree;
    return {degree, d, d * d, d * d * d, d * d * d * d};
}

Exponent exponent_of(PowerTerm const& term)
{
    Exponent x{};
    if (term.l > 0)
        x[static_cast<std::size_t>(term.l)] = -term.g;
    return x;
}

Exponent exponent_of(GaussianTerm const& term)
{
    return {-term.eta * term.epsilon * term.epsilon, 2.0 * term.eta * term.epsilon, -term.eta};
}

// exp(x) delta^degree = (e0 + e1 delta + e2 delta^2) delta^degree gives the share of the power series.
TermTable::Cell cell_at(std::size_t place, Exponent const& x, int degree)
{
    double const e0 = std::exp(x[0]), e1 = x[1] * e0, e2 = (x[2] + 0.5 * x[1] * x[1]) * e0;
    std::array<double, 5> series{};
    if (degree <= 2) {
        auto const d = static_cast<std::size_t>(degree);
        series[d] = e0;
        series[d + 1] = e1;
        series[d + 2] = e2;
    }
    return {static_cast<int>(place), 0, series[1], series[2]};
}

struct Pieces {
    std::vector<Piece> all;
    std::vector<Exponent> columns{Exponent{}};
    std::vector<std::pair<double, double>> bells{{0.0, 0.0}};
};

Pieces pieces_of(FluidData const& data)
{
    Pieces found;
    auto const add = [&](auto const& term, std::size_t bell) {
        double const steps = term.t * 8.0;
        int const step = steps >= 0.0 && steps == std::floor(steps) && steps < TermTable::most_steps
                             ? static_cast<int>(steps)
                             : -1;
        found.all.push_back({place_of(found.columns, exponent_of(term)),
                             term.d,
                             {term.n, term.t, step, static_cast<int>(bell)}});
    };
    for (auto const& term : data.power)
        add(term, 0);
    for (auto const& term : data.gaussian)
        add(term, place_of(found.bells, {term.beta, term.gamma}));
    return found;
}

void lay_out_exponents(TermTable& table, std::vector<Exponent> const& columns)
{
    for (std::size_t degree = 1; degree < Exponent{}.size(); ++degree)
        if (std::any_of(columns.begin(), columns.end(), [&](auto const& x) { return x[degree] != 0.0; }))
            table.exponent_rows.push_back(power(static_cast<int>(degree)));
    for (std::size_t first = 0; first < columns.size(); first += at_a_time) {
        auto const add = [&](std::size_t degree) {
            for (std::size_t i = first; i < first + at_a_time; ++i)
                table.exponent.push_back(columns[i][degree]);
        };
        add(0);
        for (auto const& row : table.exponent_rows)
            add(static_cast<std::size_t>(row.degree));
    }
}

} // namespace

TermTable lay_out(FluidData const& data)
{
    TermTable table;
    auto [pieces, columns, bells] = pieces_of(data);
    while (columns.size() % at_a_time != 0)
        columns.push_back({});
    while (bells.size() % at_a_time != 0)
        bells.emplace_back(0.0, 0.0);
    table.columns = columns.size();
    lay_out_exponents(table, columns);
    for (auto const& [beta, gamma] : bells) {
        table.bell_beta.push_back(beta);
        table.bell_gamma.push_back(gamma);
    }

    std::vector<int> degrees;
    for (auto const& piece : pieces)
        place_of(degrees, piece.degree);
    std::sort(degrees.begin(), degrees.end());
    for (int degree : degrees)
        table.rows.push_back(power(degree));

    // By blocks of four columns, so that one block lies together.
    for (std::size_t place = 0; place < table.places(); ++place) {
        std::size_t const block = place / (table.rows.size() * at_a_time);
        std::size_t const column = block * at_a_time + place % at_a_time;
        int const degree = degrees[place / at_a_time % table.rows.size()];
        TermTable::Cell cell = cell_at(place, columns[column], degree);
        for (auto const& piece : pieces)
            if (piece.column == column && piece.degree == degree) {
                table.sources.push_back(piece.source);
                table.last_step = std::max(table.last_step, piece.source.step);
                table.by_steps = table.by_steps && piece.source.step >= 0;
                ++cell.sources;
            }
        if (cell.sources > 0)
            table.cells.push_back(cell);
    }
    return table;
}

} // namespace isochore::gas
