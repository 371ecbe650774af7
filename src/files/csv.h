#pragma once
#include "quantity/result.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::files {

struct CsvRow {
    int line = 1; ///< where it begins in the file, counted from 1
    std::vector<std::string> cells;
};

/// Reads comma- or semicolon-separated text (RFC 4180: quotes doubled inside quotes, line breaks inside
/// quotes). The separator is the one that stands more often in the first line. A byte order mark is skipped;
/// empty lines are left out. Errors: corrupt, with the line, for a quote in the wrong place or never closed.
[[nodiscard]] Result<std::vector<CsvRow>> read_csv(std::string_view text, std::string_view name);

/// A cell of text for a table program: quoted where needed, and with ' before = + - @ so that no formula runs
/// (CWE-1236). Numbers of our own are written plain, not through this.
[[nodiscard]] std::string csv_text(std::string_view cell);

} // namespace isochore::files
