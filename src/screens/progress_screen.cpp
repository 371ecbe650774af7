#include "screens/screen_parts.h"
#include <algorithm>
#include <cmath>

namespace isochore::screens {

void draw_progress(Canvas& canvas, Layout const& place, SheetView const& sheet, ProgressView const& progress,
                   Intent& intent)
{
    Rect const area = place.content;
    double const w = std::min(area.w, 150.0), x = area.x + (area.w - w) / 2;
    Column column{canvas, x, w, area.y + std::max(6.0, area.h * 0.2)};
    column.text(progress.heading, style::title, "heading");
    column.space(1.0);
    column.text(progress.text, style::body, "heading.text");
    column.space(6.0);
    // A ruler: the bar runs along a scale of tenths.
    double const done = std::clamp(progress.done, 0.0, 1.0);
    Rect const bar{x, column.y, w, 9.0};
    canvas.fill({bar.x, bar.y, bar.w * done, bar.h}, Ink::line);
    canvas.frame(bar, Ink::line);
    for (int i = 0; i <= 10; ++i)
        canvas.vline(bar.x + bar.w * i / 10.0, bar.bottom(), bar.bottom() + (i % 5 == 0 ? 2.4 : 1.4),
                     Ink::line, 0.25);
    canvas.text({x, bar.bottom() + 11.6}, std::to_string(std::lround(done * 100.0)) + " %", style::digits,
                "progress.done");
    if (progress.can_cancel) {
        // Not at the edge and not under the finger that started the work.
        Rect const r{x + w - 44.0, bar.bottom() + 8.0, 44.0, size::action};
        canvas.deaf(false);
        if (canvas.button("action.cancel", ElementKind::action, r, sheet.words.cancel)) {
            intent.kind = Intent::Kind::action;
            intent.id = "cancel";
        }
        canvas.deaf(sheet.busy);
    }
}

} // namespace isochore::screens
