#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

void draw_form(Canvas& canvas, Layout const& place, SheetView const& sheet, FormView const& form,
               Intent& intent)
{
    Rect area = place.content;
    if (form.verdict) {
        double const h = verdict_height(canvas, *form.verdict, area.w);
        draw_verdict(canvas, {area.x, area.bottom() - h, area.w, h}, *form.verdict, "verdict");
        area.h -= h + 2.6;
    }
    double const offset = canvas.begin_scroll("form." + form.heading, area);
    double const w = area.w - 3.0;
    Column column{canvas, area.x, w, area.y - offset};
    column.y += draw_heading(canvas, {column.x, column.y}, w, form.heading, form.text);
    if (!form.answers.empty()) {
        column.space(3.4);
        column.text(form.answers_label, style::muted, "answers.label");
        column.space(0.6);
        column.y += draw_answers(canvas, {column.x, column.y}, w, form.answers, true, intent);
    }
    column.space(3.4);
    column.y += draw_fields(canvas, {column.x, column.y}, w, form.fields, sheet.words, true, intent);
    canvas.end_scroll(column.y + offset - area.y + 1.0);
}

} // namespace isochore::screens
