#include "session/workspace.h"
#include "calc/registry.h"
#include "seal/keys.h"
#include "session/gas_ledger.h"
#include "session/import_set.h"
#include "session/outage_list.h"
#include "session/outage_parts.h"
#include "json/member.h"
#include "json/read.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::session {

using Code = Error::Code;

namespace {

constexpr std::size_t largest_profile = 1u << 20;

/// A journal name from the job number: letters and digits as they are, everything else a dash.
std::string job_name(std::string const& job_no)
{
    std::string name;
    for (char c : job_no)
        name += std::isalnum(static_cast<unsigned char>(c)) ? c : '-';
    return name.empty() ? "job" : name;
}

using Texts = std::vector<std::pair<std::string, std::string>>; // file name, contents

/// The texts by which an entry names what an outage follows.
Json texts_by_hash(Texts const& checklists, files::LibraryEntry const& profile)
{
    Json lists = Json::array();
    for (auto const& [file, text] : checklists)
        lists.push_back({{"file", file}, {"hash", sha256_hex(text)}});
    return {{"checklists", lists},
            {"profile",
             {{"id", profile.profile.id}, {"revision", profile.profile.revision}, {"hash", profile.sha256}}}};
}

std::vector<std::string> all_texts(Texts const& checklists, std::string profile)
{
    std::vector<std::string> all;
    for (auto const& [file, text] : checklists)
        all.push_back(text);
    all.push_back(std::move(profile));
    return all;
}

/// An outage never moves backwards.
Result<void> refuse_older(Pinned const& now, model::Checklists const& checklists,
                          model::Profile const& profile)
{
    if (profile.revision < now.profile.revision)
        return fail(Code::denied, profile.id,
                    fmt::format("the library holds revision {}, the outage follows revision {} already",
                                profile.revision, now.profile.revision));
    for (auto const& stage : checklists.stages)
        if (auto const* before = now.checklists.stage(stage.id); before && stage.revision < before->revision)
            return fail(Code::denied, stage.file,
                        fmt::format("the library holds revision {} of \"{}\", the outage follows revision {} "
                                    "already",
                                    stage.revision, stage.title, before->revision));
    return {};
}

/// The first start on a tablet finds no folder yet, nor the folders above it.
Result<void> make_with_parents(disk::Disk& disk, disk::Path const& folder)
{
    disk::Path at;
    for (auto const& part : folder) {
        at /= part;
        if (disk.exists(at))
            continue;
        if (auto made = disk.make_directory(at); !made)
            return made;
    }
    return {};
}

} // namespace

std::vector<std::string> calculation_names()
{
    std::vector<std::string> names;
    for (auto const* c : calc::all_calculations())
        names.emplace_back(c->name);
    return names;
}

std::string all_faults(files::FileReport const& report)
{
    std::string text;
    for (auto const& e : report.errors)
        text += (text.empty() ? "" : "\n") + e.where + ": " + e.detail;
    return text;
}

Workspace::Workspace(Folders folders, Clock& clock, disk::Disk& disk)
    : m_folders(std::move(folders)), m_clock(clock), m_disk(disk)
{
}

Result<std::unique_ptr<Workspace>> Workspace::open(Folders folders, Clock& clock, disk::Disk& disk)
{
    std::unique_ptr<Workspace> workspace(new Workspace(std::move(folders), clock, disk));
    if (auto made = make_with_parents(disk, workspace->m_folders.data); !made)
        return tl::unexpected(made.error());
    auto journal = journal::open_journal(workspace->m_folders.data);
    if (!journal)
        return tl::unexpected(journal.error());
    workspace->m_journal = std::move(*journal);
    // An import that a power cut broke off is whole before anything of it is read.
    if (auto const finished = finish_import(
            disk, workspace->m_folders.data,
            [&](ImportPlan const& plan) {
                return UnitStore(*workspace->m_journal).enter(plan.id, plan.units, plan.who, plan.at);
            });
        !finished)
        return tl::unexpected(finished.error());
    return workspace;
}

