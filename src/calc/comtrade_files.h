#pragma once
#include "electrical/comtrade.h"
#include <string>

namespace isochore::calc {

/// Reads a record from disk: PATH may be the .cfg, the .dat, the .cff or the name without an ending, in any
/// case of letters. Files over 256 MB are refused. Errors: not_found, io, out_of_range, corrupt.
[[nodiscard]] Result<electrical::Comtrade> read_comtrade_files(std::string const& path,
                                                               std::string_view where);

} // namespace isochore::calc
