#include "uncertainty/budget.h"
#include "uncertainty/instrument.h"
#include "uncertainty/monte_carlo.h"
#include "uncertainty/student.h"
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

using namespace isochore;
using namespace isochore::uncertainty;

TEST_CASE("t quantiles are those of JCGM 100 table G.2", "[uncertainty][published]")
{
    // JCGM 100:2008, table G.2, column 95 %: printed to two decimals.
    auto const [freedom, t] = GENERATE(table<double, double>({{1, 12.71},
                                                              {2, 4.30},
                                                              {3, 3.18},
                                                              {4, 2.78},
                                                              {5, 2.57},
                                                              {8, 2.31},
                                                              {10, 2.23},
                                                              {20, 2.09},
                                                              {50, 2.01},
                                                              {100, 1.984}}));
    CAPTURE(freedom);
    CHECK(coverage_95(freedom) == Approx(t).epsilon(0).margin(0.005));
    CHECK(coverage_95(std::numeric_limits<double>::infinity()) == Approx(1.959964).epsilon(1e-6));
}

TEST_CASE("the t distribution and its quantile undo each other", "[uncertainty][property]")
{
    for (double freedom : {1.0, 1.7, 3.0, 12.5, 400.0, 1e9})
        for (double p : {0.001, 0.05, 0.3, 0.5, 0.8, 0.975, 0.9999}) {
            CAPTURE(freedom, p);
            CHECK(student_cdf(student_quantile(p, freedom), freedom) == Approx(p).epsilon(1e-10));
        }
    CHECK(student_cdf(1.0, 1.0) == Approx(0.75).epsilon(1e-13)); // Cauchy: 1/2 + atan(1)/pi
    CHECK(std::isnan(student_quantile(0.0, 3.0)));
    CHECK(std::isnan(student_quantile(0.5, 0.0)));
    CHECK(std::isnan(student_quantile(NAN, 3.0)));
}

TEST_CASE("a product's relative uncertainties add in squares", "[uncertainty]")
{
    // JCGM 100, 5.1.6: for y = x1 x2 / x3 the relative variances add.
    std::array const inputs = {Input{"a", 12.0, 0.12, {}, 1e9, ""}, Input{"b", 3.0, 0.06, {}, 1e9, ""},
                               Input{"c", 5.0, 0.15, {}, 1e9, ""}};
    auto const budget =
        first_order([](std::span<double const> x) -> Result<double> { return x[0] * x[1] / x[2]; }, inputs);
    REQUIRE(budget);
    CHECK(budget->value == Approx(7.2));
    CHECK(budget->u / budget->value ==
          Approx(std::sqrt(0.01 * 0.01 + 0.02 * 0.02 + 0.03 * 0.03)).epsilon(1e-6));
    REQUIRE(budget->contributions.size() == 3);
    CHECK(budget->contributions[0].name == "c");
    CHECK(budget->contributions[0].share == Approx(9.0 / 14.0).epsilon(1e-5));
    CHECK(budget->contributions[2].sensitivity == Approx(0.6).epsilon(1e-6));
}

TEST_CASE("effective degrees of freedom follow Welch and Satterthwaite", "[uncertainty][published]")
{
    // JCGM 100:2008, G.4.1 example: relative u of 0.25 %, 0.57 %, 0.82 % with 9, 4 and 14 degrees of freedom
    // give 19.0 (example from memory).
    std::array const u = {0.25, 0.57, 0.82};
    std::array const freedom = {9.0, 4.0, 14.0};
    CHECK(welch_satterthwaite(u, freedom) == Approx(19.0).epsilon(0).margin(0.05));
    std::array const certain = {INFINITY * 1.0, 4.0, INFINITY * 1.0};
    CHECK(welch_satterthwaite(u, certain) > 19.0);
    CHECK(std::isinf(welch_satterthwaite({}, {})));
}

