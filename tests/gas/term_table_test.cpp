#include "gas/lanes.h"
#include "gas/species.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>

using namespace isochore::gas;

namespace {

bool same_bits(double a, double b)
{
    return std::memcmp(&a, &b, sizeof a) == 0;
}

} // namespace

TEST_CASE("the table of every equation fits the isotherm that holds its cells", "[gas]")
{
    for (Species s : all_species()) {
        TermTable const& table = equation(s).table();
        CAPTURE(species_name(s));
        CHECK(table.places() <= Isotherm::most_places);
        CHECK(table.columns % 4 == 0);
        CHECK(table.sources.size() <= TermTable::most_sources);
        CHECK(table.bell_beta.size() <= TermTable::most_bells);
        CHECK(table.rows.back().degree < TermTable::most_powers);
        CHECK(table.exponent_rows.back().degree < TermTable::most_powers);
        CHECK(table.sources.size() == equation(s).data().power.size() + equation(s).data().gaussian.size());
    }
}

TEST_CASE("two columns at a time and four give the same figures to the last bit", "[gas]")
{
    for (Species s : all_species()) {
        TermTable const& table = equation(s).table();
        std::array<double, Isotherm::most_places> wide{}, narrow{};
        for (double tau : {0.6, 0.97, 1.1, 1.31}) {
            fill_table(table, tau, wide.data(), Width::widest);
            fill_table(table, tau, narrow.data(), Width::two);
            REQUIRE(wide == narrow);
            for (double delta : {1e-9, 0.02, 0.08, 0.9, 2.7})
                for (Upto upto : {Upto::first, Upto::second, Upto::fourth}) {
                    auto const a = sum_table(table, wide.data(), delta, upto, Width::widest);
                    auto const b = sum_table(table, wide.data(), delta, upto, Width::two);
                    CAPTURE(species_name(s), tau, delta);
                    CHECK(same_bits(a.a, b.a));
                    CHECK(same_bits(a.a1, b.a1));
                    CHECK(same_bits(a.a2, b.a2));
                    CHECK(same_bits(a.a3, b.a3));
                    CHECK(same_bits(a.a4, b.a4));
                }
        }
    }
}

TEST_CASE("our exponential stays within 1.5 units of the last place of the library's", "[gas]")
{
    for (double start = -699.0; start < 60.0; start += 0.37) {
        Two::Type x = {start, start * 1e-3};
        Two::Type const at = x;
        exponential<Two>(x);
        for (std::size_t i = 0; i < 2; ++i) {
            long double const exact = std::exp(static_cast<long double>(at[i]));
            double const unit =
                std::nextafter(static_cast<double>(exact), INFINITY) - static_cast<double>(exact);
            CAPTURE(at[i]);
            CHECK(std::fabs(static_cast<double>(x[i] - exact)) <= 1.5 * unit);
        }
    }
    Two::Type edge = {0.0, -1e6};
    exponential<Two>(edge);
    CHECK(edge[0] == 1.0); // the column without an exponential stays as it is
    CHECK(edge[1] < 1e-300);
}

TEST_CASE("slope, bend and twist of the pressure curve are the slopes of one another", "[gas]")
{
    for (Species s : {Species::sf6, Species::n2, Species::cf4, Species::air}) {
        Equation const& eq = equation(s);
        auto const iso = eq.isotherm(1.05 * eq.data().reducing_temperature_k);
        for (double delta : {0.03, 0.4, 1.3}) {
            double const h = 1e-4 * delta;
            auto const at = eq.pressure_curve(iso, delta);
            auto const up = eq.pressure_curve(iso, delta + h), down = eq.pressure_curve(iso, delta - h);
            CAPTURE(species_name(s), delta);
            CHECK(at.f == Approx(eq.reduced_pressure(iso, delta)).epsilon(1e-14));
            CHECK(at.slope == Approx((up.f - down.f) / (2 * h)).epsilon(1e-6).margin(1e-7));
            CHECK(at.bend == Approx(delta * (up.slope - down.slope) / (2 * h)).epsilon(1e-5).margin(1e-6));
            CHECK(at.twist ==
                  Approx(delta * delta * (up.bend / (delta + h) - down.bend / (delta - h)) / (2 * h))
                      .epsilon(1e-4)
                      .margin(1e-5));
        }
    }
}
