#include "files/profile_signing.h"
#include "seal/keys.h"
#include "session/profile_draft.h"
#include "session/profile_release.h"
#include "session/profile_step.h"
#include "session/profile_transfer.h"
#include "session/stick.h"
#include "session/trust_store.h"
#include "session_support.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::session;
using Keys = ReleaseStanding::Keys;

namespace {

constexpr char const* model_id = "tw-7";

/// A tablet with people who have PINs, and a model that is no demo: its limits are meant.
struct Tablet : Bench {
    seal::Person engineer, supervisor;
    Tablet()
    {
        seal::People people(workspace->journal());
        auto const now = clock.now().utc_ms;
        supervisor = *people.add("R. Marsh", seal::Role::supervisor, "274185", {}, now);
        engineer = *people.add("E. Tamm", seal::Role::engineer, "583920", supervisor.id, now);
    }
    void draft()
    {
        auto draft = new_draft(*workspace, "I. Brandt");
        draft.profile = workspace->find_profile("kd-41")->profile;
        draft.profile.id = model_id;
        draft.profile.title = "TW-7";
        draft.profile.author = "I. Brandt";
        draft.profile.status = "draft";
        draft.profile.signoffs.clear();
        draft.profile.invented = false;
        REQUIRE(store_draft(*workspace, draft));
    }
    void next_revision()
    {
        auto draft = draft_of_revision(*workspace, model_id, 1, "I. Brandt");
        REQUIRE(draft);
        draft->profile.values["gas.leak_limit"].value = "1 %/yr";
        REQUIRE(store_draft(*workspace, *draft));
    }
    void release(int revision)
    {
        REQUIRE(take_step(*workspace, model_id, revision, "checked", engineer));
        REQUIRE(take_step(*workspace, model_id, revision, "released", supervisor));
    }
    /// As if it had been released by a program that signs nothing.
    void strip_signatures()
    {
        auto const* entry = workspace->find_profile(model_id);
        auto profile = entry->profile;
        for (auto& s : profile.signoffs)
            s.key.clear(), s.signature.clear();
        REQUIRE(disk->remove(entry->folder / entry->file));
        REQUIRE(disk->create(entry->folder / entry->file, files::write_profile(profile)));
        workspace->forget_library();
    }
    [[nodiscard]] ReleaseStanding standing()
    {
        return *standing_of(*workspace, *workspace->released_profile(model_id));
    }
    Result<std::unique_ptr<Outage>> try_begin(AcceptedRelease const& accepted = {})
    {
        NewOutage setup;
        setup.facts = {{"station", "A"}, {"bay", "B"}, {"serial", "C"}, {"job_no", "D"}, {"window", "2 h"}};
        setup.crew = {"N. Quill"};
        setup.who = "N. Quill";
        return workspace->begin(model_id, setup, accepted);
    }
};

/// Everything of one tablet as another one's profiles.
void carry(Tablet& from, Bench& to)
{
    auto const stick = from.folder / "stick";
    REQUIRE(from.disk->make_directory(stick));
    std::vector<files::LibraryEntry const*> const entries = {from.workspace->find_profile(model_id)};
    REQUIRE(export_profiles(*from.disk, stick, entries));
    REQUIRE(import_folder(*to.workspace, stick)->back().taken);
}

} // namespace

TEST_CASE("a release signed on this tablet is taken without a question, and its key stands in the record")
{
    Tablet tablet;
    tablet.draft();
    tablet.release(1);
    CHECK(tablet.standing().keys == Keys::known);
    CHECK_FALSE(tablet.standing().to_accept());
    CHECK(tablet.standing().say().empty());
    auto const outage = tablet.try_begin();
    REQUIRE(outage);
    auto const key = seal::load_or_make_key(*tablet.disk, tablet.folder);
    auto const print = media::key_fingerprint(key->public_key());
    CHECK((*outage)->state().facts.at("release") == "signed with key " + print);
    CHECK((*outage)->bodies().front()["release"]["keys"] == Json::array({print}));
    CHECK_FALSE((*outage)->bodies().front()["release"].contains("accepted"));
}

TEST_CASE("a release signed with a key nobody here trusts begins no outage until the key is trusted")
{
    Tablet engineer, crew;
    engineer.draft();
    engineer.release(1);
    carry(engineer, crew);
    auto const standing = crew.standing();
    CHECK(standing.keys == Keys::unknown);
    CHECK(standing.refused());
    auto const key = seal::load_or_make_key(*engineer.disk, engineer.folder)->public_key();
    CHECK(standing.unknown == std::vector<std::string>{key});
    // Nor by accepting it: a name and a reason do not make a key known.
    for (AcceptedRelease const& accepted : {AcceptedRelease{}, {"R. Marsh", "we know him", true}}) {
        auto const begun = crew.try_begin(accepted);
        REQUIRE_FALSE(begun);
        CHECK(begun.error().code == Error::Code::denied);
        CHECK(begun.error().detail.find(media::key_fingerprint(key)) != std::string::npos);
    }
    CHECK(crew.workspace->outages()->empty());
    TrustStore trust(crew.workspace->journal());
    REQUIRE(trust.add(key, "Desk of K. Olm", "R. Marsh", crew.clock.now()));
    CHECK(crew.standing().keys == Keys::known);
    CHECK(crew.try_begin());
    REQUIRE(trust.remove(key, "R. Marsh", crew.clock.now()));
    CHECK(crew.standing().refused());
}

