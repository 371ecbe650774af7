#include "drawing/bolt_load.h"
#include "drawing/callout.h"
#include "drawing/chart.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

void arrow(Picture& picture, Point from, Point tip, Ink ink, double width)
{
    double const dx = tip.x - from.x, dy = tip.y - from.y, length = std::hypot(dx, dy);
    if (!(length > 0.5))
        return;
    double const x = dx / length, y = dy / length;
    picture.line(from, {tip.x - 1.2 * x, tip.y - 1.2 * y}, ink, width);
    picture.area({tip,
                  {tip.x - 2.4 * x - 0.9 * y, tip.y - 2.4 * y + 0.9 * x},
                  {tip.x - 2.4 * x + 0.9 * y, tip.y - 2.4 * y - 0.9 * x}},
                 ink);
}

bool usable(BoltPlace const& place)
{
    return drawable(place.standoff_mm) && drawable(place.spacing_mm) && place.standoff_mm > 0.0 &&
           place.spacing_mm > 0.0;
}

/// The unit from the side, in one box of the picture.
class Side {
public:
    Side(BoltLoad const& load, Picture& picture, Box box, double size, MeasureText const& measure)
        : m_load(load), m_place(*load.place), m_picture(picture), m_placement(box, measure), m_box(box),
          m_size(size)
    {
    }

    void draw()
    {
        // Wall to the far side of the unit is twice the way to its centre of mass; words stand below.
        double const foot = 2.6 * m_size + 2.4, head = 1.3 * m_size + 2.4;
        double const high = m_box.height() - foot - head, wide = m_box.width() - 3.0;
        double const depth = std::max(2.0 * m_place.standoff_mm, 1.0);
        double const tall = std::max(m_place.spacing_mm * 1.3, 1.0);
        double const scale = std::min({wide * 0.62 / depth, high / tall, 1.0});
        double const half = m_place.spacing_mm * scale / 2.0;
        m_wall = m_box.left + 2.2;
        m_middle = m_box.top + head + high / 2.0;
        Box const unit{m_wall + 0.6, m_middle - tall * scale / 2.0, m_wall + 0.6 + depth * scale,
                       m_middle + tall * scale / 2.0};
        wall(unit.top - 2.0, unit.bottom + 2.0);
        Polyline body;
        body.points = {{unit.left, unit.top},
                       {unit.right, unit.top},
                       {unit.right, unit.bottom},
                       {unit.left, unit.bottom}};
        body.width = 0.5;
        body.closed = body.filled = true;
        m_picture.items.emplace_back(std::move(body));
        for (double const y : {m_middle - half, m_middle + half})
            bolt(y);
        mass({m_wall + 0.6 + m_place.standoff_mm * scale, m_middle}, unit);
        worst(m_middle - half);
        words();
    }

private:
    void wall(double top, double bottom)
    {
        m_picture.rect({m_wall - 1.8, top}, 1.8, bottom - top, Ink::line, 0.4);
        for (double y = top + 0.4; y + 1.8 <= bottom; y += 2.0)
            m_picture.line({m_wall - 1.8, y + 1.8}, {m_wall, y}, Ink::line, 0.2);
    }
    /// Through the unit's foot into the wall.
    void bolt(double y)
    {
        m_picture.line({m_wall - 1.6, y}, {m_wall + 2.6, y}, Ink::line, 0.9);
        m_picture.filled_rect({m_wall + 2.2, y - 1.2}, 1.3, 2.4, Ink::line);
    }
    /// The centre of mass and the shock on it: off the wall and along it.
    void mass(Point at, Box unit)
    {
        m_picture.circle(at, 1.3, Ink::line, 0.4);
        m_picture.line({at.x - 1.3, at.y}, {at.x + 1.3, at.y}, Ink::line, 0.3);
        m_picture.line({at.x, at.y - 1.3}, {at.x, at.y + 1.3}, Ink::line, 0.3);
        double const reach = std::min(m_box.right - 1.0, unit.right + 6.0);
        arrow(m_picture, {at.x + 1.6, at.y}, {reach, at.y}, Ink::line, 0.45);
        arrow(m_picture, {at.x, at.y + 1.6}, {at.x, std::min(unit.bottom - 1.0, at.y + 9.0)}, Ink::line,
              0.45);
    }
    /// What the worst bolt carries, in the accent.
    void worst(double y)
    {
        arrow(m_picture, {m_wall + 3.7, y}, {m_wall + 10.0, y}, Ink::accent, 0.6);
        arrow(m_picture, {m_wall + 2.8, y + 1.4}, {m_wall + 2.8, y + 6.4}, Ink::accent, 0.6);
    }
    void words()
    {
        auto const& measure = m_placement.measure();
        double base = m_box.top + 0.95 * m_size;
        auto const put = [&](std::string const& text, Ink ink) {
            m_placement.put_fixed(m_picture,
                                  {{m_box.left + 0.4, base},
                                   shorten_text(text, m_box.width() - 0.8, Face::regular, m_size, measure),
                                   m_size,
                                   ink});
            base += line_pitch * m_size;
        };
        put(m_place.shock, Ink::text);
        base = m_box.bottom - ink_below * m_size - 0.3 - line_pitch * m_size;
        put("→ " + m_place.tension, Ink::accent);
        put("↓ " + m_place.shear, Ink::accent);
    }

