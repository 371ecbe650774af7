#include "media/test_keys.h"
#include "session/import_set.h"
#include "session/profile_draft.h"
#include "session/stick.h"
#include "session/trust_store.h"
#include "session/unit_listing.h"
#include "session_support.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::session;
using Code = Error::Code;

namespace {

media::UnitValues values(std::string const& serial, std::string const& ratio = "1200:5")
{
    media::UnitValues unit;
    unit.profile_id = "kd-41";
    unit.profile_revision = 1;
    unit.values = {{"station.name", "Corrie Moss"},
                   {"station.bay", "Q02"},
                   {"breaker.serial", "41-0501"},
                   {"unit.serial", serial},
                   {"sensor.serial", "GD-9001"},
                   {"ct.ratio", ratio},
                   {"timing.wiring", "across the trip coil"}};
    return unit;
}

/// What another tablet's desk wrote: units and the profile they are for.
media::VerifiedSet set_from(Bench& bench, std::vector<media::UnitValues> const& units,
                            std::vector<model::Profile> profiles = {})
{
    auto const target = bench.folder / ("stick" + std::to_string(units.size()) + std::to_string(rand()));
    REQUIRE(bench.disk->make_directory(target));
    std::vector<media::UnitOnStick> content;
    for (auto const& unit : units)
        content.push_back({bench.workspace->find_profile("kd-41", 1)->profile, unit});
    auto const files = media::stick_content(profiles, content);
    REQUIRE(files);
    REQUIRE(media::write_set(*bench.disk, target, *files, test::signer("olm"), "2026-03-01T10:00:00Z"));
    auto set = media::newest_valid_set(*bench.disk, target, test::trust("olm"));
    REQUIRE(set);
    return *set;
}

/// A model the library does not know.
model::Profile new_model(Bench& bench, std::string const& id, std::string const& leak = "0.5 %/yr")
{
    auto profile = bench.workspace->find_profile("kd-41", 1)->profile;
    profile.id = id;
    profile.values["gas.leak_limit"].value = leak;
    return profile;
}

} // namespace

TEST_CASE("units are kept with ids that stay, change by further entries, and are never numbered twice")
{
    Bench bench;
    UnitStore store(bench.workspace->journal());
    auto const now = bench.clock.now();
    CHECK(*store.set({}, values("MU-1"), "I. Brandt", now) == "u1");
    CHECK(*store.set({}, values("MU-2"), "I. Brandt", now) == "u2");
    CHECK(*store.set("u1", values("MU-1", "2000:5"), "I. Brandt", now) == "u1");
    REQUIRE(store.remove("u2", "I. Brandt", now));
    bench.reopen();
    UnitStore again(bench.workspace->journal());
    auto const kept = again.all();
    REQUIRE(kept);
    REQUIRE(kept->size() == 1);
    CHECK(kept->front().id == "u1");
    CHECK(kept->front().values.text("ct.ratio") == "2000:5");
    auto const third = again.set({}, values("MU-3"), "I. Brandt", now);
    REQUIRE(third);
    CHECK(*third != "u1");
    CHECK(*third != "u2");
    CHECK(again.remove("u2", "I. Brandt", now).error().code == Code::not_found);
    CHECK(again.remove("u99", "I. Brandt", now).error().code == Code::not_found);
}

TEST_CASE("a unit without a model and a value that no unit has are refused, and nothing is kept")
{
    Bench bench;
    UnitStore store(bench.workspace->journal());
    auto const now = bench.clock.now();
    CHECK(store.set({}, {}, "I. Brandt", now).error().code == Code::missing_input);
    auto foreign = values("MU-1");
    foreign.values["gas.colour"] = "blue";
    CHECK(store.set({}, foreign, "I. Brandt", now).error().code == Code::invalid_input);
    auto broken = values("MU-1");
    broken.values["station.bay"] = "two\nlines";
    CHECK_FALSE(store.set({}, broken, "I. Brandt", now));
    CHECK(store.all()->empty());
}

TEST_CASE(
    "a unit says what keeps it off the stick: no profile, a value that is missing, one that contradicts")
{
    Bench bench;
    UnitStore store(bench.workspace->journal());
    auto const now = bench.clock.now();
    auto unknown = values("MU-1");
    unknown.profile_id = "no-such";
    REQUIRE(store.set({}, unknown, "", now));
    auto missing = values("MU-2");
    missing.values.erase("sensor.serial");
    REQUIRE(store.set({}, missing, "", now));
    REQUIRE(store.set({}, values("MU-3", "9000:5"), "", now));
    REQUIRE(store.set({}, values("MU-4"), "", now));
    auto const units = list_units(*bench.workspace, nullptr, nullptr);
    REQUIRE(units);
    REQUIRE(units->size() == 4);
    CHECK((*units)[0].problem.find("no-such") != std::string::npos);
    CHECK((*units)[1].problem.find("Sensor serial") != std::string::npos);
    CHECK((*units)[2].problem.find("9000:5") != std::string::npos);
    CHECK((*units)[3].ready());
    CHECK(session::stick_files({(*units)[2]}).error().code == Code::invalid_input);
    CHECK(session::stick_files({(*units)[3], (*units)[3]}).error().detail.find("two units") !=
          std::string::npos);
    CHECK(session::stick_files({}).error().code == Code::missing_input);
    CHECK(session::stick_files({(*units)[3]}));
}

