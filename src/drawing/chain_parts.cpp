#include "drawing/chain_parts.h"
#include <algorithm>

namespace isochore::drawing {

namespace {

struct Pencil {
    Picture& picture;
    PartPlace const& place;

    double length() const { return place.length; }
    double half() const { return place.thick / 2.0; }

    void outline(std::vector<Point> const& shape, Ink fill = Ink::panel) const
    {
        Polyline run;
        for (Point const p : shape)
            run.points.push_back(place.at(p.x, p.y));
        run.width = 0.45;
        run.closed = run.filled = true;
        run.fill = fill;
        picture.items.emplace_back(std::move(run));
    }
    void body(double from, double to, double half_thick) const
    {
        outline({{from, -half_thick}, {to, -half_thick}, {to, half_thick}, {from, half_thick}});
    }
    void stroke(Point a, Point b, double width = 0.3) const
    {
        picture.line(place.at(a.x, a.y), place.at(b.x, b.y), Ink::line, width);
    }
    /// Hexagon faces of a spanner fit.
    void faces(double from, double to, double half_thick) const
    {
        for (double const share : {-0.5, 0.5})
            stroke({from, share * half_thick}, {to, share * half_thick});
    }
    void hatch(double from, double to, double half_thick) const
    {
        double const lean = std::min(2.0, (to - from));
        for (double across = -half_thick; across < half_thick - 0.6; across += 1.8) {
            double const end = std::min(half_thick, across + lean);
            stroke({from, across}, {from + (end - across), end}, 0.2);
        }
    }
};

void draw_port(Pencil const& p)
{
    double const wall = std::min(3.0, p.length() * 0.4);
    p.body(0.0, wall, p.half());
    p.hatch(0.0, wall, p.half());
    p.body(wall, p.length(), p.half() * 0.6);
}

void draw_tee(Pencil const& p)
{
    double const arm = std::min(p.length() * 0.22, p.half() * 0.6);
    double const middle = p.length() / 2.0, bore = p.half() * 0.55;
    p.outline({{0.0, -bore},
               {middle - arm, -bore},
               {middle - arm, -p.half()},
               {middle + arm, -p.half()},
               {middle + arm, -bore},
               {p.length(), -bore},
               {p.length(), bore},
               {0.0, bore}});
}

/// Drawn in line with the run; the mitre tells that it turns.
void draw_elbow(Pencil const& p)
{
    double const h = p.half() * 0.75;
    double const nut = std::min(p.length() * 0.25, 2.5);
    p.body(0.0, p.length(), h * 0.8);
    p.body(0.0, nut, h);
    p.body(p.length() - nut, p.length(), h);
    p.stroke({nut, h * 0.8}, {p.length() - nut, -h * 0.8}, 0.4);
}

void draw_valve(Pencil const& p)
{
    double const middle = p.length() / 2.0, h = p.half() * 0.8;
    p.outline({{0.0, -h}, {middle, 0.0}, {0.0, h}}, Ink::paper);
    p.outline({{p.length(), -h}, {middle, 0.0}, {p.length(), h}}, Ink::paper);
    p.stroke({middle, 0.0}, {middle, -p.half()}, 0.4);
    p.stroke({middle - h * 0.5, -p.half()}, {middle + h * 0.5, -p.half()}, 0.6);
}

void draw_coupling(Pencil const& p)
{
    p.body(0.0, p.length() * 0.45, p.half() * 0.75);
    p.body(p.length() * 0.45, p.length(), p.half());
    p.stroke({p.length() * 0.6, -p.half()}, {p.length() * 0.6, p.half()});
    p.stroke({p.length() * 0.75, -p.half()}, {p.length() * 0.75, p.half()});
}

void draw_sensor(Pencil const& p)
{
    double const nut = p.length() * 0.3;
    p.body(0.0, nut, p.half() * 0.6);
    p.faces(0.0, nut, p.half() * 0.6);
    p.body(nut, p.length(), p.half());
    double const eye = std::min(p.half() * 0.55, (p.length() - nut) * 0.35);
    Point const centre = p.place.at((nut + p.length()) / 2.0, 0.0);
    p.picture.circle(centre, eye, Ink::line, 0.35);
    p.picture.line(centre, {centre.x + eye * 0.6, centre.y - eye * 0.6}, Ink::line, 0.35);
}

} // namespace

void draw_chain_part(Picture& picture, ChainPart::Shape shape, PartPlace const& place)
{
    using Shape = ChainPart::Shape;
    Pencil const p{picture, place};
    switch (shape) {
    case Shape::port:
        draw_port(p);
        break;
    case Shape::pipe:
        p.body(0.0, p.length(), p.half() * 0.5);
        break;
    case Shape::adapter:
        p.body(0.0, p.length(), p.half() * 0.85);
        p.faces(0.0, p.length(), p.half() * 0.85);
        break;
    case Shape::tee:
        draw_tee(p);
        break;
    case Shape::elbow:
        draw_elbow(p);
        break;
    case Shape::valve:
        draw_valve(p);
        break;
    case Shape::coupling:
        draw_coupling(p);
        break;
    case Shape::sensor:
        draw_sensor(p);
        break;
    case Shape::cap:
        p.body(0.0, p.length(), p.half() * 0.8);
        p.hatch(p.length() * 0.6, p.length(), p.half() * 0.8);
        break;
    }
}

} // namespace isochore::drawing
