#include "electrical/ct_taps.h"
#include "electrical/load_check.h"
#include "electrical/phase_sum.h"
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

using namespace isochore;
using namespace isochore::electrical;

TEST_CASE("multi-ratio taps agree with IEEE C57.13 table 8", "[electrical][published]")
{
    // Rows from a catalogue sheet that reproduces the table, primary A for 5 A, in the order X1-X2 … X4-X5.
    std::map<int, std::array<int, 10>> const table{
        {600, {100, 150, 400, 600, 50, 300, 500, 250, 450, 200}},
        {1200, {200, 300, 800, 1200, 100, 600, 1000, 500, 900, 400}},
        {2000, {400, 1200, 1500, 2000, 800, 1100, 1600, 300, 800, 500}},
        {3000, {1000, 2200, 2500, 3000, 1200, 1500, 2000, 300, 800, 500}},
        {4000, {500, 2000, 3000, 4000, 1500, 2500, 3500, 1000, 2000, 1000}},
        {5000, {1500, 2000, 4000, 5000, 500, 2500, 3500, 2000, 3000, 1000}}};
    REQUIRE(standard_multi_ratios().size() == table.size());
    for (auto const& [full, primaries] : table) {
        auto const taps = standard_taps({double(full), 5.0}, "test");
        REQUIRE(taps);
        REQUIRE(taps->size() == 10);
        for (std::size_t i = 0; i < 10; ++i) {
            CAPTURE(full, (*taps)[i].terminals());
            CHECK((*taps)[i].primary_a == primaries[i]);
        }
    }
}

TEST_CASE("the tap table agrees with the shared file of turns and listed pairs", "[electrical]")
{
    std::ifstream file(ISOCHORE_SHARED_DATA "/tables/ct_taps.csv");
    if (!file) {
        WARN("skipped: the shared data are not here");
        return;
    }
    std::string line;
    std::getline(file, line);
    int rows = 0;
    while (std::getline(file, line)) {
        std::istringstream fields(line);
        std::string full, terminals, turns, primary, listed;
        std::getline(fields, full, ',');
        std::getline(fields, terminals, ',');
        std::getline(fields, turns, ',');
        std::getline(fields, primary, ',');
        std::getline(fields, listed, ',');
        auto const ratio = parse_ratio(full, "test");
        REQUIRE(ratio);
        auto const taps = standard_taps(*ratio, "test");
        REQUIRE(taps);
        auto const tap = std::find_if(taps->begin(), taps->end(),
                                      [&](Tap const& t) { return t.terminals() == terminals; });
        CAPTURE(line);
        REQUIRE(tap != taps->end());
        CHECK(tap->turns == std::stoi(turns));
        CHECK(tap->primary_a == std::stod(primary));
        CHECK(tap->listed == (listed.front() == '1'));
        ++rows;
    }
    CHECK(rows == 60);
}

TEST_CASE("pairs with equal ratio point at one another and no other pair does", "[electrical]")
{
    // Equal pairs worked out from the segments of IEEE C57.13 table 8.
    std::map<int, std::set<std::pair<std::string, std::string>>> const twins{
        {600, {}},
        {1200, {}},
        {2000, {{"X2-X3", "X3-X5"}}},
        {3000, {}},
        {4000, {{"X1-X3", "X3-X5"}, {"X3-X4", "X4-X5"}}},
        {5000, {{"X1-X3", "X3-X4"}}}};
    for (auto const& [full, expected] : twins) {
        auto const taps = standard_taps({double(full), 5.0}, "test");
        REQUIRE(taps);
        std::set<std::pair<std::string, std::string>> found;
        for (std::size_t i = 0; i < taps->size(); ++i)
            for (int twin : (*taps)[i].twins) {
                REQUIRE((*taps)[std::size_t(twin)].turns == (*taps)[i].turns);
                if (std::size_t(twin) > i)
                    found.insert({(*taps)[i].terminals(), (*taps)[std::size_t(twin)].terminals()});
            }
        CAPTURE(full);
        CHECK(found == expected);
    }
}

