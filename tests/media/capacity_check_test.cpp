#include "media/capacity_check.h"
#include "support/faulting_disk.h"
#include "support/recording_disk.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::media;

namespace {

constexpr std::uint64_t mega = 1'000'000;

/// A stick that takes everything and keeps only the first `holds` bytes of what it was given.
class LyingStick : public test::RecordingDisk {
public:
    LyingStick(std::uint64_t holds, bool wraps) : m_holds(holds), m_wraps(wraps) {}
    Result<void> create(Path const& file, std::string_view bytes) override
    {
        std::string kept(bytes);
        for (std::size_t i = 0; i < kept.size(); ++i)
            if (m_given + i >= m_holds)
                kept[i] = '\0';
        m_given += kept.size();
        // One that wraps writes what is too much over what came first.
        if (m_wraps && m_given > m_holds && !m_first.empty() && exists(m_first)) {
            (void)RecordingDisk::remove(m_first);
            (void)RecordingDisk::create(m_first, kept);
        }
        if (m_first.empty())
            m_first = file;
        return RecordingDisk::create(file, kept);
    }

private:
    std::uint64_t m_holds, m_given = 0;
    bool m_wraps;
    Path m_first;
};

} // namespace

TEST_CASE("an honest stick gives everything back and is left as it was", "[media][capacity]")
{
    test::RecordingDisk disk;
    auto const report = check_capacity(disk, "/", 20 * mega, 7);
    REQUIRE(report);
    CHECK(report->honest);
    CHECK(report->written == 20 * mega);
    CHECK(report->kept == 20 * mega);
    CHECK(disk.contents().empty());
    CHECK_FALSE(disk.exists("/ISOCHORE/CHECK"));
}

TEST_CASE("a stick that claims more than it has is found out", "[media][capacity]")
{
    SECTION("where it drops what is too much")
    {
        LyingStick disk(12 * mega, false);
        auto const report = check_capacity(disk, "/", 20 * mega, 7);
        REQUIRE(report);
        CHECK_FALSE(report->honest);
        CHECK(report->kept >= 12 * mega);
        CHECK(report->kept < 12 * mega + 16); // a dropped byte may be zero by chance
        CHECK(report->say.find("12 MB of 20 MB") != std::string::npos);
        CHECK(disk.contents().empty());
    }
    SECTION("where it writes what is too much over the beginning")
    {
        LyingStick disk(12 * mega, true);
        auto const report = check_capacity(disk, "/", 20 * mega, 7);
        REQUIRE(report);
        CHECK_FALSE(report->honest);
        CHECK(report->kept < 16);
    }
}

TEST_CASE("a stick that fills up is tested as far as it goes", "[media][capacity]")
{
    test::RecordingDisk below;
    REQUIRE(below.make_directory("/ISOCHORE"));
    test::FaultingDisk disk(below, 8, test::Fault::full);
    auto const report = check_capacity(disk, "/", 40 * mega, 7);
    REQUIRE(report);
    CHECK(disk.failed());
    CHECK(report->honest);
    CHECK(report->written > 0);
    CHECK(report->written < 40 * mega);
    CHECK(below.contents().empty());
}

TEST_CASE("a cancelled check leaves nothing behind", "[media][capacity]")
{
    test::RecordingDisk disk;
    int steps = 0;
    auto const report =
        check_capacity(disk, "/", 20 * mega, 7, [&](WriteProgress const&) { return ++steps < 5; });
    REQUIRE_FALSE(report);
    CHECK(report.error().code == Error::Code::denied);
    CHECK(disk.contents().empty());
}
