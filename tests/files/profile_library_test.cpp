#include "files/csv.h"
#include "files/profile_csv.h"
#include "files/profile_import.h"
#include "files/profile_library.h"
#include "files/profile_samples.h"
#include "files/profile_schema.h"
#include "files/profile_signing.h"
#include "model/profile_compare.h"
#include "model/profile_lifecycle.h"
#include "support/faulting_disk.h"
#include "support/recording_disk.h"
#include "support/temporary_folder.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <fstream>
#include <set>

using namespace isochore;
using namespace isochore::files;

namespace {

model::Profile sample(std::string const& id = "kd-41")
{
    FileReport report;
    auto profile = read_profile(samples::profile_text(id), id, report);
    REQUIRE(report.ok());
    return profile;
}

model::Profile draft()
{
    return model::copy_as_revision(sample(), 2, "E. Tamm", "2025-04-01");
}

} // namespace

TEST_CASE("the published schema is the one the field table gives", "[files][profile]")
{
    CHECK(samples::text_of(std::filesystem::path(ISOCHORE_SOURCE_DIR) /
                           "profiles/schema/profile.schema.json") == profile_schema());
}

TEST_CASE("a library folder is read whole, searched by any word and narrowed by facets", "[files][library]")
{
    auto const disk = disk::system_disk();
    auto const library = read_library(*disk, std::filesystem::path(ISOCHORE_SOURCE_DIR) / "profiles");
    CHECK(library.errors.empty());
    REQUIRE(library.entries.size() >= 5);
    for (auto const& entry : library.entries)
        CHECK(entry.faults.empty());
    auto const found = [&](LibraryFilter const& filter) {
        std::vector<std::string> ids;
        for (auto const* entry : search(library, filter))
            ids.push_back(entry->profile.id);
        return ids;
    };
    CHECK(found({"145 SPRING", {}, true}) == std::vector<std::string>{"kd-41"});
    CHECK(found({"nothing of the kind", {}, true}).empty());
    CHECK(found({"", {{"rating.frequency", "60 Hz"}, {"rating.interrupting_cycles", "3 cycles"}}, true}) ==
          std::vector<std::string>{"kd-41"});
    auto const all = facets(search(library, {}));
    auto const voltage =
        std::find_if(all.begin(), all.end(), [](Facet const& f) { return f.path == "rating.voltage"; });
    REQUIRE(voltage != all.end());
    CHECK(voltage->values.front().first == "38 kV");
    CHECK(voltage->values.back().first == "420 kV");
}

TEST_CASE("each facet counts what its other values would leave beside the facets set", "[files][library]")
{
    auto const disk = disk::system_disk();
    auto const library = read_library(*disk, std::filesystem::path(ISOCHORE_SOURCE_DIR) / "profiles");
    auto const counts = [&](LibraryFilter const& filter, std::string_view path) {
        std::map<std::string, int> out;
        for (auto const& facet : facets(library, filter))
            if (facet.path == path)
                out.insert(facet.values.begin(), facet.values.end());
        return out;
    };
    auto const mechanisms = counts({}, "breaker.mechanism");
    REQUIRE(mechanisms.size() > 1);
    LibraryFilter const spring{"", {{"breaker.mechanism", "spring"}}, true};
    CHECK(counts(spring, "breaker.mechanism") == mechanisms); // the way back stays open
    CHECK(counts(spring, "rating.voltage").size() < counts({}, "rating.voltage").size());
    for (auto const& [value, count] : counts(spring, "rating.frequency")) {
        auto both = spring;
        both.facets["rating.frequency"] = value;
        CHECK(search(library, both).size() == static_cast<std::size_t>(count));
    }
    CHECK(counts({"kd-41", {}, true}, "breaker.mechanism") == std::map<std::string, int>{{"spring", 1}});
}

