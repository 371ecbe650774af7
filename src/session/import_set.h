#pragma once
#include "media/stick_set.h"
#include "session/unit_store.h"
#include <functional>

/// A verified set into the library and the store of units: all of it or nothing, also when the power goes in
/// the middle. What is to be done is first written down whole, as one file of the data folder; a start that
/// finds it finishes the work before anything else is read. The one append that enters the units ends it.
namespace isochore::session {

/// What an import did, a line each.
struct ImportedSet {
    std::vector<std::string> profiles, units; ///< taken, by what they call themselves
    std::vector<std::string> there_already;
};

/// All that is to be stored, decided beforehand.
struct ImportPlan {
    struct File {
        std::string name;     ///< in the folder of profiles made here: fresh
        std::string text;     ///< its bytes
        std::string replaces; ///< the earlier save that goes when this one is durable; empty: none
    };
    std::string id, who, at; ///< `id` tells this import from every other one
    std::vector<File> profiles;
    std::vector<UnitStore::Kept> units;
    ImportedSet done; ///< what there will be to say
};

/// Looks at everything before anything is stored. Errors: corrupt, unknown (a file's own reader refused it, a
/// signature does not fit), denied (stale and not accepted; a released revision would change), io.
[[nodiscard]] Result<ImportPlan> plan_import(Workspace& workspace, media::VerifiedSet const& set,
                                             std::string_view who, bool stale_accepted);

/// The files of it: touches no journal and may run beside the window. When it fails or is cancelled, nothing
/// of it is left. Errors: denied (cancelled), io.
[[nodiscard]] Result<void> store_import(disk::Disk& disk, disk::Path const& data, ImportPlan const& plan,
                                        media::Progress const& progress = {});

/// The units of it, and the end. Where they cannot be entered the files are taken back. Errors: io.
[[nodiscard]] Result<ImportedSet> enter_import(Workspace& workspace, ImportPlan const& plan);

/// What is left to do once the units are entered: the earlier saves go, and the plan. Errors: io.
[[nodiscard]] Result<void> end_import(disk::Disk& disk, disk::Path const& data, ImportPlan const& plan);

/// All three at once. A set that is stale is refused unless `stale_accepted`.
[[nodiscard]] Result<ImportedSet> import_set(Workspace& workspace, media::VerifiedSet const& set,
                                             std::string_view who, bool stale_accepted = false);

/// Finishes an import that a power cut broke off; where there is none, nothing. `enter` enters the units once
/// more, without doubling them. A file that was damaged since is put aside under another name: then nothing
/// is known of the rest. Errors: io; the work stays to be done.
[[nodiscard]] Result<void> finish_import(disk::Disk& disk, disk::Path const& data,
                                         std::function<Result<void>(ImportPlan const&)> const& enter);

} // namespace isochore::session
