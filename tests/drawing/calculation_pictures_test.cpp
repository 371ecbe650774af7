#include "drawing/bar_rows.h"
#include "label_checks.h"
#include "sample_pictures.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>

// The pictures of the calculations that are bars over a scale, and of those over decades. Every sample of
// sample_pictures() also runs through pictures_test.cpp at all sizes.

using namespace isochore;
using namespace isochore::drawing;
using namespace isochore::tests;

namespace {

std::vector<Space> const spaces{{60, 50}, {60, 70}, {75, 60}, {100, 80}, {120, 60}, {150, 110}, {110, 160}};

std::vector<Label> labels(Picture const& picture)
{
    std::vector<Label> found;
    for (auto const& item : picture.items)
        if (auto const* label = std::get_if<Label>(&item))
            found.push_back(*label);
    return found;
}

bool says(Picture const& picture, std::string const& text)
{
    auto const all = labels(picture);
    return std::any_of(all.begin(), all.end(),
                       [&](Label const& l) { return l.text.find(text) != std::string::npos; });
}

/// The filled shapes of an ink, as boxes.
std::vector<Box> filled(Picture const& picture, Ink ink)
{
    std::vector<Box> boxes;
    for (auto const& item : picture.items)
        if (auto const* run = std::get_if<Polyline>(&item);
            run != nullptr && run->filled && run->fill == ink) {
            Box box{1e9, 1e9, -1e9, -1e9};
            for (Point const p : run->points)
                box = {std::min(box.left, p.x), std::min(box.top, p.y), std::max(box.right, p.x),
                       std::max(box.bottom, p.y)};
            boxes.push_back(box);
        }
    return boxes;
}

} // namespace

TEST_CASE("a scale of decades puts equal factors at equal distances", "[drawing]")
{
    auto const axis =
        decade_axis(2.0, 700.0, 5, [](double v) { return std::to_string(static_cast<int>(v)); });
    CHECK(axis.low == Approx(1.0));
    CHECK(axis.high == Approx(1000.0));
    REQUIRE(axis.ticks.size() == 4);
    CHECK(axis.texts[2] == "100");
    CHECK(axis.share(10.0) == Approx(1.0 / 3.0));
    CHECK(axis.share(100.0) == Approx(2.0 / 3.0));
}

TEST_CASE("a scale of decades is usable whatever its ends are", "[drawing]")
{
    double const nan = std::numeric_limits<double>::quiet_NaN();
    auto const text = [](double) { return std::string("x"); };
    for (double const low : {nan, -1.0, 0.0, 1e-300, 5.0, 1e300})
        for (double const high : {nan, -1.0, 0.0, 5.0, 1e12, 1e300}) {
            auto const axis = decade_axis(low, high, 4, text);
            CAPTURE(low, high);
            CHECK(axis.low > 0.0);
            CHECK(axis.high >= 9.99 * axis.low);
            CHECK(axis.ticks.size() >= 2);
            CHECK(axis.ticks.size() <= 4);
            CHECK(axis.ticks.size() == axis.texts.size());
        }
}

TEST_CASE("a bar begins and ends where the scale has its values", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    BarPlan plan;
    plan.rows = {{"first", "", 20.0, 60.0, {}, {}, BarRow::Look::filled, Ink::accent, 1, false},
                 {"second", "", 60.0, 61.0, {}, {}, BarRow::Look::hollow, Ink::line, 1, false}};
    plan.scale = nice_axis(0.0, 100.0, 6, true);
    Picture picture;
    picture.width = 120.0;
    picture.height = 60.0;
    Placement placement({0.0, 0.0, 120.0, 60.0}, measure);
    BarRows const rows(picture, placement, plan, {0.0, 0.0, 120.0, 60.0}, 4.0);
    auto const bars = filled(picture, Ink::accent);
    REQUIRE(bars.size() == 1);
    double const width = rows.plot().width();
    CHECK(bars[0].left == Approx(rows.plot().left + 0.2 * width));
    CHECK(bars[0].right == Approx(rows.plot().left + 0.6 * width));
    CHECK(rows.bar(1).left == Approx(bars[0].right));
    CHECK(rows.bar(1).top > bars[0].bottom);
    CHECK(rows.at(-50.0) == rows.plot().left);
    CHECK(rows.at(1e6) == rows.plot().right);
    CHECK(rows.at(std::numeric_limits<double>::quiet_NaN()) == rows.plot().left);
}

