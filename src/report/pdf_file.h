#pragma once
#include "quantity/result.h"
#include "report/flow.h"
#include "report/sheet.h"
#include "report/sheet_frame.h"
#include "report/type.h"

namespace isochore::report {

struct PdfProperties {
    std::string title, author, subject;
    std::string created; ///< RFC 3339
};

/// The flow's content on numbered sheets with frame and title block.
[[nodiscard]] std::vector<Sheet> framed_sheets(Flow const& flow, SheetFrame const& frame,
                                               drawing::MeasureText const& measure);

/// Paints sheets into a PDF file and gives its bytes.
/// Errors: invalid_input for a creation date that is not RFC 3339, io when cairo cannot make the file.
[[nodiscard]] Result<std::string> sheets_pdf(std::vector<Sheet> const& sheets,
                                             PdfProperties const& properties, Type& type);

} // namespace isochore::report
