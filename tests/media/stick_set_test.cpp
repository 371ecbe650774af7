#include "disk/disk.h"
#include "media/set_names.h"
#include "media/stick_set.h"
#include "media/test_keys.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

using namespace isochore;
using namespace isochore::media;
using isochore::test::TemporaryFolder;
namespace fs = std::filesystem;

namespace {

std::vector<SetFile> two_files(std::string const& mark)
{
    return {{"KD-41.JSN", "{\"mark\":\"" + mark + "\"}\n"},
            {"U0000001.JSN", "{\"unit\":\"" + mark + "\"}\n"}};
}

std::string time_of(int day)
{
    return std::string("2025-03-") + (day < 10 ? "0" : "") + std::to_string(day) + "T08:00:00Z";
}

struct Stick {
    TemporaryFolder folder;
    std::unique_ptr<disk::Disk> disk = disk::system_disk();
    Trust trust = test::trust("engineer");

    WrittenSet write(std::string const& mark, int day, std::string const& who = "engineer")
    {
        auto const written =
            write_set(*disk, folder.path(), two_files(mark), test::signer(who), time_of(day));
        if (!written)
            FAIL(written.error().where << ": " << written.error().detail);
        return *written;
    }
    Result<VerifiedSet> newest() { return newest_valid_set(*disk, folder.path(), trust); }
    fs::path set(int number) { return folder.path() / "ISOCHORE" / set_name(number); }
};

void overwrite(fs::path const& file, std::string const& text)
{
    std::ofstream(file, std::ios::binary | std::ios::trunc) << text;
}

std::string content(fs::path const& file)
{
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// A manifest with one passage changed and signed anew, as a dishonest engineer could.
void resign(fs::path const& manifest, std::string const& from, std::string const& to, std::string const& who)
{
    auto text = content(manifest);
    auto const at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
    auto const tail = text.find(",\"signature\"");
    std::string const part = text.substr(0, tail) + "}";
    overwrite(manifest, text.substr(0, tail) + ",\"signature\":\"" + test::signer(who).sign(part) + "\"}");
}

} // namespace

TEST_CASE("what is written is what is read, with the signer's name", "[media]")
{
    Stick s;
    auto const written = s.write("a", 1);
    CHECK(written.set == "S0000001");
    CHECK(written.files == 2);
    CHECK(written.notes.empty());
    auto const set = s.newest();
    REQUIRE(set);
    CHECK(set->set == "S0000001");
    CHECK(set->signed_by == "engineer");
    CHECK(set->made_at == time_of(1));
    CHECK_FALSE(set->stale);
    CHECK(set->refused.empty());
    REQUIRE(set->find("KD-41.JSN"));
    CHECK(set->find("KD-41.JSN")->bytes == two_files("a")[0].bytes);
    CHECK(set->find("kd-41.jsn") == nullptr);
}

TEST_CASE("every name on the stick is safe on FAT", "[media]")
{
    Stick s;
    s.write("a", 1);
    for (auto const& item : fs::recursive_directory_iterator(s.folder.path()))
        CHECK(is_safe_name(item.path().filename().string()));
}

TEST_CASE("the last three sets stay and older ones go", "[media]")
{
    Stick s;
    for (int n = 1; n <= 3; ++n)
        CHECK(s.write("a", n).pruned.empty());
    CHECK(s.write("d", 4).pruned == std::vector<std::string>{"S0000001"});
    CHECK(s.write("e", 5).pruned == std::vector<std::string>{"S0000002"});
    auto const list = list_sets(*s.disk, s.folder.path(), s.trust);
    REQUIRE(list);
    REQUIRE(list->size() == 3);
    CHECK((*list)[0].set == "S0000005");
    CHECK((*list)[2].set == "S0000003");
    for (auto const& line : *list)
        CHECK(line.state == SetSummary::State::valid);
}

TEST_CASE("a set cut short is ignored, said so, and cleared by the next write", "[media]")
{
    Stick s;
    s.write("a", 1);
    fs::create_directory(s.set(2));
    overwrite(s.set(2) / "KD-41.JSN", "{");
    auto const set = s.newest();
    REQUIRE(set);
    CHECK(set->set == "S0000001");
    CHECK_FALSE(set->stale);
    REQUIRE(set->refused.size() == 1);
    CHECK(set->refused[0].unfinished);
    auto const written = s.write("c", 3);
    CHECK(written.set == "S0000003");
    CHECK_FALSE(fs::exists(s.set(2)));
    CHECK(fs::exists(s.set(1)));
}

TEST_CASE("files of others are never touched", "[media]")
{
    Stick s;
    overwrite(s.folder / "holiday photo.jpg", "x");
    fs::create_directories(s.folder.path() / "ISOCHORE" / "notes");
    overwrite(s.folder.path() / "ISOCHORE" / "notes" / "a.txt", "x");
    for (int n = 1; n <= 5; ++n) {
        s.write("a", n);
        if (n == 1)
            overwrite(s.set(1) / "my own notes.txt", "x");
    }
    CHECK(fs::exists(s.folder / "holiday photo.jpg"));
    CHECK(fs::exists(s.folder.path() / "ISOCHORE" / "notes" / "a.txt"));
    CHECK(fs::exists(s.set(1) / "my own notes.txt"));
    CHECK_FALSE(fs::exists(s.set(1) / "MANIFEST.JSN"));
}

TEST_CASE("cancelling at any step leaves the previous set and no half one", "[media]")
{
    Stick s;
    s.write("a", 1);
    int steps = 0;
    std::size_t total = 0;
    auto const count = [&](WriteProgress const& p) {
        CHECK(p.done == static_cast<std::size_t>(steps));
        ++steps;
        total = p.total;
        return true;
    };
    REQUIRE(write_set(*s.disk, s.folder.path(), two_files("b"), test::signer("engineer"), time_of(2), count));
    CHECK(static_cast<std::size_t>(steps) == total);
    fs::remove_all(s.set(2));
    for (int stop = 0; stop < steps - 1; ++stop) {
        CAPTURE(stop);
        int now = 0;
        auto const cancelled = write_set(*s.disk, s.folder.path(), two_files("b"), test::signer("engineer"),
                                         time_of(2), [&](WriteProgress const&) { return now++ < stop; });
        REQUIRE_FALSE(cancelled);
        CHECK(cancelled.error().code == Error::Code::denied);
        CHECK_FALSE(fs::exists(s.set(2)));
        CHECK(s.newest()->set == "S0000001");
    }
}

TEST_CASE("names and sizes no reader would take are not written", "[media]")
{
    Stick s;
    auto const name =
        GENERATE(as<std::string>{}, "", "kd.jsn", "A B.JSN", "../X", "A/B", "CON", "NUL.TXT", "COM1",
                 "LPT9.A", "ABCDEFGHI", "A.JSON", ".A", "A.", "A.B.C", "MANIFEST.JSN", "Ä", "A\n");
    CAPTURE(name);
    auto const written =
        write_set(*s.disk, s.folder.path(), {{name, "x"}}, test::signer("engineer"), time_of(1));
    REQUIRE_FALSE(written);
    CHECK(written.error().code == Error::Code::invalid_input);
    CHECK(fs::is_empty(s.folder.path()));
}

TEST_CASE("two files of one name, none at all, and one too large are not written", "[media]")
{
    Stick s;
    auto const refuse = [&](std::vector<SetFile> const& files) {
        auto const w = write_set(*s.disk, s.folder.path(), files, test::signer("engineer"), time_of(1));
        return !w && w.error().code == Error::Code::invalid_input;
    };
    CHECK(refuse({}));
    CHECK(refuse({{"A", "x"}, {"A", "y"}}));
    CHECK(refuse({{"A", std::string((4u << 20) + 1, 'x')}}));
    CHECK(fs::is_empty(s.folder.path()));
}

TEST_CASE("without a signature nothing becomes a set", "[media]")
{
    Stick s;
    s.write("a", 1);
    Signer mute{test::signer("engineer").public_key_hex, [](std::string_view) { return std::string(); }};
    CHECK_FALSE(write_set(*s.disk, s.folder.path(), two_files("b"), mute, time_of(2)));
    CHECK_FALSE(write_set(*s.disk, s.folder.path(), two_files("b"), test::signer("engineer"), "yesterday"));
    CHECK(s.newest()->set == "S0000001");
    CHECK_FALSE(fs::exists(s.set(2)));
}

TEST_CASE("any changed byte in any file of a set is found", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    for (auto const name : {"KD-41.JSN", "U0000001.JSN", "MANIFEST.JSN"}) {
        auto const file = s.set(1) / name;
        auto const good = content(file);
        for (std::size_t i = 0; i < good.size(); ++i) {
            auto bad = good;
            bad[i] = static_cast<char>(bad[i] ^ 1);
            overwrite(file, bad);
            INFO(name << " byte " << i);
            CHECK_FALSE(s.newest());
        }
        overwrite(file, good);
    }
    CHECK(s.newest());
}

TEST_CASE("a set whose file was swapped is passed over, and the older set is called stale",
          "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    s.write("b", 2);
    overwrite(s.set(2) / "KD-41.JSN", two_files("x")[0].bytes);
    auto const set = s.newest();
    REQUIRE(set);
    CHECK(set->set == "S0000001");
    CHECK(set->stale);
    REQUIRE(set->refused.size() == 1);
    CHECK(set->refused[0].set == "S0000002");
    CHECK(set->refused[0].error.detail.find("KD-41.JSN") != std::string::npos);
}

TEST_CASE("an unknown key is refused with a fingerprint to compare", "[media][hostile]")
{
    Stick s;
    s.write("a", 1, "stranger");
    auto const set = s.newest();
    REQUIRE_FALSE(set);
    CHECK(set.error().code == Error::Code::denied);
    auto const print = key_fingerprint(test::signer("stranger").public_key_hex);
    CHECK(print.size() == 19);
    CHECK(set.error().detail.find(print) != std::string::npos);
    auto const list = list_sets(*s.disk, s.folder.path(), s.trust);
    REQUIRE(list);
    CHECK(list->at(0).state == SetSummary::State::untrusted);
    s.trust.keys.push_back({test::signer("stranger").public_key_hex, "newly met", "2025-03-02", ""});
    REQUIRE(s.newest());
    CHECK(s.newest()->signed_by == "newly met");
}

TEST_CASE("a key put in place of the signer's does not fit the signature", "[media][hostile]")
{
    Stick s;
    s.write("a", 1, "stranger");
    auto const file = s.set(1) / "MANIFEST.JSN";
    auto text = content(file);
    auto const key = test::signer("stranger").public_key_hex;
    text.replace(text.find(key), key.size(), test::signer("engineer").public_key_hex);
    overwrite(file, text);
    auto const set = s.newest();
    REQUIRE_FALSE(set);
    CHECK(set.error().detail.find("forged") != std::string::npos);
}

TEST_CASE("an old set offered again is called stale", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    s.trust.keys[0].newest_seen = time_of(5);
    auto const set = s.newest();
    REQUIRE(set);
    CHECK(set->stale);
    CHECK(set->notes.size() == 1);
}

TEST_CASE("a set once met makes every older one stale, and never the other way", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    s.write("b", 2);
    remember_set(s.trust.keys, *s.newest());
    CHECK(s.trust.keys[0].newest_seen == time_of(2));
    CHECK_FALSE(s.newest()->stale);
    // Beside the newer one an older set hides nothing.
    auto const both = list_sets(*s.disk, s.folder.path(), s.trust);
    REQUIRE(both);
    for (auto const& line : *both)
        CHECK_FALSE(line.stale);
    fs::remove_all(s.set(2)); // someone hides the newer set
    REQUIRE(s.newest());
    CHECK(s.newest()->stale);
    auto const left = list_sets(*s.disk, s.folder.path(), s.trust);
    REQUIRE(left);
    CHECK(left->front().stale);
    CHECK(left->front().seen == time_of(2));
    remember_set(s.trust.keys, *s.newest());
    CHECK(s.trust.keys[0].newest_seen == time_of(2));
}

TEST_CASE("a manifest copied to a newer folder is refused", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    fs::copy(s.set(1), s.set(2));
    auto const set = s.newest();
    REQUIRE(set);
    CHECK(set->set == "S0000001");
    CHECK(set->stale);
    CHECK(set->refused[0].error.detail.find("copied") != std::string::npos);
}

TEST_CASE("well-signed manifests that say dangerous things are refused", "[media][hostile]")
{
    struct Case {
        char const *from, *to, *says;
    };
    auto const c = GENERATE(values<Case>({
        {"\"name\":\"KD-41.JSN\"", "\"name\":\"../../X\"", "outside"},
        {"\"name\":\"KD-41.JSN\"", "\"name\":\"/ETC/X\"", "outside"},
        {"\"name\":\"KD-41.JSN\"", "\"name\":\"kd-41.jsn\"", "plain file name"},
        {"\"name\":\"KD-41.JSN\"", "\"name\":\"MANIFEST.JSN\"", "itself"},
        {"\"name\":\"KD-41.JSN\"", "\"name\":\"U0000001.JSN\"", "twice"},
        {"\"name\":\"KD-41.JSN\"", "\"name\":\"CON\"", "plain file name"},
        {"\"name\":\"KD-41.JSN\"", "\"name\":\"GONE.JSN\"", "not there"},
        {"\"bytes\":", "\"bytes\":99999999999", "bytes"},
        {"\"bytes\":", "\"bytes\":-", "bytes"},
        {"isochore.stick/1", "isochore.stick/2", "another version"},
        {"isochore.stick/1", "isochore.record/1", "not a stick"},
        {"\"made_at\":\"2025", "\"made_at\":\"20x5", "time"},
        {"\"files\":", "\"extra\":1,\"files\":", "not known"},
        {"\"files\":", "\"set\":\"S0000001\",\"files\":", "stands twice"},
        {"\"bytes\":", "\"bytes\":1,\"bytes\":", "stands twice"},
        {"\"files\":[", "\"files\":[[[[[[[[]]]]]]],", "nested deeper"},
        {"\"sha256\":\"", "\"sha256\":\"0", "64 lower-case hex"},
        {"\"set\":\"S0000001\"", "\"set\":\"S0000009\"", "copied"},
    }));
    CAPTURE(c.from, c.to);
    Stick s;
    s.write("a", 1);
    resign(s.set(1) / "MANIFEST.JSN", c.from, c.to, "engineer");
    auto const set = s.newest();
    REQUIRE_FALSE(set);
    INFO(set.error().detail);
    CHECK(set.error().detail.find(c.says) != std::string::npos);
}

TEST_CASE("a manifest changed without the key is refused by what is wrong with it", "[media][hostile]")
{
    struct Case {
        char const *from, *to, *says;
    };
    auto const c = GENERATE(values<Case>({
        {",\"signature\":\"", ",\"signature\":\"0", "not signed"},
        {",\"signature\":\"", ",\"signature\":\"\",\"note\":\"", "not known"},
        {",\"signature\":", ",\"signature\":0,\"x\":", "not known"},
        {",\"key\":\"", ",\"key\":\"0", "not signed"},
        {"\"made_at\":\"2025-03-01", "\"made_at\":\"2025-03-31", "changed or forged"},
        {"\"name\":\"KD-41.JSN\"", "\"name\":\"U0000009.JSN\"", "changed or forged"},
        {"isochore.stick/1", "isochore.stick/2", "another version"},
    }));
    CAPTURE(c.from, c.to);
    Stick s;
    s.write("a", 1);
    auto const file = s.set(1) / "MANIFEST.JSN";
    auto text = content(file);
    REQUIRE(text.find(c.from) != std::string::npos);
    overwrite(file, text.replace(text.find(c.from), std::string(c.from).size(), c.to));
    auto const set = s.newest();
    REQUIRE_FALSE(set);
    INFO(set.error().detail);
    CHECK(set.error().detail.find(c.says) != std::string::npos);
    // The list names the same, and holds it neither for a good set nor for a write that was interrupted.
    auto const list = list_sets(*s.disk, s.folder.path(), s.trust);
    REQUIRE(list);
    CHECK(list->at(0).state == SetSummary::State::refused);
    CHECK(list->at(0).why == set.error().detail);
}

TEST_CASE("a manifest without its signature is refused", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    auto const file = s.set(1) / "MANIFEST.JSN";
    auto const text = content(file);
    overwrite(file, text.substr(0, text.find(",\"signature\"")) + "}");
    auto const set = s.newest();
    REQUIRE_FALSE(set);
    CHECK(set.error().detail.find("\"signature\"") != std::string::npos);
}

TEST_CASE("what is huge is refused before it is read", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    SECTION("a listed file that has grown")
    {
        fs::resize_file(s.set(1) / "KD-41.JSN", std::uintmax_t{1} << 33); // sparse
        CHECK(s.newest().error().detail.find("8589934592 bytes") != std::string::npos);
    }
    SECTION("a manifest that has grown")
    {
        fs::resize_file(s.set(1) / "MANIFEST.JSN", std::uintmax_t{1} << 33);
        CHECK(s.newest().error().detail.find("larger than") != std::string::npos);
    }
    SECTION("a well-signed manifest that lists more files than any set has")
    {
        std::string many;
        for (int i = 0; i < 20000; ++i)
            many += "{\"bytes\":0,\"name\":\"N" + std::to_string(i) + "\",\"sha256\":\"" +
                    std::string(64, '0') + "\"},";
        resign(s.set(1) / "MANIFEST.JSN", "\"files\":[", "\"files\":[" + many, "engineer");
        CHECK(s.newest().error().detail.find("at most") != std::string::npos);
    }
}

TEST_CASE("links are never followed", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    TemporaryFolder elsewhere;
    SECTION("a listed file that is a link to the same bytes")
    {
        fs::rename(s.set(1) / "KD-41.JSN", elsewhere / "x");
        fs::create_symlink(elsewhere / "x", s.set(1) / "KD-41.JSN");
        CHECK(s.newest().error().code == Error::Code::denied);
    }
    SECTION("a set folder that is a link is not a set")
    {
        fs::rename(s.set(1), elsewhere / "S");
        fs::create_directory_symlink(elsewhere / "S", s.set(1));
        CHECK(s.newest().error().code == Error::Code::not_found);
    }
    SECTION("our folder being a link stops reading and writing")
    {
        fs::rename(s.folder / "ISOCHORE", elsewhere / "I");
        fs::create_directory_symlink(elsewhere / "I", s.folder / "ISOCHORE");
        CHECK(s.newest().error().code == Error::Code::denied);
        auto const w =
            write_set(*s.disk, s.folder.path(), two_files("b"), test::signer("engineer"), time_of(2));
        REQUIRE_FALSE(w);
        CHECK(w.error().code == Error::Code::denied);
        CHECK_FALSE(fs::exists(elsewhere.path() / "I" / "S0000002"));
    }
    SECTION("a manifest that is a link")
    {
        fs::rename(s.set(1) / "MANIFEST.JSN", elsewhere / "m");
        fs::create_symlink(elsewhere / "m", s.set(1) / "MANIFEST.JSN");
        CHECK(s.newest().error().code == Error::Code::denied);
    }
    SECTION("a link planted where the next set would go is never written through")
    {
        fs::create_directory_symlink(elsewhere.path(), s.set(2));
        auto const written = s.write("b", 2);
        CHECK(written.set == "S0000003");
        CHECK(fs::is_empty(elsewhere.path()));
    }
}

TEST_CASE("hostile manifests are refused without harm", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    s.write("b", 2);
    auto const file = s.set(2) / "MANIFEST.JSN";
    auto const text = GENERATE(
        as<std::string>{}, "", "{}", "[]", "null", "{\"format\":1}", "\xff\xfe", std::string(1u << 16, '['),
        "{\"format\":\"isochore.stick/1\",\"format\":\"x\"}", std::string(9u << 20, ' '));
    overwrite(file, text);
    auto const set = s.newest();
    REQUIRE(set);
    CHECK(set->set == "S0000001");
    REQUIRE(set->refused.size() == 1);
    // One that is no JSON at all looks like a pulled stick; anything else looks like meddling.
    CHECK(set->stale == !set->refused[0].unfinished);
}

TEST_CASE("a stick stuffed with folders costs no more than a hundred", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    for (int n = 2; n < 400; ++n)
        fs::create_directory(s.set(n));
    auto const list = list_sets(*s.disk, s.folder.path(), s.trust);
    REQUIRE(list);
    CHECK(list->size() == 100);
    auto const written = s.write("b", 2);
    CHECK(written.set == "S0000400");
    CHECK(s.newest()->set == "S0000400");
}

TEST_CASE("an empty target holds no set, and a list of none is said so", "[media]")
{
    Stick s;
    CHECK(s.newest().error().code == Error::Code::not_found);
    CHECK(list_sets(*s.disk, s.folder.path(), s.trust).error().code == Error::Code::not_found);
    CHECK(verify_set(*s.disk, s.folder.path(), "S0000001", s.trust).error().code == Error::Code::not_found);
    s.write("a", 1);
    CHECK(verify_set(*s.disk, s.folder.path(), "S0000001", s.trust));
    CHECK(verify_set(*s.disk, s.folder.path(), "S0000002", s.trust).error().code == Error::Code::not_found);
}

TEST_CASE("a file that is not listed is ignored and named", "[media][hostile]")
{
    Stick s;
    s.write("a", 1);
    overwrite(s.set(1) / "EXTRA.JSN", "{}");
    auto const set = s.newest();
    REQUIRE(set);
    CHECK(set->files.size() == 2);
    REQUIRE(set->notes.size() == 1);
    CHECK(set->notes[0].find("EXTRA.JSN") != std::string::npos);
}

TEST_CASE("the trust store reads what it writes and refuses a key twice", "[media]")
{
    std::vector<TrustedKey> const keys = {{test::signer("a").public_key_hex, "A. Person", "2025-01-02", ""},
                                          {test::signer("b").public_key_hex, "B", "2025-01-03", time_of(1)}};
    auto const text = write_trusted_keys(keys);
    auto const back = read_trusted_keys(text, "trust.json");
    REQUIRE(back);
    REQUIRE(back->size() == 2);
    CHECK((*back)[0].name == "A. Person");
    CHECK((*back)[1].newest_seen == time_of(1));
    CHECK_FALSE(read_trusted_keys(write_trusted_keys({keys[0], keys[0]}), "t"));
    CHECK_FALSE(read_trusted_keys("{}", "t"));
    CHECK_FALSE(read_trusted_keys("{\"format\":\"isochore.trust/1\",\"keys\":[{\"key\":\"zz\"}]}", "t"));
}
