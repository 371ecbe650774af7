#pragma once
#include "app/background.h"
#include "app/desk.h"
#include "session/workspace.h"

namespace isochore::app {

/// Holds back a page that needs the library until it is read. A small one is there within a blink; a large
/// one is read beside the window, which says how far it is and can be told to leave it.
class LibraryWait {
public:
    /// True while `page` has to wait: then the sheet says what for.
    [[nodiscard]] bool holds(Desk& desk, Page const& page, screens::SheetView& sheet);
    /// While a page is held: cancelling leaves the reading, and the page.
    void act(Desk& desk, screens::Intent const& intent);
    [[nodiscard]] bool holding() const { return m_reading.running(); }

private:
    void finish(Desk& desk, session::Workspace::LibraryRead read);
    Background<session::Workspace::LibraryRead> m_reading;
};

} // namespace isochore::app
