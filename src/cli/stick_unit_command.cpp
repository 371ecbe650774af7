#include "cli/answers.h"
#include "cli/bench.h"
#include "cli/profile_find.h"
#include "cli/stick_units.h"
#include "media/stick_answers.h"
#include "quantity/error_words.h"
#include "quantity/near_names.h"
#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

char const* origin_word(session::ListedUnit::Origin origin)
{
    switch (origin) {
    case session::ListedUnit::Origin::outage:
        return "outage";
    case session::ListedUnit::Origin::desk:
        return "desk";
    case session::ListedUnit::Origin::stick:
        return "stick";
    }
    return "desk";
}

/// Units of the desk are listed as "desk:u1"; both that and "u1" name one.
std::string desk_id(std::string const& name)
{
    constexpr std::string_view prefix = "desk:";
    return name.starts_with(prefix) ? name.substr(prefix.size()) : name;
}

std::vector<std::string> unit_paths()
{
    std::vector<std::string> paths;
    for (auto const& field : media::unit_fields())
        paths.emplace_back(field.path);
    return paths;
}

Result<media::UnitValues> values_to_set(session::Workspace& workspace, StickOptions const& o)
{
    media::UnitValues values;
    if (!o.unit.empty()) {
        auto const kept = session::UnitStore(workspace.journal()).all();
        if (!kept)
            return tl::unexpected(kept.error());
        std::string const id = desk_id(o.unit);
        auto const it = std::find_if(kept->begin(), kept->end(), [&](auto const& k) { return k.id == id; });
        if (it == kept->end())
            return no_such_unit(o.unit, ids_of(*kept));
        values = it->values;
    }
    if (!o.profile.empty()) {
        auto const named = split_name(o.profile);
        if (!named)
            return tl::unexpected(named.error());
        auto const* profile = workspace.find_profile(named->id, named->revision);
        if (!profile)
            return no_such_profile(workspace.library(), *named, "the library");
        values.profile_id = profile->profile.id;
        values.profile_revision = profile->profile.revision;
    }
    auto const given = split_values(o.values);
    if (!given)
        return tl::unexpected(given.error());
    for (auto const& [path, text] : *given) {
        if (!media::unit_field(path))
            return fail(Error::Code::unknown, path,
                        "this is not a value of a unit" + near_it(path, unit_paths()));
        values.values[path] = text;
    }
    return values;
}

void show_text(session::ListedUnit const& unit, std::ostream& out)
{
    out << fmt::format("{}, {} revision {}\n", unit.id, unit.values.profile_id, unit.values.profile_revision);
    for (auto const& field : media::unit_fields()) {
        auto const own = unit.values.text(field.path);
        auto const profile = unit.profile ? unit.profile->text(field.path) : std::string();
        if (!own.empty() || field.required)
            out << fmt::format("  {:<24} {:<24} {}\n", field.path, own.empty() ? "-" : own,
                               profile.empty() ? std::string() : "profile: " + profile);
    }
    out << (unit.ready() ? "Ready for a stick.\n" : "Not ready for a stick:\n");
    say_problems(unit, out);
}

int show_unit(session::Workspace& workspace, StickOptions const& o, std::ostream& out)
{
    auto const unit = session::kept_unit(workspace, desk_id(o.unit));
    if (!unit) {
        auto const kept = session::UnitStore(workspace.journal()).all();
        bool const absent = unit.error().code == Error::Code::not_found && kept;
        return say_error(out, absent ? no_such_unit(o.unit, ids_of(*kept)).value() : unit.error(), o.json);
    }
    if (o.json)
        say_json(out, unit_json(*unit));
    else
        show_text(*unit, out);
    return unit->ready() ? 0 : 1;
}

} // namespace

void say_problems(session::ListedUnit const& unit, std::ostream& out)
{
    for (auto const& c : unit.settings.conflicts)
        out << fmt::format("  {}: {}\n", c.path, c.detail);
    for (auto const& m : unit.settings.missing)
        out << "  " << place_and_detail(m) << '\n';
    // What has nothing to do with a single value: no such profile.
    if (unit.settings.conflicts.empty() && unit.settings.missing.empty() && !unit.ready())
        out << "  " << unit.problem << '\n';
}

Json unit_json(session::ListedUnit const& unit)
{
    Json line = media::to_json(unit.values);
    line["id"] = unit.id;
    line["origin"] = origin_word(unit.origin);
    line["ready"] = unit.ready();
    line["problem"] = unit.problem;
    Json conflicts = Json::array();
    for (auto const& c : unit.settings.conflicts)
        conflicts.push_back(
            {{"path", c.path}, {"unit", c.unit_value}, {"profile", c.profile_value}, {"detail", c.detail}});
    line["conflicts"] = std::move(conflicts);
    Json missing = Json::array();
    for (auto const& m : unit.settings.missing)
        missing.push_back({{"path", m.where}, {"detail", m.detail}});
    line["missing"] = std::move(missing);
    return line;
}

tl::unexpected<Error> no_such_unit(std::string const& id, std::vector<std::string> const& there)
{
    return fail(Error::Code::not_found, id, "there is no such unit" + near_it(id, there));
}

Result<std::map<std::string, std::string, std::less<>>> split_values(std::vector<std::string> const& given)
{
    std::map<std::string, std::string, std::less<>> values;
    for (auto const& text : given) {
        auto const split = text.find('=');
        if (split == std::string::npos || split == 0)
            return fail(Error::Code::invalid_input, "--value", "\"" + text + "\" is not PATH=TEXT");
        values[text.substr(0, split)] = text.substr(split + 1);
    }
    return values;
}

int stick_unit_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    auto& workspace = *(*bench)->workspace;
    if (!o.unit.empty() && o.profile.empty() && o.values.empty())
        return show_unit(workspace, o, out);
    auto const values = values_to_set(workspace, o);
    if (!values)
        return say_error(out, values.error(), o.json);
    auto const id =
        session::UnitStore(workspace.journal()).set(desk_id(o.unit), *values, o.who, workspace.clock().now());
    if (!id)
        return say_error(out, id.error(), o.json);
    auto const unit = session::kept_unit(workspace, *id);
    if (!unit)
        return say_error(out, unit.error(), o.json);
    if (o.json) {
        Json answer = unit_json(*unit);
        answer["unit"] = media::to_json(*values);
        say_json(out, answer);
        return 0;
    }
    out << unit->id << '\n';
    say_problems(*unit, out);
    return 0;
}

} // namespace isochore::cli
