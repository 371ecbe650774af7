#pragma once
#include "quantity/result.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::report {

/// One field of a CSV file.
struct CsvField {
    std::string text;
    bool number = false; ///< a plain number, written as it is
};

/// The rows as CSV (RFC 4180: commas, CRLF, quotes where needed), UTF-8.
/// A text that a spreadsheet could take for a formula (it starts, after blanks, with = + - @ or their wide
/// forms, or with a tab or line end) gets an apostrophe in front, after OWASP ASVS 1.2.10; numbers are not
/// touched, so that negative readings stay numbers.
/// Errors: invalid_input for a number field that is not a plain number, or for rows of different lengths.
[[nodiscard]] Result<std::string> csv_text(std::vector<std::vector<CsvField>> const& rows);

/// Digits with an optional sign, one point and an exponent: "-0.25", "1e-9".
[[nodiscard]] bool is_plain_number(std::string_view text);

} // namespace isochore::report