TEST_CASE("words of lines that lie close together keep out of each other's way", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    for (double const apart : {0.0, 0.5, 3.0, 10.0, 40.0}) {
        BarPlan plan;
        plan.rows.resize(3);
        plan.scale = nice_axis(0.0, 100.0, 6, true);
        plan.lines = {{50.0, "the window ends 4:00", Ink::accent, Dash::solid},
                      {50.0 - apart, "likely end 3:55", Ink::text, Dash::dashed},
                      {50.0 + apart, "a third of them", Ink::text, Dash::dashed}};
        Picture picture;
        picture.width = 100.0;
        picture.height = 60.0;
        Placement placement({0.0, 0.0, 100.0, 60.0}, measure);
        BarRows const rows(picture, placement, plan, {0.0, 0.0, 100.0, 60.0}, 3.6);
        CAPTURE(apart);
        CHECK(label_faults(picture, measure) == "");
        for (auto const& line : plan.lines)
            CHECK(says(picture, line.label));
    }
}

TEST_CASE("the time plan marks the critical path by solid bars, one strip for each person", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    auto const plan = sample_plan();
    auto const picture = time_plan(plan, {150, 110}, measure);
    std::size_t wanted = 0;
    for (auto const& task : plan.tasks)
        wanted += task.critical ? static_cast<std::size_t>(std::max(1, task.people)) : 0;
    // Besides the bars, the two solid signs of the legend: the critical path, and one strip for each person.
    CHECK(filled(picture, Ink::line).size() == wanted + 1 + 2);
    for (char const* const text : {"window ends 4:00", "likely end 3:06", "begin by 1:24", "critical path",
                                   "has slack", "waiting", "Tightness and purge"})
        CHECK(says(picture, text));
}

TEST_CASE("the time plan names the window's end and every task at the sizes of the sheet", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    for (Space const space : {Space{100, 80}, Space{120, 90}, Space{150, 110}, Space{110, 160}}) {
        auto const picture = time_plan(sample_plan(), space, measure);
        CAPTURE(space.width_mm, space.height_mm);
        CHECK(says(picture, "window ends 4:00"));
        for (auto const& task : sample_plan().tasks)
            CHECK(says(picture, task.name.substr(0, 8)));
    }
}

TEST_CASE("a time plan keeps its height for the paper", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    auto plan = sample_plan();
    for (std::size_t count = plan.tasks.size(); count < 40; ++count)
        plan.tasks.push_back(plan.tasks.back());
    double const height = time_plan_height(plan, 174.0);
    auto const picture = time_plan(plan, {174.0, height}, measure);
    CHECK(label_faults(picture, measure, 2.0) == "");
    auto const all = labels(picture);
    CHECK(std::count_if(all.begin(), all.end(), [](Label const& l) { return l.text == "Hand back"; }) == 30);
}

TEST_CASE("times of a limit that was read carry a mark at their place", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    auto limits = sample_limits();
    auto const dots = [&] {
        auto const picture = time_limits(limits, {120, 90}, measure);
        return std::count_if(picture.items.begin(), picture.items.end(), [](Item const& item) {
            auto const* dot = std::get_if<Circle>(&item);
            return dot != nullptr && dot->filled && dot->fill == Ink::accent;
        });
    };
    CHECK(dots() == 1);
    limits.limits[1].read_ms.reset();
    CHECK(dots() == 0);
    CHECK(says(time_limits(limits, {120, 90}, measure), "20 … 30 ms"));
    CHECK(says(time_limits(limits, {120, 90}, measure), "≤ 2.8 ms"));
}

TEST_CASE("a coil that faces the other way is drawn in the fail role, and named so in a row", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    auto const fails = [&](PhaseSum const& s) {
        auto const picture = phase_sum(s, {120, 90}, measure);
        return std::count_if(picture.items.begin(), picture.items.end(), [](Item const& item) {
            auto const* run = std::get_if<Polyline>(&item);
            return run != nullptr && run->ink == Ink::fail;
        });
    };
    auto s = sample_phases();
    CHECK(fails(s) > 0);
    CHECK(says(phase_sum(s, {120, 90}, measure), "one coil reversed"));
    CHECK(says(phase_sum(s, {120, 90}, measure), "sum read 1.99 ± 0.11 A"));
    s.direction = {1, 1, 1};
    CHECK(fails(s) == 0);
    s.direction = {0, 0, 0};
    CHECK(says(phase_sum(s, {120, 90}, measure), "B?"));
}

