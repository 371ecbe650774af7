#pragma once
#include "report/job_pack_pdf.h"
#include "report/record_document.h"

namespace isochore::tests {

/// A whole record with invented figures, `copies` times the steps of every stage: 1 gives about ten sheets.
report::RecordDocument sample_document(int copies = 1);

report::JobPack sample_pack();

} // namespace isochore::tests
