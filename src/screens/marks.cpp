#include "screens/marks.h"
#include "screens/paint_picture.h"

namespace isochore::screens {

void draw_mark(Canvas& canvas, Mark mark, Point centre, double size, Ink ink)
{
    drawing::Picture sign;
    drawing::draw_mark(sign, mark, centre, size, ink);
    paint_items(canvas, sign);
}

void draw_padlock(Canvas& canvas, Point centre, double size, Ink ink)
{
    draw_mark(canvas, Mark::locked, centre, size, ink);
}

void draw_caution_sign(Canvas& canvas, Point c, double s, Ink ink, Ink inside)
{
    double const a = 0.5 * s, top = c.y - 0.44 * s, base = c.y + 0.4 * s;
    canvas.area({{c.x, top}, {c.x + a, base}, {c.x - a, base}}, ink);
    canvas.line({c.x, c.y - 0.12 * s}, {c.x, c.y + 0.14 * s}, inside, 0.1 * s);
    canvas.dot({c.x, c.y + 0.27 * s}, 0.055 * s, inside);
}

void draw_backspace(Canvas& canvas, Point c, double s, Ink ink)
{
    double const h = 0.3 * s, k = 0.12 * s;
    canvas.polyline({{c.x - 0.5 * s, c.y},
                     {c.x - 0.18 * s, c.y - h},
                     {c.x + 0.5 * s, c.y - h},
                     {c.x + 0.5 * s, c.y + h},
                     {c.x - 0.18 * s, c.y + h}},
                    ink, 0.07 * s, true);
    Point const m{c.x + 0.15 * s, c.y};
    canvas.line({m.x - k, m.y - k}, {m.x + k, m.y + k}, ink, 0.07 * s);
    canvas.line({m.x - k, m.y + k}, {m.x + k, m.y - k}, ink, 0.07 * s);
}

} // namespace isochore::screens
