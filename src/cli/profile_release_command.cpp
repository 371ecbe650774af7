#include "cli/answers.h"
#include "cli/pin_input.h"
#include "cli/profile_find.h"
#include "files/profile_answers.h"
#include "model/profile_lifecycle.h"
#include "seal/keys.h"
#include "session/profile_note.h"
#include "session/profile_step.h"
#include <ostream>

namespace isochore::cli {
namespace {

/// The step, signed, in its file and in the journal; with a PIN wherever this tablet keeps PINs.
struct Taken {
    model::Profile profile;
    std::string file;
    bool with_pin = false;
};

Result<Taken> take(session::Workspace& workspace, files::LibraryEntry const& entry, disk::Path const& folder,
                   files::ProfileLibrary const& library, ProfileOptions const& o)
{
    Taken taken;
    auto const kept = session::pins_are_kept(workspace);
    if (!kept)
        return tl::unexpected(kept.error());
    taken.with_pin = *kept;
    std::string who = o.who;
    // What cannot be signed anyway must not cost a try.
    if (auto const follows = model::advance(entry.profile, o.to, o.who, entry.profile.date); !follows)
        return tl::unexpected(follows.error());
    if (taken.with_pin) {
        auto const pin = read_pin(o.pin_file, o.pin_fd);
        if (!pin)
            return tl::unexpected(pin.error());
        auto const person = session::person_by_pin(workspace, o.who, *pin);
        if (!person)
            return tl::unexpected(person.error());
        if (auto const allowed = session::may_answer(*person); !allowed)
            return tl::unexpected(allowed.error());
        who = person->name;
    }
    auto& disk = workspace.disk();
    auto next = session::signed_step(disk, workspace.folders().data, entry.profile, o.to, who,
                                     session::calendar_day(session::stamp(workspace.clock().now())));
    if (!next)
        return tl::unexpected(next.error());
    auto const file = files::store_profile(disk, folder, *next, library);
    if (!file)
        return tl::unexpected(file.error());
    if (auto const noted = session::note_profile(workspace, "profile_step", *next, who, *file); !noted)
        return tl::unexpected(noted.error());
    taken.profile = std::move(*next);
    taken.file = *file;
    return taken;
}

void say_taken(std::ostream& out, Taken const& taken, bool json)
{
    auto const& p = taken.profile;
    auto const& last = p.signoffs.back();
    if (json) {
        say_json(out, {{"id", p.id},
                       {"revision", p.revision},
                       {"status", p.status},
                       {"file", taken.file},
                       {"pin", taken.with_pin},
                       {"key", last.key}});
        return;
    }
    out << p.id << " revision " << p.revision << ": " << p.status << " by " << last.person
        << ", signed with key " << seal::fingerprint_of(last.key) << ", " << taken.file << '\n';
    if (!taken.with_pin)
        out << "No PIN was asked for: nobody on this tablet has one. The name is only said, not proven.\n";
}

} // namespace

int profile_release_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    auto const entry = find_profile(*disk, places, o, o.profile);
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
    auto const folder = writable_profiles(*disk, places, o);
    if (!folder)
        return say_error(out, folder.error(), o.json);
    session::SystemClock clock;
    auto const workspace = session::Workspace::open(places.folders(), clock, *disk);
    if (!workspace)
        return say_error(out, workspace.error(), o.json);
    auto const taken = take(**workspace, *entry, *folder, library_read(*disk, places, o), o);
    if (!taken)
        return say_error(out, taken.error(), o.json);
    say_taken(out, *taken, o.json);
    return 0;
}

} // namespace isochore::cli
