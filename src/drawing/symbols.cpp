#include "drawing/symbols.h"
#include <numbers>

namespace isochore::drawing {

Box Symbols::around(Point c, double half_width, double half_height) const
{
    return {c.x - half_width * m_scale, c.y - half_height * m_scale, c.x + half_width * m_scale,
            c.y + half_height * m_scale};
}

void Symbols::wire(Point a, Point b, Ink ink, Dash dash)
{
    m_picture.line(a, b, ink, m_stroke, dash);
}

void Symbols::node(Point centre, Ink ink)
{
    m_picture.dot(centre, 0.95 * m_scale, ink);
}

Box Symbols::make_contact(Point c, Ink ink)
{
    double const h = 3.6 * m_scale;
    m_picture.line({c.x, c.y + h}, {c.x - 3.4 * m_scale, c.y - h * 0.9}, ink, m_stroke);
    return {c.x - 3.6 * m_scale, c.y - h, c.x + 0.4, c.y + h};
}

Box Symbols::break_contact(Point c, Ink ink)
{
    double const h = 3.6 * m_scale;
    m_picture.line({c.x, c.y - h}, {c.x + 2.9 * m_scale, c.y - h}, ink, m_stroke);
    m_picture.line({c.x, c.y + h}, {c.x + 2.5 * m_scale, c.y - h * 1.25}, ink, m_stroke);
    return {c.x - 0.4, c.y - h, c.x + 3.0 * m_scale, c.y + h};
}

Box Symbols::resistor(Point c, Ink ink)
{
    Box const box = around(c, 1.7, 4.6);
    m_picture.rect({box.left, box.top}, box.width(), box.height(), ink, m_stroke * 1.25);
    return box;
}

Box Symbols::coil(Point c, Ink ink)
{
    Box const box = around(c, 4.0, 2.5);
    m_picture.rect({box.left, box.top}, box.width(), box.height(), ink, m_stroke);
    return box;
}

Box Symbols::lamp(Point c, Ink ink)
{
    double const r = 3.3 * m_scale, d = r / std::numbers::sqrt2;
    m_picture.circle(c, r, ink, m_stroke);
    m_picture.line({c.x - d, c.y - d}, {c.x + d, c.y + d}, ink, m_stroke);
    m_picture.line({c.x - d, c.y + d}, {c.x + d, c.y - d}, ink, m_stroke);
    return around(c, 3.3, 3.3);
}

Box Symbols::fuse(Point c, Ink ink)
{
    Box const box = around(c, 1.2, 2.8);
    m_picture.rect({box.left, box.top}, box.width(), box.height(), ink, m_stroke);
    m_picture.line({c.x, box.top}, {c.x, box.bottom}, ink, m_stroke);
    return box;
}

void Symbols::switch_in_line(Point left, double gap, bool closed, Ink ink)
{
    double const stop = 1.5 * m_scale;
    m_picture.dot(left, 0.75 * m_scale, ink);
    m_picture.line({left.x + gap, left.y - stop}, {left.x + gap, left.y + stop}, ink, m_stroke);
    if (closed)
        m_picture.line(left, {left.x + gap, left.y}, ink, m_stroke);
    else
        m_picture.line(left, {left.x + gap * 0.84, left.y - gap * 0.55}, ink, m_stroke);
}

} // namespace isochore::drawing