TEST_CASE("taps of any chain of segments add up between their terminals", "[electrical][property]")
{
    std::vector<int> const segments{3, 7, 11, 13, 17};
    auto const taps = taps_of_segments(segments, 1.0, "test");
    REQUIRE(taps);
    REQUIRE(taps->size() == 15);
    for (Tap const& t : *taps) {
        int sum = 0;
        for (int i = t.from; i < t.to; ++i)
            sum += segments[std::size_t(i - 1)];
        CHECK(t.turns == sum);
        CHECK(t.ratio() == Approx(sum).epsilon(1e-15));
    }
    CHECK_FALSE(taps_of_segments(std::vector<int>{}, 5.0, "test"));
    CHECK_FALSE(taps_of_segments(std::vector<int>{5, 0}, 5.0, "test"));
}

TEST_CASE("a CT that is no standard multi-ratio is refused with the list of those that are", "[electrical]")
{
    auto const taps = standard_taps({800.0, 5.0}, "inputs.full_ratio");
    REQUIRE_FALSE(taps);
    CHECK(taps.error().detail.find("600:5, 1200:5") != std::string::npos);
    CHECK_FALSE(standard_taps({1200.0, 1.0}, "test"));
}

TEST_CASE("ratio text is read with its faults named", "[electrical]")
{
    CHECK(parse_ratio("1200:5", "t")->to_one() == 240.0);
    CHECK(parse_ratio("1200 / 5", "t")->to_one() == 240.0);
    CHECK(parse_ratio("240:1", "t")->to_one() == 240.0);
    CHECK(parse_ratio("5:1200", "t").error().detail.find("swapped") != std::string::npos);
    CHECK(parse_ratio("1200:0", "t").error().code == Error::Code::out_of_range);
    CHECK_FALSE(parse_ratio("1200", "t"));
    CHECK_FALSE(parse_ratio("a:b", "t"));
    CHECK_FALSE(parse_ratio("-1200:-5", "t"));
    CHECK_FALSE(parse_ratio("1,200:5", "t"));
}

TEST_CASE("turns through the coil and a delta lead change the scale, not the ratio", "[electrical]")
{
    // Worked example: tap 2000:5, two turns, reading 3.00 A is 600 A (from memory, sure).
    auto const two = path_ratio({{2000.0, 5.0}, {}, 2, false}, "t");
    REQUIRE(two);
    CHECK(two->ratio == 400.0);
    CHECK(3.0 * two->scale == Approx(600.0).epsilon(1e-15));
    auto const delta = path_ratio({{2000.0, 5.0}, {}, 1, true}, "t");
    CHECK(delta->scale * std::sqrt(3.0) == Approx(400.0).epsilon(1e-14));
    auto const aux = path_ratio({{2000.0, 5.0}, NameplateRatio{5.0, 1.0}, 1, false}, "t");
    CHECK(aux->ratio == 2000.0);
    // An auxiliary CT may step up; the main one may not.
    CHECK(path_ratio({{2000.0, 5.0}, NameplateRatio{1.0, 5.0}, 1, false}, "t")->ratio == Approx(80.0));
    CHECK_FALSE(path_ratio({{2000.0, 5.0}, {}, 0, false}, "t"));
}

namespace {
LoadReading reading(double primary, double read)
{
    return {primary, read, 0.01, 0.005, 0.005, 0.0};
}
} // namespace

TEST_CASE("a clean reading makes the recorded tap by far the most probable", "[electrical]")
{
    auto const taps = standard_taps({1200.0, 5.0}, "t");
    Wiring const recorded{"X1-X5", 240.0, 1, false, 0.0};
    auto const why = explain_reading(possible_wirings(*taps, recorded, 1), reading(600.0, 2.5));
    CHECK(why.ranked.front().terminals == "X1-X5");
    CHECK(why.ranked.front().probability > 0.95);
}

