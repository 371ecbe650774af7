#include "disk/disk.h"
#include "disk/whole_file.h"
#include "disk/words.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>
#include <cerrno>
#include <csignal>
#include <random>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

using namespace isochore;
using isochore::test::TemporaryFolder;

namespace {

struct Place {
    TemporaryFolder folder;
    std::unique_ptr<disk::Disk> disk = disk::system_disk();
};

template <class T> Error::Code code_of(Result<T> const& result)
{
    REQUIRE_FALSE(result);
    return result.error().code;
}

} // namespace

TEST_CASE("a file is written once and comes back byte for byte, by the cache and past it")
{
    Place const at;
    std::mt19937 random(3);
    for (std::size_t const size : {0u, 1u, 511u, 512u, 4096u, 4097u, 262144u, 1000003u}) {
        std::string bytes(size, '\0');
        for (char& c : bytes)
            c = static_cast<char>(random());
        auto const file = at.folder / std::to_string(size);
        REQUIRE(at.disk->create(file, bytes));
        REQUIRE(at.disk->flush_file(file));
        CHECK(at.disk->read(file, size) == bytes);
        CHECK(at.disk->read_uncached(file, size) == bytes);
    }
    CHECK(at.disk->flush_directory(at.folder.path()));
}

TEST_CASE("an unflushed file read past the cache is still what was written")
{
    Place const at;
    REQUIRE(at.disk->create(at.folder / "f", std::string(10000, 'x')));
    CHECK(at.disk->read_uncached(at.folder / "f", 10000) == std::string(10000, 'x'));
}

TEST_CASE("nothing that exists is overwritten, by writing or by renaming")
{
    Place const at;
    REQUIRE(at.disk->create(at.folder / "a", "first"));
    CHECK(code_of(at.disk->create(at.folder / "a", "second")) == Error::Code::denied);
    REQUIRE(at.disk->create(at.folder / "b", "other"));
    auto const refused = at.disk->rename(at.folder / "b", at.folder / "a");
    CHECK(code_of(refused) == Error::Code::denied);
    CHECK(refused.error().detail.find((at.folder / "a").string()) != std::string::npos);
    CHECK(at.disk->read(at.folder / "a", 100) == "first");
    CHECK(code_of(at.disk->rename(at.folder / "none", at.folder / "c")) == Error::Code::not_found);
    REQUIRE(at.disk->rename(at.folder / "b", at.folder / "c"));
    CHECK(at.disk->read(at.folder / "c", 100) == "other");
}

TEST_CASE("a file larger than allowed is refused before its bytes are taken in")
{
    Place const at;
    REQUIRE(at.disk->create(at.folder / "f", "12345"));
    CHECK(at.disk->read(at.folder / "f", 5));
    CHECK(at.disk->read(at.folder / "f", 4).error().detail.find("4 bytes") != std::string::npos);
    CHECK_FALSE(at.disk->read_uncached(at.folder / "f", 4));
}

TEST_CASE("links are not followed, and pipes and devices are not read")
{
    Place const at;
    REQUIRE(at.disk->create(at.folder / "real", "secret"));
    std::filesystem::create_symlink(at.folder / "real", at.folder / "link");
    std::filesystem::create_symlink(at.folder / "new", at.folder / "dangling");
    CHECK(code_of(at.disk->read(at.folder / "link", 100)) == Error::Code::denied);
    CHECK(code_of(at.disk->read_uncached(at.folder / "link", 100)) == Error::Code::denied);
    CHECK_FALSE(at.disk->flush_file(at.folder / "link"));
    CHECK_FALSE(at.disk->create(at.folder / "dangling", "x"));
    CHECK_FALSE(at.disk->exists(at.folder / "new"));
    CHECK(at.disk->exists(at.folder / "dangling")); // the name is taken, whatever it leads to
    REQUIRE(::mkfifo((at.folder / "pipe").c_str(), 0600) == 0);
    CHECK(code_of(at.disk->read(at.folder / "pipe", 100)) == Error::Code::denied); // and does not hang
    CHECK(code_of(at.disk->read("/dev/zero", 100)) == Error::Code::denied);
    CHECK_FALSE(at.disk->read(at.folder.path(), 100));
}

