#include "session/profile_transfer.h"
#include "disk/whole_file.h"
#include "files/nameplate_help.h"
#include "seal/keys.h"
#include <fmt/format.h>

namespace isochore::session {
namespace {

using Code = Error::Code;
constexpr std::size_t largest_table = 16u << 20, largest_file = 1u << 20;
constexpr char const* export_folder = "profiles";

/// Adds what standards say where the nameplate does not, unconfirmed and with its source.
Result<void> complete(disk::Disk& disk, disk::Path const& help_file, files::NameplateImport& import)
{
    auto const text = disk.read(help_file, largest_file);
    if (!text)
        return tl::unexpected(text.error());
    files::FileReport report;
    auto const help = files::read_nameplate_help(*text, help_file.filename().string(), report);
    if (!report.ok())
        return tl::unexpected(report.errors.front());
    for (auto& row : import.rows)
        if (row.taken) {
            row.profile = files::complete_profile(std::move(row.profile), help);
            row.open = files::check_profile(row.profile, row.id).errors;
        }
    return {};
}

/// Stores the drafts. What is in the library already with other values stays, unless it is to be replaced;
/// a checked or released revision stays in any case.
void store(disk::Disk& disk, disk::Path const& into, bool replace, files::ProfileLibrary const& library,
           files::Advance const& advance, files::NameplateImport& import)
{
    std::size_t done = 0;
    bool go_on = true;
    for (auto& row : import.rows) {
        if (!row.taken)
            continue;
        go_on = go_on && (!advance || advance(done++, import.rows.size(), row.id));
        if (!go_on) {
            row.refused.push_back({Code::denied, row.id, "it was cancelled before this row"});
            row.taken = false;
            continue;
        }
        auto const* there = library.find(row.profile.id, row.profile.revision);
        bool const other = there && files::write_profile(there->profile) != files::write_profile(row.profile);
        if (other && !replace)
            row.refused.push_back({Code::denied, row.id,
                                   "this profile is there already with other values; only when asked does a "
                                   "draft take the place of a draft"});
        else if (auto const stored = files::store_profile(disk, into, row.profile, library); !stored)
            row.refused.push_back(stored.error());
        row.taken = row.refused.empty();
    }
}

Result<void> own_folder(Workspace& workspace)
{
    return disk::make_durable_directory(workspace.disk(), workspace.own_profiles());
}

files::ImportLine exported(disk::Disk& disk, disk::Path const& folder, files::LibraryEntry const& entry)
{
    auto const& p = entry.profile;
    files::ImportLine line{fmt::format("{}.r{}.json", p.id, p.revision), p.id, p.revision, false, {}};
    auto const bytes = disk.read(entry.folder / entry.file, largest_file);
    if (!bytes) {
        line.why = bytes.error().detail;
        return line;
    }
    bool const there = disk.exists(folder / line.file);
    if (auto const kept = disk::keep_whole(disk, folder / line.file, *bytes); !kept)
        line.why = there ? "another file of that name is there; it was left as it is" : kept.error().detail;
    else if (there)
        line.why = files::import_known;
    else
        line.taken = true;
    return line;
}

} // namespace

Result<files::NameplateImport> import_table(disk::Disk& disk, disk::Path const& table, disk::Path const& help,
                                            disk::Path const& into, files::ProfileLibrary const& library,
                                            std::string_view day, TableImport const& how,
                                            files::Advance const& advance)
{
    auto const text = disk.read(table, largest_table);
    if (!text)
        return tl::unexpected(text.error());
    if (how.author.empty())
        return fail(Code::missing_input, "--who", "say who writes these drafts");
    auto import = files::read_nameplates(*text, table.filename().string(), how.author, day);
    if (how.complete)
        if (auto const done = complete(disk, help, import); !done)
            return tl::unexpected(done.error());
    store(disk, into, how.replace, library, advance, import);
    return import;
}

Result<files::NameplateImport> import_table(Workspace& workspace, disk::Path const& table,
                                            TableImport const& how)
{
    if (auto const made = own_folder(workspace); !made)
        return tl::unexpected(made.error());
    auto import = import_table(
        workspace.disk(), table, workspace.folders().profiles / "schema/nameplate.json",
        workspace.own_profiles(), workspace.library(), calendar_day(stamp(workspace.clock().now())), how);
    if (import)
        if (auto const noted = note_import(workspace, notes_of(*import), how.author, table); !noted)
            return tl::unexpected(noted.error());
    return import;
}

Result<std::vector<files::ImportLine>> import_folder(disk::Disk& disk, disk::Path const& from,
                                                     disk::Path const& into,
                                                     files::ProfileLibrary const& library,
                                                     files::Advance const& advance)
{
    auto const inner = from / export_folder;
    auto const source = disk.list(inner) ? inner : from;
    if (auto const items = disk.list(source); !items)
        return tl::unexpected(items.error());
    if (auto const made = disk::make_durable_directory(disk, into); !made)
        return tl::unexpected(made.error());
    return files::import_profiles(disk, source, into, library, seal::signature_holds, advance);
}

std::vector<ProfileNote> notes_of(files::NameplateImport const& import)
{
    std::vector<ProfileNote> notes;
    for (auto const& row : import.rows)
        if (row.taken)
            notes.push_back(note_of(row.profile));
    return notes;
}

std::vector<ProfileNote> notes_of(std::span<files::ImportLine const> lines)
{
    std::vector<ProfileNote> notes;
    for (auto const& line : lines)
        if (line.taken)
            notes.push_back({line.id, line.revision, line.status, line.sha256});
    return notes;
}

Result<void> note_import(Workspace& workspace, std::span<ProfileNote const> notes, std::string_view who,
                         disk::Path const& from)
{
    workspace.forget_library();
    return note_profiles(workspace, notes, who, from.filename().string());
}

Result<std::vector<files::ImportLine>> import_folder(Workspace& workspace, disk::Path const& from)
{
    auto lines = import_folder(workspace.disk(), from, workspace.own_profiles(), workspace.library());
    if (lines)
        if (auto const noted = note_import(workspace, notes_of(*lines), {}, from); !noted)
            return tl::unexpected(noted.error());
    return lines;
}

std::vector<std::string> tables_in(Workspace& workspace, disk::Path const& folder)
{
    std::vector<std::string> names;
    if (auto const items = workspace.disk().list(folder))
        for (auto const& item : *items)
            if (item.regular && item.name.size() > 4 &&
                (item.name.ends_with(".csv") || item.name.ends_with(".CSV")))
                names.push_back(item.name);
    return names;
}

Result<std::vector<files::ImportLine>> export_profiles(disk::Disk& disk, disk::Path const& target,
                                                       std::span<files::LibraryEntry const* const> entries,
                                                       files::Advance const& advance)
{
    if (auto const items = disk.list(target); !items)
        return tl::unexpected(items.error());
    auto const folder = target / export_folder;
    if (auto const made = disk::make_durable_directory(disk, folder); !made)
        return tl::unexpected(made.error());
    std::vector<files::ImportLine> lines;
    bool go_on = true;
    for (auto const* entry : entries) {
        go_on = go_on && (!advance || advance(lines.size(), entries.size(), entry->file));
        lines.push_back(go_on ? exported(disk, folder, *entry)
                              : files::ImportLine{entry->file, entry->profile.id, entry->profile.revision,
                                                  false, "it was cancelled before this file"});
    }
    return lines;
}

} // namespace isochore::session
