#pragma once
#include "disk/disk.h"
#include "files/checklist_file.h"
#include "files/profile_file.h"
#include "session/outage.h"
#include <memory>

namespace isochore::session {

/// Where things are. `data` holds the journal, the tablet's key, attachments and records; it is the only
/// folder that is written.
struct Folders {
    disk::Path data, checklists, profiles;
};

/// One row of the list of outages.
struct OutageSummary {
    std::string job, station, bay, breaker, job_no, begun_at, last_at, last_who;
    bool sealed = false;
};

/// A profile of the library as found on disk, with what is wrong with it.
struct LibraryProfile {
    model::Profile profile;
    std::string text, file;
    files::FileReport report;
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
    /// All profiles of the library, sorted by id, broken ones included with their report. Read once, until
    /// `forget_library` is called.
    [[nodiscard]] std::vector<LibraryProfile> const& library();
    void forget_library() { m_library.reset(); }
    [[nodiscard]] LibraryProfile const* find_profile(std::string_view id);
    /// The checklists as they are on disk now. Errors: corrupt, naming every fault.
    [[nodiscard]] Result<files::LoadedChecklists> checklists();

    /// Begins an outage: pins the checklists and the profile by hash, writes the first entry.
    /// Errors: missing_input (a fact that is needed), corrupt (profile or checklists with faults), io.
    [[nodiscard]] Result<std::unique_ptr<Outage>> begin(std::string_view profile_id, NewOutage const& setup);
    /// Opens an outage with the revisions it was pinned to.
    [[nodiscard]] Result<std::unique_ptr<Outage>> resume(std::string_view job, std::string who);

private:
    Workspace(Folders folders, Clock& clock, disk::Disk& disk);

    Folders m_folders;
    Clock& m_clock;
    disk::Disk& m_disk;
    std::unique_ptr<journal::Journal> m_journal;
    std::optional<std::vector<LibraryProfile>> m_library;
};

/// Names of all calculations, for the checklist validator.
[[nodiscard]] std::vector<std::string> calculation_names();

/// All faults of a report as one text, a line each.
[[nodiscard]] std::string all_faults(files::FileReport const& report);

} // namespace isochore::session
