#include "report/sheet_frame.h"
#include "drawing/text.h"
#include "report/flow.h"
#include <algorithm>

namespace isochore::report {

using namespace drawing;

namespace {

constexpr double filing_margin = 20.0, margin = 10.0, inset = 3.0;
constexpr double block_height = 18.0;
constexpr double footer_size = 2.3;

Box frame_box(Paper paper)
{
    Space const space = paper_space(paper);
    return {filing_margin, margin, space.width_mm - margin, space.height_mm - margin};
}

std::vector<std::string> footer_lines(SheetFrame const& frame, MeasureText const& measure)
{
    if (frame.footer.empty() && frame.mark.empty())
        return {};
    Box const box = frame_box(frame.paper);
    std::string text = frame.footer;
    if (!frame.mark.empty())
        text += (text.empty() ? "" : " ") + frame.words("Record {}.", {frame.mark});
    auto lines = wrap_text(text, box.width() - 2.0 * inset, Face::regular, footer_size, measure);
    if (lines.size() > 5) {
        lines.resize(5);
        lines.back() += " …";
    }
    return lines;
}

double footer_height(SheetFrame const& frame, MeasureText const& measure)
{
    auto const lines = static_cast<double>(footer_lines(frame, measure).size());
    return lines > 0.0 ? lines * footer_size * 1.25 + 2.2 : 0.0;
}

struct TitleBlock {
    Picture& sheet;
    Box box;
    MeasureText const& measure;

    /// A cell: small name above, value below.
    void cell(double left, double right, int row, std::string const& name, std::string const& value,
              Face face = Face::bold) const
    {
        double const top = box.top + row * block_height / 2.0;
        sheet.label({left + 1.2, top + 3.0},
                    shorten_text(name, right - left - 2.0, Face::regular, 2.0, measure), 2.0, Ink::muted);
        double const room = right - left - 2.0;
        double size = 3.1; // smaller before anything is cut off
        while (size > 2.35 && measure(value, face, size) > room)
            size -= 0.2;
        if (!value.empty())
            sheet.label({left + 1.2, top + 7.2}, shorten_text(value, room, face, size, measure), size,
                        Ink::text, face);
        if (left > box.left + 0.1)
            sheet.line({left, top}, {left, top + block_height / 2.0}, Ink::line, 0.25);
    }
};

void draw_marks(Picture& sheet, Box box)
{
    Point const centre = box.centre();
    sheet.line({centre.x, box.top - 4.0}, {centre.x, box.top + 2.0}, Ink::line, 0.5);
    sheet.line({centre.x, box.bottom}, {centre.x, box.bottom + 4.0}, Ink::line, 0.5);
    sheet.line({box.left - 4.0, centre.y}, {box.left + 2.0, centre.y}, Ink::line, 0.5);
    sheet.line({box.right - 2.0, centre.y}, {box.right + 4.0, centre.y}, Ink::line, 0.5);
}

void draw_title_block(Picture& sheet, SheetFrame const& frame, Box box, std::string const& sheet_number,
                      MeasureText const& measure)
{
    sheet.line({box.left, box.top}, {box.right, box.top}, Ink::line, 0.5);
    sheet.line({box.left, box.centre().y}, {box.right, box.centre().y}, Ink::line, 0.25);
    TitleBlock const block{sheet, box, measure};
    auto const x = [&](double share) { return box.left + share * box.width(); };
    block.cell(x(0.0), x(0.34), 0, frame.words("STATION"), frame.block.station);
    block.cell(x(0.34), x(0.48), 0, frame.words("BAY"), frame.block.bay);
    block.cell(x(0.48), x(0.66), 0, frame.words("BREAKER"), frame.block.breaker);
    block.cell(x(0.66), x(1.0), 0, frame.words("JOB"), frame.block.job);
    std::string const title =
        frame.block.organisation.empty() ? frame.words("TITLE") : frame.block.organisation;
    block.cell(x(0.0), x(0.34), 1, title, frame.title);
    block.cell(x(0.34), x(0.55), 1, frame.words("NUMBER"), frame.block.drawing_number);
    block.cell(x(0.55), x(0.66), 1, frame.words("REV"), frame.block.revision);
    block.cell(x(0.66), x(0.84), 1, frame.words("DATE"), frame.date);
    block.cell(x(0.84), x(1.0), 1, frame.words("SHEET"), sheet_number);
}

} // namespace

Space paper_space(Paper paper)
{
    return paper == Paper::a4 ? Space{210.0, 297.0} : Space{215.9, 279.4};
}

Box content_area(SheetFrame const& frame, MeasureText const& measure)
{
    Box const box = frame_box(frame.paper);
    double const status = frame.status.empty() ? 0.0 : 5.5;
    return {box.left + inset, box.top + inset + status, box.right - inset,
            box.bottom - block_height - footer_height(frame, measure) - 1.5};
}

void draw_sheet_frame(Picture& sheet, SheetFrame const& frame, int number, int count,
                      MeasureText const& measure)
{
    Box const box = frame_box(frame.paper);
    sheet.rect({box.left, box.top}, box.width(), box.height(), Ink::line, 0.7);
    draw_marks(sheet, box);
    if (!frame.status.empty()) {
        sheet.filled_rect({box.left, box.top}, box.width(), 5.0, Ink::line);
        sheet.label({box.centre().x, box.top + 3.5},
                    shorten_text(frame.status, box.width() - 4.0, Face::bold, 2.9, measure), 2.9,
                    Ink::inverse, Face::bold, Align::centre);
    }
    Box const block{box.left, box.bottom - block_height, box.right, box.bottom};
    draw_title_block(sheet, frame, block,
                     frame.words("{} of {}", {std::to_string(number), std::to_string(count)}), measure);
    double y = block.top - footer_height(frame, measure) + 0.6 + footer_size;
    if (!footer_lines(frame, measure).empty())
        sheet.line({box.left, y - footer_size - 0.6}, {box.right, y - footer_size - 0.6}, Ink::faint, 0.18);
    for (auto const& line : footer_lines(frame, measure)) {
        sheet.label({box.left + inset, y}, line, footer_size, Ink::muted);
        y += footer_size * 1.25;
    }
}

} // namespace isochore::report
