#include "planning/chance.h"
#include "planning/kit.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace isochore::planning;

namespace {

Task spread(double low, double likely, double high, std::vector<std::size_t> needs = {})
{
    Task t;
    t.id = std::string(1, 't');
    t.low_s = low;
    t.likely_s = likely;
    t.high_s = high;
    t.needs = std::move(needs);
    return t;
}

} // namespace

TEST_CASE("one PERT task has the mean and spread of its beta distribution", "[planning]")
{
    // PERT 0, 1/2, 1 is Beta(3, 3): mean 1/2, variance 9/(36 x 7) = 1/28 (beta distribution).
    std::vector<Task> const tasks{spread(0, 500, 1000)};
    auto const c = finish_chance(tasks, {1, 500.0, 0.0, 40000, 5});
    REQUIRE(c);
    CHECK(c->mean_s == Approx(500.0).epsilon(0).margin(4.0));
    CHECK(c->u_s == Approx(1000.0 / std::sqrt(28.0)).epsilon(0.02));
    CHECK(c->chance == Approx(0.5).epsilon(0).margin(4 * 0.0025));
    // Skewed: mean (low + 4 likely + high) / 6.
    std::vector<Task> const skewed{spread(10, 20, 60)};
    auto const k = finish_chance(skewed, {1, 25.0, 0.0, 40000, 6});
    CHECK(k->mean_s == Approx(150.0 / 6.0).epsilon(0).margin(0.2));
    CHECK(k->finishes_s.front() >= 10.0);
    CHECK(k->finishes_s.back() <= 60.0);
}

TEST_CASE("a sum of tasks has the sum of the means and of the variances", "[planning]")
{
    std::vector<Task> const tasks{spread(0, 500, 1000), spread(0, 500, 1000, {0}), spread(0, 500, 1000, {1})};
    auto const c = finish_chance(tasks, {1, 1500.0, 0.0, 40000, 7});
    CHECK(c->mean_s == Approx(1500.0).epsilon(0).margin(7.0));
    CHECK(c->u_s == Approx(1000.0 * std::sqrt(3.0 / 28.0)).epsilon(0.02));
}

TEST_CASE("two tasks at once take longer than either on average", "[planning]")
{
    std::vector<Task> const tasks{spread(0, 500, 1000), spread(0, 500, 1000)};
    auto const c = finish_chance(tasks, {2, 500.0, 0.0, 20000, 8});
    CHECK(c->mean_s > 550.0);
    CHECK(c->chance == Approx(0.25).epsilon(0).margin(0.015)); // both must be inside, each with 1/2
    CHECK(c->criticality[0] + c->criticality[1] == Approx(1.0).epsilon(1e-9));
    CHECK(c->criticality[0] == Approx(0.5).epsilon(0).margin(0.02));
}

TEST_CASE("a common factor widens the finish more than independent steps do", "[planning]")
{
    std::vector<Task> tasks;
    for (std::size_t i = 0; i < 10; ++i)
        tasks.push_back(
            spread(90, 100, 110, i ? std::vector<std::size_t>{i - 1} : std::vector<std::size_t>{}));
    auto const alone = finish_chance(tasks, {1, 1000.0, 0.0, 5000, 9});
    auto const day = finish_chance(tasks, {1, 1000.0, 0.10, 5000, 9});
    CHECK(day->u_s > 5.0 * alone->u_s);
    CHECK(day->u_s == Approx(100.0).epsilon(0.1)); // 10 % of 1000 s
}

TEST_CASE("the chance rises with the window and repeats for one seed", "[planning][property]")
{
    std::vector<Task> const tasks{spread(10, 20, 60), spread(10, 20, 60, {0})};
    double last = 0.0;
    for (double window : {10.0, 30.0, 45.0, 60.0, 90.0, 130.0}) {
        auto const c = finish_chance(tasks, {2, window, 0.0, 2000, 3});
        CHECK(c->chance >= last);
        last = c->chance;
        CHECK(finish_chance(tasks, {2, window, 0.0, 2000, 3})->chance == c->chance);
        CHECK(c->u_chance > 0.0);
    }
    CHECK(last == 1.0);
}

TEST_CASE("the quantile is the time by which that share has finished", "[planning]")
{
    std::vector<Task> const tasks{spread(10, 20, 60)};
    auto const c = finish_chance(tasks, {1, 0.0, 0.0, 5000, 4});
    double const q = c->quantile_s(0.9);
    auto const inside =
        std::count_if(c->finishes_s.begin(), c->finishes_s.end(), [&](double f) { return f <= q; });
    CHECK(static_cast<double>(inside) / 5000.0 == Approx(0.9).epsilon(0).margin(0.001));
}

TEST_CASE("a kit line counts its thing, adds the spare and rounds pieces up", "[planning]")
{
    KitCounts counts;
    counts.people = 3;
    counts.joints = 5;
    counts.wire_m = 10.0;
    auto const line = [&](char const* per, double each, double spare, char const* unit = "pcs") {
        KitRule r;
        r.per = per;
        r.each = each;
        r.spare = spare;
        r.unit = unit;
        r.cost = 2.0;
        return kit_line(r, counts);
    };
    CHECK(line("person", 1, 0)->quantity == 3.0);
    CHECK(line("joint", 1, 0.2)->quantity == 6.0); // exactly 6, not 7
    CHECK(line("joint", 1, 0.25)->quantity == 7.0);
    CHECK(line("wire", 0.5, 0.0, "m")->quantity == 5.0);
    CHECK(line("job", 1, 0)->cost == 2.0);
    CHECK_FALSE(line("circuit", 2, 0.5));
}

TEST_CASE("cylinders are whole and their heel stays in them", "[planning]")
{
    CHECK(cylinders_for(0.0, 50.0, 0.05) == 0);
    CHECK(cylinders_for(47.5, 50.0, 0.05) == 1);
    CHECK(cylinders_for(47.6, 50.0, 0.05) == 2);
    CHECK(cylinders_for(10.0, 5.0, 0.0) == 2);
}

TEST_CASE("an instrument must be in date on the day of the job", "[planning]")
{
    CHECK(calibration_state("2026-12-31", "2026-11-25", "2026-12-03") == Calibration::in_date);
    CHECK(calibration_state("2026-12-03", "2026-11-25", "2026-12-03") == Calibration::in_date);
    CHECK(calibration_state("2026-11-30", "2026-11-25", "2026-12-03") == Calibration::expires_before_job);
    CHECK(calibration_state("2026-11-24", "2026-11-25", "2026-12-03") == Calibration::expired);
    CHECK(calibration_state("", "2026-11-25", "2026-12-03") == Calibration::unknown);
}
