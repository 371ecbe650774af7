#include "uncertainty/approach_fit.h"
#include "uncertainty/decision.h"
#include "uncertainty/line_fit.h"
#include "uncertainty/random.h"
#include "uncertainty/student.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

using namespace isochore;
using namespace isochore::uncertainty;

TEST_CASE("a straight line is found with its standard errors", "[uncertainty]")
{
    // Worked by hand: t = 0..4, y = 1, 3, 2, 5, 4: slope 0.8, centre 3, residual sum 3.6, s = sqrt(3.6/3).
    std::vector<double> const t{0, 1, 2, 3, 4}, y{1, 3, 2, 5, 4};
    auto const fit = fit_line(t, y, 0.0);
    REQUIRE(fit);
    CHECK(fit->slope == Approx(0.8));
    CHECK(fit->at(2.0) == Approx(3.0));
    CHECK(fit->scatter == Approx(std::sqrt(1.2)));
    CHECK(fit->u_slope == Approx(std::sqrt(0.12)));
    CHECK(fit->degrees_of_freedom == 3.0);
    CHECK(fit->band_95(2.0) == Approx(3.182446 * std::sqrt(1.2 / 5.0)).epsilon(1e-6));
    CHECK(fit->band_95(4.0) > fit->band_95(2.0));
}

TEST_CASE("readings that agree too well do not make the slope better known", "[uncertainty]")
{
    std::vector<double> const t{0, 1, 2, 3}, y{5, 5, 5, 5};
    auto const fit = fit_line(t, y, 0.1);
    REQUIRE(fit);
    CHECK(fit->from_instrument);
    CHECK(fit->u_slope == Approx(0.1 / std::sqrt(5.0)));
}

TEST_CASE("lines that cannot be fitted are refused", "[uncertainty]")
{
    std::vector<double> const one{1}, two{1, 2}, same{3, 3, 3}, three{1, 2, 3};
    CHECK_FALSE(fit_line(one, one, 1.0));
    CHECK_FALSE(fit_line(two, two, 0.0));
    CHECK(fit_line(two, two, 0.1));
    CHECK_FALSE(fit_line(same, three, 1.0));
    CHECK_FALSE(fit_line(two, three, 1.0));
}

TEST_CASE("the time to hold is the time at which even readings reach the wanted band",
          "[uncertainty][property]")
{
    for (double wanted : {1e-3, 1e-4, 1e-5}) {
        double const hold = hold_for(wanted, 0.02, 10.0);
        std::vector<double> t, y;
        for (double x = 0.0; x <= hold + 1e-9; x += 10.0) {
            t.push_back(x);
            y.push_back(0.0);
        }
        auto const fit = fit_line(t, y, 0.02);
        REQUIRE(fit);
        double const n = static_cast<double>(t.size());
        CHECK(coverage_95(n - 2.0) * fit->u_slope <= wanted * 1.0001);
        CHECK(coverage_95(n - 2.0) * slope_u_even(0.02, 10.0, 0.97 * n - 1.0) > wanted);
    }
    CHECK(std::isinf(hold_for(0.0, 0.02, 10.0)));
    CHECK(std::isinf(hold_for(-1.0, 0.02, 10.0)));
}

namespace {

struct Curve {
    std::vector<double> t, y;
};

Curve purge(int readings, double noise, std::uint64_t seed, double plateau = 0.991, double rise = 0.381,
            double tau = 180.0)
{
    Random random(seed);
    Curve c;
    for (int i = 0; i < readings; ++i) {
        c.t.push_back(120.0 * i);
        c.y.push_back(plateau - rise * std::exp(-c.t.back() / tau) + noise * random.normal());
    }
    return c;
}

} // namespace

TEST_CASE("an exact approach is found exactly", "[uncertainty]")
{
    Curve const c = purge(8, 0.0, 1);
    auto const fit = fit_approach(c.t, c.y, 1e-9);
    REQUIRE(fit);
    CHECK(fit->plateau == Approx(0.991).epsilon(0).margin(1e-7));
    CHECK(fit->rise == Approx(0.381).epsilon(0).margin(1e-6));
    CHECK(fit->time_constant == Approx(180.0).epsilon(1e-5));
    CHECK(fit->at(300.0) == Approx(0.991 - 0.381 * std::exp(-300.0 / 180.0)).epsilon(1e-6));
}