TEST_CASE("units are looked at one after the other, with what is next and how many are left")
{
    Bench bench;
    UnitStore store(bench.workspace->journal());
    for (char const* serial : {"MU-1", "MU-2", "MU-3"})
        REQUIRE(store.set({}, values(serial), "I. Brandt", bench.clock.now()));
    auto const outage = bench.begin();
    auto const set = set_from(bench, {values("MU-8"), values("MU-9")});
    auto const content = media::read_content(set);
    UnitListing listing(*bench.workspace, outage.get(), &content);
    CHECK(listing.total() == 6);
    CHECK(listing.at() == outage->job());
    std::size_t steps = 1;
    while (listing.step()) {
        CHECK(listing.done() == steps);
        CHECK(listing.units()->size() == steps);
        ++steps;
    }
    CHECK(listing.finished());
    CHECK(listing.done() == 6);
    CHECK(listing.at().empty());
    CHECK_FALSE(listing.step());
    auto const all = list_units(*bench.workspace, outage.get(), &content);
    REQUIRE(all);
    REQUIRE(all->size() == listing.units()->size());
    for (std::size_t i = 0; i < all->size(); ++i) {
        CHECK((*all)[i].id == (*listing.units())[i].id);
        CHECK((*all)[i].problem == (*listing.units())[i].problem);
    }
}

TEST_CASE("where units were chosen no other is looked at")
{
    Bench bench;
    UnitStore store(bench.workspace->journal());
    for (char const* serial : {"MU-1", "MU-2", "MU-3"})
        REQUIRE(store.set({}, values(serial), "I. Brandt", bench.clock.now()));
    auto const outage = bench.begin();
    UnitListing listing(*bench.workspace, outage.get(), nullptr,
                        std::set<std::string, std::less<>>{"desk:u2", "desk:u9"});
    CHECK(listing.total() == 1);
    while (listing.step()) {
    }
    REQUIRE(listing.units()->size() == 1);
    CHECK(listing.units()->front().values.text("unit.serial") == "MU-2");
    CHECK(listing.units()->front().ready());
    auto const one = kept_unit(*bench.workspace, "u2");
    REQUIRE(one);
    CHECK(one->id == "desk:u2");
    CHECK(one->values.text("unit.serial") == "MU-2");
    CHECK(kept_unit(*bench.workspace, "u9").error().code == Code::not_found);
}

TEST_CASE("no two sets of a tablet are of the same second, and a clock set back makes none that is old")
{
    Bench bench;
    UnitStore store(bench.workspace->journal());
    REQUIRE(store.set({}, values("MU-1"), "I. Brandt", bench.clock.now()));
    auto const target = bench.folder / "stick";
    REQUIRE(bench.disk->make_directory(target));
    auto const write = [&] {
        auto files = stick_files(*list_units(*bench.workspace, nullptr, nullptr));
        REQUIRE(files);
        auto const work = prepare_stick(*bench.workspace, std::move(*files), target, false);
        REQUIRE(work);
        auto const done = do_stick(*bench.disk, *work);
        REQUIRE(done.set);
        REQUIRE(TrustStore(bench.workspace->journal()).see(*done.set, bench.clock.now()));
        return done;
    };
    auto const first = write(), second = write(); // the bench's clock stands still
    CHECK(first.set->made_at == "2026-03-02T08:00:00Z");
    CHECK(second.set->made_at == "2026-03-02T08:00:01Z");
    CHECK(second.notes.empty());
    bench.clock.set_wall(bench.clock.now().utc_ms - 3 * 86'400'000LL);
    auto const third = write();
    CHECK(third.set->made_at == "2026-03-02T08:00:02Z");
    REQUIRE(third.notes.size() == 1);
    CHECK(third.notes[0].find("2026-02-27T08:00:00Z") != std::string::npos);
    auto const trust = tablet_trust(*bench.workspace);
    auto const newest = media::newest_valid_set(*bench.disk, target, *trust);
    REQUIRE(newest);
    CHECK(newest->set == third.set->set);
    CHECK_FALSE(newest->stale);
    // The older ones beside it are told apart by their time; stale is only what hides a newer one.
    auto const sets = media::list_sets(*bench.disk, target, *trust);
    REQUIRE(sets);
    REQUIRE(sets->size() == 3);
    CHECK_FALSE((*sets)[0].stale);
    CHECK_FALSE((*sets)[1].stale);
    CHECK_FALSE((*sets)[2].stale);
    CHECK((*sets)[2].seen == third.set->made_at);
    CHECK((*sets)[1].made_at != (*sets)[2].made_at);
}

