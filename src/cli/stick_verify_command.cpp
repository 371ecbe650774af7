#include "cli/answers.h"
#include "cli/stick_trust.h"
#include "files/profile_answers.h"
#include "media/stick_answers.h"
#include "media/stick_content.h"
#include "json/read.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

void show_text(std::ostream& out, media::VerifiedSet const& set, std::vector<Error> const& faults)
{
    out << fmt::format("{} of {}, signed by {}, key {}\n", set.set, set.made_at, set.signed_by,
                       media::key_fingerprint(set.key));
    for (auto const& f : set.files)
        out << fmt::format("  {:<12} {:>7} bytes  SHA-256 {}\n", f.name, f.bytes.size(), sha256_hex(f.bytes));
    for (auto const& r : set.refused)
        out << fmt::format("{} passed over{}: {}\n", r.set, r.unfinished ? ", unfinished" : "",
                           r.error.detail);
    for (auto const& note : set.notes)
        out << note << '\n';
    say_faults(out, faults);
    if (set.stale)
        out << "This set is stale: do not load it before the newer one is accounted for.\n";
    else if (faults.empty())
        out << "Verified: every file has the hash its signed list gives.\n";
}

} // namespace

bool is_refusal(Error const& error)
{
    return error.code != Error::Code::not_found && error.code != Error::Code::io &&
           error.code != Error::Code::device;
}

int stick_verify_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    auto const trust = stick_trust(*disk, places, o);
    if (!trust)
        return say_error(out, trust.error(), o.json);
    auto const set = o.set.empty() ? media::newest_valid_set(*disk, o.folder, *trust)
                                   : media::verify_set(*disk, o.folder, o.set, *trust);
    if (!set) {
        say_error(out, set.error(), o.json);
        return is_refusal(set.error()) ? 1 : 2;
    }
    auto const faults = media::read_content(*set).report.errors;
    if (o.json) {
        Json answer = media::to_json(*set);
        answer["faults"] = files::to_json(faults);
        say_json(out, answer);
    } else {
        show_text(out, *set, faults);
    }
    return set->stale || !faults.empty() ? 1 : 0;
}

} // namespace isochore::cli
