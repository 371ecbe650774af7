#pragma once
#include "cli/stick_commands.h"
#include "media/signing.h"

namespace isochore::cli {

/// Whom a reader of sticks believes: this tablet where it has a key already (looking never makes one), the
/// keys given, and those of a file. Works while the window is open too, without what the
/// store adds then.
/// Errors: invalid_input (no key), those of read_trusted_keys, io.
[[nodiscard]] Result<media::Trust> stick_trust(disk::Disk& disk, Places const& places, StickOptions const& o);

} // namespace isochore::cli
