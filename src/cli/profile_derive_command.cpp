#include "cli/answers.h"
#include "cli/profile_find.h"
#include "files/profile_answers.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {

int profile_derive_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    auto const entry = find_profile(*disk, places, o, o.profile);
    if (!entry)
        return say_error(out, entry.error(), o.json);
    auto const derived = model::derive(entry->profile);
    if (o.json) {
        say_json(out, files::to_json(derived));
    } else {
        for (auto const& v : derived.values)
            out << fmt::format("{:<44} {:>10} {:<6} {}\n", v.label, show_number(v.shown(), 5),
                               v.unit == "1" ? "" : v.unit, v.from);
        say_faults(out, derived.problems);
    }
    return derived.problems.empty() ? 0 : 1;
}

} // namespace isochore::cli
