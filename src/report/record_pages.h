#pragma once
#include "report/flow.h"
#include "report/record_document.h"

namespace isochore::report {

/// The parts of the record, each adding its blocks to the flow.
void add_front(Flow& flow, RecordDocument const& document);
void add_stage(Flow& flow, RecordStage const& stage);
void add_table(Flow& flow, RecordTable const& table);
void add_picture(Flow& flow, RecordPicture const& picture);
void add_facts(Flow& flow, std::vector<Fact> const& facts);

/// A heading that stays with what follows.
void add_heading(Flow& flow, std::string const& text, std::string const& side = {});

/// Columns of a row by shares of the width, with a gap in mm between them.
[[nodiscard]] std::vector<Column> columns_of(Flow const& flow, std::vector<double> const& shares,
                                             double left = 0.0, double gap = 2.0);

/// Text of a table's head.
[[nodiscard]] CellText head_text(std::string text);

} // namespace isochore::report
