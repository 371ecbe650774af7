#include "session/import_set.h"
#include "disk/whole_file.h"
#include "files/profile_library.h"
#include "files/profile_signing.h"
#include "model/profile_lifecycle.h"
#include "seal/keys.h"
#include "json/member.h"
#include "json/read.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::session {

using Code = Error::Code;
using Phase = media::WriteProgress::Phase;

namespace {

constexpr std::string_view import_format = "isochore.import/1";
constexpr std::size_t most_import_bytes = 512u << 20;

disk::Path plan_file(disk::Path const& data)
{
    return data / "import.json";
}

disk::Path profiles_of(disk::Path const& data)
{
    return data / "profiles";
}

std::string write_plan(ImportPlan const& plan)
{
    Json document{{"format", import_format}, {"id", plan.id}, {"who", plan.who}, {"at", plan.at}};
    auto& profiles = document["profiles"] = Json::array();
    for (auto const& file : plan.profiles)
        profiles.push_back({{"name", file.name}, {"text", file.text}, {"replaces", file.replaces}});
    auto& units = document["units"] = Json::array();
    for (auto const& unit : plan.units)
        units.push_back({{"unit", unit.id}, {"values", media::write_unit_values(unit.values)}});
    return document.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

/// A name of a file in our folder and nowhere else.
bool is_plain_name(std::string_view name)
{
    return name.find('/') == std::string_view::npos && name.ends_with(".json") && !name.starts_with(".");
}

Result<ImportPlan> read_plan(std::string const& text, std::string const& place)
{
    auto const document = read_json(text, place, {most_import_bytes, 8});
    if (!document)
        return tl::unexpected(document.error());
    if (text_member(*document, "format") != import_format)
        return fail(Code::unknown, place, "this is no import that was begun here");
    ImportPlan plan;
    plan.id = text_member(*document, "id");
    plan.who = text_member(*document, "who");
    plan.at = text_member(*document, "at");
    for (auto const& item : member(*document, "profiles")) {
        ImportPlan::File file{text_member(item, "name"), text_member(item, "text"),
                              text_member(item, "replaces")};
        if (!is_plain_name(file.name) || (!file.replaces.empty() && !is_plain_name(file.replaces)))
            return fail(Code::corrupt, place, "a file of it is not in the folder of profiles");
        plan.profiles.push_back(std::move(file));
    }
    for (auto const& item : member(*document, "units")) {
        files::FileReport report;
        UnitStore::Kept unit{text_member(item, "unit"),
                             media::read_unit_values(text_member(item, "values"), place, report)};
        if (!report.ok())
            return tl::unexpected(report.errors.front());
        plan.units.push_back(std::move(unit));
    }
    return plan;
}

/// Creates what is missing. A file of that name is ours: left by a cut it may be half, and is made anew.
Result<void> store_files(disk::Disk& disk, disk::Path const& data, ImportPlan const& plan,
                         media::Progress const& progress)
{
    auto const folder = profiles_of(data);
    if (auto const made = disk::make_durable_directory(disk, folder); !made)
        return made;
    std::size_t done = 0;
    for (auto const& file : plan.profiles) {
        if (progress && !progress({Phase::writing, done++, plan.profiles.size() + 1, file.name}))
            return fail(Code::denied, folder.string(), "it was cancelled; nothing was taken over");
        if (disk.exists(folder / file.name))
            if (auto const gone = disk.remove(folder / file.name); !gone)
                return gone;
        if (auto const made = disk.create(folder / file.name, file.text); !made)
            return made;
    }
    if (progress)
        (void)progress({Phase::flushing, done, plan.profiles.size() + 1, {}});
    return disk.flush_folder(folder);
}

/// Takes the files back, then the plan: in this order, so that a cut between finishes it instead.
Result<void> take_back(disk::Disk& disk, disk::Path const& data, ImportPlan const& plan)
{
    auto const folder = profiles_of(data);
    for (auto const& file : plan.profiles)
        if (disk.exists(folder / file.name))
            if (auto const gone = disk.remove(folder / file.name); !gone)
                return gone;
    if (auto const flushed = disk.flush_directory(folder); !flushed)
        return flushed;
    if (auto const gone = disk.remove(plan_file(data)); !gone)
        return gone;
    return disk.flush_directory(data);
}

tl::unexpected<Error> taken_back(disk::Disk& disk, disk::Path const& data, ImportPlan const& plan,
                                 Error error)
{
    if (auto const back = take_back(disk, data, plan); !back)
        error.detail += "; it could not be taken back either and is finished at the next start";
    return tl::unexpected(std::move(error));
}

Result<void> plan_profiles(Workspace& workspace, media::StickContent const& content, ImportPlan& plan)
{
    auto const& library = workspace.library();
    for (auto const& [file, profile] : content.profiles) {
        std::string const name = fmt::format("{} revision {}", profile.id, profile.revision);
        auto const* there = library.find(profile.id, profile.revision);
        std::string text = files::write_profile(profile);
        if (there && files::write_profile(there->profile) == text) {
            plan.done.there_already.push_back(name);
            continue;
        }
        if (auto const broken = files::broken_signatures(profile, file, seal::signature_holds);
            !broken.empty())
            return tl::unexpected(broken.front());
        if (there)
            if (auto const may = model::may_replace(there->profile, profile); !may)
                return may;
        bool const here = there && there->folder == workspace.own_profiles();
        plan.profiles.push_back(
            {files::next_save(workspace.disk(), workspace.own_profiles(), profile, library), std::move(text),
             here ? there->file : std::string()});
        plan.done.profiles.push_back(name);
    }
    return {};
}

Result<void> plan_units(Workspace& workspace, media::StickContent const& content, ImportPlan& plan)
{
    UnitStore store(workspace.journal());
    auto const kept = store.all();
    if (!kept)
        return tl::unexpected(kept.error());
    auto next = store.next_number();
    if (!next)
        return tl::unexpected(next.error());
    for (auto const& [file, values] : content.units) {
        std::string const serial = values.text("unit.serial");
        auto const same = std::find_if(kept->begin(), kept->end(),
                                       [&](auto const& k) { return k.values.text("unit.serial") == serial; });
        if (same != kept->end() && same_values(same->values, values)) {
            plan.done.there_already.push_back(serial);
            continue;
        }
        plan.units.push_back({same == kept->end() ? fmt::format("u{}", (*next)++) : same->id, values});
        plan.done.units.push_back(serial);
    }
    return {};
}

} // namespace

Result<ImportPlan> plan_import(Workspace& workspace, media::VerifiedSet const& set, std::string_view who,
                               bool stale_accepted)
{
    if (set.stale && !stale_accepted)
        return fail(Code::denied, set.set, "this set is older than one seen before; nothing was imported");
    auto const content = media::read_content(set);
    if (!content.report.ok())
        return tl::unexpected(content.report.errors.front());
    ImportPlan plan;
    auto const now = workspace.clock().now();
    plan.at = utc_stamp(now);
    std::string all;
    for (auto const& file : set.files)
        all += file.name + " " + sha256_hex(file.bytes) + "\n";
    plan.id = fmt::format("{} {} {} {}", set.set, plan.at, now.utc_ms, sha256_hex(all));
    plan.who = who;
    if (auto const profiles = plan_profiles(workspace, content, plan); !profiles)
        return tl::unexpected(profiles.error());
    if (auto const units = plan_units(workspace, content, plan); !units)
        return tl::unexpected(units.error());
    return plan;
}

Result<void> store_import(disk::Disk& disk, disk::Path const& data, ImportPlan const& plan,
                          media::Progress const& progress)
{
    if (plan.profiles.empty())
        return {}; // one append is whole or not there by itself
    if (auto const kept = disk::write_whole(disk, plan_file(data), write_plan(plan)); !kept)
        return kept;
    if (auto const stored = store_files(disk, data, plan, progress); !stored)
        return taken_back(disk, data, plan, stored.error());
    return {};
}

Result<void> end_import(disk::Disk& disk, disk::Path const& data, ImportPlan const& plan)
{
    for (auto const& file : plan.profiles) // left behind they do not count
        if (auto const old = profiles_of(data) / file.replaces; !file.replaces.empty() && disk.exists(old))
            (void)disk.remove(old);
    if (auto const gone = disk.remove(plan_file(data)); !gone)
        return gone;
    return disk.flush_directory(data);
}

Result<ImportedSet> enter_import(Workspace& workspace, ImportPlan const& plan)
{
    auto& disk = workspace.disk();
    auto const& data = workspace.folders().data;
    if (auto const entered = UnitStore(workspace.journal()).enter(plan.id, plan.units, plan.who, plan.at);
        !entered)
        return plan.profiles.empty() ? tl::unexpected(entered.error())
                                     : taken_back(disk, data, plan, entered.error());
    if (plan.profiles.empty())
        return plan.done;
    workspace.forget_library();
    if (auto const ended = end_import(disk, data, plan); !ended)
        return tl::unexpected(ended.error());
    return plan.done;
}

Result<ImportedSet> import_set(Workspace& workspace, media::VerifiedSet const& set, std::string_view who,
                               bool stale_accepted)
{
    auto const plan = plan_import(workspace, set, who, stale_accepted);
    if (!plan)
        return tl::unexpected(plan.error());
    if (auto const stored = store_import(workspace.disk(), workspace.folders().data, *plan); !stored)
        return tl::unexpected(stored.error());
    return enter_import(workspace, *plan);
}

Result<void> finish_import(disk::Disk& disk, disk::Path const& data,
                           std::function<Result<void>(ImportPlan const&)> const& enter)
{
    auto const file = plan_file(data);
    if (!disk.exists(file))
        return {};
    auto const text = disk.read(file, most_import_bytes);
    if (!text)
        return tl::unexpected(text.error());
    auto const plan = read_plan(*text, file.filename().string());
    if (!plan) {
        disk::Path aside = file;
        for (int n = 1; disk.exists(aside = data / fmt::format("import.damaged{}", n)); ++n)
            ;
        return disk.rename(file, aside).and_then([&] { return disk.flush_directory(data); });
    }
    return store_files(disk, data, *plan, {}).and_then([&] { return enter(*plan); }).and_then([&] {
        return end_import(disk, data, *plan);
    });
}

} // namespace isochore::session
