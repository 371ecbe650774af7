#include "journal/journal.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>
#include <fstream>
#include <sys/mount.h>

using namespace isochore;
using isochore::test::TemporaryFolder;

namespace {

/// A small disk of its own, where the system lets a test mount one.
class SmallDisk {
public:
    explicit SmallDisk(char const* options)
        : m_mounted(::mount("tmpfs", m_folder.path().c_str(), "tmpfs", MS_NOSUID | MS_NODEV, options) == 0)
    {
    }
    ~SmallDisk()
    {
        if (m_mounted)
            ::umount2(path().c_str(), MNT_DETACH);
    }
    [[nodiscard]] bool mounted() const { return m_mounted; }
    [[nodiscard]] std::filesystem::path const& path() const { return m_folder.path(); }
    [[nodiscard]] bool make_read_only() const
    {
        return ::mount(nullptr, path().c_str(), nullptr, MS_REMOUNT | MS_RDONLY, nullptr) == 0;
    }

private:
    TemporaryFolder m_folder;
    bool m_mounted;
};

} // namespace

TEST_CASE(
    "a disk that fills up is told before it is full, refuses in words, and takes entries again when freed")
{
    SmallDisk const disk("size=8m");
    if (!disk.mounted()) {
        WARN("skipped: this user may not mount a small disk");
        return;
    }
    auto store = journal::open_journal(disk.path());
    REQUIRE(store);
    CHECK((*store)->why_read_only().empty());
    std::ofstream(disk.path() / "photos", std::ios::binary) << std::string(5u << 20, 'p');
    CHECK((*store)->why_read_only().find("full") != std::string::npos); // little room, still writing
    Json const body{{"typed", std::string(20000, 'x')}};
    std::size_t written = 0;
    while ((*store)->append("job", body))
        REQUIRE(++written < 1000);
    CHECK(written > 10);
    auto const refused = (*store)->append("job", body);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == Error::Code::io);
    CHECK(refused.error().detail.find("the disk is full") != std::string::npos);
    CHECK((*store)->why_read_only().find("full") != std::string::npos);
    CHECK((*store)->entries("job")->size() == written);
    CHECK((*store)->verify("job"));

    std::filesystem::remove(disk.path() / "photos");
    CHECK((*store)->why_read_only().empty());
    CHECK((*store)->append("job", body)->n == static_cast<std::int64_t>(written) + 1);
    store->reset();
    CHECK((*journal::open_journal(disk.path()))->entries("job")->size() == written + 1);
}

TEST_CASE("a read-only disk is read, says why nothing can be written, and refuses")
{
    SmallDisk const disk("size=8m");
    if (!disk.mounted()) {
        WARN("skipped: this user may not mount a small disk");
        return;
    }
    {
        auto const store = journal::open_journal(disk.path());
        REQUIRE((*store)->append("job", {{"i", 1}}));
    }
    REQUIRE(disk.make_read_only());
    auto const store = journal::open_journal(disk.path());
    REQUIRE(store);
    CHECK((*store)->entries("job")->size() == 1);
    CHECK((*store)->jobs()->size() == 1);
    CHECK((*store)->verify_all());
    CHECK((*store)->why_read_only().find("read-only") != std::string::npos);
    auto const refused = (*store)->append("job", {{"i", 2}});
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == Error::Code::denied);
    CHECK(refused.error().detail.find("read-only") != std::string::npos);
    CHECK_FALSE((*store)->keep("text"));
}
