#pragma once
#include "disk/disk.h"
#include "media/signing.h"
#include "quantity/result.h"
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace isochore::media {

using disk::Path;

/// One file of a set. Names are safe by is_safe_name (set_names.h).
struct SetFile {
    std::string name;
    std::string bytes;
};

/// Where a write stands; `work` counts through all phases, so done/total fills one bar.
struct WriteProgress {
    enum class Phase { reading, writing, flushing, reading_back, signing, pruning };
    Phase phase = Phase::writing;
    std::size_t done = 0, total = 0;
    std::string file; ///< the one being worked on
};
/// Called between steps; false cancels, which leaves the previous set as it was.
using Progress = std::function<bool(WriteProgress const&)>;
[[nodiscard]] char const* phase_name(WriteProgress::Phase phase);

struct WrittenSet {
    std::string set; ///< "S0000004"
    std::string made_at, key;
    std::size_t files = 0;
    std::uint64_t bytes = 0;
    std::vector<std::string> pruned; ///< older sets removed
    std::vector<std::string>
        notes; ///< what did not go as wished but harms nothing (an old set left standing)
};

/// Writes one set beside the sets already there:
///   a folder of a new number, every file under its name, each flushed and read back past the page cache,
///   the signed manifest last. Only then are sets beyond the newest three removed, manifest first.
/// At any moment the newest valid set is the old or the whole new one; a name is never written twice.
/// Errors: invalid_input (a file name or size no reader takes), denied (cancelled, not signed, read-only),
///         io and device (the target failed), corrupt (what was read back is not what was written).
[[nodiscard]] Result<WrittenSet> write_set(disk::Disk& disk, Path const& target,
                                           std::vector<SetFile> const& files, Signer const& signer,
                                           std::string const& made_at, Progress const& progress = {});

/// A set that was not taken, and why.
struct RefusedSet {
    std::string set;
    Error error;
    bool unfinished = false; ///< no whole manifest: a write was interrupted; the set before it is the newest
};

/// A set whose manifest is signed by a trusted key and whose every file has the hash listed. The bytes are
/// the very ones that were hashed: nothing is read again later.
struct VerifiedSet {
    std::string set, made_at, key, signed_by;
    std::vector<SetFile> files;
    std::vector<RefusedSet> refused; ///< newer sets passed over
    std::vector<std::string> notes;  ///< files not listed, a set older than one seen before
    bool stale = false; ///< a newer finished set was refused, or this key has signed a newer set seen before
    [[nodiscard]] SetFile const* find(std::string_view name) const;
};

/// The newest set that holds together. Sets are hostile: links, foreign names, wrong hashes, unknown members,
/// forged signatures, unknown keys and future versions are refused by name.
/// Errors: not_found (no set at all), else the refusal of the newest finished set.
[[nodiscard]] Result<VerifiedSet> newest_valid_set(disk::Disk& disk, Path const& target, Trust const& trust);

/// One named set ("S0000003"), by the same rules.
[[nodiscard]] Result<VerifiedSet> verify_set(disk::Disk& disk, Path const& target, std::string_view set,
                                             Trust const& trust);

/// Notes in the trust store that this set was met, so that an older one of the same key is stale from now on.
void remember_set(std::vector<TrustedKey>& keys, VerifiedSet const& set);

/// One line of a list of sets.
struct SetSummary {
    enum class State { valid, untrusted, unfinished, refused };
    std::string set, made_at, key, signed_by;
    State state = State::refused;
    std::size_t files = 0;
    std::uint64_t bytes = 0;
    std::string why;       ///< empty for a valid one
    bool stale = false;    ///< valid, but its key has signed a newer set, seen before and not on this stick
    std::string seen = {}; ///< the time of that one
};
[[nodiscard]] char const* state_name(SetSummary::State state);

/// All sets on a target, newest first, each verified whole.
[[nodiscard]] Result<std::vector<SetSummary>> list_sets(disk::Disk& disk, Path const& target,
                                                        Trust const& trust);

} // namespace isochore::media
