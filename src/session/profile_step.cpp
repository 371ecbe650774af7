#include "session/profile_step.h"
#include "disk/whole_file.h"
#include "files/profile_signing.h"
#include "model/profile_lifecycle.h"
#include "seal/keys.h"
#include "session/profile_note.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::session {

using Code = Error::Code;

Result<model::Profile> signed_step(disk::Disk& disk, disk::Path const& data, model::Profile const& profile,
                                   std::string_view to, std::string_view person, std::string_view day)
{
    auto next = model::advance(profile, to, person, day);
    if (!next)
        return next;
    auto key = seal::load_or_make_key(disk, data);
    if (!key)
        return tl::unexpected(key.error());
    return files::sign_signoff(
        std::move(*next), {key->public_key(), [&key](std::string_view bytes) { return key->sign(bytes); }});
}

Result<bool> pins_are_kept(Workspace& workspace)
{
    auto const people = seal::People(workspace.journal()).all();
    if (!people)
        return tl::unexpected(people.error());
    return std::any_of(people->begin(), people->end(), [](auto const& p) { return !p.withdrawn; });
}

Result<seal::Person> person_by_pin(Workspace& workspace, std::string_view name, std::string_view pin)
{
    seal::People people(workspace.journal());
    auto const all = people.all();
    if (!all)
        return tl::unexpected(all.error());
    for (auto const& p : *all)
        if (!p.withdrawn && model::same_person(p.name, name))
            return people.check_pin(p.id, pin, workspace.clock().now().utc_ms);
    return fail(Code::not_found, "people", fmt::format("nobody called {} has a PIN on this tablet", name));
}

Result<void> may_answer(seal::Person const& person)
{
    if (person.role == seal::Role::crew)
        return fail(
            Code::denied, "people",
            fmt::format("{} is of the crew; an engineer or a supervisor answers for a profile", person.name));
    return {};
}

Result<model::Profile> take_step(Workspace& workspace, std::string_view id, int revision, std::string_view to,
                                 seal::Person const& person)
{
    auto const* entry = workspace.find_profile(id, revision);
    if (!entry)
        return fail(Code::not_found, std::string(id), "there is no such revision in the library");
    if (!entry->faults.empty() && to != "withdrawn")
        return fail(Code::invalid_input, entry->file, all_faults({entry->faults}));
    if (auto const allowed = may_answer(person); !allowed)
        return tl::unexpected(allowed.error());
    auto next = signed_step(workspace.disk(), workspace.folders().data, entry->profile, to, person.name,
                            calendar_day(stamp(workspace.clock().now())));
    if (!next)
        return next;
    if (auto const made = disk::make_durable_directory(workspace.disk(), workspace.own_profiles()); !made)
        return tl::unexpected(made.error());
    auto const file =
        files::store_profile(workspace.disk(), workspace.own_profiles(), *next, workspace.library());
    if (!file)
        return tl::unexpected(file.error());
    workspace.forget_library();
    if (auto const noted = note_profile(workspace, "profile_step", *next, person.name, *file); !noted)
        return tl::unexpected(noted.error());
    return next;
}

} // namespace isochore::session
