#include "session/unit_store.h"
#include "files/profile_library.h"
#include "model/profile_lifecycle.h"
#include "session/stick.h"
#include "json/member.h"
#include <algorithm>
#include <fmt/format.h>
#include <set>

namespace isochore::session {

using Code = Error::Code;
using Origin = ListedUnit::Origin;

namespace {

constexpr std::string_view units_job = "@units";
/// Other outages looked through: the latest touched. Each is read and verified whole.
constexpr std::size_t most_outages = 20;

Result<void> check_values(media::UnitValues const& values)
{
    if (values.profile_id.empty())
        return fail(Code::missing_input, "profile", "say which breaker model the unit is for");
    for (auto const& [path, text] : values.values)
        if (!media::unit_field(path))
            return fail(Code::invalid_input, path, "this is not a value of a unit");
    files::FileReport report;
    (void)media::read_unit_values(media::write_unit_values(values), "unit", report);
    if (!report.ok())
        return tl::unexpected(report.errors.front());
    return {};
}

std::optional<model::Profile> profile_of(Workspace& workspace, media::UnitValues const& values)
{
    auto const* entry = workspace.find_profile(values.profile_id, values.profile_revision);
    if (!entry || !entry->faults.empty())
        entry = workspace.released_profile(values.profile_id);
    return entry ? std::optional(entry->profile) : std::nullopt;
}

void add_outages(Workspace& workspace, Outage const* in_hand, std::vector<ListedUnit>& list)
{
    if (in_hand)
        list.push_back(look_at_unit("outage:" + in_hand->job(), Origin::outage, unit_values_of(*in_hand),
                                    in_hand->profile()));
    auto const outages = workspace.outages();
    if (!outages)
        return;
    std::size_t looked = 0;
    for (auto const& o : *outages) {
        if (o.sealed || (in_hand && o.job == in_hand->job()))
            continue;
        if (++looked > most_outages)
            break;
        auto const outage = workspace.resume(o.job, {});
        if (!outage)
            continue;
        auto values = unit_values_of(**outage);
        if (!values.text("unit.serial").empty())
            list.push_back(
                look_at_unit("outage:" + o.job, Origin::outage, std::move(values), (*outage)->profile()));
    }
}

bool same_values(media::UnitValues const& a, media::UnitValues const& b)
{
    return a.profile_id == b.profile_id && a.profile_revision == b.profile_revision && a.values == b.values;
}

} // namespace

Result<std::vector<UnitStore::Kept>> UnitStore::all()
{
    auto const entries = m_store.entries(units_job);
    if (!entries)
        return tl::unexpected(entries.error());
    std::vector<Kept> list;
    for (auto const& entry : *entries) {
        Json const body = entry.json();
        std::string const id = text_member(body, "unit");
        auto const it =
            std::find_if(list.begin(), list.end(), [&](Kept const& kept) { return kept.id == id; });
        if (text_member(body, "kind") == "unit.removed") {
            if (it != list.end())
                list.erase(it);
            continue;
        }
        files::FileReport report;
        auto values = media::read_unit_values(text_member(body, "values"), "unit " + id, report);
        if (!report.ok())
            return tl::unexpected(report.errors.front());
        if (it == list.end())
            list.push_back({id, std::move(values)});
        else
            it->values = std::move(values);
    }
    return list;
}

Result<std::string> UnitStore::set(std::string_view id, media::UnitValues const& values, std::string_view who,
                                   Now const& now)
{
    if (auto const good = check_values(values); !good)
        return tl::unexpected(good.error());
    std::string name(id);
    if (name.empty()) {
        auto const entries = m_store.entries(units_job);
        if (!entries)
            return tl::unexpected(entries.error());
        name = fmt::format("u{}", entries->size() + 1);
    }
    auto const entry = m_store.append(units_job, {{"kind", "unit.set"},
                                                  {"unit", name},
                                                  {"values", media::write_unit_values(values)},
                                                  {"who", who},
                                                  {"at", utc_stamp(now)}});
    if (!entry)
        return tl::unexpected(entry.error());
    return name;
}

Result<void> UnitStore::remove(std::string_view id, std::string_view who, Now const& now)
{
    auto const kept = all();
    if (!kept)
        return tl::unexpected(kept.error());
    if (std::none_of(kept->begin(), kept->end(), [&](Kept const& k) { return k.id == id; }))
        return fail(Code::not_found, std::string(id), "there is no such unit");
    auto const entry = m_store.append(
        units_job, {{"kind", "unit.removed"}, {"unit", id}, {"who", who}, {"at", utc_stamp(now)}});
    return entry ? Result<void>() : Result<void>(tl::unexpected(entry.error()));
}

ListedUnit look_at_unit(std::string id, Origin origin, media::UnitValues values,
                        std::optional<model::Profile> profile)
{
    ListedUnit unit{std::move(id), origin, std::move(values), std::move(profile), {}, {}};
    if (!unit.profile) {
        unit.problem = fmt::format("there is no profile \"{}\" in the library", unit.values.profile_id);
        return unit;
    }
    unit.settings = media::layer(*unit.profile, unit.values);
    if (!unit.settings.conflicts.empty())
        unit.problem = unit.settings.conflicts.front().detail;
    else if (!unit.settings.missing.empty())
        unit.problem = unit.settings.missing.front().detail;
    return unit;
}

Result<std::vector<ListedUnit>> list_units(Workspace& workspace, Outage const* in_hand,
                                           media::StickContent const* on_stick)
{
    std::vector<ListedUnit> list;
    add_outages(workspace, in_hand, list);
    auto const kept = UnitStore(workspace.journal()).all();
    if (!kept)
        return tl::unexpected(kept.error());
    for (auto const& k : *kept)
        list.push_back(look_at_unit("desk:" + k.id, Origin::desk, k.values, profile_of(workspace, k.values)));
    if (on_stick)
        for (auto const& [file, values] : on_stick->units) {
            std::optional<model::Profile> profile;
            for (auto const& [name, p] : on_stick->profiles)
                if (p.id == values.profile_id && p.revision == values.profile_revision)
                    profile = p;
            list.push_back(look_at_unit("stick:" + file, Origin::stick, values, std::move(profile)));
        }
    return list;
}

Result<std::vector<media::SetFile>> stick_files(std::vector<ListedUnit> const& units)
{
    std::set<std::string> serials;
    std::vector<media::UnitOnStick> content;
    for (auto const& unit : units) {
        std::string const serial = unit.values.text("unit.serial");
        if (!unit.ready())
            return fail(Code::invalid_input, serial, unit.problem);
        if (!serials.insert(serial).second)
            return fail(Code::invalid_input, serial,
                        "two units of this serial number are chosen; leave one out");
        content.push_back({*unit.profile, unit.values});
    }
    if (content.empty())
        return fail(Code::missing_input, "units", "no unit is chosen");
    return media::stick_content({}, content);
}

Result<ImportedSet> import_set(Workspace& workspace, media::VerifiedSet const& set, std::string_view who,
                               bool stale_accepted)
{
    if (set.stale && !stale_accepted)
        return fail(Code::denied, set.set, "this set is older than one seen before; nothing was imported");
    auto const content = media::read_content(set);
    if (!content.report.ok())
        return tl::unexpected(content.report.errors.front());
    // Everything is looked at before anything is stored.
    auto const& library = workspace.library();
    ImportedSet done;
    std::vector<model::Profile const*> fresh;
    for (auto const& [file, profile] : content.profiles) {
        std::string const name = fmt::format("{} revision {}", profile.id, profile.revision);
        auto const* there = library.find(profile.id, profile.revision);
        if (there && files::write_profile(there->profile) == files::write_profile(profile)) {
            done.there_already.push_back(name);
            continue;
        }
        if (there)
            if (auto const may = model::may_replace(there->profile, profile); !may)
                return tl::unexpected(may.error());
        fresh.push_back(&profile);
        done.profiles.push_back(name);
    }
    UnitStore store(workspace.journal());
    auto const kept = store.all();
    if (!kept)
        return tl::unexpected(kept.error());
    if (!fresh.empty())
        if (auto const made = workspace.disk().make_directory(workspace.own_profiles()); !made)
            return tl::unexpected(made.error());
    for (auto const* profile : fresh)
        if (auto const stored =
                files::store_profile(workspace.disk(), workspace.own_profiles(), *profile, library);
            !stored)
            return tl::unexpected(stored.error());
    if (!fresh.empty())
        workspace.forget_library();
    for (auto const& [file, values] : content.units) {
        std::string const serial = values.text("unit.serial");
        auto const same = std::find_if(kept->begin(), kept->end(),
                                       [&](auto const& k) { return k.values.text("unit.serial") == serial; });
        if (same != kept->end() && same_values(same->values, values)) {
            done.there_already.push_back(serial);
            continue;
        }
        auto const id = store.set(same == kept->end() ? std::string_view() : std::string_view(same->id),
                                  values, who, workspace.clock().now());
        if (!id)
            return tl::unexpected(id.error());
        done.units.push_back(serial);
    }
    return done;
}

} // namespace isochore::session