TEST_CASE("two folders are one library: later sign-offs count, other values do not", "[files][library]")
{
    test::RecordingDisk disk;
    REQUIRE(disk.make_directory("/supplied"));
    REQUIRE(disk.make_directory("/own"));
    REQUIRE(disk.create("/supplied/kd-41.json", samples::profile_text("kd-41")));
    disk::Path const folders[] = {"/supplied", "/own", "/absent"};
    auto withdrawn = model::advance(sample(), "withdrawn", "E. Tamm", "2025-05-01");
    REQUIRE(withdrawn);
    REQUIRE(store_profile(disk, "/own", *withdrawn, read_library(disk, folders)));
    auto const library = read_library(disk, folders);
    CHECK(library.errors.empty());
    REQUIRE(library.entries.size() == 1);
    CHECK(library.entries[0].profile.status == "withdrawn");
    CHECK(library.entries[0].folder == "/own");
    CHECK(disk.exists("/supplied/kd-41.json")); // another folder's file is never removed
    auto other = sample();
    other.values["gas.nominal"].value = "0.7 MPa abs";
    CHECK_FALSE(store_profile(disk, "/own", other, library));
    REQUIRE(disk.create("/own/kd-41.r1.s9.json", write_profile(other)));
    auto const contradicted = read_library(disk, folders);
    CHECK(contradicted.errors.size() == 1);
    CHECK(contradicted.entries[0].profile.text("gas.nominal") == sample().text("gas.nominal"));
}

TEST_CASE("a file that cannot be read does not hide the others", "[files][library]")
{
    test::RecordingDisk disk;
    REQUIRE(disk.make_directory("/lib"));
    REQUIRE(disk.create("/lib/a.json", "{"));
    REQUIRE(disk.create("/lib/kd-41.json", samples::profile_text("kd-41")));
    REQUIRE(disk.create("/lib/notes.txt", "x"));
    auto const library = read_library(disk, "/lib");
    CHECK(library.entries.size() == 1);
    REQUIRE(library.errors.size() == 1);
    CHECK(library.errors[0].where.find("a.json") != std::string::npos);
}

TEST_CASE("a profile goes from draft to checked to released by a second person, and no other way",
          "[files][lifecycle]")
{
    auto const d = draft();
    CHECK(d.status == "draft");
    CHECK(d.parent == 1);
    CHECK_FALSE(model::advance(d, "released", "M. Vesely", "2025-04-02"));
    CHECK_FALSE(model::advance(d, "checked", "  ", "2025-04-02"));
    auto const checked = model::advance(d, "checked", "R. Oyelaran", "2025-04-02");
    REQUIRE(checked);
    CHECK_FALSE(model::advance(*checked, "released", "r. oyelaran", "2025-04-03"));
    CHECK_FALSE(model::advance(*checked, "released", "E. TAMM", "2025-04-03"));
    auto const released = model::advance(*checked, "released", "M. Vesely", "2025-04-03");
    REQUIRE(released);
    CHECK(check_profile(*released, "p").ok());
    auto const withdrawn = model::advance(*released, "withdrawn", "E. Tamm", "2025-05-01");
    REQUIRE(withdrawn);
    CHECK(check_profile(*withdrawn, "p").ok());
    CHECK_FALSE(model::advance(*withdrawn, "draft", "E. Tamm", "2025-05-02"));
}

TEST_CASE("a released revision never changes", "[files][lifecycle]")
{
    test::RecordingDisk disk;
    REQUIRE(disk.make_directory("/lib"));
    REQUIRE(disk.create("/lib/kd-41.json", samples::profile_text("kd-41")));
    auto changed = sample();
    changed.values["gas.warn"].value = "0.55 MPa abs";
    auto const refused = store_profile(disk, "/lib", changed);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().detail.find("gas.warn") != std::string::npos);
    auto renamed = sample();
    renamed.title = "Another";
    CHECK_FALSE(store_profile(disk, "/lib", renamed));
    auto const withdrawn = model::advance(sample(), "withdrawn", "E. Tamm", "2025-05-01");
    REQUIRE(withdrawn);
    REQUIRE(store_profile(disk, "/lib", *withdrawn));
    auto const library = read_library(disk, "/lib");
    REQUIRE(library.entries.size() == 1);
    CHECK(library.entries[0].profile.status == "withdrawn");
    SECTION("nor by a file put beside it")
    {
        REQUIRE(disk.create("/lib/kd-41.r1.s9.json", write_profile(changed)));
        auto const again = read_library(disk, "/lib");
        CHECK(again.entries[0].profile.text("gas.warn") == "0.559 MPa abs");
        REQUIRE(again.errors.size() == 1);
        CHECK(again.errors[0].where == "kd-41.r1.s9.json");
    }
}

