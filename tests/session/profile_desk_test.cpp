#include "files/profile_signing.h"
#include "seal/keys.h"
#include "session/profile_draft.h"
#include "session/profile_step.h"
#include "session/profile_transfer.h"
#include "session_support.h"
#include <catch2/catch.hpp>
#include <fstream>

using namespace isochore;
using namespace isochore::session;

namespace {

/// A tablet on which an engineer, a supervisor and one of the crew have PINs.
struct Desk : Bench {
    seal::Person engineer, supervisor, crew;
    Desk()
    {
        seal::People people(workspace->journal());
        auto const now = clock.now().utc_ms;
        supervisor = *people.add("R. Marsh", seal::Role::supervisor, "274185", {}, now);
        engineer = *people.add("E. Tamm", seal::Role::engineer, "583920", supervisor.id, now);
        crew = *people.add("N. Quill", seal::Role::crew, "690417", supervisor.id, now);
    }
    /// Revision 2 of the supplied model as a draft in the library, its leak limit changed.
    void draft_second_revision()
    {
        auto draft = draft_of_revision(*workspace, "kd-41", 1, "I. Brandt");
        REQUIRE(draft);
        draft->profile.values["gas.leak_limit"].value = "1 %/yr";
        REQUIRE(store_draft(*workspace, *draft));
    }
    Result<model::Profile> step(char const* to, seal::Person const& person)
    {
        return take_step(*workspace, "kd-41", 2, to, person);
    }
    [[nodiscard]] std::string stored_text(int revision)
    {
        auto const* entry = workspace->find_profile("kd-41", revision);
        return entry ? disk->read(entry->folder / entry->file, 1u << 20).value_or("") : std::string();
    }
};

std::string text_of(disk::Path const& file)
{
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

} // namespace

TEST_CASE("what is typed into a new profile is there after a restart, also what breaks a rule")
{
    Desk desk;
    auto draft = new_draft(*desk.workspace, "I. Brandt");
    draft.profile.values["breaker.model"] = {"TW-7", "nameplate", false};
    REQUIRE(keep_draft(*desk.workspace, draft));
    // No reference said: no profile may hold that, a half-done draft may.
    draft.profile.values["gas.nominal"] = {"0.6 MPa", "photo 3", true};
    REQUIRE(keep_draft(*desk.workspace, draft));
    desk.reopen();
    auto const kept = kept_drafts(*desk.workspace);
    REQUIRE(kept.size() == 1);
    CHECK(kept[0].name == draft.name);
    CHECK(kept[0].profile.author == "I. Brandt");
    REQUIRE(kept[0].profile.find("gas.nominal"));
    CHECK(kept[0].profile.find("gas.nominal")->value == "0.6 MPa");
    CHECK(kept[0].profile.find("gas.nominal")->source == "photo 3");
    CHECK(kept[0].profile.find("gas.nominal")->confirmed);
    // One file only: the earlier saving went when the later was durable.
    CHECK(desk.disk->list(desk.folder / "drafts")->size() == 1);
    CHECK(new_draft(*desk.workspace, "E. Tamm").name != draft.name);
}

TEST_CASE("of two savings left by a cut the later one counts, and a torn file takes nothing with it")
{
    Desk desk;
    auto draft = new_draft(*desk.workspace, "I. Brandt");
    draft.profile.values["breaker.model"] = {"TW-7", "nameplate", false};
    REQUIRE(keep_draft(*desk.workspace, draft));
    auto const folder = desk.folder / "drafts";
    auto later = draft.profile;
    later.values["breaker.model"].value = "TW-8";
    REQUIRE(desk.disk->create(folder / (draft.name + ".7.json"), files::write_profile(later)));
    REQUIRE(desk.disk->create(folder / (draft.name + ".8.json"), "{\"format\":\"isochore.prof"));
    REQUIRE(desk.disk->create(folder / "photo.json", "{}"));
    auto const kept = kept_drafts(*desk.workspace);
    REQUIRE(kept.size() == 1);
    CHECK(kept[0].profile.text("breaker.model") == "TW-8");
    REQUIRE(keep_draft(*desk.workspace, kept[0])); // goes past the torn one's number
    CHECK(kept_drafts(*desk.workspace).size() == 1);
    REQUIRE(drop_draft(*desk.workspace, draft.name));
    CHECK(kept_drafts(*desk.workspace).empty());
    CHECK(desk.disk->exists(folder / "photo.json"));
}

TEST_CASE("a draft without a name, a title or a fresh name is not put into the library, and stays half done")
{
    Desk desk;
    auto draft = new_draft(*desk.workspace, "I. Brandt");
    REQUIRE(keep_draft(*desk.workspace, draft));
    for (auto const& [id, title] :
         {std::pair{"", "TW-7"}, {"TW 7", "TW-7"}, {"tw-7", ""}, {"kd-41", "KD-41"}}) {
        CAPTURE(id, title);
        draft.profile.id = id;
        draft.profile.title = title;
        CHECK_FALSE(store_draft(*desk.workspace, draft));
    }
    CHECK(kept_drafts(*desk.workspace).size() == 1);
    draft.profile.id = "tw-7";
    draft.profile.title = "TW-7";
    REQUIRE(store_draft(*desk.workspace, draft));
    CHECK(kept_drafts(*desk.workspace).empty());
    auto const* entry = desk.workspace->find_profile("tw-7");
    REQUIRE(entry);
    CHECK(entry->profile.status == "draft");
    CHECK(entry->faults.size() >= 34); // every needed value is named
    CHECK(take_step(*desk.workspace, "tw-7", 1, "checked", desk.engineer).error().code ==
          Error::Code::invalid_input);
}

TEST_CASE("an outage takes the newest released revision, whatever drafts stand above it")
{
    Desk desk;
    desk.draft_second_revision();
    CHECK(desk.workspace->find_profile("kd-41")->profile.revision == 2);
    CHECK(desk.workspace->released_profile("kd-41")->profile.revision == 1);
    CHECK(desk.begin()->profile().revision == 1);
    REQUIRE(desk.step("checked", desk.engineer));
    REQUIRE(desk.step("released", desk.supervisor));
    CHECK(desk.begin()->profile().revision == 2);
    REQUIRE(desk.step("withdrawn", desk.engineer));
    CHECK(desk.workspace->released_profile("kd-41")->profile.revision == 1);
    CHECK_THROWS(desk.begin()); // an older one in its place is asked about: profile_release_test.cpp
}

TEST_CASE("a profile of which no revision is released begins no outage, and says so")
{
    Desk desk;
    auto draft = new_draft(*desk.workspace, "I. Brandt");
    draft.profile = desk.workspace->find_profile("kd-41")->profile;
    draft.profile.id = "tw-7";
    REQUIRE(store_draft(*desk.workspace, draft));
    NewOutage setup;
    setup.facts = {{"station", "A"}, {"bay", "B"}, {"serial", "C"}, {"job_no", "D"}, {"window", "2 h"}};
    setup.crew = {"N. Quill"};
    setup.who = "N. Quill";
    auto const begun = desk.workspace->begin("tw-7", setup);
    REQUIRE_FALSE(begun);
    CHECK(begun.error().code == Error::Code::denied);
    CHECK(begun.error().detail.find("draft") != std::string::npos);
}

TEST_CASE("a release needs two people of standing, is signed, and changes nothing that is released")
{
    Desk desk;
    desk.draft_second_revision();
    std::string const first = desk.stored_text(1);
    CHECK_FALSE(desk.step("released", desk.supervisor)); // not from a draft
    CHECK_FALSE(desk.step("checked", desk.crew));
    REQUIRE(desk.step("checked", desk.engineer));
    CHECK_FALSE(desk.step("released", desk.engineer)); // checked it
    auto const released = desk.step("released", desk.supervisor);
    REQUIRE(released);
    auto const states = files::check_signatures(*released, seal::signature_holds);
    CHECK(states ==
          std::vector<files::SignatureState>{files::SignatureState::fits, files::SignatureState::fits});
    CHECK(desk.stored_text(1) == first);
    CHECK(text_of(disk::Path(ISOCHORE_SOURCE_DIR) / "profiles/kd-41.json") == first);
    // From here on the file stands as it is: no draft of it, no other values.
    std::string const second = desk.stored_text(2);
    CHECK_FALSE(edit_draft(*desk.workspace, "kd-41", 2));
    auto forced = *released;
    forced.values["gas.nominal"].value = "0.7 MPa abs";
    CHECK_FALSE(store_draft(*desk.workspace, {"kd-41.r2", forced}));
    CHECK(desk.stored_text(2) == second);
    auto const notes = desk.workspace->journal().entries("@library");
    REQUIRE(notes);
    REQUIRE(notes->size() == 3);
    CHECK(notes->back().json()["who"] == "R. Marsh");
    CHECK(notes->back().json()["status"] == "released");
    CHECK(desk.workspace->journal().verify("@library"));
}

TEST_CASE("the author does not release what they wrote, whatever their role and however the name is written")
{
    Desk desk;
    auto draft = draft_of_revision(*desk.workspace, "kd-41", 1, "r. marsh ");
    REQUIRE(draft);
    REQUIRE(store_draft(*desk.workspace, *draft));
    REQUIRE(desk.step("checked", desk.engineer));
    CHECK_FALSE(desk.step("released", desk.supervisor));
}

TEST_CASE("one byte changed in a released file is a fault, and no outage begins with it")
{
    Desk desk;
    desk.draft_second_revision();
    REQUIRE(desk.step("checked", desk.engineer));
    REQUIRE(desk.step("released", desk.supervisor));
    auto const* entry = desk.workspace->find_profile("kd-41", 2);
    auto const file = entry->folder / entry->file;
    std::string text = text_of(file);
    auto const at = text.find("1 %/yr");
    REQUIRE(at != std::string::npos);
    text[at] = '2';
    std::ofstream(file, std::ios::binary) << text;
    desk.workspace->forget_library();
    auto const* changed = desk.workspace->find_profile("kd-41", 2);
    REQUIRE(changed);
    CHECK(changed->faults.size() == 2); // both signatures
    CHECK_THROWS(desk.begin());
}

TEST_CASE("a wrong PIN proves nobody, and is in the journal")
{
    Desk desk;
    CHECK(*pins_are_kept(*desk.workspace));
    CHECK_FALSE(person_by_pin(*desk.workspace, "E. Tamm", "583921"));
    CHECK_FALSE(person_by_pin(*desk.workspace, "M. Vesely", "583920"));
    CHECK(person_by_pin(*desk.workspace, "e. tamm", "583920")->id == desk.engineer.id);
}

TEST_CASE("profiles go out to a folder, come back on another tablet, and nothing is written over")
{
    Desk desk;
    desk.draft_second_revision();
    REQUIRE(desk.step("checked", desk.engineer));
    REQUIRE(desk.step("released", desk.supervisor));
    auto const stick = desk.folder / "stick";
    REQUIRE(desk.disk->make_directory(stick));
    std::vector<files::LibraryEntry const*> const entries = {desk.workspace->find_profile("kd-41", 1),
                                                             desk.workspace->find_profile("kd-41", 2)};
    auto const first = export_profiles(*desk.disk, stick, entries);
    REQUIRE(first);
    CHECK((*first)[1].taken);
    auto const again = export_profiles(*desk.disk, stick, entries);
    REQUIRE(again);
    CHECK((*again)[1].why == files::import_known);
    std::ofstream(stick / "profiles/kd-41.r1.json") << "something of the owner's";
    auto const third = export_profiles(*desk.disk, stick, entries);
    REQUIRE(third);
    CHECK_FALSE((*third)[0].taken);
    CHECK(text_of(stick / "profiles/kd-41.r1.json") == "something of the owner's");

    Bench other;
    auto const lines = import_folder(*other.workspace, stick);
    REQUIRE(lines);
    REQUIRE(lines->size() == 2);
    CHECK_FALSE((*lines)[0].taken); // no profile at all
    CHECK((*lines)[1].taken);
    CHECK(other.workspace->released_profile("kd-41")->profile.revision == 2);
    CHECK(import_folder(*other.workspace, stick)->back().why == files::import_known);
}

TEST_CASE("a profile whose signature does not fit is not imported")
{
    Desk desk;
    desk.draft_second_revision();
    REQUIRE(desk.step("checked", desk.engineer));
    std::string text = desk.stored_text(2);
    auto const at = text.find("1 %/yr");
    REQUIRE(at != std::string::npos);
    text[at] = '2';
    auto const stick = desk.folder / "stick";
    REQUIRE(desk.disk->make_directory(stick));
    REQUIRE(desk.disk->create(stick / "kd-41.r2.json", text));
    Bench other;
    auto const lines = import_folder(*other.workspace, stick);
    REQUIRE(lines);
    REQUIRE(lines->size() == 1);
    CHECK_FALSE(lines->front().taken);
    CHECK(lines->front().why.find("signature") != std::string::npos);
    CHECK(other.workspace->find_profile("kd-41")->profile.revision == 1);
    CHECK_FALSE(import_folder(*other.workspace, stick / "absent"));
}

TEST_CASE("a table of nameplates becomes drafts of the library, each row with what became of it")
{
    Desk desk;
    auto const table = desk.folder / "plates.csv";
    std::ofstream(table) << "id,title,breaker.model,rating.voltage,control.dc_nominal\n"
                            "px-1,One,PX-1,145 kV,125 V\n"
                            "px-2,Two,PX-2,145 kg,125 V\n"
                            "kd-41,Ours,KD-41,145 kV,125 V\n";
    CHECK(tables_in(*desk.workspace, desk.folder) == std::vector<std::string>{"plates.csv"});
    CHECK_FALSE(import_table(*desk.workspace, table, {"", true, false})); // nobody answers for them
    auto const import = import_table(*desk.workspace, table, {"I. Brandt", true, false});
    REQUIRE(import);
    REQUIRE(import->rows.size() == 3);
    CHECK(import->rows[0].taken);
    CHECK_FALSE(import->rows[1].taken);
    CHECK_FALSE(import->rows[2].taken); // another one of that name is released
    auto const* px = desk.workspace->find_profile("px-1");
    REQUIRE(px);
    CHECK(px->profile.text("control.dc_max") == "140 V"); // nameplate.json: IEEE C37.06, from memory
    CHECK_FALSE(px->profile.find("control.dc_max")->confirmed);
}

TEST_CASE("a library name is made of a model's name")
{
    CHECK(id_from_model("KD 41/B") == "kd-41-b");
    CHECK(id_from_model("  --X--  ") == "x");
    CHECK(id_from_model("Ü") == "");
    CHECK(id_from_model(std::string(100, 'A')).size() == 64);
}
