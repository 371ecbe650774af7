#include "label_checks.h"
#include "sample_pictures.h"
#include <algorithm>
#include <catch2/catch.hpp>

// What the pictures of survey and cabinet must tell by shape, so that it is told without colour too.

using namespace isochore;
using namespace isochore::drawing;
using namespace isochore::tests;

namespace {

template <class Shape, class Wanted> int count(Picture const& picture, Wanted wanted)
{
    int n = 0;
    for (auto const& item : picture.items)
        if (auto const* shape = std::get_if<Shape>(&item))
            n += wanted(*shape) ? 1 : 0;
    return n;
}

/// The filled bars between two heights, left to right.
std::vector<Box> bars(Picture const& picture, Ink fill)
{
    std::vector<Box> found;
    for (auto const& item : picture.items)
        if (auto const* run = std::get_if<Polyline>(&item);
            run != nullptr && run->filled && run->fill == fill && run->points.size() == 4)
            found.push_back({run->points[0].x, run->points[0].y, run->points[2].x, run->points[2].y});
    return found;
}

std::string words_of(Picture const& picture)
{
    std::string all;
    for (auto const& item : picture.items)
        if (auto const* label = std::get_if<Label>(&item))
            all += label->text + " ";
    return all;
}

constexpr Space sheet{90, 80};

} // namespace

TEST_CASE("the lengths of a run's bar stand in the ratio of its metres", "[drawing]")
{
    // 6.5, 4 and 5.5 m of route: similar figures on one scale.
    auto const routes = bars(cable_runs(sample_cables(), sheet, fixed_width(0.55)), Ink::accent);
    std::vector<double> lengths;
    for (Box const& bar : routes)
        if (bar.width() > 5.0) // not the key's
            lengths.push_back(bar.width());
    REQUIRE(lengths.size() == 3);
    CHECK(lengths[1] / lengths[0] == Approx(4.0 / 6.5));
    CHECK(lengths[2] / lengths[0] == Approx(5.5 / 6.5));
}

TEST_CASE("a lead that is too short is marked at its end with the octagon of a fail", "[drawing]")
{
    auto cables = sample_cables();
    cables.foot.clear();
    auto const octagon = [](Polyline const& run) { return run.closed && run.points.size() == 8; };
    CHECK(count<Polyline>(cable_runs(cables, sheet, fixed_width(0.55)), octagon) == 0);
    cables.runs[2].mark = Mark::fail;
    cables.runs[2].reach_m = 5.0;
    CHECK(count<Polyline>(cable_runs(cables, sheet, fixed_width(0.55)), octagon) == 1);
}

TEST_CASE("the window's half angle is that of its half width before the eye", "[drawing]")
{
    // tan 45° = 1 and tan 30° = 1 / sqrt 3: plane trigonometry.
    SightLine s = sample_sight();
    s.window_mm = 200.0;
    s.eye_mm = 100.0;
    CHECK(sight_half_angle_deg(s) == Approx(45.0));
    s.eye_mm = 100.0 * std::sqrt(3.0);
    CHECK(sight_half_angle_deg(s) == Approx(30.0));
}

TEST_CASE("the part of the display behind the frame is hollow and named, the seen part full", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    auto const part = sight_line(sample_sight(), sheet, measure);
    auto const full = bars(part, Ink::accent);
    auto const hollow = [](Polyline const& run) { return run.closed && !run.filled && run.ink == Ink::fail; };
    REQUIRE(full.size() == 1);
    CHECK(words_of(part).find("hidden") != std::string::npos);
    // Similar triangles: half of 120 mm at 500 mm leaves 67.2 mm at 560 mm; the display ends at 85 mm.
    bool measured = false;
    for (auto const& item : part.items)
        if (auto const* run = std::get_if<Polyline>(&item);
            run != nullptr && run->points.size() == 4 && hollow(*run)) {
            double const hidden = std::abs(run->points[2].y - run->points[0].y);
            CHECK(hidden / std::abs(full.front().height()) == Approx((85.0 - 67.2) / (67.2 + 5.0)));
            measured = true;
        }
    CHECK(measured);
    auto whole = sample_sight();
    whole.offset_mm = 0.0;
    whole.verdict = Mark::pass;
    auto const seen = sight_line(whole, sheet, measure);
    CHECK(count<Polyline>(seen, hollow) == 0);
    CHECK(words_of(seen).find("hidden") == std::string::npos);
}