    BoltLoad const& m_load;
    BoltPlace const& m_place;
    Picture& m_picture;
    Placement m_placement;
    Box m_box;
    double m_size;
    double m_wall = 0.0, m_middle = 0.0;
};

std::string spoken(BoltLoad const& load)
{
    std::string text = fmt::format("Load of the worst bolt: tension {:.1f} % and shear {:.1f} %",
                                   load.tension * 100.0, load.shear * 100.0);
    for (auto const& part : {load.point_label, load.limit_label})
        if (!part.empty())
            text += "; " + part;
    for (auto const& foot : load.foot)
        text += "; " + foot.text;
    return text + ".";
}

void draw_chart(BoltLoad const& load, Picture& picture, Box box, double size, MeasureText const& measure)
{
    double const t = load.tension * 100.0, s = load.shear * 100.0, limit = load.allowed * 100.0;
    Placement placement(box, measure);
    ChartPlan plan;
    plan.x_high = drawable(t) ? std::max(limit, t * 1.1) : limit;
    plan.y_high = drawable(s) ? std::max(limit, s * 1.1) : limit;
    plan.x_titles = load.x_titles;
    plan.y_titles = load.y_titles;
    Chart chart(picture, placement, plan, size);
    chart.area({{0.0, 0.0}, {limit, 0.0}, {0.0, limit}}, Ink::panel);
    chart.grid();
    placement.patches_from_here(picture);
    chart.curve({{0.0, limit}, {limit, 0.0}}, Ink::line, 0.6, Dash::dashed);
    chart.curve({{0.0, 0.0}, {t, 0.0}, {t, s}}, load.verdict == Mark::fail ? Ink::fail : Ink::accent, 0.6);
    chart.frame();
    bool const over = load.verdict == Mark::fail;
    Ink const ink = over ? Ink::fail : Ink::accent;
    double const clear = over ? 0.75 * size : 2.0;
    if (!over)
        chart.reading({t, s}, 1.4, ink, true);
    if (drawable(t) && drawable(s)) {
        if (over)
            draw_mark(picture, load.verdict, chart.at(t, s), 1.2 * size);
        put_callout(picture, placement, {chart.at(t, s), load.point_label, size, ink, Face::bold, clear},
                    chart.plot());
    }
    put_callout(picture, placement,
                {chart.at(limit * 0.5, limit * 0.5), load.limit_label, size, Ink::text, Face::regular, 1.2},
                chart.plot());
}

} // namespace

Picture bolt_load(BoltLoad const& load, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(load);
    double const size = body_size(space);
    Footing const footing(load.foot, space, size, space.height_mm * 0.36, measure);
    Box const above{0.0, 0.0, space.width_mm, space.height_mm - footing.height()};
    // The chart keeps the larger part, and all of it where the side view would be a stamp.
    bool const beside = load.place && usable(*load.place) && above.width() >= 78.0 && above.height() >= 30.0;
    double const split = beside ? above.left + std::min(above.width() * 0.36, above.height() * 0.95) : 0.0;
    if (beside)
        Side(load, picture, {0.0, above.top, split - 3.0, above.bottom}, size, measure).draw();
    draw_chart(load, picture, {split, above.top, above.right, above.bottom}, size, measure);
    footing.draw(picture, measure);
    return picture;
}

} // namespace isochore::drawing