TEST_CASE("a listing is sorted and tells files, folders and the rest apart")
{
    Place const at;
    REQUIRE(at.disk->create(at.folder / "b", "12"));
    REQUIRE(at.disk->make_directory(at.folder / "a"));
    REQUIRE(at.disk->make_directory(at.folder / "a")); // existing is fine
    std::filesystem::create_symlink("b", at.folder / "c");
    auto const items = at.disk->list(at.folder.path());
    REQUIRE(items);
    REQUIRE(items->size() == 3);
    CHECK((items->at(0).name == "a" && items->at(0).directory));
    CHECK((items->at(1).name == "b" && items->at(1).regular && items->at(1).size == 2));
    CHECK_FALSE((items->at(2).regular || items->at(2).directory));
    CHECK(code_of(at.disk->list(at.folder / "none")) == Error::Code::not_found);
    CHECK_FALSE(at.disk->make_directory(at.folder / "b"));
    REQUIRE(at.disk->create(at.folder.path() / "a" / "x", ""));
    CHECK(code_of(at.disk->remove_directory(at.folder / "a")) == Error::Code::denied);
    REQUIRE(at.disk->remove(at.folder.path() / "a" / "x"));
    CHECK(at.disk->remove_directory(at.folder / "a"));
    CHECK(code_of(at.disk->remove(at.folder / "none")) == Error::Code::not_found);
}

TEST_CASE("a private file is for its owner only, whatever the umask")
{
    Place const at;
    mode_t const before = ::umask(0);
    CHECK(at.disk->create_private(at.folder / "key", "x"));
    ::umask(before);
    struct stat about {};
    REQUIRE(::stat((at.folder / "key").c_str(), &about) == 0);
    CHECK((about.st_mode & 0777) == 0600);
}

TEST_CASE("a write cut short by the system's limit is refused and leaves no half file")
{
    Place const at;
    struct rlimit before {};
    REQUIRE(::getrlimit(RLIMIT_FSIZE, &before) == 0);
    auto const old = std::signal(SIGXFSZ, SIG_IGN);
    struct rlimit small = before;
    small.rlim_cur = 1000;
    REQUIRE(::setrlimit(RLIMIT_FSIZE, &small) == 0);
    auto const written = at.disk->create(at.folder / "f", std::string(5000, 'x'));
    ::setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, old);
    CHECK(code_of(written) == Error::Code::io);
    CHECK_FALSE(at.disk->exists(at.folder / "f"));
}

TEST_CASE("every fault the system may report is said in words with the path, and the code fits")
{
    struct Row {
        int number;
        Error::Code code;
        char const* words;
    };
    for (Row const& row : {Row{ENOSPC, Error::Code::io, "full"}, Row{EDQUOT, Error::Code::io, "used up"},
                           Row{EROFS, Error::Code::denied, "read-only"},
                           Row{EACCES, Error::Code::denied, "permission"}, Row{EIO, Error::Code::io, "fault"},
                           Row{ENODEV, Error::Code::device, "gone"}, Row{EBADMSG, Error::Code::io, ""}}) {
        Error const error = disk::system_error(row.number, "write", "/some/file");
        CHECK(error.code == row.code);
        CHECK(error.where == "/some/file");
        CHECK(error.detail.find("/some/file") != std::string::npos);
        CHECK(error.detail.find(row.words) != std::string::npos);
    }
    CHECK(disk::system_disk()->create("/proc/no/such", "x").error().code != Error::Code::invalid_input);
}

TEST_CASE("a whole file is there complete or not at all, and stands alone in its folder")
{
    Place const at;
    REQUIRE(at.disk->create(at.folder / "f.part", "left by a write that was cut off"));
    REQUIRE(disk::write_whole(*at.disk, at.folder / "f", "all"));
    CHECK(at.disk->list(at.folder.path())->size() == 1);
    CHECK(code_of(disk::write_whole(*at.disk, at.folder / "f", "more")) == Error::Code::denied);
    CHECK(at.disk->read(at.folder / "f", 10) == "all");
    CHECK_FALSE(disk::write_whole(*at.disk, at.folder / "none" / "f", "x"));
}

TEST_CASE("what was written before is kept when it is the same, and named when it is not")
{
    Place const at;
    REQUIRE(disk::make_durable_directory(*at.disk, at.folder / "d"));
    REQUIRE(disk::make_durable_directory(*at.disk, at.folder / "d"));
    auto const file = at.folder.path() / "d" / "f";
    CHECK(disk::keep_whole(*at.disk, file, "all"));
    CHECK(disk::keep_whole(*at.disk, file, "all"));
    for (char const* other : {"al", "alL", "all of it", ""})
        CHECK(code_of(disk::keep_whole(*at.disk, file, other)) == Error::Code::corrupt);
    CHECK(at.disk->read(file, 10) == "all");
}

TEST_CASE("the folder of a name is found however the name is written")
{
    CHECK(disk::folder_of("/a/b") == "/a");
    CHECK(disk::folder_of("/a/b/") == "/a");
    CHECK(disk::folder_of("b") == ".");
    CHECK(disk::folder_of("b/") == ".");
    CHECK(disk::folder_of("/a") == "/");
}
