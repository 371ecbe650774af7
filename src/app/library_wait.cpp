#include "app/library_wait.h"
#include "app/outage_frame.h"
#include "app/page_stick.h"
#include "app/pages.h"

namespace isochore::app {

using Phase = media::WriteProgress::Phase;

bool LibraryWait::holds(Desk& desk, Page const& page, screens::SheetView& sheet)
{
    if (!m_reading.running() && page.needs_library() && !desk.workspace.library_is_read()) {
        m_reading.start([read = desk.workspace.library_reader()](media::Progress const& progress) {
            return read([&progress](std::size_t done, std::size_t total, std::string_view file) {
                return progress({Phase::reading, done, total, std::string(file)});
            });
        });
        // Whoever taps sees no flicker of a bar, and waits no longer than they notice.
        constexpr std::chrono::milliseconds blink{60};
        m_reading.wait(blink);
    }
    if (auto read = m_reading.take())
        finish(desk, std::move(*read));
    if (!m_reading.running())
        return false;
    frame_stick(desk, sheet);
    sheet.progress = progress_view(desk, desk.words("Reading the library"), m_reading.at());
    sheet.busy = true;
    return true;
}

void LibraryWait::finish(Desk& desk, session::Workspace::LibraryRead read)
{
    bool const left = read.library->cancelled;
    desk.workspace.take_library(std::move(read));
    if (left)
        go_home(desk);
}

void LibraryWait::act(Desk&, screens::Intent const& intent)
{
    if (intent.kind == screens::Intent::Kind::action && intent.id == "cancel")
        m_reading.cancel();
}

} // namespace isochore::app
