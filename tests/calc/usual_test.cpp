#include "calc/part_data.h"
#include "calc/registry.h"
#include "calc/thread_rules.h"
#include "calc/usual.h"
#include "json/member.h"
#include "json/read.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

using namespace isochore;
using namespace isochore::calc;

namespace {

Json values()
{
    auto const file = read_json(part_data("usual"), "usual.json");
    REQUIRE(file);
    return member(*file, "values");
}

Dimension dimension_of(std::string const& text)
{
    for (Dimension d : {Dimension::fraction, Dimension::count, Dimension::length, Dimension::current,
                        Dimension::angle, Dimension::frequency, Dimension::time,
                        Dimension::capacitance_per_length, Dimension::temperature_difference})
        if (parse_amount(text, d, "usual"))
            return d;
    FAIL("no dimension reads " << text);
    return Dimension::count;
}

std::string all_notes(Answer const& answer)
{
    std::string text;
    for (auto const& note : answer.notes)
        text += note + "\n";
    return text;
}

} // namespace

TEST_CASE("every usual value can be read, says where it is from, and stands once", "[usual]")
{
    std::set<std::string> seen;
    for (Json const& one : values()) {
        std::string const calc = text_member(one, "for"), input = text_member(one, "input");
        CAPTURE(calc, input);
        CHECK(seen.insert(calc + " " + input).second);
        CHECK_FALSE(text_member(one, "source").empty());
        CHECK_FALSE(text_member(one, "means").empty());
        std::string const confidence = text_member(one, "confidence");
        CHECK((confidence == "practice" || confidence == "memory" || confidence == "confirmed"));
        CHECK(usual_si(calc, input, dimension_of(text_member(one, "value"))) > 0.0);
    }
}

TEST_CASE("no figure that tells threads apart is missing", "[usual]")
{
    auto const& r = thread_rules();
    for (double figure :
         {r.gauges.u_major_m, r.gauges.u_pitch_m, r.gauges.u_taper, r.gauges.u_flank_deg, r.gauges.u_cone_deg,
          r.gauges.apart, r.alike.major_m, r.alike.tube_m, r.alike.engages_pitch, r.alike.binds_m})
        CHECK(figure > 0.0);
    CHECK(r.alike.pitch_ratio > 1.0);
}

TEST_CASE("an answer that took a usual value says which, how much, and its source", "[usual]")
{
    Json inputs{{"full_ratio", "2000:5"},
                {"terminals", "X1-X5"},
                {"primary_current", "900 A"},
                {"secondary_reading", "2.25 A"}};
    auto const taken = run("ct.load_check", inputs);
    REQUIRE(taken);
    CHECK(all_notes(*taken).find("\"tolerance\" not given: agreement asked taken as 5 % (common practice, no "
                                 "source)") != std::string::npos);
    CHECK(all_notes(*taken).find("\"uncertainties.floor\" not given") != std::string::npos);
    inputs["tolerance"] = "3 %";
    auto const given = run("ct.load_check", inputs);
    REQUIRE(given);
    CHECK(all_notes(*given).find("\"tolerance\"") == std::string::npos);
}

TEST_CASE("a refused look-alike shows by which figures it counts as one", "[usual]")
{
    auto const chain = run("fitting.chain",
                           {{"port", "NPT 1/2 female"}, {"parts", Json::array()}, {"sensor", "G 1/2 male"}});
    REQUIRE(chain);
    CHECK(chain->verdict() == Verdict::fail);
    CHECK(std::any_of(chain->working.begin(), chain->working.end(), [](auto const& w) {
        return w.numbers == usual("fitting.chain", "alike_major")->text && !w.source.empty();
    }));
}
