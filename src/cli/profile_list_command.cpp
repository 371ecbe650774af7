#include "cli/answers.h"
#include "cli/profile_find.h"
#include "cli/stick_trust.h"
#include "files/profile_answers.h"
#include "session/profile_release.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

std::string line_of(files::LibraryEntry const& entry, session::ReleaseStanding const& standing)
{
    auto const& p = entry.profile;
    std::string line = fmt::format("{:<20} r{:<3} {:<10} {}", p.id, p.revision, p.status, p.title);
    if (p.invented)
        line += " (invented)";
    if (p.status == "released" && standing.keys != session::ReleaseStanding::Keys::known)
        line += ", " + standing.in_short();
    if (p.status == "released" && standing.withdrawn > 0)
        line += fmt::format(", revision {} was withdrawn", standing.withdrawn);
    if (!entry.faults.empty())
        line += fmt::format(", {} faults", entry.faults.size());
    return line;
}

int say_counts(std::vector<files::Facet> const& facets, bool json, std::ostream& out)
{
    Json answer = Json::array();
    for (auto const& facet : facets) {
        Json values = Json::object();
        if (!json)
            out << facet.label << '\n';
        for (auto const& [value, count] : facet.values) {
            values[value] = count;
            if (!json)
                out << fmt::format("  {:<20} {}\n", value, count);
        }
        answer.push_back({{"path", facet.path}, {"label", facet.label}, {"values", std::move(values)}});
    }
    if (json)
        say_json(out, answer);
    return 0;
}

} // namespace

int profile_list_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    if (auto const items = disk->list(profile_folders(places, o).front()); !items)
        return say_error(out, items.error(), o.json);
    auto const library = library_read(*disk, places, o);
    auto const filter = library_filter(o);
    if (auto const unknown = unknown_facet(library, filter); !unknown)
        return say_error(out, unknown.error(), o.json);
    if (o.counts)
        return say_counts(files::facets(library, filter), o.json, out);
    auto const found = files::search(library, filter);
    auto const trust = stick_trust(*disk, places, {});
    if (!trust)
        return say_error(out, trust.error(), o.json);
    if (o.json) {
        Json list = Json::array();
        for (auto const* entry : found) {
            list.push_back(files::to_json(*entry));
            auto const standing = session::standing_of(*entry, library, *trust);
            list.back()["release"] = entry->profile.status == "released" ? standing.in_short() : "";
            list.back()["withdrawn_above"] = standing.withdrawn;
        }
        say_json(out, {{"profiles", list}, {"errors", files::to_json(library.errors)}});
    } else {
        for (auto const* entry : found)
            out << line_of(*entry, session::standing_of(*entry, library, *trust)) << '\n';
        if (found.empty())
            out << "No profile is found by that.\n";
        say_faults(out, library.errors);
    }
    return library.errors.empty() ? 0 : 1;
}

} // namespace isochore::cli
