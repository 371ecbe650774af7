#include "drawing/picture.h"

namespace isochore::drawing {

void Picture::line(Point a, Point b, Ink ink, double width_mm, Dash dash)
{
    polyline({a, b}, ink, width_mm, dash);
}

void Picture::polyline(std::vector<Point> points, Ink ink, double width_mm, Dash dash)
{
    Polyline run;
    run.points = std::move(points);
    run.ink = ink;
    run.width = width_mm;
    run.dash = dash;
    items.emplace_back(std::move(run));
}

void Picture::area(std::vector<Point> points, Ink fill)
{
    Polyline run;
    run.points = std::move(points);
    run.ink = fill;
    run.width = 0.0;
    run.closed = true;
    run.filled = true;
    run.fill = fill;
    items.emplace_back(std::move(run));
}

void Picture::rect(Point top_left, double w, double h, Ink ink, double width_mm)
{
    Polyline run;
    run.points = {top_left,
                  {top_left.x + w, top_left.y},
                  {top_left.x + w, top_left.y + h},
                  {top_left.x, top_left.y + h}};
    run.ink = ink;
    run.width = width_mm;
    run.closed = true;
    items.emplace_back(std::move(run));
}

void Picture::filled_rect(Point top_left, double w, double h, Ink fill)
{
    area({top_left,
          {top_left.x + w, top_left.y},
          {top_left.x + w, top_left.y + h},
          {top_left.x, top_left.y + h}},
         fill);
}

void Picture::circle(Point centre, double radius, Ink ink, double width_mm)
{
    items.emplace_back(Circle{centre, radius, ink, width_mm, false, ink});
}

void Picture::dot(Point centre, double radius, Ink fill)
{
    items.emplace_back(Circle{centre, radius, fill, 0.0, true, fill});
}

void Picture::label(Point at, std::string text, double size, Ink ink, Face face, Align align)
{
    items.emplace_back(Label{at, std::move(text), size, ink, face, align});
}

void append(Picture& onto, Picture const& picture, Point at, double scale)
{
    auto const move = [&](Point p) { return Point{p.x * scale + at.x, p.y * scale + at.y}; };
    for (auto item : picture.items) {
        if (auto* run = std::get_if<Polyline>(&item)) {
            for (Point& p : run->points)
                p = move(p);
            run->width *= scale;
        } else if (auto* circle = std::get_if<Circle>(&item)) {
            circle->centre = move(circle->centre);
            circle->radius *= scale;
            circle->width *= scale;
        } else if (auto* label = std::get_if<Label>(&item)) {
            label->at = move(label->at);
            label->size *= scale;
        }
        onto.items.push_back(std::move(item));
    }
}

} // namespace isochore::drawing
