#include "media/test_keys.h"
#include "session/stick.h"
#include "session/trust_store.h"
#include "session_support.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::session;

namespace {

std::string key_of(char const* word)
{
    return test::signer(word).public_key_hex;
}

media::VerifiedSet set_of(char const* word, char const* made_at)
{
    media::VerifiedSet set;
    set.set = "S0000001";
    set.key = key_of(word);
    set.made_at = made_at;
    return set;
}

} // namespace

TEST_CASE("keys are added with who answers for them, survive a restart, and the tablet's own comes first")
{
    Bench bench;
    TrustStore store(bench.workspace->journal());
    CHECK(store.all()->empty());
    REQUIRE(store.add(key_of("olm"), "Desk of K. Olm", "R. Marsh", bench.clock.now()));
    bench.reopen();
    auto const keys = known_keys(*bench.workspace);
    REQUIRE(keys);
    REQUIRE(keys->size() == 2);
    CHECK(keys->front().own);
    CHECK_FALSE(keys->back().own);
    CHECK(keys->back().key.name == "Desk of K. Olm");
    CHECK(keys->back().added_by == "R. Marsh");
    CHECK(keys->back().key.added_on == "2026-03-02T08:00:00Z");
    auto const trust = tablet_trust(*bench.workspace);
    REQUIRE(trust);
    CHECK(trust->find(key_of("olm")));
    CHECK_FALSE(trust->find(key_of("somebody else")));
}

TEST_CASE("what is no key, a key without an owner and a key that is there are refused")
{
    Bench bench;
    TrustStore store(bench.workspace->journal());
    auto const now = bench.clock.now();
    using Code = Error::Code;
    for (auto const& key : {std::string(), std::string(63, 'a'), std::string(65, 'a'),
                                  std::string(64, 'A'), std::string(64, 'g'), "../" + std::string(61, 'a')})
        CHECK(store.add(key, "X", "R. Marsh", now).error().code == Code::invalid_input);
    for (auto const& name : {std::string(), std::string("   "), std::string(81, 'x')})
        CHECK(store.add(key_of("olm"), name, "R. Marsh", now).error().code == Code::invalid_input);
    REQUIRE(store.add(key_of("olm"), "Desk of K. Olm", "R. Marsh", now));
    auto const twice = store.add(key_of("olm"), "Another name", "R. Marsh", now);
    REQUIRE_FALSE(twice);
    CHECK(twice.error().code == Code::denied);
    CHECK(twice.error().detail.find("Desk of K. Olm") != std::string::npos);
    CHECK(store.all()->size() == 1);
}

TEST_CASE("a key that was removed is unknown again, and both acts stay in the journal")
{
    Bench bench;
    TrustStore store(bench.workspace->journal());
    auto const now = bench.clock.now();
    CHECK(store.remove(key_of("olm"), "R. Marsh", now).error().code == Error::Code::not_found);
    REQUIRE(store.add(key_of("olm"), "Desk of K. Olm", "R. Marsh", now));
    REQUIRE(store.remove(key_of("olm"), "I. Brandt", now));
    CHECK(store.all()->empty());
    CHECK_FALSE(tablet_trust(*bench.workspace)->find(key_of("olm")));
    CHECK(store.remove(key_of("olm"), "I. Brandt", now).error().code == Error::Code::not_found);
    auto const entries = bench.workspace->journal().entries("@trust");
    REQUIRE(entries);
    REQUIRE(entries->size() == 2);
    CHECK(entries->back().json()["by"] == "I. Brandt");
    CHECK(bench.workspace->journal().verify("@trust"));
    REQUIRE(store.add(key_of("olm"), "K. Olm again", "R. Marsh", now));
    CHECK(store.all()->front().key.name == "K. Olm again");
}

TEST_CASE("the newest set met of a key is remembered, an older one never takes its place")
{
    Bench bench;
    TrustStore store(bench.workspace->journal());
    auto const now = bench.clock.now();
    REQUIRE(store.add(key_of("olm"), "Desk of K. Olm", "R. Marsh", now));
    REQUIRE(store.see(set_of("olm", "2026-03-01T10:00:00Z"), now));
    REQUIRE(store.see(set_of("olm", "2026-03-01T11:00:00Z"), now));
    REQUIRE(store.see(set_of("olm", "2026-03-01T09:00:00Z"), now));
    REQUIRE(store.see(set_of("olm", "2026-03-01T11:00:00Z"), now));
    CHECK(store.all()->front().key.newest_seen == "2026-03-01T11:00:00Z");
    CHECK(bench.workspace->journal().entries("@trust")->size() == 3); // nothing is entered that says nothing
    // Removing and trusting again does not forget what was seen: an old set stays stale.
    REQUIRE(store.remove(key_of("olm"), "R. Marsh", now));
    REQUIRE(store.add(key_of("olm"), "Desk of K. Olm", "R. Marsh", now));
    CHECK(tablet_trust(*bench.workspace)->find(key_of("olm"))->newest_seen == "2026-03-01T11:00:00Z");
}
