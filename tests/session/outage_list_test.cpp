#include "session/outage_list.h"
#include "session/session_support.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::session;

namespace {

using Show = OutageList::Show;

/// A store of outages that have only a first entry, and some a last one; all names are invented.
struct Store {
    Store()
    {
        add("j1", {"Alder Ferry", "Q07", "KD-41", "AF-112"});
        add("j2", {"Corrie Moss", "Q02", "KD-41", "CM-7"});
        add("j3", {"Alder Ferry", "Q08", "NQ-36", "AF-113"});
        add("j4", {"Öre Höhe", "E01", "NQ-36", "OH-1"});
        append("@people", {{"type", "person"}});
    }
    struct Facts {
        char const *station, *bay, *breaker, *job_no;
    };
    void add(char const* job, Facts const& f)
    {
        append(job, {{"type", "created"},
                     {"at", "2026-03-02T08:00:00+00:00"},
                     {"who", "N. Quill"},
                     {"facts",
                      {{"station", f.station}, {"bay", f.bay}, {"breaker", f.breaker}, {"job_no", f.job_no}}}});
    }
    void append(char const* job, Json body) { REQUIRE(journal->append(job, std::move(body))); }
    OutageList list(std::size_t read = 100)
    {
        auto all = OutageList::of(*journal);
        REQUIRE(all);
        REQUIRE(all->read_some(*journal, read));
        return std::move(*all);
    }

    test::TemporaryFolder folder;
    std::unique_ptr<journal::Journal> journal = std::move(*journal::open_journal(folder.path()));
};

std::vector<std::string> jobs_of(OutageList const& list, std::string_view search, Show show,
                                 std::size_t most = 100, std::size_t* found = nullptr)
{
    std::size_t count = 0;
    std::vector<std::string> jobs;
    for (auto const* s : list.find(search, show, most, count))
        jobs.push_back(s->job);
    if (found)
        *found = count;
    return jobs;
}

using Jobs = std::vector<std::string>;

} // namespace

TEST_CASE("a list of outages is read a page at a time, the latest touched first, without people and library")
{
    Store store;
    store.append("j2", {{"type", "recorded"}, {"at", "2026-03-03T09:30:00+01:00"}, {"who", "I. Brandt"}});
    auto list = store.list(2);
    CHECK(list.total() == 4);
    CHECK_FALSE(list.whole());
    CHECK(jobs_of(list, "", Show::all) == Jobs{"j2", "j4"});
    REQUIRE(list.read_some(*store.journal, 1));
    CHECK_FALSE(list.whole());
    REQUIRE(list.read_some(*store.journal, 50));
    CHECK(list.whole());
    CHECK(jobs_of(list, "", Show::all) == Jobs{"j2", "j4", "j3", "j1"});
    REQUIRE(list.read_some(*store.journal, 50)); // nothing is left: nothing is read twice
    CHECK(jobs_of(list, "", Show::all).size() == 4);
    std::size_t found = 0;
    auto const row = *list.find("CM-7", Show::all, 1, found).front();
    CHECK(row.station == "Corrie Moss");
    CHECK(row.begun_at == "2026-03-02T08:00:00+00:00");
    CHECK(row.last_at == "2026-03-03T09:30:00+01:00");
    CHECK(row.last_who == "I. Brandt");
    CHECK_FALSE(row.sealed);
    CHECK_FALSE(row.archived);
}

TEST_CASE("a search finds the outages that have all its words in station, bay, breaker or job number")
{
    Store store;
    auto const list = store.list();
    CHECK(jobs_of(list, "alder", Show::all) == Jobs{"j3", "j1"});
    CHECK(jobs_of(list, "  ALDER   kd-41 ", Show::all) == Jobs{"j1"}); // whatever case, gaps and order
    CHECK(jobs_of(list, "kd-41 alder", Show::all) == Jobs{"j1"});
    CHECK(jobs_of(list, "112", Show::all) == Jobs{"j1"});
    CHECK(jobs_of(list, "q0", Show::all) == Jobs{"j3", "j2", "j1"});
    CHECK(jobs_of(list, "Öre", Show::all) == Jobs{"j4"});
    CHECK(jobs_of(list, "alder moss", Show::all).empty());
    CHECK(jobs_of(list, "quill", Show::all).empty()); // who entered is not looked at
}

TEST_CASE("more are found than are shown, and how many is said")
{
    Store store;
    std::size_t found = 0;
    CHECK(jobs_of(store.list(), "", Show::in_hand, 3, &found) == Jobs{"j4", "j3", "j2"});
    CHECK(found == 4);
    CHECK(jobs_of(store.list(), "alder", Show::in_hand, 1, &found) == Jobs{"j3"});
    CHECK(found == 2);
    CHECK(jobs_of(store.list(), "", Show::in_hand, 0, &found).empty());
    CHECK(found == 4);
}

TEST_CASE("an archived outage is found among the archived ones only, and comes back when it is taken out")
{
    Store store;
    store.append("j1", {{"type", "archived"}, {"archived", true}});
    store.append("j3", {{"type", "sealed"}});
    store.append("j3", {{"type", "archived"}, {"archived", true}, {"sealed", true}});
    auto list = store.list();
    CHECK(jobs_of(list, "", Show::archived) == Jobs{"j3", "j1"});
    CHECK(jobs_of(list, "", Show::in_hand) == Jobs{"j4", "j2"});
    CHECK(jobs_of(list, "", Show::all).size() == 4);
    std::size_t found = 0;
    CHECK(list.find("af-113", Show::archived, 1, found).front()->sealed);
    store.append("j1", {{"type", "unarchived"}, {"archived", false}});
    list = store.list();
    CHECK(jobs_of(list, "", Show::archived) == Jobs{"j3"});
    CHECK(jobs_of(list, "", Show::in_hand) == Jobs{"j1", "j4", "j2"});
}

TEST_CASE("an empty store has a whole list of none, and an outage without facts is still listed")
{
    test::TemporaryFolder const folder;
    auto journal = std::move(*journal::open_journal(folder.path()));
    auto empty = OutageList::of(*journal);
    REQUIRE(empty);
    CHECK(empty->whole());
    CHECK(jobs_of(*empty, "", Show::all).empty());
    REQUIRE(journal->append("bare", {{"type", "created"}}));
    auto list = OutageList::of(*journal);
    REQUIRE(list->read_some(*journal, 1));
    CHECK(jobs_of(*list, "", Show::in_hand) == Jobs{"bare"});
    CHECK(jobs_of(*list, "x", Show::in_hand).empty());
}
