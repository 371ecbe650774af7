#include "drawing/marks.h"
#include <cmath>
#include <numbers>

namespace isochore::drawing {

Ink mark_ink(Mark mark)
{
    switch (mark) {
    case Mark::pass:
        return Ink::pass;
    case Mark::fail:
        return Ink::fail;
    case Mark::undecided:
    case Mark::deferred:
    case Mark::overridden:
        return Ink::undecided;
    case Mark::none:
    case Mark::open:
    case Mark::locked:
    case Mark::not_applicable:
        break;
    }
    return Ink::muted;
}

char const* mark_word(Mark mark)
{
    switch (mark) {
    case Mark::none:
        return "";
    case Mark::pass:
        return "pass";
    case Mark::fail:
        return "fail";
    case Mark::undecided:
        return "undecided";
    case Mark::open:
        return "open";
    case Mark::locked:
        return "locked";
    case Mark::deferred:
        return "deferred";
    case Mark::not_applicable:
        return "not applicable";
    case Mark::overridden:
        return "overridden";
    }
    return "";
}

namespace {

struct Pen {
    Picture& picture;
    Point centre;
    double half; ///< half the side of the mark's square
    Ink ink;

    Point at(double x, double y) const { return {centre.x + x * half, centre.y + y * half}; }
    void stroke(std::vector<Point> const& shares, double weight, bool closed = false) const
    {
        Polyline run;
        for (Point const p : shares)
            run.points.push_back(at(p.x, p.y));
        run.ink = ink;
        run.width = weight * half;
        run.closed = closed;
        picture.items.emplace_back(std::move(run));
    }
    void ring() const { picture.circle(centre, 0.9 * half, ink, 0.2 * half); }
    void spot(double x, double y, double r) const { picture.dot(at(x, y), r * half, ink); }
};

std::vector<Point> arc(Point centre, double radius, double from_deg, double to_deg)
{
    std::vector<Point> points;
    constexpr int steps = 12;
    for (int i = 0; i <= steps; ++i) {
        double const a = (from_deg + (to_deg - from_deg) * i / steps) * std::numbers::pi / 180.0;
        points.push_back({centre.x + radius * std::cos(a), centre.y + radius * std::sin(a)});
    }
    return points;
}

void question_mark(Pen const& pen)
{
    auto curve = arc({0.0, -0.22}, 0.24, -190.0, 50.0);
    curve.push_back({0.0, 0.12});
    curve.push_back({0.0, 0.24});
    pen.stroke(curve, 0.17);
    pen.spot(0.0, 0.45, 0.11);
}

} // namespace

void draw_mark(Picture& picture, Mark mark, Point centre, double size)
{
    Pen const pen{picture, centre, size / 2.0, mark_ink(mark)};
    switch (mark) {
    case Mark::none:
        break;
    case Mark::pass:
        pen.ring();
        pen.stroke({{-0.42, 0.02}, {-0.12, 0.36}, {0.42, -0.34}}, 0.24);
        break;
    case Mark::fail:
        pen.stroke({{0.0, -0.9}, {0.98, 0.82}, {-0.98, 0.82}}, 0.2, true);
        pen.stroke({{-0.24, -0.02}, {0.24, 0.46}}, 0.2);
        pen.stroke({{0.24, -0.02}, {-0.24, 0.46}}, 0.2);
        break;
    case Mark::undecided:
        pen.stroke({{0.0, -0.95}, {0.95, 0.0}, {0.0, 0.95}, {-0.95, 0.0}}, 0.18, true);
        question_mark(pen);
        break;
    case Mark::open:
        pen.ring();
        break;
    case Mark::locked:
        pen.stroke({{-0.6, -0.05}, {0.6, -0.05}, {0.6, 0.8}, {-0.6, 0.8}}, 0.2, true);
        pen.stroke({{-0.38, -0.05}, {-0.38, -0.5}, {-0.2, -0.8}, {0.2, -0.8}, {0.38, -0.5}, {0.38, -0.05}},
                   0.2);
        break;
    case Mark::deferred:
        pen.ring();
        pen.stroke({{0.0, -0.5}, {0.0, 0.0}, {0.38, 0.22}}, 0.2);
        break;
    case Mark::not_applicable:
        pen.ring();
        pen.stroke({{-0.45, 0.0}, {0.45, 0.0}}, 0.2);
        break;
    case Mark::overridden:
        pen.stroke({{-0.8, -0.8}, {0.8, -0.8}, {0.8, 0.8}, {-0.8, 0.8}}, 0.2, true);
        pen.stroke({{0.0, -0.48}, {0.0, 0.14}}, 0.24);
        pen.spot(0.0, 0.45, 0.13);
        break;
    }
}

} // namespace isochore::drawing
