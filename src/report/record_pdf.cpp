#include "report/record_pdf.h"
#include "report/pdf_file.h"
#include "report/record_pages.h"
#include "report/sheet_frame.h"
#include "report/type.h"

namespace isochore::report {

namespace {

std::string status_of(RecordDocument const& document)
{
    auto const words = [&](char const* english) { return language::translated(document.translate, english); };
    std::string status;
    if (document.draft)
        status = words("DRAFT: not sealed");
    if (document.invented)
        status += (document.draft ? ", " : "") + words("DEMO DATA: invented breaker model");
    return status;
}

SheetFrame frame_of(RecordDocument const& document)
{
    SheetFrame frame;
    frame.paper = document.paper;
    frame.block = document.block;
    frame.title = document.title;
    frame.date = document.created.substr(0, 10);
    frame.status = status_of(document);
    frame.footer = document.footer;
    frame.translate = document.translate;
    frame.mark = document.hash.substr(0, 16);
    return frame;
}

} // namespace

std::vector<Sheet> record_sheets(RecordDocument const& document, drawing::MeasureText const& measure)
{
    auto const frame = frame_of(document);
    auto const area = content_area(frame, measure);
    Flow flow(area.width(), measure, document.translate);
    add_front(flow, document);
    for (auto const& stage : document.stages)
        add_stage(flow, stage);
    for (auto const& ledger : document.ledgers) {
        flow.bookmark(ledger.title);
        add_table(flow, ledger);
    }
    return framed_sheets(flow, frame, measure);
}

Result<std::string> record_pdf(RecordDocument const& document)
{
    Type type;
    auto const measure = type.measure();
    auto const sheets = record_sheets(document, measure);
    PdfProperties properties;
    properties.title = document.title + " " + document.block.job;
    properties.author = document.author;
    properties.subject = document.subtitle;
    properties.created = document.created;
    return sheets_pdf(sheets, properties, type);
}

} // namespace isochore::report
