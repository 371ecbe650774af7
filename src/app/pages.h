#pragma once
#include "app/desk.h"
#include "app/profile_finder.h"
#include "session/outage_list.h"
#include <set>

/// The sheets besides the step, the stick and the signing: each has its own .cpp of the same name.
namespace isochore::app {

/// All outages, the latest first.
class JobsPage final : public Page {
public:
    JobsPage();
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    /// A long list is read on in idle moments.
    void tick(Desk& desk) override;
    [[nodiscard]] std::optional<double> wake_in_s() const override;

private:
    using Show = session::OutageList::Show;
    void fill_rows(Desk& desk, screens::ListView& list) const;
    void open(Desk& desk, std::string const& job);

    std::string m_search;
    Show m_show = Show::in_hand;
    std::size_t m_most; ///< rows shown
    std::optional<Result<session::OutageList>> m_outages;
};

/// What moving the outage to the newest checklists and profile changes, and the way to do it.
class MovePage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return !m_plan; }

private:
    void confirm(Desk& desk);
    std::optional<Result<session::PlannedMove>> m_plan;
};

/// A new outage: profile first, then the facts.
class NewOutagePage final : public Page {
public:
    NewOutagePage();
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return true; }

private:
    void choose(Desk& desk, std::string const& id);
    void begin(Desk& desk);
    void accept(Desk& desk);
    void begin_with(Desk& desk, session::AcceptedRelease const& accepted);
    ProfileFinder m_finder{true};
    std::string m_profile;
    std::map<std::string, std::string, std::less<>> m_facts;
    std::string m_problem;
};

/// What the outage was doing when it was last open; shown once after a resume.
class ResumePage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
};

/// All steps with search; one stage first.
class JumpPage final : public Page {
public:
    explicit JumpPage(std::string stage = {}) : m_stage(std::move(stage)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    std::string m_stage, m_search;
};

/// Everything that is not the next step.
class MenuPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
};

/// All entries of the outage, the latest first.
class EntriesPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
};

/// The library of profiles: search as you type, facets with counts; half-done drafts stand first.
class LibraryPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return true; }

private:
    void look_up(Desk& desk);
    void search(Desk& desk);
    [[nodiscard]] screens::ListView values_of_facet(Desk& desk) const;

    std::string m_facet; ///< whose values are being chosen from
    int m_reading = -1;  ///< of the library that the rows below were made from
    std::optional<std::string> m_typing;
    files::LibraryFilter m_shown; ///< what the rows below were narrowed by
    std::vector<screens::ListRow> m_rows;
    std::vector<files::Facet> m_facets;
    std::size_t m_found = 0, m_all = 0;
};

/// People with a PIN.
class PeoplePage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
};

class NewPersonPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    std::string m_name, m_role = "supervisor", m_pin;
};

class SettingsPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
};

/// What the program is, its cautions, what its signature means.
class AboutPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
};

/// Back to where the person was: the step of the outage in hand, else the list of outages.
void go_home(Desk& desk);

/// Says that an outage could not be opened, and, where its entries are damaged, what to do about it.
void say_damaged(Desk& desk, Error const& error);
/// What is asked after a long break, before anything is entered.
[[nodiscard]] std::string look_again_text(Desk& desk, model::Step const& step);

/// Opens the keyboard for a search text.
void type_search(Desk& desk, std::string& search);
/// `wanted` stands in `text`, whatever the case.
[[nodiscard]] bool contains_words(std::string const& text, std::string const& wanted);

/// Settings in the data folder; broken ones are said once and left alone.
[[nodiscard]] Settings load_settings(disk::Disk& disk, disk::Path const& data, std::string& problem);
[[nodiscard]] Result<void> save_settings(disk::Disk& disk, disk::Path const& data, Settings const& settings);

/// Asks for a person's name and, where `pin` is wanted, the PIN; calls `then(name, pin_checked)`.
void ask_person(Desk& desk, std::string title, bool pin, std::function<void(std::string, bool)> then);

} // namespace isochore::app
