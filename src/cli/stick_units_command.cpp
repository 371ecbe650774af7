#include "cli/answers.h"
#include "cli/bench.h"
#include "cli/stick_commands.h"
#include "media/stick_answers.h"
#include "session/import_set.h"
#include "session/stick.h"
#include "session/trust_store.h"
#include "session/unit_listing.h"
#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

Result<media::UnitValues> values_to_set(session::Workspace& workspace, StickOptions const& o)
{
    media::UnitValues values;
    if (!o.unit.empty()) {
        auto const kept = session::UnitStore(workspace.journal()).all();
        if (!kept)
            return tl::unexpected(kept.error());
        auto const it =
            std::find_if(kept->begin(), kept->end(), [&](auto const& k) { return k.id == o.unit; });
        if (it == kept->end())
            return fail(Error::Code::not_found, o.unit, "there is no such unit");
        values = it->values;
    }
    if (!o.profile.empty()) {
        auto const* profile = workspace.find_profile(o.profile);
        if (!profile)
            return fail(Error::Code::not_found, o.profile, "there is no such profile in the library");
        values.profile_id = profile->profile.id;
        values.profile_revision = profile->profile.revision;
    }
    auto const given = split_values(o.values);
    if (!given)
        return tl::unexpected(given.error());
    for (auto const& [path, text] : *given)
        values.values[path] = text;
    return values;
}

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
    return line;
}

/// As a reader finds the set, with what the writer has to say beside it.
Json written_json(session::StickOutcome const& done)
{
    Json answer = media::to_json(*done.set);
    for (auto const& note : done.notes)
        answer["notes"].push_back(note);
    return answer;
}

} // namespace

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

int stick_units_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    auto const units = session::list_units(*(*bench)->workspace, nullptr, nullptr);
    if (!units)
        return say_error(out, units.error(), o.json);
    Json list = Json::array();
    for (auto const& unit : *units) {
        list.push_back(unit_json(unit));
        if (!o.json)
            out << fmt::format("{:<24} {:<12} {:<8} {}\n", unit.id, unit.values.text("unit.serial"),
                               unit.values.profile_id, unit.ready() ? "ready" : unit.problem);
    }
    if (o.json)
        say_json(out, list);
    else if (units->empty())
        out << "No unit is known yet. \"isochore stick unit --profile ID --value PATH=TEXT\" prepares one.\n";
    return std::all_of(units->begin(), units->end(), [](auto const& unit) { return unit.ready(); }) ? 0 : 1;
}

int stick_unit_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    auto& workspace = *(*bench)->workspace;
    auto const values = values_to_set(workspace, o);
    if (!values)
        return say_error(out, values.error(), o.json);
    auto const id =
        session::UnitStore(workspace.journal()).set(o.unit, *values, o.who, workspace.clock().now());
    if (!id)
        return say_error(out, id.error(), o.json);
    if (o.json)
        say_json(out, {{"id", "desk:" + *id}, {"unit", media::to_json(*values)}});
    else
        out << "desk:" << *id << '\n';
    return 0;
}

int stick_write_units_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    auto& workspace = *(*bench)->workspace;
    session::UnitListing listing(workspace, nullptr, nullptr,
                                 std::set<std::string, std::less<>>(o.units.begin(), o.units.end()));
    while (listing.step()) {
    }
    auto const units = listing.take();
    if (!units)
        return say_error(out, units.error(), o.json);
    std::vector<session::ListedUnit> chosen;
    for (auto const& id : o.units) {
        auto const it = std::find_if(units->begin(), units->end(), [&](auto const& u) { return u.id == id; });
        if (it == units->end())
            return say_error(out, {Error::Code::not_found, id, "there is no such unit"}, o.json);
        chosen.push_back(*it);
    }
    auto files = session::stick_files(chosen);
    if (!files)
        return say_error(out, files.error(), o.json);
    if (auto const fits = fits_target(*files, o.folder); !fits)
        return say_error(out, fits.error(), o.json);
    auto const work = session::prepare_stick(workspace, std::move(*files), o.folder, false);
    if (!work)
        return say_error(out, work.error(), o.json);
    auto const done = session::do_stick(workspace.disk(), *work);
    if (!done.set)
        return say_error(out, *done.error, o.json);
    if (auto const seen = session::TrustStore(workspace.journal()).see(*done.set, workspace.clock().now());
        !seen)
        return say_error(out, seen.error(), o.json);
    if (o.json)
        say_json(out, written_json(done));
    else
        out << fmt::format("{}: {} files, units: {}, written to {}, read back and verified. {}\n",
                           done.set->set, done.set->files.size(), chosen.size(), o.folder, done.away.say);
    if (!o.json)
        for (auto const& note : done.notes)
            out << note << '\n';
    return 0;
}

int stick_import_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    auto& workspace = *(*bench)->workspace;
    auto const trust = session::tablet_trust(workspace);
    if (!trust)
        return say_error(out, trust.error(), o.json);
    auto const set = o.set.empty() ? media::newest_valid_set(workspace.disk(), o.folder, *trust)
                                   : media::verify_set(workspace.disk(), o.folder, o.set, *trust);
    if (!set) {
        say_error(out, set.error(), o.json);
        return is_refusal(set.error()) ? 1 : 2;
    }
    auto const done = session::import_set(workspace, *set, o.who, o.stale);
    if (!done) {
        say_error(out, done.error(), o.json);
        return is_refusal(done.error()) ? 1 : 2;
    }
    if (auto const seen = session::TrustStore(workspace.journal()).see(*set, workspace.clock().now()); !seen)
        return say_error(out, seen.error(), o.json);
    if (o.json)
        say_json(out, {{"set", set->set},
                       {"profiles", done->profiles},
                       {"units", done->units},
                       {"there_already", done->there_already}});
    else
        out << fmt::format("{}: {} profiles and {} units taken over, {} were there already\n", set->set,
                           done->profiles.size(), done->units.size(), done->there_already.size());
    return 0;
}

} // namespace isochore::cli