TEST_CASE("the load's point lies where its shares are, and the limit runs from axis to axis", "[drawing]")
{
    auto load = sample_bolts();
    load.place.reset();
    load.foot.clear();
    load.tension = load.shear = 0.5;
    auto const picture = bolt_load(load, sheet, fixed_width(0.55));
    Point point{}, a{}, b{};
    for (auto const& item : picture.items) {
        if (auto const* dot = std::get_if<Circle>(&item); dot != nullptr && dot->fill == Ink::accent)
            point = dot->centre;
        if (auto const* run = std::get_if<Polyline>(&item); run != nullptr && run->dash == Dash::dashed) {
            a = run->points.front();
            b = run->points.back();
        }
    }
    // Half and half is the middle of the line tension + shear = 1.
    CHECK(point.x == Approx((a.x + b.x) / 2.0));
    CHECK(point.y == Approx((a.y + b.y) / 2.0));
}

TEST_CASE("the best thread is a full dot, others are rings, and only a taper has a bar", "[drawing]")
{
    auto plane = sample_thread();
    auto const dots = [](bool filled) {
        return [filled](Circle const& c) {
            return c.radius > 1.0 && c.radius < 1.4 && c.filled && (c.fill == Ink::line) == filled;
        };
    };
    plane.verdict = Mark::none; // its sign has a dot of its own
    auto const picture = thread_plane(plane, sheet, fixed_width(0.5));
    CHECK(count<Circle>(picture, dots(true)) == 1);
    CHECK(count<Circle>(picture, dots(false)) == 3);
    auto const whiskers = [](Polyline const& run) {
        return run.ink == Ink::line && run.width == 0.35 && !run.closed;
    };
    CHECK(count<Polyline>(picture, whiskers) == 6); // a bar and two caps for each of the two tapers
}

TEST_CASE("a thread of unknown pitch is a stripe over all pitches", "[drawing]")
{
    auto plane = sample_thread();
    auto const height = [&] {
        double most = 0.0;
        for (auto const& item : thread_plane(plane, sheet, fixed_width(0.5)).items)
            if (auto const* run = std::get_if<Polyline>(&item);
                run != nullptr && run->filled && run->fill == Ink::accent_soft)
                for (Point const p : run->points)
                    most = std::max(most, std::abs(p.y - run->points.front().y));
        return most;
    };
    double const field = height();
    plane.pitch_mm.reset();
    CHECK(height() > 5.0 * field);
}

TEST_CASE("the states that decide stay when the table has no room for the others", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    for (double const height : {26.0, 32.0, 40.0, 60.0}) {
        auto const text = words_of(coil_states(sample_states(), {90, height}, measure));
        CAPTURE(height, text);
        CHECK(text.find("84 V") != std::string::npos);
        CHECK(text.find("separate output") != std::string::npos);
    }
}

TEST_CASE("a coil's conductor is drawn through it as often as it passes", "[drawing]")
{
    // Each pass after the first comes back round the coil as an arc of eleven points.
    auto path = sample_path();
    for (int const turns : {1, 2, 3}) {
        path.stages.back().turns = turns;
        auto const picture = ct_path(path, {120, 90}, fixed_width(0.55));
        CHECK(count<Polyline>(picture, [](Polyline const& run) {
                  return run.points.size() == 11 && run.width == 0.4;
              }) == turns - 1);
    }
}