TEST_CASE("the 95 % interval of the plateau holds the true one about 95 times in 100",
          "[uncertainty][property]")
{
    int inside = 0;
    int const runs = 400;
    for (int run = 0; run < runs; ++run) {
        Curve const c = purge(14, 0.002, 100 + static_cast<std::uint64_t>(run));
        auto const fit = fit_approach(c.t, c.y, 0.0);
        REQUIRE(fit);
        inside +=
            std::fabs(fit->plateau - 0.991) <= coverage_95(fit->degrees_of_freedom) * fit->u_plateau ? 1 : 0;
    }
    // Robust weights and the curve's bend take a little; three standard deviations of a binomial are 3.3 %.
    CHECK(inside >= static_cast<int>(0.89 * runs));
}

TEST_CASE("one wild reading hardly moves the plateau", "[uncertainty]")
{
    Curve c = purge(14, 0.001, 5);
    c.y[6] -= 0.2;
    auto const fit = fit_approach(c.t, c.y, 0.001);
    REQUIRE(fit);
    CHECK(fit->outliers >= 1);
    CHECK(fit->plateau == Approx(0.991).epsilon(0).margin(0.002));
}

TEST_CASE("readings all alike are a plateau without a time constant", "[uncertainty]")
{
    std::vector<double> const t{0, 60, 120, 180, 240}, y{0.98, 0.98, 0.981, 0.98, 0.98};
    auto const fit = fit_approach(t, y, 0.001);
    REQUIRE(fit);
    CHECK(fit->flat);
    CHECK(fit->plateau == Approx(0.9802));
    CHECK(fit->remaining(100.0) == 0.0);
}

TEST_CASE("too few readings, or all at once, show no plateau", "[uncertainty]")
{
    std::vector<double> const three{0, 1, 2}, four{1, 1, 1, 1}, y{1, 2, 3, 4};
    CHECK_FALSE(fit_approach(three, three, 0.1));
    CHECK_FALSE(fit_approach(four, y, 0.1));
}

TEST_CASE("a straight rise has no plateau to speak of, and says so by its uncertainty", "[uncertainty]")
{
    std::vector<double> t, y;
    Random random(3);
    for (int i = 0; i < 8; ++i) {
        t.push_back(60.0 * i);
        y.push_back(0.5 + 0.02 * i + 0.001 * random.normal());
    }
    auto const fit = fit_approach(t, y, 0.001);
    if (fit)
        CHECK(fit->u_plateau > 0.02);
    else
        CHECK(fit.error().code == Error::Code::no_solution);
}

TEST_CASE("the decision rules of JCGM 106 part where the limit lies inside the interval", "[uncertainty]")
{
    using enum Outcome;
    struct Case {
        double value, half, limit;
        Side side;
        Outcome guarded, simple;
    };
    for (Case const& c :
         {Case{1.0, 0.1, 1.2, Side::at_most, pass, pass},
          Case{1.15, 0.1, 1.2, Side::at_most, undecided, pass},
          Case{1.25, 0.1, 1.2, Side::at_most, undecided, fail},
          Case{1.4, 0.1, 1.2, Side::at_most, fail, fail}, Case{98.0, 0.3, 97.0, Side::at_least, pass, pass},
          Case{97.1, 0.3, 97.0, Side::at_least, undecided, pass},
          Case{96.9, 0.3, 97.0, Side::at_least, undecided, fail},
          Case{96.0, 0.3, 97.0, Side::at_least, fail, fail},
          Case{1.1, 0.1, 1.2, Side::at_most, pass, pass}}) {
        double const low = c.value - c.half, high = c.limit == 1.2 && c.value == 1.1 ? 1.2 : c.value + c.half;
        CAPTURE(c.value, c.half, c.limit);
        CHECK(decide(c.value, low, high, c.limit, c.side, Rule::guarded).outcome == c.guarded);
        CHECK(decide(c.value, low, high, c.limit, c.side, Rule::simple).outcome == c.simple);
    }
    CHECK(decide(NAN, 0, 1, 2, Side::at_most, Rule::simple).outcome == undecided);
    CHECK(decide(1.15, 1.05, 1.25, 1.2, Side::at_most, Rule::guarded).expanded_needed == Approx(0.05));
}