Result<std::vector<OutageSummary>> Workspace::outages()
{
    auto const heads = m_journal->jobs();
    if (!heads)
        return tl::unexpected(heads.error());
    std::vector<OutageSummary> list;
    list.reserve(heads->size());
    for (auto const& head : *heads)
        list.push_back(summary_of(head));
    return list;
}

Workspace::LibraryReader Workspace::library_reader() const
{
    auto before = m_library ? m_library : std::make_shared<files::ProfileLibrary const>();
    return [&disk = m_disk, folders = std::vector<disk::Path>{m_folders.profiles, own_profiles()},
            before = std::move(before), wanted = m_library_wanted](files::Advance const& advance) {
        auto library =
            std::make_shared<files::ProfileLibrary>(files::read_library(disk, folders, *before, advance));
        files::verify_signatures(*library, seal::signature_holds);
        return LibraryRead{std::move(library), wanted};
    };
}

void Workspace::take_library(LibraryRead read)
{
    if (read.library->cancelled)
        return; // a part of it would pass for all there is
    m_library = std::move(read.library);
    m_library_is_of = read.wanted;
    ++m_library_reading;
}

files::ProfileLibrary const& Workspace::library()
{
    if (!library_is_read())
        take_library(library_reader()({}));
    return *m_library;
}

files::LibraryEntry const* Workspace::find_profile(std::string_view id, int revision)
{
    return library().find(id, revision);
}

files::LibraryEntry const* Workspace::released_profile(std::string_view id)
{
    return library().released(id);
}

Result<files::LibraryEntry const*> Workspace::fit_profile(std::string_view id)
{
    auto const* entry = released_profile(id);
    if (!entry) {
        for (auto const& error : library().errors)
            if (error.where.starts_with(std::string(id) + "."))
                return tl::unexpected(error);
        if (auto const* newest = find_profile(id))
            return fail(Code::denied, newest->file,
                        fmt::format("revision {} of {} is {}; an outage takes a released one",
                                    newest->profile.revision, id, newest->profile.status));
        return fail(Code::not_found, "profile", fmt::format("there is no profile \"{}\" in the library", id));
    }
    if (!entry->faults.empty())
        return fail(Code::corrupt, entry->file, all_faults({entry->faults}));
    return entry;
}

Result<std::string> Workspace::text_of(files::LibraryEntry const& entry)
{
    auto text = m_disk.read(entry.folder / entry.file, largest_profile);
    if (text && sha256_hex(*text) != entry.sha256)
        return fail(Code::corrupt, entry.file, "it changed since the library was read; open it again");
    return text;
}

Result<files::LoadedChecklists> Workspace::checklists()
{
    auto loaded = files::read_checklists(m_disk, m_folders.checklists, calculation_names());
    if (!loaded.report.ok())
        return fail(Code::corrupt, m_folders.checklists.filename().string(), all_faults(loaded.report));
    return loaded;
}

