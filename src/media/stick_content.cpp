#include "media/stick_content.h"
#include "files/profile_file.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::media {
namespace {

using Code = Error::Code;

bool same_profile(model::Profile const& a, model::Profile const& b)
{
    return a.id == b.id && a.revision == b.revision;
}

/// Adds a profile once. Errors: invalid_input where it fails its check or stands there with other contents.
Result<void> add_profile(std::vector<model::Profile>& list, model::Profile const& profile)
{
    auto const there =
        std::find_if(list.begin(), list.end(), [&](auto const& p) { return same_profile(p, profile); });
    if (there != list.end()) {
        if (files::write_profile(*there) == files::write_profile(profile))
            return {};
        return fail(Code::invalid_input, profile.id,
                    fmt::format("revision {} is given twice with different contents", profile.revision));
    }
    if (auto const check = files::check_profile(profile, profile.id); !check.ok())
        return fail(check.errors.front().code, check.errors.front().where, check.errors.front().detail);
    list.push_back(profile);
    return {};
}

Result<void> check_unit(UnitSettings const& settings, UnitValues const& values)
{
    if (!settings.missing.empty())
        return fail(settings.missing.front().code, settings.missing.front().where,
                    settings.missing.front().detail);
    if (!settings.conflicts.empty())
        return fail(Code::invalid_input, values.job + ": " + settings.conflicts.front().path,
                    settings.conflicts.front().detail);
    return {};
}

std::string file_name(char kind, std::size_t number)
{
    return fmt::format("{}{:07d}.JSN", kind, number);
}

} // namespace

Result<std::vector<SetFile>> stick_content(std::vector<model::Profile> const& profiles,
                                           std::vector<UnitOnStick> const& units)
{
    std::vector<model::Profile> all;
    for (auto const& profile : profiles)
        if (auto const added = add_profile(all, profile); !added)
            return tl::unexpected(added.error());
    std::vector<SetFile> set;
    for (std::size_t i = 0; i < units.size(); ++i) {
        auto const& unit = units[i];
        if (auto const added = add_profile(all, unit.profile); !added)
            return tl::unexpected(added.error());
        auto const settings = layer(unit.profile, unit.values);
        if (auto const ready = check_unit(settings, unit.values); !ready)
            return tl::unexpected(ready.error());
        set.push_back({file_name('U', i + 1), write_unit_values(unit.values)});
        set.push_back({file_name('S', i + 1), write_settings(unit.profile, unit.values, settings)});
    }
    for (std::size_t i = 0; i < all.size(); ++i)
        set.push_back({file_name('P', i + 1), files::write_profile(all[i])});
    std::sort(set.begin(), set.end(), [](SetFile const& a, SetFile const& b) { return a.name < b.name; });
    return set;
}

StickContent read_content(VerifiedSet const& set)
{
    StickContent content;
    for (auto const& file : set.files) {
        files::FileReport report;
        if (file.name.front() == 'P') {
            auto profile = files::read_profile(file.bytes, file.name, report);
            if (report.ok())
                report = files::check_profile(profile, file.name);
            if (report.ok())
                content.profiles.emplace_back(file.name, std::move(profile));
        } else if (file.name.front() == 'U') {
            auto unit = read_unit_values(file.bytes, file.name, report);
            if (report.ok())
                content.units.emplace_back(file.name, std::move(unit));
        } else if (file.name.front() == 'S') {
            if (auto const settings = read_settings(file.bytes, file.name); !settings)
                report.errors.push_back(settings.error());
        } else {
            report.errors.push_back({Code::unknown, file.name, "this kind of file is not known"});
        }
        content.report.errors.insert(content.report.errors.end(), report.errors.begin(), report.errors.end());
    }
    return content;
}

} // namespace isochore::media