TEST_CASE("a draft is saved again and again, one file at a time, and a failing disk loses none",
          "[files][library]")
{
    test::RecordingDisk start;
    REQUIRE(start.make_directory("/lib"));
    auto first = draft();
    REQUIRE(store_profile(start, "/lib", first));
    auto second = first;
    second.values["gas.warn"].value = "0.55 MPa abs";
    test::RecordingDisk counted = start;
    test::FaultingDisk counter(counted, 0, test::Fault::broken);
    auto const stored = store_profile(counter, "/lib", second);
    REQUIRE(stored);
    CHECK(*stored == "kd-41.r2.s2.json");
    CHECK(counted.contents().size() == 1);
    for (int n = 1; n <= counter.calls(); ++n) {
        CAPTURE(n);
        test::RecordingDisk below = start;
        test::FaultingDisk disk(below, n, test::Fault::short_write, true);
        auto const result = store_profile(disk, "/lib", second);
        auto const library = read_library(below, "/lib");
        REQUIRE(library.entries.size() == 1);
        auto const warn = library.entries[0].profile.text("gas.warn");
        CHECK((warn == "0.559 MPa abs" || warn == "0.55 MPa abs"));
        if (result)
            CHECK(warn == "0.55 MPa abs");
    }
}

TEST_CASE("importing a folder reports every file and refuses what contradicts the library",
          "[files][library]")
{
    test::RecordingDisk disk;
    REQUIRE(disk.make_directory("/lib"));
    REQUIRE(disk.make_directory("/new"));
    REQUIRE(disk.create("/lib/kd-41.json", samples::profile_text("kd-41")));
    REQUIRE(disk.create("/lib/kd-12.json", samples::profile_text("kd-12")));
    REQUIRE(disk.create("/new/same.json", samples::profile_text("kd-41")));
    REQUIRE(disk.create("/new/other.json", samples::profile_text("qv-27")));
    REQUIRE(disk.create("/new/bad.json", "[]"));
    auto changed = sample("kd-12");
    changed.values["gas.warn"].value = "0.38 MPa abs";
    REQUIRE(disk.create("/new/changed.json", write_profile(changed)));
    int taken = 0, refused = 0;
    for (auto const& line : import_profiles(disk, "/new", "/lib")) {
        taken += line.taken;
        refused += !line.why.empty();
    }
    CHECK(taken == 1);
    CHECK(refused == 3);
    CHECK(read_library(disk, "/lib").entries.size() == 3);
}

TEST_CASE("of a folder that contradicts itself the rest is imported all the same", "[files][library]")
{
    test::RecordingDisk disk;
    REQUIRE(disk.make_directory("/lib"));
    REQUIRE(disk.make_directory("/new"));
    REQUIRE(disk.create("/new/kd-41.json", samples::profile_text("kd-41")));
    auto changed = sample(); // a second save of a released revision that says otherwise
    changed.values["gas.warn"].value = "0.55 MPa abs";
    REQUIRE(disk.create("/new/kd-41.r1.s2.json", write_profile(changed)));
    REQUIRE(disk.create("/new/qv-27.json", samples::profile_text("qv-27")));
    auto const lines = import_profiles(disk, "/new", "/lib");
    std::set<std::string> taken;
    for (auto const& line : lines) {
        CHECK(line.why.find("cancelled") == std::string::npos);
        if (line.taken)
            taken.insert(line.id);
        CHECK(line.taken == !line.sha256.empty());
    }
    CHECK(taken == std::set<std::string>{"kd-41", "qv-27"});
    CHECK(lines.size() == 3);
}

TEST_CASE("a reading that is cancelled says so and holds what it has, over several folders as over one",
          "[files][library]")
{
    test::RecordingDisk disk;
    for (char const* folder : {"/a", "/b"})
        REQUIRE(disk.make_directory(folder));
    REQUIRE(disk.create("/a/kd-41.json", samples::profile_text("kd-41")));
    REQUIRE(disk.create("/a/qv-27.json", samples::profile_text("qv-27")));
    REQUIRE(disk.create("/b/kd-12.json", samples::profile_text("kd-12")));
    disk::Path const folders[] = {"/a", "/b", "/not-there"};
    std::vector<std::size_t> seen;
    auto const whole =
        read_library(disk, folders, {}, [&](std::size_t done, std::size_t total, std::string_view) {
            CHECK(total == 3);
            seen.push_back(done);
            return true;
        });
    CHECK_FALSE(whole.cancelled);
    CHECK(seen == std::vector<std::size_t>{0, 1, 2});
    CHECK(whole.entries.size() == 3);
    auto const part = read_library(disk, folders, {},
                                   [](std::size_t done, std::size_t, std::string_view) { return done < 2; });
    CHECK(part.cancelled);
    CHECK(part.entries.size() == 2);
    REQUIRE(part.errors.size() == 1);
    CHECK(part.errors[0].code == Error::Code::denied);
}