Result<std::unique_ptr<Outage>> Workspace::begin(std::string_view profile_id, NewOutage const& setup,
                                                 AcceptedRelease const& accepted)
{
    auto const fit = fit_profile(profile_id);
    if (!fit)
        return tl::unexpected(fit.error());
    files::LibraryEntry const* entry = *fit;
    for (char const* needed : {"station", "bay", "serial", "job_no", "window"}) {
        auto const it = setup.facts.find(needed);
        if (it == setup.facts.end() || it->second.find_first_not_of(' ') == std::string::npos)
            return fail(Code::missing_input, needed, fmt::format("the {} is needed to begin", needed));
    }
    if (auto const window = parse_amount(setup.facts.at("window"), Dimension::time, "window"); !window)
        return tl::unexpected(window.error());
    if (setup.who.empty() || setup.crew.empty())
        return fail(Code::missing_input, "crew", "at least one person of the crew must be named");
    auto loaded = checklists();
    if (!loaded)
        return tl::unexpected(loaded.error());

    auto const profile_text = text_of(*entry);
    if (!profile_text)
        return tl::unexpected(profile_text.error());
    auto const standing = standing_to_begin(*this, *entry, accepted);
    if (!standing)
        return tl::unexpected(standing.error());
    Pinned pinned{std::move(loaded->checklists), entry->profile, texts_by_hash(loaded->texts, *entry)};
    for (auto const& text : all_texts(loaded->texts, *profile_text))
        if (auto const kept = m_journal->keep(text); !kept)
            return tl::unexpected(kept.error());

    std::string job = job_name(setup.facts.at("job_no"));
    for (int n = 2;; ++n) {
        auto const existing = m_journal->entries(job);
        if (!existing)
            return tl::unexpected(existing.error());
        if (existing->empty())
            break;
        job = fmt::format("{}-{}", job_name(setup.facts.at("job_no")), n);
    }
    Now const now = m_clock.now();
    Json body{{"type", "created"}, {"format", 1}};
    body["facts"] = Json::object();
    for (auto const& [name, value] : setup.facts)
        body["facts"][name] = value;
    auto const gwp = gwp_in_use(*m_journal);
    if (!gwp)
        return tl::unexpected(gwp.error());
    body["facts"]["gwp"] = show_short(gwp->value, 6);
    body["facts"]["gwp_source"] = gwp->name;
    body["facts"]["day"] = calendar_day(stamp(now));
    body["facts"]["breaker"] = entry->profile.text("breaker.model", entry->profile.id);
    enter_release(body, *standing, accepted);
    body["crew"] = setup.crew;
    body.update(pinned.texts);
    body["at"] = stamp(now);
    body["who"] = setup.who;
    body["mono_s"] = now.mono_s;
    body["run"] = now.run;
    if (auto first = m_journal->append(job, std::move(body)); !first)
        return tl::unexpected(first.error());
    std::vector<Pinned> revisions;
    revisions.push_back(std::move(pinned));
    return with_parts(Outage::open(*m_journal, m_clock, job, std::move(revisions), setup.who));
}

Result<std::unique_ptr<Outage>> Workspace::with_parts(Result<std::unique_ptr<Outage>> outage)
{
    if (outage)
        (*outage)->set_parts(parts_in(**outage, own_parts().parts));
    return outage;
}

OwnParts const& Workspace::own_parts()
{
    if (!m_parts)
        m_parts = read_own_parts(m_disk, m_folders.data);
    return *m_parts;
}

Result<void> Workspace::keep_part(Json part, std::string const& id, std::string const& by)
{
    Json const earlier = own_parts().revisions(id);
    part["id"] = id;
    part["revision"] = earlier.empty() ? 1 : revision_of(earlier.back()) + 1;
    part["at"] = stamp(m_clock.now());
    part["by"] = by;
    if (auto kept = write_own_part(m_disk, m_folders.data, part); !kept)
        return kept;
    m_parts.reset();
    return {};
}

Result<void> Workspace::add_part(Json part, std::string const& by)
{
    part.erase("id");
    if (auto const faults = check_own_part(part, own_parts().parts); !faults.empty())
        return fail(Code::invalid_input, faults.front().field, faults.front().detail);
    std::string const id = part_id(text_member(part, "name"));
    return keep_part(std::move(part), id, by);
}

Result<void> Workspace::revise_part(std::string_view id, Json part, std::string const& by)
{
    Json const earlier = own_parts().revisions(id);
    if (earlier.empty() || is_withdrawn(earlier.back()))
        return fail(Code::not_found, std::string(id), "there is no part of this name in use");
    part["id"] = id;
    if (auto const faults = check_own_part(part, own_parts().parts); !faults.empty())
        return fail(Code::invalid_input, faults.front().field, faults.front().detail);
    Json before = earlier.back();
    for (char const* told : {"revision", "at", "by"})
        before.erase(told);
    if (before == part)
        return fail(Code::invalid_input, "name", "nothing was changed");
    return keep_part(std::move(part), std::string(id), by);
}

Result<void> Workspace::withdraw_part(std::string_view id, std::string const& reason, std::string const& by)
{
    Json const earlier = own_parts().revisions(id);
    if (earlier.empty() || is_withdrawn(earlier.back()))
        return fail(Code::not_found, std::string(id), "there is no part of this name in use");
    if (reason.find_first_not_of(' ') == std::string::npos)
        return fail(Code::missing_input, "reason", "write why the part is withdrawn");
    Json part = earlier.back();
    part["withdrawn"] = true;
    part["reason"] = reason;
    return keep_part(std::move(part), std::string(id), by);
}

