#include "journal/journal.h"
#include "support/temporary_folder.h"
#include "json/read.h"
#include <catch2/catch.hpp>

using namespace isochore;
using isochore::test::TemporaryFolder;

namespace {
std::unique_ptr<journal::Journal> opened(std::filesystem::path const& folder)
{
    auto store = journal::open_journal(folder);
    if (!store)
        FAIL(store.error().detail);
    return std::move(*store);
}
} // namespace

TEST_CASE("an entry comes back as it went in, in canonical form, with its place in the chain")
{
    TemporaryFolder const folder;
    auto const store = opened(folder.path());
    auto const first = store->append("job-1", {{"value", "4.50 bar g"}, {"step", "fill.after"}});
    REQUIRE(first);
    CHECK(first->n == 1);
    std::string expected = R"({"job":"job-1","n":1,"prev":")";
    expected.append(64, '0').append(R"(","step":"fill.after","value":"4.50 bar g"})");
    CHECK(first->body == expected);
    CHECK(first->hash == sha256_hex(first->body));
    auto const second = store->append("job-1", {{"a", 1}});
    REQUIRE(second);
    CHECK(second->n == 2);
    CHECK(second->json()["prev"] == first->hash);

    auto const all = store->entries("job-1");
    REQUIRE(all);
    REQUIRE(all->size() == 2);
    CHECK(all->at(0).body == first->body);
    CHECK(all->at(1).hash == second->hash);
    CHECK(store->verify("job-1"));
    CHECK(store->verify_all());
}

TEST_CASE("jobs have chains of their own and go on after the store is opened again")
{
    TemporaryFolder const folder;
    {
        auto const store = opened(folder.path());
        REQUIRE(store->append("a", {{"x", 1}}));
        REQUIRE(store->append("b", {{"x", 2}}));
        REQUIRE(store->append("a", {{"x", 3}}));
    }
    auto const store = opened(folder.path());
    auto const next = store->append("a", {{"x", 4}});
    REQUIRE(next);
    CHECK(next->n == 3);
    CHECK(store->entries("b")->size() == 1);
    CHECK(store->entries("nobody")->empty());
    CHECK(store->verify_all());
}

TEST_CASE("the list of jobs has first and last entries, the latest touched first, without the inner ones")
{
    TemporaryFolder const folder;
    auto const store = opened(folder.path());
    for (char const* job : {"a", "b", "@people", "c", "a", "a"})
        REQUIRE(store->append(job, {{"in", job}}));
    auto const jobs = store->jobs();
    REQUIRE(jobs);
    REQUIRE(jobs->size() == 3);
    CHECK(jobs->at(0).job == "a");
    CHECK(jobs->at(0).first.n == 1);
    CHECK(jobs->at(0).last.n == 3);
    CHECK(jobs->at(0).last.json()["n"] == 3);
    CHECK(jobs->at(1).job == "c");
    CHECK(jobs->at(2).job == "b");
    CHECK(store->entries("@people")->size() == 1);
}

TEST_CASE("the names alone come in the order of the list of jobs, and a job's head is found by its name")
{
    TemporaryFolder const folder;
    auto const store = opened(folder.path());
    CHECK(store->job_names()->empty());
    for (char const* job : {"b", "a", "@people", "c", "@library", "a"})
        REQUIRE(store->append(job, {{"in", job}}));
    auto const names = store->job_names();
    REQUIRE(names);
    CHECK(*names == std::vector<std::string>{"a", "c", "b"});
    auto const jobs = store->jobs();
    REQUIRE(jobs->size() == names->size());
    for (std::size_t i = 0; i < names->size(); ++i) {
        auto const head = store->head((*names)[i]);
        REQUIRE(head);
        CHECK(head->job == jobs->at(i).job);
        CHECK(head->first.hash == jobs->at(i).first.hash);
        CHECK(head->last.hash == jobs->at(i).last.hash);
    }
    CHECK(store->head("a")->last.n == 2);
    CHECK(store->head("b")->first.hash == store->head("b")->last.hash);
    CHECK(store->head("nobody").error().code == Error::Code::not_found);
    REQUIRE(store->append("b", {{"in", "b"}}));
    CHECK(store->job_names()->front() == "b"); // the latest touched comes first
}

TEST_CASE("a body that is no object, brings its own chain, or cannot be written exactly is refused")
{
    TemporaryFolder const folder;
    auto const store = opened(folder.path());
    for (Json const& body :
         {Json(1), Json::array(), Json{{"job", "x"}}, Json{{"n", 1}}, Json{{"prev", ""}}, Json{{"a", "\xFF"}},
          Json{{"a", std::numeric_limits<double>::infinity()}}, Json{{"a", 9007199254740993}}}) {
        auto const entry = store->append("job", body);
        REQUIRE_FALSE(entry);
        CHECK(entry.error().code == Error::Code::invalid_input);
    }
    CHECK_FALSE(store->append("", {{"a", 1}}));
    CHECK_FALSE(store->append("\xFF", {{"a", 1}}));
    CHECK_FALSE(store->append(std::string(201, 'a'), {{"a", 1}}));
    CHECK(store->jobs()->empty());
    CHECK(store->append("job", {{"a", 1}})->n == 1);
}

TEST_CASE("a text is kept once under its hash and comes back byte for byte")
{
    TemporaryFolder const folder;
    auto const store = opened(folder.path());
    std::string const text("one\0two \xC3\xA4", 10);
    auto const hash = store->keep(text);
    REQUIRE(hash);
    CHECK(*hash == sha256_hex(text));
    CHECK(store->keep(text) == *hash);
    CHECK(store->kept(*hash) == text);
    auto const nothing = store->kept(std::string(64, 'a'));
    REQUIRE_FALSE(nothing);
    CHECK(nothing.error().code == Error::Code::not_found);
    CHECK_FALSE(store->keep("\xFF"));
    CHECK(store->verify_all());
}

TEST_CASE("a second Journal on the same folder is refused while the first lives, in this process too")
{
    TemporaryFolder const folder;
    {
        auto const store = opened(folder.path());
        auto const second = journal::open_journal(folder.path());
        REQUIRE_FALSE(second);
        CHECK(second.error().code == Error::Code::denied);
        CHECK(second.error().detail.find(folder.path().string()) != std::string::npos);
        REQUIRE(store->append("a", {{"x", 1}})); // and the first is none the worse
    }
    CHECK(opened(folder.path())->entries("a")->size() == 1);
}

TEST_CASE("a journal is verified a piece at a time while work goes on")
{
    TemporaryFolder const folder;
    auto const store = opened(folder.path());
    for (int i = 0; i < 25; ++i)
        REQUIRE(store->append(i % 2 ? "a" : "b", {{"i", i}}));
    CHECK(store->verify_some(10).value() == 15);
    CHECK(store->verify_some(10).value() == 5);
    REQUIRE(store->append("a", {{"i", 25}})); // meanwhile
    CHECK(store->verify_some(5).value() == 1);
    CHECK(store->verify_some(100).value() == 0);
    CHECK(store->verify_some(100).value() == 0);
}
