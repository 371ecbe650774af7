#pragma once
#include "disk/disk.h"
#include "files/checklist_file.h"
#include "files/profile_library.h"
#include "session/outage.h"
#include "session/own_parts.h"
#include "session/profile_release.h"
#include <functional>
#include <memory>

namespace isochore::session {

/// Where things are. `data` holds the journal, the tablet's key, attachments, records and the profiles made
/// here; it is the only folder that is written. `profiles` are those that come with the program.
struct Folders {
    disk::Path data, checklists, profiles;
};

/// One row of the list of outages.
struct OutageSummary {
    std::string job, station, bay, breaker, job_no, begun_at, last_at, last_who;
    bool sealed = false, archived = false;
};

/// What moving an outage to the texts now in the library would bring; nothing is done yet.
struct PlannedMove {
    Pinned next;
    std::vector<std::string> texts; ///< to be kept in the journal before the move is entered
    model::RevisionMove changes;
    std::string from, to; ///< both revisions in words
};

/// The tablet's work: the store with all outages, the library of profiles and checklists, people and keys.
/// One a process.
class Workspace {
public:
    [[nodiscard]] static Result<std::unique_ptr<Workspace>> open(Folders folders, Clock& clock,
                                                                 disk::Disk& disk);

    [[nodiscard]] Folders const& folders() const { return m_folders; }
    [[nodiscard]] Clock& clock() const { return m_clock; }
    [[nodiscard]] disk::Disk& disk() const { return m_disk; }
    [[nodiscard]] journal::Journal& journal() const { return *m_journal; }

    [[nodiscard]] Result<std::vector<OutageSummary>> outages();
    /// Supplied profiles and those made here as one library, broken signatures among the faults. Read once,
    /// until `forget_library` is called; `library_reading` counts the readings.
    [[nodiscard]] files::ProfileLibrary const& library();
    [[nodiscard]] int library_reading() const { return m_library_reading; }
    void forget_library() { ++m_library_wanted; }
    /// False where `library()` would read it now: a large one takes a while.
    [[nodiscard]] bool library_is_read() const { return m_library && m_library_is_of == m_library_wanted; }
    /// What reading it gave.
    struct LibraryRead {
        std::shared_ptr<files::ProfileLibrary const> library;
        int wanted = 0; ///< what was asked for; since then files may have changed again
    };
    using LibraryReader = std::function<LibraryRead(files::Advance const&)>;
    /// Reads the library as `library()` would, but touches neither the journal nor this object: it may run on
    /// another thread, and what is in use here stays. `take_library` then puts it in the place of the earlier
    /// one; of a reading that was cancelled nothing is taken.
    [[nodiscard]] LibraryReader library_reader() const;
    void take_library(LibraryRead read);
    [[nodiscard]] disk::Path own_profiles() const { return m_folders.data / "profiles"; }
    [[nodiscard]] files::LibraryEntry const* find_profile(std::string_view id, int revision = 0);
    /// The revision an outage takes: the newest one that is released, whatever drafts stand above it.
    /// Nothing where none is.
    [[nodiscard]] files::LibraryEntry const* released_profile(std::string_view id);
    /// The checklists as they are on disk now. Errors: corrupt, naming every fault.
    [[nodiscard]] Result<files::LoadedChecklists> checklists();

    /// The parts that this store's people added, with the files that could not be read.
    [[nodiscard]] OwnParts const& own_parts();
    /// Adds a part after checking it, on disk before it returns; one that was withdrawn comes back as a
    /// further revision. Errors: invalid_input (the first fault), io.
    [[nodiscard]] Result<void> add_part(Json part, std::string const& by = {});
    /// Changes a part, as its next revision; the earlier ones stay. Errors: not_found, invalid_input (the
    /// first fault, or nothing changed), io.
    [[nodiscard]] Result<void> revise_part(std::string_view id, Json part, std::string const& by);
    /// Takes a part out of use, as its next revision. Errors: not_found, missing_input (no reason), io.
    [[nodiscard]] Result<void> withdraw_part(std::string_view id, std::string const& reason,
                                             std::string const& by);

    /// Begins an outage: pins the checklists and the profile by hash, writes the first entry.
    /// Errors: missing_input (a fact that is needed), corrupt (profile or checklists with faults), denied
    /// (no revision of the profile is released; or may_begin_on refuses it), io. What was accepted stands in
    /// the first entry.
    [[nodiscard]] Result<std::unique_ptr<Outage>> begin(std::string_view profile_id, NewOutage const& setup,
                                                        AcceptedRelease const& accepted = {});
    /// Opens an outage with the revisions it was pinned to. Their texts come from the store: files that
    /// changed or went away since make no difference.
    [[nodiscard]] Result<std::unique_ptr<Outage>> resume(std::string_view job, std::string who);
    /// Compares the texts an outage follows with those now in the library.
    /// Errors: not_found when the library has nothing newer; denied when it holds an older revision, the
    /// profile was withdrawn, or its release is not signed by a key that is trusted; corrupt when its texts
    /// have faults.
    [[nodiscard]] Result<PlannedMove> plan_move(Outage const& outage);
    /// Keeps the newer texts in the store and moves the outage; `by` has confirmed the changes.
    [[nodiscard]] Result<void> move(Outage& outage, PlannedMove plan, std::string_view by, bool pin_checked);

private:
    Workspace(Folders folders, Clock& clock, disk::Disk& disk);
    [[nodiscard]] Result<files::LibraryEntry const*> fit_profile(std::string_view id);
    [[nodiscard]] Result<void> keep_part(Json part, std::string const& id, std::string const& by);
    [[nodiscard]] Result<Pinned> read_pinned(Json const& texts);
    /// The outage with the store's own parts, and those it keeps as it took them.
    [[nodiscard]] Result<std::unique_ptr<Outage>> with_parts(Result<std::unique_ptr<Outage>> outage);
    /// The file's text, held against what the library read.
    [[nodiscard]] Result<std::string> text_of(files::LibraryEntry const& entry);

    Folders m_folders;
    Clock& m_clock;
    disk::Disk& m_disk;
    std::unique_ptr<journal::Journal> m_journal;
    std::shared_ptr<files::ProfileLibrary const> m_library;
    int m_library_wanted = 1, m_library_is_of = 0; ///< equal: as it is on the disk
    int m_library_reading = 0;
    std::optional<OwnParts> m_parts;
};

/// Names of all calculations, for the checklist validator.
[[nodiscard]] std::vector<std::string> calculation_names();

/// All faults of a report as one text, a line each.
[[nodiscard]] std::string all_faults(files::FileReport const& report);

} // namespace isochore::session
