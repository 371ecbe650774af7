#pragma once
#include "app/background.h"
#include "app/desk.h"
#include "app/profile_finder.h"
#include "app/transfer_report.h"
#include "session/profile_draft.h"
#include "session/profile_release.h"
#include "session/stick_targets.h"

/// The sheets of one profile. Each has its own .cpp, page_profile_*.cpp; the list of all is LibraryPage.
namespace isochore::app {

/// One revision: a summary with its isochores, all values, what follows from them, its history.
class ProfilePage final : public Page {
public:
    explicit ProfilePage(std::string id, int revision = 0) : m_id(std::move(id)), m_revision(revision) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return true; }

private:
    void act_action(Desk& desk, std::string const& action);
    void act_row(Desk& desk, std::string const& row);
    void take_step(Desk& desk);
    void copy(Desk& desk);

    std::string m_id;
    int m_revision; ///< 0: the newest
    std::string m_sheet = "summary";
    bool m_more = false; ///< what else can be done with it
    std::string m_panel;
};

/// A draft in the making: every value with its source and confidence, all faults at once. What is entered is
/// kept at once.
class ProfileEditPage final : public Page {
public:
    explicit ProfileEditPage(session::ProfileDraft draft) : m_draft(std::move(draft)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return true; }

private:
    [[nodiscard]] screens::TableView table(Desk& desk);
    [[nodiscard]] screens::FormView value_form(Desk& desk);
    void act_value(Desk& desk, screens::Intent const& intent);
    void act_table(Desk& desk, screens::Intent const& intent);
    void open_row(Desk& desk, std::string const& row);
    void type_value(Desk& desk);
    void type_source(Desk& desk);
    void type_head(Desk& desk, bool title);
    void set_value(Desk& desk, std::string const& value);
    void keep(Desk& desk);
    void next_value();
    void store(Desk& desk);
    void load_help(Desk& desk);

    session::ProfileDraft m_draft;
    std::string m_path; ///< the value in hand; empty: all of them
    std::string m_group;
    bool m_open_only = false, m_choosing_group = false, m_help_read = false;
    files::NameplateHelp m_help;
};

/// Two revisions side by side, physical differences first.
class ProfileComparePage final : public Page {
public:
    /// Back leads to the second one where it is given, else to the first.
    ProfileComparePage(std::string id, int revision, std::string other = {}, int other_revision = 0)
        : m_id(std::move(id)), m_other(std::move(other)), m_revision(revision),
          m_other_revision(other_revision),
          m_home(m_other.empty() ? std::pair(m_id, m_revision) : std::pair(m_other, m_other_revision))
    {
    }
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return true; }

private:
    std::string m_id, m_other;
    int m_revision, m_other_revision;
    std::pair<std::string, int> m_home;
    ProfileFinder m_finder{false};
};

/// Profiles and nameplates in and out: from and to a stick, a folder or a table, with a report of every row.
class ProfileTransferPage final : public Page {
public:
    /// Everything in; or, with an id, that revision out ("*": all that the library shows now).
    explicit ProfileTransferPage(std::string id = {}, int revision = 0)
        : m_id(std::move(id)), m_revision(revision)
    {
    }
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return !m_report && !m_work.running(); }
    [[nodiscard]] std::optional<double> wake_in_s() const override
    {
        return m_work.running() ? std::optional(0.1) : std::nullopt;
    }
    void tick(Desk& desk) override;

private:
    /// What is left to do on the window's thread when the files are done.
    using Finish = std::function<void(Desk&)>;
    void from_place(Desk& desk, std::string const& place);
    void read_table(Desk& desk, std::string const& table);
    void start_table(Desk& desk, std::string const& table, std::string const& author);
    void read_folder(Desk& desk, std::string const& folder);
    void write_to(Desk& desk, std::string const& folder);
    void back(Desk& desk);

    std::string m_id;
    int m_revision;
    std::string m_place;               ///< chosen to read from, when it holds tables
    std::vector<std::string> m_tables; ///< in it
    std::optional<std::vector<session::StickTarget>> m_targets;
    std::unique_ptr<TransferReport> m_report;
    Background<Finish> m_work; ///< the library stays as it is meanwhile: nothing else can be tapped
};

/// The status of a revision in words of its own.
[[nodiscard]] std::string status_word(Desk& desk, std::string_view status);
/// A value as the sheet shows it: what was chosen in the window's language, all else as it was written.
[[nodiscard]] std::string value_text(Desk& desk, model::ProfileField const& field, std::string const& value);
/// "spring, 145 kV, SF6, 60 Hz, 3 cycles".
[[nodiscard]] std::string in_short(model::Profile const& profile, Words const& words);
/// What is unusual about a release, in the language of the sheet.
[[nodiscard]] std::string standing_text(Desk& desk, session::ReleaseStanding const& standing);
/// The keys this tablet trusts, for many rows at once; none, and said once, where they cannot be read.
[[nodiscard]] media::Trust trust_for_rows(Desk& desk);
[[nodiscard]] screens::ListRow library_row(Desk& desk, files::LibraryEntry const& entry,
                                           media::Trust const& trust);
/// What could not be read in the library's folders.
[[nodiscard]] screens::VerdictView unreadable_profiles(Desk& desk);
/// "kd-41:2": a row of the library, and back.
[[nodiscard]] std::string row_id(std::string_view id, int revision);
[[nodiscard]] std::pair<std::string, int> of_row(std::string const& row);

} // namespace isochore::app
