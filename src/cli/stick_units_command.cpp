#include "cli/answers.h"
#include "cli/bench.h"
#include "cli/stick_units.h"
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

/// As a reader finds the set, with what the writer has to say beside it.
Json written_json(session::StickOutcome const& done)
{
    Json answer = media::to_json(*done.set);
    for (auto const& note : done.notes)
        answer["notes"].push_back(note);
    return answer;
}

} // namespace

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
        if (o.json)
            continue;
        out << fmt::format("{:<24} {:<12} {:<8} {}\n", unit.id, unit.values.text("unit.serial"),
                           unit.values.profile_id, unit.ready() ? "ready" : "not ready");
        say_problems(unit, out);
    }
    if (o.json)
        say_json(out, list);
    else if (units->empty())
        out << "No unit is known yet. \"isochore stick unit --profile ID --value PATH=TEXT\" prepares one.\n";
    return std::all_of(units->begin(), units->end(), [](auto const& unit) { return unit.ready(); }) ? 0 : 1;
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
        if (it == units->end()) {
            auto const all = session::list_units(workspace, nullptr, nullptr);
            return say_error(out, no_such_unit(id, all ? ids_of(*all) : std::vector<std::string>()).value(),
                             o.json);
        }
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