TEST_CASE("a library of thousands is read and searched in little time", "[files][library]")
{
    test::RecordingDisk disk;
    REQUIRE(disk.make_directory("/lib"));
    auto profile = sample();
    for (int i = 0; i < 2000; ++i) {
        profile.id = "m-" + std::to_string(i);
        REQUIRE(disk.create("/lib/" + profile.id + ".json", write_profile(profile)));
    }
    auto const begin = std::chrono::steady_clock::now();
    auto const library = read_library(disk, "/lib");
    auto const read = std::chrono::steady_clock::now();
    REQUIRE(library.entries.size() == 2000);
    auto const found = search(library, {"m-1999", {}, true});
    auto const searched = std::chrono::steady_clock::now();
    CHECK(found.size() == 1);
    auto const ms = [](auto d) { return std::chrono::duration<double, std::milli>(d).count(); };
    WARN("2,000 profiles read and checked in " << ms(read - begin) << " ms, searched in "
                                               << ms(searched - read) << " ms");
    CHECK(ms(searched - read) < 100.0); // a search as one types
}

TEST_CASE("comparing sees quantities, not spellings", "[files][compare]")
{
    using Kind = model::ProfileDifference::Kind;
    auto const a = sample();
    CHECK(model::compare(a, a).empty());
    auto b = a;
    b.values["gas.nominal"].value = "6.16 bar abs"; // the same
    b.values["gas.warn"].value = "0.559 MPa g";     // 0.101 325 MPa more
    b.values["breaker.mechanism"].value = "air";
    b.values["gas.leak_limit"].source = "elsewhere";
    b.values.erase("timing.open_min");
    auto const d = model::compare(a, b);
    auto const find = [&](std::string const& path, Kind kind) {
        return std::find_if(d.begin(), d.end(),
                            [&](auto const& x) { return x.path == path && x.kind == kind; });
    };
    CHECK(d.front().kind == Kind::physical);
    CHECK(std::is_sorted(d.begin(), d.end(), [](auto const& x, auto const& y) { return x.kind < y.kind; }));
    CHECK(find("gas.nominal", Kind::written) != d.end());
    CHECK(find("gas.nominal_density", Kind::physical) == d.end());
    auto const density = find("gas.warn_density", Kind::physical);
    REQUIRE(density != d.end());
    CHECK(density->share > 0.18); // 101 kPa of 559 kPa, and the gas is less than ideal
    CHECK(density->share < 0.22);
    CHECK(find("breaker.mechanism", Kind::choice) != d.end());
    CHECK(find("gas.leak_limit", Kind::backing) != d.end());
    REQUIRE(find("timing.open_min", Kind::physical) != d.end());
    CHECK(find("timing.open_min", Kind::physical)->b.empty());
}

TEST_CASE("a signature covers every value and the sign-offs before it", "[files][lifecycle]")
{
    // A signature scheme of its own for the test: what matters here is which bytes are signed.
    Signer const signer{std::string(64, 'a'), [](std::string_view bytes) {
                            auto const h = std::hash<std::string_view>{}(bytes);
                            std::string out;
                            for (int i = 0; i < 128; ++i)
                                out += "0123456789abcdef"[(h >> (i % 16 * 4)) & 15];
                            return out;
                        }};
    Verifier const verify = [&](std::string_view, std::string_view bytes, std::string_view signature) {
        return signer.sign(bytes) == signature;
    };
    auto checked = sign_signoff(*model::advance(draft(), "checked", "R. Oyelaran", "2025-04-02"), signer);
    REQUIRE(checked);
    auto released = sign_signoff(*model::advance(*checked, "released", "M. Vesely", "2025-04-03"), signer);
    REQUIRE(released);
    FileReport report;
    auto const back = read_profile(write_profile(*released), "p", report);
    REQUIRE(report.ok());
    using S = SignatureState;
    CHECK(check_signatures(back, verify) == std::vector<S>{S::fits, S::fits});
    auto changed = back;
    changed.values["gas.warn"].confirmed = true;
    CHECK(check_signatures(changed, verify) == std::vector<S>{S::broken, S::broken});
    auto swapped = back;
    swapped.signoffs[0].person = "Somebody Else";
    CHECK(check_signatures(swapped, verify) == std::vector<S>{S::broken, S::broken});
    auto last = back;
    last.signoffs[1].date = "2025-04-04";
    CHECK(check_signatures(last, verify) == std::vector<S>{S::fits, S::broken});
    CHECK(check_signatures(sample(), verify) == std::vector<S>{S::unsigned_, S::unsigned_});
    CHECK_FALSE(sign_signoff(draft(), signer));
}

