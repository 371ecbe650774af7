#pragma once
#include "quantity/result.h"
#include "report/record_document.h"
#include "report/sheet.h"
#include <string>
#include <vector>

namespace isochore::report {

/// The commissioning record as the bytes of a PDF file: drawing sheets with frame and title block, every
/// text extractable, the stages as bookmarks. Equal documents give equal bytes: the creation date is the
/// document's own.
/// Errors: invalid_input when `created` is not an RFC 3339 date and time, io when the file cannot be made.
[[nodiscard]] Result<std::string> record_pdf(RecordDocument const& document);

/// The sheets of the record as display lists in mm.
[[nodiscard]] std::vector<Sheet> record_sheets(RecordDocument const& document,
                                               drawing::MeasureText const& measure);

} // namespace isochore::report
