#pragma once
#include "app/entry.h"
#include "app/words.h"
#include "session/plan.h"
#include "session/workspace.h"
#include <functional>
#include <map>
#include <memory>
#include <optional>

namespace isochore::app {

/// A question over the sheet: nothing else can be touched until it is answered.
struct Question {
    std::string title, text;
    std::vector<screens::ActionView> actions;
    std::function<void(std::string const& action)> answered; ///< also for "cancel"
};

/// What the person set; kept in the data folder.
struct Settings {
    std::string theme = "print"; ///< "print", "blueprint", "plain"
    std::string language = "en";
    bool sound = true; ///< a reading that is due is called out
    double dpi = 0.0;  ///< 0: from the system
};

class Page;

/// What all pages share: the work in hand, the overlays, where to go next.
struct Desk {
    session::Workspace& workspace;
    disk::Path text_folder;
    Settings settings;
    Words words;
    drawing::MeasureText measure; ///< widths of text, so that pictures are laid out as they are painted
    std::unique_ptr<session::Outage> outage;
    Entry entry;
    std::optional<Question> question;
    std::map<std::string, std::string, std::less<>>
        drafts;                 ///< half-done values by step, kept while turning pages
    std::unique_ptr<Page> next; ///< the page to turn to after this intent
    bool quit = false;
    files::LibraryFilter library_filter{}; ///< how the library was narrowed, kept while turning pages
    session::LivePlan plan{};              ///< the outage in hand against its window

    void go(std::unique_ptr<Page> page);
    void ask(std::string title, std::string text, std::string yes, std::function<void()> then);
    /// An error in the language of the sheet, with its place.
    [[nodiscard]] std::string fault(Error const& error) const;
    /// Shows an error as a question with one answer, and changes nothing.
    void report(Error const& error);
    void say(std::string title, std::string text);
};

/// One sheet. Pages hold only what is half done; everything confirmed is in the journal.
class Page {
public:
    virtual ~Page() = default;
    virtual void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) = 0;
    virtual void act(Desk& desk, screens::Intent const& intent) = 0;
    /// Called when the loop wakes; true while there is more to do in the background.
    [[nodiscard]] virtual std::optional<double> wake_in_s() const { return std::nullopt; }
    virtual void tick(Desk&) {}
    /// It looks into the library of profiles at once: the controller has it read before the page is shown.
    [[nodiscard]] virtual bool needs_library() const { return false; }
};

} // namespace isochore::app