TEST_CASE("a model that refuses its best estimate gives its own error, one-sided models still a slope",
          "[uncertainty]")
{
    std::array const inputs = {Input{"x", 0.0, 0.1, {}, 1e9, ""}};
    auto const refusing = first_order(
        [](std::span<double const>) -> Result<double> { return fail(Error::Code::liquid, "x", "no"); },
        inputs);
    REQUIRE_FALSE(refusing);
    CHECK(refusing.error().code == Error::Code::liquid);
    auto const edge = first_order(
        [](std::span<double const> x) -> Result<double> {
            if (x[0] < 0.0)
                return fail(Error::Code::out_of_range, "x", "below zero");
            return 3.0 * x[0];
        },
        inputs);
    REQUIRE(edge);
    CHECK(edge->u == Approx(0.3).epsilon(1e-6));
    std::array const negative = {Input{"x", 0.0, -0.1, {}, 1e9, ""}};
    CHECK_FALSE(first_order([](std::span<double const> x) -> Result<double> { return x[0]; }, negative));
}

TEST_CASE("instruments become standard uncertainties", "[uncertainty]")
{
    Instrument gauge; // class 1.6 of 1.0 MPa: a = 16 kPa, u = a/sqrt 3 (JCGM 100, 4.3.7)
    gauge.accuracy_class = 0.016;
    gauge.span = 1.0e6;
    Input const p = reading("p", 6e5, gauge);
    CHECK(p.u == Approx(9237.6).epsilon(1e-5));
    CHECK(p.shape == Shape::rectangular);
    CHECK(class_for(p.u, 1.0e6) == Approx(0.016));

    Instrument scale; // two weighings with a limit of 2 lb: u = 1.155 each, 1.633 of the difference
    scale.limit = 2.0;
    CHECK(reading("w", 115.0, scale).u == Approx(1.1547).epsilon(1e-4));
    CHECK(std::sqrt(2.0) * reading("w", 115.0, scale).u == Approx(1.63299).epsilon(1e-5));

    Instrument step; // JCGM 100, F.2.2.1: u = 0.29 of the step
    step.resolution = 1.0;
    CHECK(reading("x", 1.0, step).u == Approx(0.288675).epsilon(1e-5));

    Instrument few;
    few.repeatability = 2.0;
    few.readings = 4;
    Input const mean = reading("x", 1.0, few);
    CHECK(mean.u == Approx(1.0));
    CHECK(mean.shape == Shape::student);
    CHECK(mean.degrees_of_freedom == Approx(3.0));

    few.resolution = std::sqrt(12.0);
    few.calibration_expanded = 4.0;
    Input const all = reading("x", 1.0, few);
    CHECK(all.u == Approx(std::sqrt(1.0 + 1.0 + 4.0)));
    CHECK(all.degrees_of_freedom == Approx(36.0 * 3.0));
    CHECK(reading("x", 1.0, {}).u == 0.0);
}

TEST_CASE("Monte Carlo and first order agree where the model is linear", "[uncertainty]")
{
    std::array const inputs = {Input{"a", 1.0, 0.2, Shape::normal, 1e12, ""},
                               Input{"b", 2.0, 0.3, Shape::rectangular, 1e12, ""},
                               Input{"c", 3.0, 0.1, Shape::triangular, 1e12, ""}};
    auto const model = [](std::span<double const> x) { return 2.0 * x[0] - x[1] + 4.0 * x[2]; };
    auto const exact =
        first_order([&](std::span<double const> x) -> Result<double> { return model(x); }, inputs);
    auto const drawn = monte_carlo(model, inputs, 400000, 7);
    REQUIRE(exact);
    REQUIRE(drawn);
    CHECK(drawn->mean == Approx(exact->value).epsilon(0).margin(4.0 * exact->u / std::sqrt(4e5)));
    CHECK(drawn->u == Approx(exact->u).epsilon(0.005));
}

