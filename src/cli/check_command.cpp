#include "cli/answers.h"
#include "cli/profile_find.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

int check_profile_file(disk::Disk& disk, disk::Path const& file, std::ostream& out)
{
    auto const entry = read_profile_file(disk, file);
    return say_faults(out, entry ? entry->faults : std::vector<Error>{entry.error()});
}

int check_stage_text(std::string const& text, disk::Path const& file, std::ostream& out)
{
    files::FileReport report;
    static_cast<void>(files::read_stage(text, file.filename().string(), report));
    return say_faults(out, report.errors);
}

} // namespace

int check_command(Places const& places, std::vector<std::string> const& names, std::ostream& out)
{
    auto const disk = disk::system_disk();
    int faults = 0, checked = 0;
    auto const folders = places.folders();
    if (names.empty()) {
        auto const loaded = files::read_checklists(*disk, folders.checklists, session::calculation_names());
        faults += say_faults(out, loaded.report.errors);
        checked += static_cast<int>(loaded.texts.size());
        if (auto const items = disk->list(folders.profiles))
            for (auto const& item : *items)
                if (item.regular && item.name.ends_with(".json") && !item.name.ends_with(".schema.json")) {
                    faults += check_profile_file(*disk, folders.profiles / item.name, out);
                    ++checked;
                }
    }
    for (auto const& name : names) {
        ++checked;
        disk::Path const path(name);
        auto const text = disk->read(path, 1u << 20);
        if (!text)
            return say_error(out, text.error());
        if (text->find("isochore.checklist/") != std::string::npos)
            faults += check_stage_text(*text, path, out);
        else
            faults += check_profile_file(*disk, path, out);
    }
    out << fmt::format("{} files checked, {} faults\n", checked, faults);
    return faults ? 1 : 0;
}

} // namespace isochore::cli
