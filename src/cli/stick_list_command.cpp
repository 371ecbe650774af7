#include "cli/answers.h"
#include "cli/stick_trust.h"
#include "media/stick_answers.h"
#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {

using State = media::SetSummary::State;

int stick_list_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    auto const trust = stick_trust(*disk, places, o);
    if (!trust)
        return say_error(out, trust.error(), o.json);
    auto const sets = media::list_sets(*disk, o.folder, *trust);
    if (!sets)
        return say_error(out, sets.error(), o.json);
    if (o.json)
        say_json(out, media::to_json(*sets));
    else
        for (auto const& s : *sets) {
            out << fmt::format("{} {:<10}", s.set, media::state_name(s.state));
            if (s.state == State::valid)
                out << fmt::format(
                    " {}, {} files, {} bytes, by {}{}", s.made_at, s.files, s.bytes, s.signed_by,
                    s.stale ? ", STALE: this key has signed a newer set, of " + s.seen : std::string());
            else
                out << " " << s.why;
            out << '\n';
        }
    return std::any_of(sets->begin(), sets->end(),
                       [](auto const& s) { return s.state == State::refused || s.state == State::untrusted; })
               ? 1
               : 0;
}

} // namespace isochore::cli