TEST_CASE("nameplates come in row by row, each with its own report", "[files][csv]")
{
    std::string const csv = "\xEF\xBB\xBF"
                            "id,title,breaker.mechanism,Rated voltage,gas.nominal,colour,source\r\n"
                            "aa-1,\"One, with a comma\",spring,145 kV,74 psi g,red,site survey\r\n"
                            "AA 2,Two,spring,145 kV,74 psi g,,\r\n"
                            "\r\n"
                            "aa-3,Three,clockwork,145,74 psi,,\r\n"
                            "aa-1,Again,spring,145 kV,,,\r\n"
                            "aa-5,Short row\r\n"
                            "aa-6,,air,72.5 kV,,,\r\n";
    auto const import = read_nameplates(csv, "n.csv", "E. Tamm", "2025-04-01");
    REQUIRE(import.errors.size() == 1);
    CHECK(import.errors[0].detail.find("colour") != std::string::npos);
    REQUIRE(import.rows.size() == 6);
    auto const& r = import.rows;
    CHECK(r[0].taken);
    CHECK(r[0].line == 2);
    CHECK(r[0].profile.title == "One, with a comma");
    CHECK(r[0].profile.text("rating.voltage") == "145 kV");
    CHECK(r[0].profile.find("gas.nominal")->source == "site survey");
    CHECK_FALSE(r[0].profile.find("gas.nominal")->confirmed);
    CHECK(r[0].open.size() > 10); // a nameplate alone is not a profile
    CHECK_FALSE(r[1].taken);
    CHECK(r[2].refused.size() == 3);
    CHECK(r[2].line == 5);
    CHECK(r[2].refused[0].where == "n.csv:5: breaker.mechanism");
    CHECK_FALSE(r[3].taken);
    CHECK_FALSE(r[4].taken);
    CHECK(r[5].taken);
    CHECK(r[5].profile.title == "aa-6");
}

TEST_CASE("a table without an id, with a broken quote or with nothing is refused as a whole", "[files][csv]")
{
    CHECK_FALSE(read_nameplates("", "n", "a", "d").errors.empty());
    CHECK_FALSE(read_nameplates("title\nx\n", "n", "a", "d").errors.empty());
    CHECK_FALSE(read_nameplates("id,title\na,\"x\n", "n", "a", "d").errors.empty());
    CHECK_FALSE(read_nameplates("id,title\na,x\"y\n", "n", "a", "d").errors.empty());
}

TEST_CASE("a table in another encoding is refused as a whole, with the line and what to do", "[files][csv][hostile]")
{
    struct Case {
        std::string text;
        char const* where;
    };
    auto const c = GENERATE(values<Case>({{"id,title\nk-1,x\nk-2,K\xFChler\n", "n.csv:3"},
                                          {std::string("\xFF\xFEi\0d\0\n\0", 8), "n.csv:1"},
                                          {std::string("\xFE\xFF\0i\0d\0\n", 8), "n.csv:1"}}));
    auto const import = read_nameplates(c.text, "n.csv", "E. Tamm", "2025-04-01");
    CHECK(import.rows.empty());
    REQUIRE(import.errors.size() == 1);
    CHECK(import.errors[0].where == c.where);
    CHECK(import.errors[0].detail.find("UTF-8") != std::string::npos);
}

TEST_CASE("a row says once what is wrong with its name, and what cannot be shown is never taken",
          "[files][csv][hostile]")
{
    auto const import = read_nameplates(std::string("id;title;source\r\n"
                                                    ";No name;x\r\n"
                                                    "k-2;two\r\n"
                                                    "k-3;a\x01;x\r\n"
                                                    "k\x02;b;x\r\n"
                                                    "k-5;c;\"sheet\r\n2\"\r\n"),
                                        "n.csv", "E. Tamm", "2025-04-01");
    CHECK(import.errors.empty());
    REQUIRE(import.rows.size() == 5);
    for (std::size_t i = 0; i < 4; ++i) {
        CAPTURE(i);
        CHECK_FALSE(import.rows[i].taken);
        CHECK(import.rows[i].refused.size() == 1);
    }
    CHECK(import.rows[0].refused[0].detail.find("name of its own") != std::string::npos);
    CHECK(import.rows[4].taken);
    CHECK(import.rows[3].id.empty());
}

