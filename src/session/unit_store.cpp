#include "session/unit_store.h"
#include "files/profile_library.h"
#include "session/stick.h"
#include "json/member.h"
#include <algorithm>
#include <fmt/format.h>
#include <set>

namespace isochore::session {

using Code = Error::Code;
using Origin = ListedUnit::Origin;

namespace {

constexpr std::string_view units_job = "@units", units_imported = "units.imported";

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

auto find_unit(std::vector<UnitStore::Kept>& list, std::string_view id)
{
    return std::find_if(list.begin(), list.end(), [&](auto const& kept) { return kept.id == id; });
}

/// One unit of an entry: alone, or one of an import.
Result<void> take_values(Json const& said, std::vector<UnitStore::Kept>& list)
{
    std::string const id = text_member(said, "unit");
    files::FileReport report;
    auto values = media::read_unit_values(text_member(said, "values"), "unit " + id, report);
    if (!report.ok())
        return tl::unexpected(report.errors.front());
    auto const it = find_unit(list, id);
    if (it == list.end())
        list.push_back({id, std::move(values)});
    else
        it->values = std::move(values);
    return {};
}

} // namespace

bool same_values(media::UnitValues const& a, media::UnitValues const& b)
{
    return a.profile_id == b.profile_id && a.profile_revision == b.profile_revision && a.values == b.values;
}

Result<std::vector<UnitStore::Kept>> UnitStore::all()
{
    auto const entries = m_store.entries(units_job);
    if (!entries)
        return tl::unexpected(entries.error());
    std::vector<Kept> list;
    for (auto const& entry : *entries) {
        Json const body = entry.json();
        std::string const kind = text_member(body, "kind");
        if (kind == "unit.removed") {
            if (auto const it = find_unit(list, text_member(body, "unit")); it != list.end())
                list.erase(it);
            continue;
        }
        for (auto const& said : kind == units_imported ? member(body, "units") : Json::array({body}))
            if (auto const taken = take_values(said, list); !taken)
                return tl::unexpected(taken.error());
    }
    return list;
}

Result<std::optional<UnitStore::Kept>> UnitStore::find(std::string_view id)
{
    auto kept = all();
    if (!kept)
        return tl::unexpected(kept.error());
    auto const it = find_unit(*kept, id);
    return it == kept->end() ? std::nullopt : std::optional(std::move(*it));
}

Result<std::size_t> UnitStore::next_number()
{
    auto const entries = m_store.entries(units_job);
    if (!entries)
        return tl::unexpected(entries.error());
    std::size_t next = 1;
    for (auto const& entry : *entries) {
        Json const body = entry.json();
        next += text_member(body, "kind") == units_imported ? member(body, "units").size() : 1;
    }
    return next; // every id that was ever given came with an entry
}

Result<void> UnitStore::enter(std::string_view import, std::vector<Kept> const& units, std::string_view who,
                              std::string_view at)
{
    auto const entries = m_store.entries(units_job);
    if (!entries)
        return tl::unexpected(entries.error());
    for (auto const& entry : *entries)
        if (text_member(entry.json(), "import") == import)
            return {};
    if (units.empty())
        return {};
    Json list = Json::array();
    for (auto const& unit : units)
        list.push_back({{"unit", unit.id}, {"values", media::write_unit_values(unit.values)}});
    auto const entry = m_store.append(
        units_job,
        {{"kind", units_imported}, {"import", import}, {"units", std::move(list)}, {"who", who}, {"at", at}});
    return entry ? Result<void>() : Result<void>(tl::unexpected(entry.error()));
}

Result<std::string> UnitStore::set(std::string_view id, media::UnitValues const& values, std::string_view who,
                                   Now const& now)
{
    if (auto const good = check_values(values); !good)
        return tl::unexpected(good.error());
    std::string name(id);
    if (name.empty()) {
        auto const next = next_number();
        if (!next)
            return tl::unexpected(next.error());
        name = fmt::format("u{}", *next);
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

} // namespace isochore::session
