#include "electrical/operation.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace isochore;
using namespace isochore::electrical;

namespace {

/// A record at `hertz` of 0.3 s: 50 Hz current of `peak_a` that ends at the zero at `end_s`.
Comtrade record(double hertz, double end_s, double peak_a = 100.0)
{
    Comtrade r;
    r.frequency_hz = 50.0;
    r.rates.push_back({hertz, static_cast<std::int64_t>(0.3 * hertz)});
    AnalogChannel current;
    current.name = "ia";
    DigitalChannel trip, contact;
    trip.name = "trip";
    contact.name = "52b";
    for (int n = 0; n < static_cast<int>(0.3 * hertz); ++n) {
        double const t = n / hertz;
        r.times_s.push_back(t);
        current.values.push_back(t < end_s ? peak_a * std::sin(2.0 * std::numbers::pi * 50.0 * (t - end_s))
                                           : 0.0);
        trip.values.push_back(t >= 0.1 ? 1 : 0);
        contact.values.push_back(t >= 0.1287 && !(t >= 0.1297 && t < 0.1302) ? 1 : 0);
    }
    r.analog.push_back(current);
    r.digital = {trip, contact};
    return r;
}

} // namespace

TEST_CASE("trip, contact and last current zero are found within their uncertainty", "[electrical][operation]")
{
    for (double hertz : {2000.0, 4000.0, 9600.0, 15360.0}) {
        CAPTURE(hertz);
        double const end = 0.1517;
        auto const r = record(hertz, end);
        auto const trip = first_on(r, r.digital[0]);
        REQUIRE(trip);
        CHECK(std::fabs(trip->time_s - 0.1) <= 0.5 / hertz + 1e-12);
        CHECK(trip->u_s == Approx(1.0 / hertz / std::sqrt(12.0)));
        auto const change = contact_change(r, r.digital[1], trip->time_s);
        REQUIRE(change);
        CHECK(std::fabs(change->first.time_s - 0.1287) <= 0.5 / hertz + 1e-12);
        CHECK(std::fabs(change->settled.time_s - 0.1302) <= 0.5 / hertz + 1e-12);
        CHECK(change->becomes);
        auto const ends = current_ends(r, r.analog[0], 5.0);
        REQUIRE(ends);
        CHECK(std::fabs(ends->time_s - end) <= 2.0 / hertz);
    }
}

TEST_CASE("a current that passes through zero is not taken as ended there", "[electrical][operation]")
{
    // The end is a whole half cycle after the zero before it.
    auto const r = record(4000.0, 0.16);
    CHECK(current_ends(r, r.analog[0], 5.0)->time_s > 0.155);
}

TEST_CASE("a current that still flows, never flowed, or a trip before the record is refused",
          "[electrical][operation]")
{
    auto r = record(4000.0, 1.0);
    CHECK_FALSE(current_ends(r, r.analog[0], 5.0));
    auto const near_end = record(4000.0, 0.2949);
    CHECK_FALSE(current_ends(near_end, near_end.analog[0], 5.0));
    CHECK_FALSE(current_ends(r, r.analog[0], 1e6));
    r.digital[0].values.front() = 1;
    auto const early = first_on(r, r.digital[0]);
    REQUIRE_FALSE(early);
    CHECK(early.error().detail.find("pre-trigger") != std::string::npos);
    std::fill(r.digital[0].values.begin(), r.digital[0].values.end(), std::uint8_t{0});
    CHECK_FALSE(first_on(r, r.digital[0]));
    CHECK_FALSE(contact_change(r, r.digital[0], 0.0));
}

TEST_CASE("missing samples are stepped over", "[electrical][operation]")
{
    auto r = record(4000.0, 0.15);
    for (std::size_t n = 10; n < 20; ++n)
        r.analog[0].values[n] = NAN;
    r.analog[0].values[601] = NAN;
    CHECK(peak(r.analog[0]) == Approx(100.0).epsilon(1e-3));
    CHECK(current_ends(r, r.analog[0], 5.0)->time_s == Approx(0.15).epsilon(0).margin(0.5e-3));
}

TEST_CASE("a channel that starts in its normal state 1 comes on when it falls to 0",
          "[electrical][operation]")
{
    auto r = record(4000.0, 0.15);
    r.digital[0].normal = true;
    for (auto& v : r.digital[0].values)
        v = v ? 0 : 1;
    CHECK(first_on(r, r.digital[0])->time_s == Approx(0.1).epsilon(0).margin(0.2e-3));
}

TEST_CASE("skew of a channel shifts its instants", "[electrical][operation]")
{
    auto r = record(4000.0, 0.15);
    auto const before = current_ends(r, r.analog[0], 5.0)->time_s;
    r.analog[0].skew_s = 40e-6;
    CHECK(current_ends(r, r.analog[0], 5.0)->time_s - before == Approx(40e-6).epsilon(1e-6));
}