Result<Pinned> Workspace::read_pinned(Json const& named)
{
    Pinned pinned;
    std::vector<std::pair<std::string, std::string>> texts;
    Json const lists = member(named, "checklists"), profile = member(named, "profile");
    if (lists.is_array())
        for (auto const& item : lists) {
            auto text = m_journal->kept(text_member(item, "hash"));
            if (!text)
                return tl::unexpected(text.error());
            texts.emplace_back(text_member(item, "file"), std::move(*text));
        }
    auto const profile_text = m_journal->kept(text_member(profile, "hash"));
    if (!profile_text)
        return tl::unexpected(profile_text.error());
    auto loaded = files::read_checklist_texts(std::move(texts), calculation_names());
    if (!loaded.report.ok())
        return fail(Code::corrupt, "pinned checklists", all_faults(loaded.report));
    files::FileReport report;
    pinned.profile = files::read_profile(*profile_text, text_member(profile, "id"), report);
    if (!report.ok())
        return fail(Code::corrupt, "pinned profile", all_faults(report));
    pinned.checklists = std::move(loaded.checklists);
    pinned.texts = {{"checklists", lists}, {"profile", profile}};
    return pinned;
}

Result<std::unique_ptr<Outage>> Workspace::resume(std::string_view job, std::string who)
{
    auto const entries = m_journal->entries(job);
    if (!entries)
        return tl::unexpected(entries.error());
    if (entries->empty())
        return fail(Code::not_found, std::string(job), "there is no outage of that name");
    Json const first = entries->front().json();
    std::vector<Json> named{first};
    for (auto const& entry : *entries)
        if (entry.body.find(R"("type":"moved")") != std::string::npos) // spares parsing all of them twice
            if (Json const body = entry.json(); text_member(body, "type") == "moved")
                named.push_back(member(body, "to_texts"));
    std::vector<Pinned> revisions;
    for (auto const& texts : named) {
        auto pinned = read_pinned(texts);
        if (!pinned)
            return tl::unexpected(pinned.error());
        revisions.push_back(std::move(*pinned));
    }
    return with_parts(
        Outage::open(*m_journal, m_clock, std::string(job), std::move(revisions), std::move(who)));
}

Result<PlannedMove> Workspace::plan_move(Outage const& outage)
{
    Pinned const& now = outage.pinned();
    auto const fit = fit_profile(now.profile.id);
    if (!fit)
        return tl::unexpected(fit.error());
    files::LibraryEntry const* entry = *fit;
    auto const profile_text = text_of(*entry);
    if (!profile_text)
        return tl::unexpected(profile_text.error());
    auto loaded = checklists();
    if (!loaded)
        return tl::unexpected(loaded.error());
    if (auto const older = refuse_older(now, loaded->checklists, entry->profile); !older)
        return tl::unexpected(older.error());
    if (entry->profile.revision > now.profile.revision)
        if (auto const known = may_move_to(*this, *entry); !known)
            return tl::unexpected(known.error());
    PlannedMove plan;
    plan.next = {std::move(loaded->checklists), entry->profile, texts_by_hash(loaded->texts, *entry)};
    plan.texts = all_texts(loaded->texts, *profile_text);
    plan.changes = model::compare_revisions({now.checklists, now.profile},
                                            {plan.next.checklists, plan.next.profile}, outage.state());
    plan.from = revision_name(now);
    plan.to = revision_name(plan.next);
    if (plan.next.texts == now.texts || plan.changes.changes.empty())
        return fail(Code::not_found, outage.job(),
                    "this outage follows the newest checklists and profile already");
    return plan;
}

Result<void> Workspace::move(Outage& outage, PlannedMove plan, std::string_view by, bool pin_checked)
{
    for (auto const& text : plan.texts)
        if (auto const kept = m_journal->keep(text); !kept)
            return tl::unexpected(kept.error());
    return outage.move(std::move(plan.next), plan.changes, by, pin_checked);
}

} // namespace isochore::session