TEST_CASE("a set brings its profiles and units over in one go, and says what was there already")
{
    Bench bench;
    auto const set = set_from(bench, {values("MU-1"), values("MU-2")}, {new_model(bench, "tw-7")});
    auto const done = import_set(*bench.workspace, set, "N. Quill");
    REQUIRE(done);
    CHECK(done->profiles == std::vector<std::string>{"tw-7 revision 1"});
    CHECK(done->units == std::vector<std::string>{"MU-1", "MU-2"});
    CHECK(done->there_already == std::vector<std::string>{"kd-41 revision 1"});
    CHECK(bench.workspace->find_profile("tw-7"));
    CHECK(bench.workspace->journal().entries("@units")->size() == 1);
    auto const kept = UnitStore(bench.workspace->journal()).all();
    REQUIRE(kept->size() == 2);
    CHECK((*kept)[0].id != (*kept)[1].id);
    CHECK_FALSE(bench.disk->exists(bench.folder / "import.json"));
    // Once more: nothing new, and nothing twice.
    auto const again = import_set(*bench.workspace, set, "N. Quill");
    REQUIRE(again);
    CHECK(again->profiles.empty());
    CHECK(again->units.empty());
    CHECK(UnitStore(bench.workspace->journal()).all()->size() == 2);
    // A new unit afterwards takes no number of theirs.
    auto const own = UnitStore(bench.workspace->journal()).set({}, values("MU-9"), "", bench.clock.now());
    for (auto const& k : *kept)
        CHECK(k.id != *own);
    // The same unit with other values is changed, not doubled.
    auto const changed =
        import_set(*bench.workspace, set_from(bench, {values("MU-1", "2000:5")}), "N. Quill");
    REQUIRE(changed);
    CHECK(changed->units == std::vector<std::string>{"MU-1"});
    CHECK(UnitStore(bench.workspace->journal()).all()->size() == 3);
    CHECK(UnitStore(bench.workspace->journal()).all()->front().values.text("ct.ratio") == "2000:5");
}

TEST_CASE("of a set that is stale, changes a release, or holds a forged sign-off nothing is imported")
{
    Bench bench;
    auto const nothing = [&] {
        CHECK(UnitStore(bench.workspace->journal()).all()->empty());
        CHECK_FALSE(bench.workspace->find_profile("tw-7"));
        CHECK_FALSE(bench.disk->exists(bench.folder / "import.json"));
    };
    auto stale = set_from(bench, {values("MU-1")}, {new_model(bench, "tw-7")});
    stale.stale = true;
    CHECK(import_set(*bench.workspace, stale, "N. Quill").error().code == Code::denied);
    nothing();
    auto forged = new_model(bench, "tw-7");
    forged.signoffs.front().key = std::string(64, 'a');
    forged.signoffs.front().signature = std::string(128, 'b');
    auto const refused =
        import_set(*bench.workspace, set_from(bench, {values("MU-1")}, {forged}), "N. Quill");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == Code::corrupt);
    nothing();
    // A fresh model comes first on it, the change of a release second: all or nothing.
    auto const contradicting =
        set_from(bench, {}, {new_model(bench, "tw-7"), new_model(bench, "nq-36", "0.9 %/yr")});
    CHECK(import_set(*bench.workspace, contradicting, "N. Quill").error().code == Code::denied);
    nothing();
    REQUIRE(import_set(*bench.workspace, stale, "N. Quill", true));
    CHECK(UnitStore(bench.workspace->journal()).all()->size() == 1);
}

TEST_CASE("an import that the last start did not finish is finished by the next, units and all")
{
    Bench bench;
    auto const set = set_from(bench, {values("MU-1")}, {new_model(bench, "tw-7")});
    auto const plan = plan_import(*bench.workspace, set, "N. Quill", false);
    REQUIRE(plan);
    REQUIRE(store_import(*bench.disk, bench.folder, *plan)); // and then the tablet died
    CHECK(bench.disk->exists(bench.folder / "import.json"));
    bench.reopen();
    CHECK_FALSE(bench.disk->exists(bench.folder / "import.json"));
    CHECK(bench.workspace->find_profile("tw-7"));
    CHECK(UnitStore(bench.workspace->journal()).all()->size() == 1);
    // It died once more, after the units were entered: they are not entered twice.
    REQUIRE(store_import(*bench.disk, bench.folder, *plan));
    bench.reopen();
    CHECK(bench.workspace->journal().entries("@units")->size() == 1);
}
