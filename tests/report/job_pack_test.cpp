#include "../drawing/label_checks.h"
#include "report/job_pack_pdf.h"
#include "report/type.h"
#include "sample_document.h"
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace isochore;
using namespace isochore::report;
using namespace isochore::tests;

TEST_CASE("a job pack is a file, the same each time", "[report]")
{
    auto const pdf = job_pack_pdf(sample_pack());
    REQUIRE(pdf);
    CHECK(pdf->starts_with("%PDF-"));
    CHECK(*pdf == *job_pack_pdf(sample_pack()));
}

TEST_CASE("the time plan keeps its words apart and inside, whatever the times are", "[report]")
{
    Type type;
    auto const measure = type.measure();
    double const nan = std::numeric_limits<double>::quiet_NaN();
    for (double const window : {0.0, 20.0, 150.0, 2000.0, -5.0, nan, 1e300}) {
        auto pack = sample_pack();
        pack.window_min = window;
        pack.plan[2].start_min = window;
        pack.plan[3].likely_min = nan;
        pack.plan[4].stage = std::string(300, 'W');
        auto const picture = plan_picture(pack, 174.0, measure);
        CAPTURE(window);
        CHECK(label_faults(picture, measure, 2.0) == "");
        CHECK(stroke_faults(picture) == "");
    }
}

TEST_CASE("an empty job pack is still a file", "[report]")
{
    JobPack pack;
    pack.created = "2026-11-20T09:00:00Z";
    CHECK(job_pack_pdf(pack));
    pack.created = "yesterday";
    REQUIRE_FALSE(job_pack_pdf(pack));
}

TEST_CASE("a kit list of many pages loses no line", "[report]")
{
    auto pack = sample_pack();
    for (int i = 0; i < 300; ++i)
        pack.kit[0].lines.push_back({"1 pc", "part " + std::to_string(i), "purpose", "1.00 EUR", "note"});
    Type type;
    auto const measure = type.measure();
    int boxes = 0, parts = 0;
    auto const sheets = job_pack_sheets(pack, measure);
    CHECK(sheets.size() > 5);
    for (auto const& sheet : sheets) {
        CHECK(label_faults(sheet.picture, measure, 2.0) == "");
        for (auto const& item : sheet.picture.items) {
            if (auto const* label = std::get_if<drawing::Label>(&item))
                parts += label->text.starts_with("part ") ? 1 : 0;
            if (auto const* run = std::get_if<drawing::Polyline>(&item))
                boxes += run->closed && !run->filled && run->points.size() == 4 &&
                                 std::abs(run->points[1].x - run->points[0].x - 2.75) < 1e-9
                             ? 1
                             : 0;
        }
    }
    CHECK(parts == 300);
    CHECK(boxes == 300 + 6 + 2); // the sample's own six lines and two things to find out
}
