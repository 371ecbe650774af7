#include "screens/marks.h"
#include <cmath>

namespace isochore::screens {

Ink mark_ink(Mark mark)
{
    switch (mark) {
    case Mark::pass:
        return Ink::pass;
    case Mark::fail:
        return Ink::fail;
    case Mark::undecided:
    case Mark::overridden:
    case Mark::deferred:
        return Ink::undecided;
    case Mark::locked:
    case Mark::not_applicable:
        return Ink::muted;
    case Mark::none:
    case Mark::open:
        break;
    }
    return Ink::text;
}

namespace {

void tick(Canvas& canvas, Point c, double s, Ink ink, double width)
{
    canvas.polyline(
        {{c.x - 0.24 * s, c.y + 0.02 * s}, {c.x - 0.06 * s, c.y + 0.2 * s}, {c.x + 0.25 * s, c.y - 0.2 * s}},
        ink, width);
}

void pass_sign(Canvas& canvas, Point c, double s, Ink ink)
{
    canvas.circle(c, 0.46 * s, ink, 0.075 * s);
    tick(canvas, c, s, ink, 0.09 * s);
}

void fail_sign(Canvas& canvas, Point c, double s, Ink ink)
{
    // An octagon with a cross: no other sign has eight corners.
    double const a = 0.46 * s, b = 0.19 * s, k = 0.19 * s;
    canvas.polyline({{c.x - b, c.y - a},
                     {c.x + b, c.y - a},
                     {c.x + a, c.y - b},
                     {c.x + a, c.y + b},
                     {c.x + b, c.y + a},
                     {c.x - b, c.y + a},
                     {c.x - a, c.y + b},
                     {c.x - a, c.y - b}},
                    ink, 0.075 * s, true);
    canvas.line({c.x - k, c.y - k}, {c.x + k, c.y + k}, ink, 0.09 * s);
    canvas.line({c.x - k, c.y + k}, {c.x + k, c.y - k}, ink, 0.09 * s);
}

void diamond(Canvas& canvas, Point c, double s, Ink ink, double width)
{
    double const a = 0.5 * s;
    canvas.polyline({{c.x, c.y - a}, {c.x + a, c.y}, {c.x, c.y + a}, {c.x - a, c.y}}, ink, width, true);
}

void undecided_sign(Canvas& canvas, Point c, double s, Ink ink)
{
    diamond(canvas, c, s, ink, 0.075 * s);
    // The question mark is drawn, not typed, so that it stays in the middle at every size.
    double const r = 0.12 * s;
    std::vector<Point> hook;
    double const pi = 3.14159265358979;
    for (int i = 0; i <= 10; ++i) {
        double const t = -pi + (1.35 * pi) * i / 10.0;
        hook.push_back({c.x + r * std::cos(t), c.y - 0.09 * s + r * std::sin(t)});
    }
    hook.push_back({c.x, c.y + 0.1 * s});
    canvas.polyline(hook, ink, 0.075 * s);
    canvas.dot({c.x, c.y + 0.21 * s}, 0.048 * s, ink);
}

void overridden_sign(Canvas& canvas, Point c, double s, Ink ink)
{
    diamond(canvas, c, s, ink, 0.075 * s);
    canvas.line({c.x - 0.16 * s, c.y}, {c.x + 0.16 * s, c.y}, ink, 0.09 * s);
}

void deferred_sign(Canvas& canvas, Point c, double s, Ink ink)
{
    // A clock: to be done later.
    canvas.circle(c, 0.46 * s, ink, 0.075 * s);
    canvas.polyline({{c.x, c.y - 0.26 * s}, {c.x, c.y}, {c.x + 0.19 * s, c.y + 0.12 * s}}, ink, 0.08 * s);
}

} // namespace

void draw_padlock(Canvas& canvas, Point c, double s, Ink ink)
{
    double const pi = 3.14159265358979, r = 0.19 * s;
    std::vector<Point> shackle{{c.x - r, c.y}};
    for (int i = 0; i <= 10; ++i) {
        double const t = pi + pi * i / 10.0;
        shackle.push_back({c.x + r * std::cos(t), c.y - 0.16 * s + r * std::sin(t)});
    }
    shackle.push_back({c.x + r, c.y});
    canvas.polyline(shackle, ink, 0.08 * s);
    canvas.fill({c.x - 0.3 * s, c.y - 0.02 * s, 0.6 * s, 0.42 * s}, ink);
}

void draw_mark(Canvas& canvas, Mark mark, Point c, double s, Ink ink)
{
    switch (mark) {
    case Mark::pass:
        return pass_sign(canvas, c, s, ink);
    case Mark::fail:
        return fail_sign(canvas, c, s, ink);
    case Mark::undecided:
        return undecided_sign(canvas, c, s, ink);
    case Mark::overridden:
        return overridden_sign(canvas, c, s, ink);
    case Mark::deferred:
        return deferred_sign(canvas, c, s, ink);
    case Mark::locked:
        return draw_padlock(canvas, c, s, ink);
    case Mark::open:
        return canvas.frame({c.x - 0.38 * s, c.y - 0.38 * s, 0.76 * s, 0.76 * s}, ink, 0.07 * s);
    case Mark::not_applicable:
        return canvas.line({c.x - 0.34 * s, c.y}, {c.x + 0.34 * s, c.y}, ink, 0.09 * s);
    case Mark::none:
        return;
    }
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
