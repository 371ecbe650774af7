#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include "report/record_document.h"
#include <string>

namespace isochore::report {

/// The drawing sheet around the content: trimmed frame with the filing margin on the left (20 mm) and 10 mm
/// on the other sides, centring marks, title block at the foot (after ISO 5457 and ISO 7200).
struct SheetFrame {
    Paper paper = Paper::a4;
    SheetBlock block;
    std::string title;  ///< "Commissioning record"
    std::string date;   ///< as printed
    std::string status; ///< "DRAFT, not sealed", "DEMO DATA"; may be empty
    std::string footer; ///< small print over the title block, wrapped
    std::string mark;   ///< ties the sheet to its record: the start of the hash
    language::Translate translate{};

    /// The frame's own words in the language of the document.
    [[nodiscard]] std::string words(std::string_view english,
                                    std::initializer_list<std::string> values = {}) const
    {
        return language::translated(translate, english, values);
    }
};

/// Width and height of the paper in mm.
[[nodiscard]] drawing::Space paper_space(Paper paper);

/// Where the content goes. The height depends on how many lines the footer needs.
[[nodiscard]] drawing::Box content_area(SheetFrame const& frame, drawing::MeasureText const& measure);

/// Draws frame, footer and title block of sheet `number` of `count`.
void draw_sheet_frame(drawing::Picture& sheet, SheetFrame const& frame, int number, int count,
                      drawing::MeasureText const& measure);

} // namespace isochore::report