TEST_CASE("JCGM 101 examples come out", "[uncertainty][published]")
{
    // JCGM 101:2008, 9.2.2 and 9.2.3, values from memory: sum of four normals, 95 % interval +-3.92; of four
    // rectangular distributions with the same u, +-3.88.
    auto const sum = [](std::span<double const> x) { return x[0] + x[1] + x[2] + x[3]; };
    auto const of = [&](Shape shape) {
        std::array<Input, 4> inputs;
        for (auto& i : inputs)
            i = {"x", 0.0, 1.0, shape, 1e12, ""};
        return monte_carlo(sum, inputs, 1000000, 3).value();
    };
    Spread const normals = of(Shape::normal), boxes = of(Shape::rectangular);
    CHECK(normals.u == Approx(2.0).epsilon(0.003));
    CHECK(0.5 * (normals.high - normals.low) == Approx(3.92).epsilon(0).margin(0.03));
    CHECK(0.5 * (boxes.high - boxes.low) == Approx(3.88).epsilon(0).margin(0.03));

    // 9.2.4: four rectangular, one ten times as wide: +-17.0, where first order would say +-20.4.
    std::array<Input, 4> inputs;
    for (auto& i : inputs)
        i = {"x", 0.0, 1.0, Shape::rectangular, 1e12, ""};
    inputs[3].u = 10.0;
    Spread const wide = monte_carlo(sum, inputs, 1000000, 5).value();
    CHECK(0.5 * (wide.high - wide.low) == Approx(17.0).epsilon(0).margin(0.15));
    CHECK(wide.u == Approx(10.1).epsilon(0.005));

    // 9.4.2.2: comparison loss x1^2 + x2^2 at zero with u = 0.005: mean 50e-6, u 50e-6, shortest 95 %
    // interval from 0 to 150e-6, which no symmetric interval shows.
    std::array const loss = {Input{"x1", 0.0, 0.005, Shape::normal, 1e12, ""},
                             Input{"x2", 0.0, 0.005, Shape::normal, 1e12, ""}};
    Spread const squared =
        monte_carlo([](std::span<double const> x) { return x[0] * x[0] + x[1] * x[1]; }, loss, 1000000, 9)
            .value();
    CHECK(squared.mean * 1e6 == Approx(50.0).epsilon(0).margin(0.5));
    CHECK(squared.u * 1e6 == Approx(50.0).epsilon(0).margin(0.5));
    CHECK(squared.low * 1e6 == Approx(0.0).margin(0.5));
    CHECK(squared.high * 1e6 == Approx(150.0).epsilon(0).margin(2.0));
}

TEST_CASE("draws have the mean and the spread of their input", "[uncertainty][property]")
{
    auto const shape = GENERATE(Shape::normal, Shape::rectangular, Shape::triangular, Shape::student);
    Input const input{"x", 5.0, 2.0, shape, 8.0, ""};
    Random random(11);
    double sum = 0.0, squares = 0.0, largest = 0.0;
    int const n = 400000;
    for (int i = 0; i < n; ++i) {
        double const x = random.draw(input) - 5.0;
        sum += x;
        squares += x * x;
        largest = std::fmax(largest, std::fabs(x));
    }
    // The scaled t of JCGM 101, 6.4.9.4 is wider than its scale: variance nu/(nu - 2).
    double const u = shape == Shape::student ? 2.0 * std::sqrt(8.0 / 6.0) : 2.0;
    CHECK(sum / n == Approx(0.0).margin(0.02));
    CHECK(std::sqrt(squares / n) == Approx(u).epsilon(0.01));
    if (shape == Shape::rectangular)
        CHECK(largest <= 2.0 * std::sqrt(3.0));
    if (shape == Shape::triangular)
        CHECK(largest <= 2.0 * std::sqrt(6.0));
}

TEST_CASE("the same seed gives the same draws and another seed others", "[uncertainty]")
{
    Random a(1), b(1), c(2);
    auto const first = a.next();
    CHECK(first == b.next());
    CHECK(first != c.next());
    for (int i = 0; i < 1000; ++i) {
        double const x = a.uniform();
        REQUIRE(x >= 0.0);
        REQUIRE(x < 1.0);
    }
}

TEST_CASE("refused draws are left out, and too many are an error", "[uncertainty]")
{
    std::array const inputs = {Input{"x", 0.0, 1.0, Shape::normal, 1e12, ""}};
    auto const few = monte_carlo([](std::span<double const> x) { return x[0] > 4.0 ? NAN : x[0]; }, inputs);
    REQUIRE(few);
    auto const many = monte_carlo([](std::span<double const> x) { return x[0] > 1.0 ? NAN : x[0]; }, inputs);
    REQUIRE_FALSE(many);
    std::vector<double> tiny(50, 1.0);
    CHECK_FALSE(spread_of(tiny));
}
