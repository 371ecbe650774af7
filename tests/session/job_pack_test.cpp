#include "report/job_pack_pdf.h"
#include "session/job_pack.h"
#include "session/plan.h"
#include "session_support.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <fmt/format.h>

using namespace isochore;
using namespace isochore::session;

namespace {

std::string all_of(report::RecordTable const& table)
{
    std::string text;
    for (auto const& row : table.rows)
        for (auto const& cell : row)
            text += cell + "|";
    return text;
}

report::RecordTable const* table_named(report::JobPack const& pack, std::string const& title)
{
    auto const it =
        std::find_if(pack.tables.begin(), pack.tables.end(), [&](auto const& t) { return t.title == title; });
    return it == pack.tables.end() ? nullptr : &*it;
}

} // namespace

TEST_CASE("the job pack says what the kit rests on, what it costs, and which instrument to leave at home")
{
    Bench bench;
    auto outage = bench.begin();
    REQUIRE(outage->record_answer("prepare.coils", "two_supervised"));
    REQUIRE(outage->note({{"type", "calibration"}, {"instrument", "Clamp meter"}, {"due", "2020-01-31"}}));
    REQUIRE(outage->note({{"type", "in_hand"}, {"part", "Torque wrench"}, {"in_hand", true}}));
    auto const pack = job_pack_content(*outage);
    REQUIRE(pack);

    auto const* instruments = table_named(*pack, "Calibration of the instruments");
    REQUIRE(instruments);
    CHECK(all_of(*instruments).find("Clamp meter|2020-01-31|TAKE ANOTHER: expired|") != std::string::npos);
    CHECK(all_of(*instruments).find("Multimeter|–|date not entered yet|") != std::string::npos);
    auto const* survey = table_named(*pack, "What the survey found");
    REQUIRE(survey);
    CHECK(all_of(*survey).find("N. Quill|") != std::string::npos);
    auto const* crew = table_named(*pack, "What another pair of hands is worth");
    REQUIRE(crew);
    CHECK(crew->rows.size() >= 3); // two to four people; one alone cannot do what needs two

    // The total is the sum of the lines that have a cost.
    double sum = 0.0;
    bool in_hand = false;
    for (auto const& group : pack->kit)
        for (auto const& line : group.lines) {
            sum += line.cost.empty() ? 0.0 : std::stod(line.cost);
            in_hand = in_hand || (line.part == "Torque wrench" && line.note == "in hand");
            CHECK(line.purpose.find("assets/") == std::string::npos);
        }
    CHECK(in_hand);
    CHECK(pack->kit_total.find(fmt::format("Together {:.2f}", sum)) == 0);

    // Each check of the plan stands for itself and says what to do; a failure comes before what holds.
    REQUIRE(pack->plan_results.size() >= 2);
    for (auto const& [mark, text] : pack->plan_results)
        CHECK(text.back() == '.');
    CHECK(pack->plan_results.front().first != drawing::Mark::pass);
    CHECK(pack->plan_results.back().second.find("Critical path") == 0);
    for (auto const& line : pack->plan)
        CHECK(line.stage.find("1 people") == std::string::npos);
    CHECK(job_pack_of(*outage));
}