TEST_CASE("what the search can hide ends left of the limit where it is proved, right of it where not",
          "[drawing]")
{
    auto const measure = fixed_width(0.55);
    auto const edge = [&](double all_g) {
        auto f = sample_found();
        f.all_g = all_g;
        auto const picture = leak_found(f, {120, 90}, measure);
        double right = 0.0, limit = 0.0;
        for (auto const& item : picture.items)
            if (auto const* run = std::get_if<Polyline>(&item)) {
                if (run->closed && !run->filled)
                    right = std::max(right, run->points[1].x);
                if (run->ink == Ink::accent && run->points.size() == 2)
                    limit = run->points[0].x;
            }
        return right - limit;
    };
    CHECK(edge(18.0) < -1.0);
    CHECK(edge(420.0) > 1.0);
}

TEST_CASE("air left falls by the same height each cycle on its scale of decades", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    auto const picture = air_left(sample_air(), {120, 90}, measure);
    std::vector<Point> marks;
    for (auto const& item : picture.items)
        if (auto const* circle = std::get_if<Circle>(&item))
            marks.push_back(circle->centre);
    REQUIRE(marks.size() == 4);
    for (std::size_t i = 2; i < marks.size(); ++i)
        CHECK(marks[i].y - marks[i - 1].y == Approx(marks[1].y - marks[0].y).epsilon(1e-6));
    CHECK(says(picture, "limit 1.5 %"));
    CHECK(says(picture, "0.296 ppmv after cycle 3"));
}

TEST_CASE("a share of gas is written in percent or in parts per million", "[drawing]")
{
    CHECK(share_text(1.0) == "100 %");
    CHECK(share_text(0.015) == "1.5 %");
    CHECK(share_text(2e-4) == "200 ppmv");
    CHECK(share_text(2.96e-7) == "0.296 ppmv");
    CHECK(share_text(0.0) == "0 ppmv");
    CHECK(share_text(std::numeric_limits<double>::quiet_NaN()) == "?");
}

TEST_CASE("frost point, reading and limit are named at every size", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    for (Space const space : spaces) {
        CAPTURE(space.width_mm, space.height_mm);
        auto picture = frost_line(sample_frost(), space, measure);
        std::string all;
        for (auto const& label : labels(picture))
            all += label.text + " ";
        CHECK(all.find("limit -5 °C") != std::string::npos);
        CHECK(all.find("-30.8 ± 2.6 °C") != std::string::npos);
    }
}

TEST_CASE("the masses of an account lie behind each other and close at what came out", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    auto const picture = mass_account(sample_account(), {120, 90}, measure);
    std::vector<Box> hollow;
    for (auto const& item : picture.items)
        if (auto const* run = std::get_if<Polyline>(&item);
            run != nullptr && run->closed && !run->filled && run->points.size() == 4)
            hollow.push_back({run->points[0].x, run->points[0].y, run->points[1].x, run->points[2].y});
    auto const solid = filled(picture, Ink::line);
    REQUIRE(solid.size() == 1);
    REQUIRE(hollow.size() == 3);
    CHECK(hollow[0].left == Approx(solid[0].left));
    CHECK(hollow[1].left == Approx(hollow[0].right));
    CHECK(hollow[2].left == Approx(hollow[1].right));
    CHECK(hollow[2].right == Approx(solid[0].right));
    for (char const* const text : {"0.890 ± 0.033 kg", "0.82 ± 0.14 kg", "0.05 ± 0.14 kg", "handling loss"})
        CHECK(says(picture, text));
}

