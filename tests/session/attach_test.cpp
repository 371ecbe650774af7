#include "session/attach.h"
#include "journal/attachments.h"
#include "session/session_support.h"
#include <catch2/catch.hpp>
#include <fstream>

using namespace isochore;
using namespace isochore::session;

namespace {

struct WithPhoto {
    Bench bench;
    std::unique_ptr<Outage> outage;
    disk::Path photo;
    std::string hash;

    WithPhoto()
    {
        auto const begun = bench.begin();
        auto lists = begun->checklists();
        for (auto& stage : lists.stages)
            for (auto& step : stage.steps)
                step.needs.clear();
        outage = std::move(
            *Outage::open(begun->journal(), bench.clock, begun->job(), lists, begun->profile(), "N. Quill"));
        photo = bench.folder / "finished.png";
        std::ofstream(photo) << "as good as a photo";
        auto const kept = attach_file(*bench.workspace, *outage, "handback.photo", photo);
        REQUIRE(kept);
        hash = *kept;
    }
    [[nodiscard]] disk::Path kept() const { return bench.folder / "attachments" / hash; }
};

} // namespace

TEST_CASE("an attached file that is there as it was recorded is not lost, whatever became of the original")
{
    WithPhoto w;
    std::filesystem::remove(w.photo);
    CHECK(lost_files(*w.bench.workspace, *w.outage).empty());
}

TEST_CASE("a missing file and an altered one are told apart, by name and step, and the entries stand")
{
    WithPhoto w;
    auto const entries = w.outage->state().entries;
    std::ofstream(w.kept(), std::ios::binary | std::ios::in | std::ios::out) << "B";
    auto lost = lost_files(*w.bench.workspace, *w.outage);
    REQUIRE(lost.size() == 1);
    CHECK_FALSE(lost[0].missing);
    CHECK(lost[0].step == "handback.photo");
    CHECK(lost[0].hash == w.hash);
    CHECK(lost[0].text(*w.outage) ==
          "The file “finished.png” attached at “Photograph the finished work” is not as it was recorded.");
    std::filesystem::remove(w.kept());
    lost = lost_files(*w.bench.workspace, *w.outage);
    REQUIRE(lost.size() == 1);
    CHECK(lost[0].missing);
    CHECK(lost[0].text(*w.outage).find("is missing from the tablet") != std::string::npos);
    CHECK(w.outage->state().entries == entries);
    CHECK(w.outage->journal().verify(w.outage->job()));
    CHECK(w.outage->record_value("joint.temperature", "14.2 degC")); // the data path is whole
    // Attached again it is whole again: the same bytes have the same name.
    REQUIRE(attach_file(*w.bench.workspace, *w.outage, "handback.photo", w.photo));
    CHECK(lost_files(*w.bench.workspace, *w.outage).empty());
}

TEST_CASE("attaching a file again mends an altered one, which is put aside and not removed")
{
    WithPhoto w;
    for (int n = 1; n <= 2; ++n) {
        std::ofstream(w.kept(), std::ios::binary | std::ios::in | std::ios::out) << "B";
        REQUIRE(lost_files(*w.bench.workspace, *w.outage).size() == 1);
        REQUIRE(attach_file(*w.bench.workspace, *w.outage, "handback.photo", w.photo));
        CHECK(lost_files(*w.bench.workspace, *w.outage).empty());
        disk::Path aside = w.kept();
        aside += ".damaged-" + std::to_string(n);
        CHECK(std::filesystem::exists(aside));
    }
}

TEST_CASE("a file that stands in for the attachments' folder keeps photos out and changes no entry")
{
    WithPhoto w;
    auto const entries = w.outage->state().entries;
    std::filesystem::remove_all(w.bench.folder / "attachments");
    std::ofstream(w.bench.folder / "attachments") << "no folder";
    auto const refused = attach_file(*w.bench.workspace, *w.outage, "handback.photo", w.photo);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().detail.find("attachments") != std::string::npos);
    CHECK(w.outage->state().entries == entries);
    CHECK(w.outage->record_value("joint.temperature", "14.2 degC"));
}
