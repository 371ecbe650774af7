#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

void draw_question(Canvas& canvas, SheetView const& sheet, QuestionView const& question, Intent& intent)
{
    double const w = std::min(canvas.width() - 2 * size::margin - 4.0, 140.0), inner = w - 12.0;
    double const text_h = canvas.paragraph_height(question.title, style::title, inner) + 2.0 +
                          canvas.paragraph_height(question.text, style::body, inner);
    double const h = text_h + 12.0 + size::action + 6.0;
    Rect const box{(canvas.width() - w) / 2, std::max(size::margin, (canvas.height() - h) / 2), w, h};
    canvas.fill(box, Ink::paper);
    canvas.frame(box, Ink::line, 0.8);
    canvas.ground(Ink::paper);
    Column column{canvas, box.x + 6.0, inner, box.y + 5.0};
    column.text(question.title, style::title, "question.title");
    column.space(2.0);
    column.text(question.text, style::body, "question.text");
    draw_actions(canvas, {box.x + 6.0, box.bottom() - 6.0 - size::action, inner, size::action},
                 question.actions, sheet.words, intent);
}

} // namespace isochore::screens
