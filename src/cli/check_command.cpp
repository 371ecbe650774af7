#include "cli/commands.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

int print(std::ostream& out, files::FileReport const& report)
{
    for (auto const& e : report.errors)
        out << e.where << ": " << e.detail << '\n';
    return static_cast<int>(report.errors.size());
}

int check_profile_file(disk::Disk& disk, disk::Path const& file, std::ostream& out)
{
    files::FileReport report;
    auto const text = disk.read(file, 1u << 20);
    if (!text) {
        report.errors.push_back(text.error());
        return print(out, report);
    }
    model::Profile const profile = files::read_profile(*text, file.filename().string(), report);
    if (report.ok())
        report = files::check_profile(profile, file.filename().string());
    return print(out, report);
}

} // namespace

int check_command(Places const& places, std::vector<std::string> const& names, std::ostream& out)
{
    auto const disk = disk::system_disk();
    int faults = 0, checked = 0;
    auto const folders = places.folders();
    if (names.empty()) {
        auto const loaded = files::read_checklists(*disk, folders.checklists, session::calculation_names());
        faults += print(out, loaded.report);
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
        if (text && text->find("isochore.checklist/") != std::string::npos) {
            files::FileReport report;
            [[maybe_unused]] auto const stage = files::read_stage(*text, path.filename().string(), report);
            faults += print(out, report);
        } else {
            faults += check_profile_file(*disk, path, out);
        }
    }
    out << fmt::format("{} files checked, {} faults\n", checked, faults);
    return faults ? 1 : 0;
}

} // namespace isochore::cli