TEST_CASE("a reading stands on the scale of its expectation, with the interval shaded behind it", "[drawing]")
{
    auto const measure = fixed_width(0.55);
    auto const marks_of = [](Picture const& picture, Ink ink) {
        std::vector<double> x;
        for (Box const box : filled(picture, ink))
            x.push_back((box.left + box.right) / 2.0);
        return x;
    };
    for (Space const space : spaces) {
        auto const picture = reading_scale(sample_reading(), space, measure);
        auto const band = filled(picture, Ink::accent_soft);
        auto const read = marks_of(picture, Ink::accent), expected = marks_of(picture, Ink::line);
        auto const others = marks_of(picture, Ink::muted);
        REQUIRE(band.size() == 1);
        REQUIRE(read.size() == 1);
        REQUIRE(expected.size() == 1);
        REQUIRE(others.size() == 2);
        // 0.971 … 1.029 A is 58 mA wide, and 0.998 A lies 2 mA below its middle.
        double const per_ampere = band[0].width() / 0.058;
        CHECK(expected[0] == Approx(band[0].left + 0.029 * per_ampere));
        CHECK(read[0] == Approx(expected[0] - 0.002 * per_ampere));
        CHECK(others[1] == Approx(expected[0] + 0.007 * per_ampere));
        CHECK(band[0].right < space.width_mm);
    }
    // A limit far away does not press the interval together; one that is near is drawn.
    auto far = sample_reading();
    auto const width = [&](ReadingScale const& s) {
        return filled(reading_scale(s, {120, 90}, measure), Ink::accent_soft)[0].width();
    };
    CHECK(says(reading_scale(far, {120, 90}, measure), "limit 1.060 A"));
    far.limits[0].at = 50.0;
    CHECK_FALSE(says(reading_scale(far, {120, 90}, measure), "limit"));
    CHECK(width(far) > width(sample_reading()));
    // Twice what was expected lies where it lies.
    far.readings = {{"as read", "2.000 A", 2.0, true}};
    CHECK(width(far) < 0.1 * 120.0);
    CHECK(marks_of(reading_scale(far, {120, 90}, measure), Ink::accent)[0] < 120.0);
}

TEST_CASE("calculation pictures of nothing, of what cannot be drawn and of endless words have no fault",
          "[drawing]")
{
    auto const measure = fixed_width(0.6);
    std::string const word(200, 'W');
    double const nan = std::numeric_limits<double>::quiet_NaN();
    for (Space const space : spaces) {
        for (auto const& picture :
             {time_plan({}, space, measure), time_limits({}, space, measure), phase_sum({}, space, measure),
              leak_found({}, space, measure), air_left({}, space, measure), frost_line({}, space, measure),
              mass_account({}, space, measure), reading_scale({}, space, measure)}) {
            CHECK(label_faults(picture, measure) == "");
            CHECK(stroke_faults(picture) == "");
        }
        for (double const bad : {nan, std::numeric_limits<double>::infinity(), -1e300, 1e300, -5.0}) {
            auto plan = sample_plan();
            plan.tasks[1].start_min = plan.tasks[2].finish_min = plan.tasks[3].high_min = bad;
            plan.window_min = plan.end->mean_min = plan.end->low_min = bad;
            plan.latest_start_min = bad;
            plan.tasks[0].name = plan.tasks[4].note = plan.window_label = plan.slack_label = word;
            auto limits = sample_limits();
            limits.arc_out_ms = limits.limits[1].high_ms = bad;
            limits.limits[1].read_ms = bad;
            limits.limits[0].name = limits.end_label = word;
            auto phases = sample_phases();
            phases.phase_a[0] = phases.sum_a = phases.explanations[1].expected_a[1] = bad;
            phases.explanations[2].probability = phases.angle_deg[2] = phases.u95_a = bad;
            phases.explanations[2].text = phases.names[1] = word;
            auto found = sample_found();
            found.all_g = bad;
            found.limit_label = found.one_label = word;
            auto air = sample_air();
            air.shares[1] = bad;
            air.limit = bad;
            air.result_label = word;
            auto frost = sample_frost();
            frost.line[3].y = frost.at_gas_u95 = bad;
            frost.read->x = bad;
            frost.limit_c = bad;
            frost.gas_label = word;
            auto account = sample_account();
            account.found[0].mass_kg = account.out.u95_kg = bad;
            account.rest.name = word;
            auto reading = sample_reading();
            reading.readings[1].at = reading.high = reading.limits[0].at = bad;
            reading.readings[0].name = reading.conclusion.text = word;
            for (auto const& picture :
                 {time_plan(plan, space, measure), time_limits(limits, space, measure),
                  phase_sum(phases, space, measure), leak_found(found, space, measure),
                  air_left(air, space, measure), frost_line(frost, space, measure),
                  mass_account(account, space, measure), reading_scale(reading, space, measure)}) {
                CAPTURE(bad, space.width_mm, space.height_mm, picture.spoken.substr(0, 30));
                CHECK(label_faults(picture, measure) == "");
                CHECK(stroke_faults(picture) == "");
            }
        }
    }
}