TEST_CASE("ten thousand rows are each answered, decimal commas and rows that stand twice among them",
          "[files][csv][hostile]")
{
    std::string table = "\xEF\xBB\xBFid;title;gas.nominal\r\n";
    for (int i = 0; i < 10'000; ++i)
        table += "k-" + std::to_string(i % 9'000) + ";\"Plate \"\"" + std::to_string(i) + "\"\";\r\nsecond line\";" +
                 (i % 10 == 3 ? "6,2 bar abs" : "6.2 bar abs") + "\r\n";
    auto const import = read_nameplates(table, "n.csv", "E. Tamm", "2025-04-01");
    CHECK(import.errors.empty());
    REQUIRE(import.rows.size() == 10'000);
    std::size_t comma = 0, twice = 0, control = 0;
    for (auto const& row : import.rows)
        for (auto const& e : row.refused) {
            comma += e.detail.find("comma") != std::string::npos;
            twice += e.detail.find("twice") != std::string::npos;
            control += e.detail.find("control") != std::string::npos;
        }
    CHECK(comma == 1'000);
    CHECK(twice == 1'000);
    CHECK(control == 0);
    CHECK(import.rows[1].profile.title == "Plate \"1\"; second line"); // a title is one line
    CHECK(import.rows.back().line == 2 + 2 * 9'999);
}

TEST_CASE("the separator is found, quotes are undone and line breaks inside quotes kept", "[files][csv]")
{
    auto const rows = read_csv("a;b\n\"x\"\"y\";\"1\n2\"\nlast;", "n");
    REQUIRE(rows);
    REQUIRE(rows->size() == 3);
    CHECK((*rows)[1].cells == std::vector<std::string>{"x\"y", "1\n2"});
    CHECK((*rows)[2].line == 4);
    CHECK((*rows)[2].cells == std::vector<std::string>{"last", ""});
}

TEST_CASE("a cell of text can start no formula", "[files][csv]")
{
    CHECK(csv_text("=1+1") == "'=1+1");
    CHECK(csv_text("-cmd") == "'-cmd");
    CHECK(csv_text("a,b") == "\"a,b\"");
    CHECK(csv_text("a \"b\"") == "\"a \"\"b\"\"\"");
    CHECK(csv_text("plain") == "plain");
}

TEST_CASE("a second reading takes over what is unchanged, and sees every change, whatever its size")
{
    test::TemporaryFolder folder;
    auto const disk = disk::system_disk();
    auto const text = [](std::string const& id) {
        std::ifstream in(std::string(ISOCHORE_SOURCE_DIR) + "/profiles/" + id + ".json", std::ios::binary);
        return std::string{std::istreambuf_iterator<char>(in), {}};
    };
    for (auto const* id : {"kd-41", "nq-36", "ut-52"})
        REQUIRE(disk->create(folder / (std::string(id) + ".json"), text(id)));
    disk::Path const folders[] = {folder.path()};
    auto first = read_library(*disk, folders);
    REQUIRE(first.entries.size() == 3);
    for (auto& entry : first.entries)
        entry.found_by = "taken over"; // a mark that no reading makes
    // One file changes by a digit, one goes, one comes.
    auto changed = text("nq-36");
    auto const at = changed.find("\"author\"");
    REQUIRE(at != std::string::npos);
    changed[changed.find('"', at + 9) + 1] = 'Z';
    std::ofstream(folder / "nq-36.json", std::ios::binary) << changed;
    REQUIRE(disk->remove(folder / "ut-52.json"));
    REQUIRE(disk->create(folder / "zh-40.json", text("zh-40")));
    auto const second = read_library(*disk, folders, std::move(first));
    REQUIRE(second.entries.size() == 3);
    CHECK(second.find("kd-41")->found_by == "taken over");
    CHECK(second.find("nq-36")->found_by != "taken over");
    CHECK(second.find("nq-36")->profile.author.front() == 'Z');
    CHECK(second.find("zh-40")->newest);
    CHECK_FALSE(second.find("ut-52"));
    CHECK(second.revisions("kd-41").size() == 1);
    CHECK(second.released("zh-40") == second.find("zh-40"));
}
