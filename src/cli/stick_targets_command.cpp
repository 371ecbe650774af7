#include "cli/answers.h"
#include "cli/stick_commands.h"
#include "media/stick_answers.h"
#include "session/stick_targets.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
void say_targets(std::ostream& out, media::StickSearch const& search, bool json)
{
    if (json) {
        say_json(out, media::to_json(search));
        return;
    }
    for (auto const& t : search.targets) {
        out << t.name() << ": ";
        if (t.use == media::StickTarget::Use::ready)
            out << fmt::format("{}, {:.1f} MB free\n", t.folder.string(),
                               static_cast<double>(t.space.free) / 1e6);
        else
            out << "not usable. " << t.why << '\n';
        for (auto const& warning : t.warnings)
            out << "  " << warning << '\n';
    }
    if (search.targets.empty())
        out << "No removable volume is there.\n";
    for (auto const& note : search.notes)
        out << note << '\n';
}

int stick_targets_command(StickOptions const& o, std::ostream& out)
{
    auto const view = media::SystemView::of_this_machine();
    if (!view)
        return say_error(out, view.error(), o.json);
    say_targets(out, media::find_sticks(*view, session::usb_devices()), o.json);
    return 0;
}

} // namespace isochore::cli