TEST_CASE("probabilities of all explanations add to one", "[electrical][property]")
{
    for (MultiRatio const& ct : standard_multi_ratios())
        for (double read : {0.01, 0.1, 0.7, 1.0, 3.3, 5.0, 40.0}) {
            auto const taps = standard_taps({double(ct.full_primary_a), 5.0}, "t");
            Wiring const recorded{"X1-X5", ct.full_primary_a / 5.0, 1, false, 0.0};
            auto const why = explain_reading(possible_wirings(*taps, recorded, 3), reading(400.0, read));
            double sum = why.something_else;
            for (Wiring const& w : why.ranked) {
                CHECK(w.probability >= 0.0);
                sum += w.probability;
            }
            CHECK(sum == Approx(1.0).epsilon(1e-12));
        }
}

TEST_CASE("two turns instead of one are found as the cause of a doubled reading", "[electrical]")
{
    Wiring const recorded{"", 240.0, 1, false, 0.0};
    auto const why = explain_reading(possible_wirings({}, recorded, 3), reading(600.0, 5.0));
    CHECK(why.ranked.front().turns == 2);
    CHECK(why.ranked.front().probability > 0.9);
}

TEST_CASE("a reading root three too large points at a delta lead", "[electrical]")
{
    Wiring const recorded{"", 240.0, 1, false, 0.0};
    auto const why = explain_reading(possible_wirings({}, recorded, 1), reading(600.0, 2.5 * std::sqrt(3.0)));
    CHECK(why.ranked.front().delta);
    CHECK(why.ranked.front().probability > 0.9);
}

TEST_CASE("pairs of equal ratio are equally probable", "[electrical]")
{
    auto const taps = standard_taps({4000.0, 5.0}, "t");
    Wiring const recorded{"X1-X5", 800.0, 1, false, 0.0};
    auto const why = explain_reading(possible_wirings(*taps, recorded, 1), reading(1000.0, 5.0));
    CHECK(why.ranked[0].probability == Approx(why.ranked[1].probability).epsilon(1e-12));
    CHECK(std::set<std::string>{why.ranked[0].terminals, why.ranked[1].terminals} ==
          std::set<std::string>{"X3-X4", "X4-X5"});
}

TEST_CASE("worse instruments spread the probability over neighbouring taps", "[electrical][property]")
{
    auto const taps = standard_taps({1200.0, 5.0}, "t");
    Wiring const recorded{"X1-X5", 240.0, 1, false, 0.0};
    double last = 1.0;
    for (double u : {0.005, 0.02, 0.05, 0.1, 0.2}) {
        LoadReading r{600.0, 2.5, u, 0.0, 0.0, 0.0};
        auto const why = explain_reading(possible_wirings(*taps, recorded, 1), r);
        CHECK(why.ranked.front().probability < last);
        last = why.ranked.front().probability;
    }
}

TEST_CASE("a reading that no wiring explains is called something else", "[electrical]")
{
    Wiring const recorded{"", 240.0, 1, false, 0.0};
    auto const why = explain_reading(possible_wirings({}, recorded, 3), reading(600.0, 1.1));
    CHECK(why.something_else > 0.99);
}

TEST_CASE("the sum of three coils that sit alike is small and of one reversed twice its phase",
          "[electrical][property]")
{
    for (double load : {1.0, 2.5, 5.0})
        for (std::size_t odd = 0; odd < 3; ++odd) {
            // From the phasors themselves: I at 0, -120 and +120 degrees.
            PhaseReadings r{{load, load, load}, 0.0, 0.002, 1e-3, 0.003};
            CHECK(explain_sum(r).front().text == "all three alike");
            // Three readings and the sum's floor, and two angles against the third (JCGM 100, 5.1.2); the
            // sum itself is zero.
            CHECK(sum_uncertainty_a(r) == Approx(std::sqrt(3.0 * std::pow(0.002 * load, 2) + 1e-6 +
                                                           2.0 * std::pow(0.003 * load, 2))));
            r.phase_a[odd] = 0.9 * load;
            double const reversed = load + r.phase_a[odd]; // the two others add to one load against it
            r.sum_a = reversed;
            auto const why = explain_sum(r);
            CAPTURE(load, odd);
            CHECK(why.front().direction[odd] == -1);
            CHECK(why.front().expected_sum_a == Approx(reversed).epsilon(1e-12));
            double total = 0.0;
            for (auto const& h : why)
                total += h.probability;
            CHECK(total == Approx(1.0).epsilon(1e-12));
        }
}
