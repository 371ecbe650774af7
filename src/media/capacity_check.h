#pragma once
#include "media/stick_set.h"
#include <cstdint>

namespace isochore::media {

/// What a stick kept of what it was given to keep.
struct CapacityReport {
    std::uint64_t written = 0; ///< bytes it accepted
    std::uint64_t kept = 0;    ///< bytes that came back as they were given, from the first on
    bool honest = false;       ///< all of it came back
    std::string say;           ///< one sentence for the person
};

/// Fills `bytes` of a target with blocks that cannot be guessed, reads all of them back past the cache and
/// removes them again: a stick that claims more than it has loses the later ones or lets them overwrite the
/// earlier. Slow by its nature; it proves only as much as it writes. A full target ends the writing early
/// and is no fault. `seed` makes the blocks differ from run to run.
/// Errors: denied (cancelled), io and device; what was written is removed in every case.
[[nodiscard]] Result<CapacityReport> check_capacity(disk::Disk& disk, Path const& target, std::uint64_t bytes,
                                                    std::uint64_t seed, Progress const& progress = {});

} // namespace isochore::media
