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
    case Mark::locked:
    case Mark::not_applicable:
        return Ink::muted;
    case Mark::none:
    case Mark::open:
    case Mark::recorded:
        break;
    }
    return Ink::text;
}

char const* mark_word(Mark mark)
{
    switch (mark) {
    case Mark::none:
        return "";
    case Mark::pass:
        return "pass";
    case Mark::recorded:
        return "recorded";
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

/// Strokes in shares of the side of the mark's square, from its middle.
struct Pen {
    Picture& picture;
    Point centre;
    double side;
    Ink ink;

    [[nodiscard]] Point at(Point share) const
    {
        return {centre.x + share.x * side, centre.y + share.y * side};
    }
    void stroke(std::vector<Point> const& shares, double weight, bool closed = false) const
    {
        Polyline run;
        for (Point const p : shares)
            run.points.push_back(at(p));
        run.ink = ink;
        run.width = weight * side;
        run.closed = closed;
        picture.items.emplace_back(std::move(run));
    }
    void ring() const { picture.circle(centre, 0.46 * side, ink, 0.075 * side); }
    void tick() const { stroke({{-0.24, 0.02}, {-0.06, 0.2}, {0.25, -0.2}}, 0.09); }
    void diamond() const { stroke({{0.0, -0.5}, {0.5, 0.0}, {0.0, 0.5}, {-0.5, 0.0}}, 0.075, true); }
    void bar(double half) const { stroke({{-half, 0.0}, {half, 0.0}}, 0.09); }
};

std::vector<Point> arc(Point centre, double radius, double from_deg, double to_deg)
{
    std::vector<Point> points;
    constexpr int steps = 10;
    for (int i = 0; i <= steps; ++i) {
        double const a = (from_deg + (to_deg - from_deg) * i / steps) * std::numbers::pi / 180.0;
        points.push_back({centre.x + radius * std::cos(a), centre.y + radius * std::sin(a)});
    }
    return points;
}

void octagon_with_cross(Pen const& pen)
{
    // No other sign has eight corners.
    constexpr double a = 0.46, b = 0.19, k = 0.19;
    pen.stroke({{-b, -a}, {b, -a}, {a, -b}, {a, b}, {b, a}, {-b, a}, {-a, b}, {-a, -b}}, 0.075, true);
    pen.stroke({{-k, -k}, {k, k}}, 0.09);
    pen.stroke({{-k, k}, {k, -k}}, 0.09);
}

// Drawn, not typed, so that it stays in the middle at every size.
void question_mark(Pen const& pen)
{
    auto hook = arc({0.0, -0.09}, 0.12, -180.0, 63.0);
    hook.push_back({0.0, 0.1});
    pen.stroke(hook, 0.075);
    pen.picture.dot(pen.at({0.0, 0.21}), 0.048 * pen.side, pen.ink);
}

void padlock(Pen const& pen)
{
    auto shackle = arc({0.0, -0.16}, 0.19, 180.0, 360.0);
    shackle.insert(shackle.begin(), {-0.19, 0.0});
    shackle.push_back({0.19, 0.0});
    pen.stroke(shackle, 0.08);
    pen.picture.filled_rect(pen.at({-0.3, -0.02}), 0.6 * pen.side, 0.42 * pen.side, pen.ink);
}

} // namespace

void draw_mark(Picture& picture, Mark mark, Point centre, double size, std::optional<Ink> ink)
{
    Pen const pen{picture, centre, size, ink.value_or(mark_ink(mark))};
    switch (mark) {
    case Mark::none:
        break;
    case Mark::pass:
        pen.ring();
        pen.tick();
        break;
    case Mark::recorded:
        pen.tick();
        break;
    case Mark::fail:
        octagon_with_cross(pen);
        break;
    case Mark::undecided:
        pen.diamond();
        question_mark(pen);
        break;
    case Mark::open:
        pen.stroke({{-0.38, -0.38}, {0.38, -0.38}, {0.38, 0.38}, {-0.38, 0.38}}, 0.07, true);
        break;
    case Mark::locked:
        padlock(pen);
        break;
    case Mark::deferred:
        pen.ring();
        pen.stroke({{0.0, -0.26}, {0.0, 0.0}, {0.19, 0.12}}, 0.08);
        break;
    case Mark::not_applicable:
        pen.bar(0.34);
        break;
    case Mark::overridden:
        pen.diamond();
        pen.bar(0.16);
        break;
    }
}

} // namespace isochore::drawing