TEST_CASE(
    "a release that nobody signed is taken only by a person with a PIN and a reason, and is a deviation")
{
    Tablet tablet;
    tablet.draft();
    tablet.release(1);
    tablet.strip_signatures();
    auto const standing = tablet.standing();
    CHECK(standing.keys == Keys::none);
    CHECK(standing.to_accept());
    CHECK_FALSE(standing.refused());
    CHECK(tablet.try_begin().error().code == Error::Code::denied);
    CHECK(tablet.try_begin({"R. Marsh", "  ", true}).error().code == Error::Code::missing_input);
    CHECK(tablet.try_begin({"", "checked by telephone", true}).error().code == Error::Code::missing_input);
    CHECK(tablet.try_begin({"R. Marsh", "checked by telephone", false}).error().code == Error::Code::denied);
    CHECK(tablet.workspace->outages()->empty());
    auto const outage = tablet.try_begin({"R. Marsh", "checked by telephone", true});
    REQUIRE(outage);
    Json const accepted = (*outage)->bodies().front()["release"]["accepted"];
    CHECK(accepted["by"] == "R. Marsh");
    CHECK(accepted["why"] == "checked by telephone");
    CHECK(accepted["pin"] == true);
    CHECK((*outage)->state().facts.at("release_accepted").find("nobody signed it") != std::string::npos);
    CHECK((*outage)->state().facts.at("release_accepted_by") == "R. Marsh");
}

TEST_CASE("an invented model is for practice: it asks for no key, and never hides how it was signed")
{
    Bench bench;
    auto const standing = *standing_of(*bench.workspace, *bench.workspace->released_profile("kd-41"));
    CHECK(standing.practice);
    CHECK(standing.keys == Keys::none);
    CHECK_FALSE(standing.to_accept());
    CHECK(bench.begin()->state().facts.at("release") == "by name only, nobody signed it");
}

TEST_CASE("an older release in the place of a withdrawn one is said, asked about and recorded")
{
    Tablet tablet;
    tablet.draft();
    tablet.release(1);
    tablet.next_revision();
    tablet.release(2);
    CHECK_FALSE(tablet.standing().to_accept());
    REQUIRE(take_step(*tablet.workspace, model_id, 2, "withdrawn", tablet.engineer));
    auto const standing = tablet.standing();
    CHECK(standing.revision == 1);
    CHECK(standing.withdrawn == 2);
    CHECK(standing.withdrawn_by == "E. Tamm");
    CHECK(standing.say().find("Revision 2 was withdrawn by \"E. Tamm\"") != std::string::npos);
    CHECK(tablet.try_begin().error().code == Error::Code::denied);
    auto const outage = tablet.try_begin({"R. Marsh", "the old limit holds for this breaker", true});
    REQUIRE(outage);
    CHECK((*outage)->profile().revision == 1);
    CHECK((*outage)->bodies().front()["release"]["accepted"]["withdrawn_revision"] == 2);
    // A draft above a release is nothing unusual.
    auto draft = draft_of_revision(*tablet.workspace, model_id, 1, "I. Brandt");
    REQUIRE(store_draft(*tablet.workspace, *draft));
    CHECK(tablet.standing().withdrawn == 2);
}

TEST_CASE("an outage under way does not move to a release that nobody signed")
{
    Tablet tablet;
    tablet.draft();
    tablet.release(1);
    auto const outage = tablet.try_begin();
    REQUIRE(outage);
    tablet.next_revision();
    tablet.release(2);
    CHECK(tablet.workspace->plan_move(**outage));
    tablet.strip_signatures();
    auto const plan = tablet.workspace->plan_move(**outage);
    REQUIRE_FALSE(plan);
    CHECK(plan.error().code == Error::Code::denied);
    CHECK(plan.error().detail.find("nobody signed it") != std::string::npos);
}

TEST_CASE("one unknown key among known ones, and one name among signatures, are enough")
{
    Tablet tablet;
    tablet.draft();
    tablet.release(1);
    auto const trust = *tablet_trust(*tablet.workspace);
    auto const& profile = tablet.workspace->released_profile(model_id)->profile;
    using S = files::SignatureState;
    auto other = profile;
    other.signoffs.front().key = std::string(64, 'a');
    CHECK(standing_of(other, {S::fits, S::fits}, trust).keys == Keys::unknown);
    CHECK(standing_of(profile, {S::fits, S::unsigned_}, trust).keys == Keys::none);
    CHECK(standing_of(profile, {S::broken, S::fits}, trust).keys == Keys::broken);
    CHECK(standing_of(profile, {}, trust).keys == Keys::none);
    // A key that must be trusted first is named before the name that must be accepted.
    CHECK(standing_of(other, {S::fits, S::unsigned_}, trust).keys == Keys::unknown);
}
