#include "cli/answers.h"
#include "cli/profile_find.h"
#include "files/profile_answers.h"
#include "files/profile_signing.h"
#include "model/profile_lifecycle.h"
#include "seal/keys.h"
#include "session/clock.h"
#include <memory>
#include <ostream>

namespace isochore::cli {
namespace {

/// The profile one step on, its new sign-off signed with the key of this tablet.
Result<model::Profile> signed_step(disk::Disk& disk, Places const& places, model::Profile const& profile,
                                   ProfileOptions const& o)
{
    session::SystemClock clock;
    auto next = model::advance(profile, o.to, o.who, session::calendar_day(session::stamp(clock.now())));
    if (!next)
        return next;
    if (auto const made = disk.make_directory(places.data_folder()); !made)
        return tl::unexpected(made.error());
    auto key = seal::load_or_make_key(disk, places.data_folder());
    if (!key)
        return tl::unexpected(key.error());
    return files::sign_signoff(
        std::move(*next), {key->public_key(), [&key](std::string_view bytes) { return key->sign(bytes); }});
}

} // namespace

int profile_release_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    auto const folder = profile_folder(places, o);
    auto const entry = find_profile(*disk, folder, o.profile);
    if (!entry)
        return say_error(out, entry.error(), o.json);
    // A faulty profile may still be withdrawn: that is how it goes out of use.
    if (!entry->faults.empty() && o.to != "withdrawn") {
        if (o.json)
            say_json(out, {{"faults", files::to_json(entry->faults)}});
        else
            say_faults(out, entry->faults);
        return 1;
    }
    auto const next = signed_step(*disk, places, entry->profile, o);
    if (!next)
        return say_error(out, next.error(), o.json);
    auto const file = files::store_profile(*disk, folder, *next);
    if (!file)
        return say_error(out, file.error(), o.json);
    if (o.json)
        say_json(out, {{"id", next->id},
                       {"revision", next->revision},
                       {"status", next->status},
                       {"file", *file},
                       {"key", next->signoffs.back().key}});
    else
        out << next->id << " revision " << next->revision << ": " << next->status << " by " << o.who
            << ", signed with key " << seal::fingerprint_of(next->signoffs.back().key) << ", " << *file
            << '\n';
    return 0;
}

} // namespace isochore::cli
