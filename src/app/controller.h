#pragma once
#include "app/desk.h"
#include "app/library_wait.h"
#include "window/program.h"

namespace isochore::app {

/// The program behind the sheet: which page is open, the overlays over it, and the way from an intent to the
/// session. Window and rehearsals drive it through Program.
class Controller final : public window::Program {
public:
    /// `first` is the page to begin with.
    Controller(session::Workspace& workspace, disk::Path text_folder, drawing::MeasureText measure,
               Settings settings);
    void open(std::unique_ptr<Page> first);
    [[nodiscard]] Desk& desk() { return m_desk; }

    screens::SheetView view(screens::PictureSpace space) override;
    void act(screens::Intent const& intent) override;
    [[nodiscard]] window::Settings settings() override;
    [[nodiscard]] std::optional<double> wake_in_s() override;
    [[nodiscard]] bool wants_quit() override { return m_desk.quit; }

private:
    void turn_page();
    void learn_titles();
    void verify_a_little();

    Desk m_desk;
    std::unique_ptr<Page> m_page;
    LibraryWait m_library;         ///< what keeps the page from being shown yet
    std::int64_t m_unverified = 1; ///< entries of the store not yet held against their chain since the start
    model::Checklists const* m_learned = nullptr; ///< whose titles the words know
    std::string m_learned_in;                     ///< in this language
};

} // namespace isochore::app
