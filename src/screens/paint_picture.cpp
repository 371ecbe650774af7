#include "screens/paint_picture.h"
#include <algorithm>
#include <cmath>

namespace isochore::screens {

using drawing::Circle;
using drawing::Dash;
using drawing::Label;
using drawing::Polyline;

namespace {

// Pieces of a run of segments, on and off in turn; the pattern runs on round corners.
std::vector<std::vector<Point>> dashes(std::vector<Point> const& points, double on, double off)
{
    std::vector<std::vector<Point>> pieces;
    bool drawing = true;
    double left = on;
    std::vector<Point> piece{points.front()};
    for (std::size_t i = 1; i < points.size(); ++i) {
        Point a = points[i - 1];
        Point const b = points[i];
        double length = std::hypot(b.x - a.x, b.y - a.y);
        while (length > left) {
            double const t = left / length;
            a = {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
            length -= left;
            if (drawing) {
                piece.push_back(a);
                pieces.push_back(piece);
            }
            drawing = !drawing;
            left = drawing ? on : off;
            piece.assign(1, a);
        }
        left -= length;
        if (drawing)
            piece.push_back(b);
    }
    if (drawing && piece.size() > 1)
        pieces.push_back(piece);
    return pieces;
}

struct Place {
    double x, y, scale;
    [[nodiscard]] Point operator()(Point p) const { return {x + p.x * scale, y + p.y * scale}; }
};

void paint(Canvas& canvas, Polyline const& run, Place const& place)
{
    if (run.points.empty())
        return;
    std::vector<Point> points;
    points.reserve(run.points.size() + 1);
    for (auto const& p : run.points)
        points.push_back(place(p));
    if (run.filled)
        canvas.shape(points, run.fill);
    if (run.width <= 0.0 || points.size() < 2)
        return;
    double const width = run.width * place.scale;
    if (run.dash == Dash::solid) {
        canvas.polyline(points, run.ink, width, run.closed);
        return;
    }
    if (run.closed)
        points.push_back(points.front());
    double const unit = std::max(width, 0.25);
    double const on = run.dash == Dash::dashed ? 6.0 * unit : 1.2 * unit,
                 off = run.dash == Dash::dashed ? 4.0 * unit : 2.6 * unit;
    for (auto const& piece : dashes(points, on, off))
        canvas.polyline(piece, run.ink, width);
}

void paint(Canvas& canvas, Circle const& circle, Place const& place)
{
    if (circle.filled)
        canvas.dot(place(circle.centre), circle.radius * place.scale, circle.fill);
    if (circle.width > 0.0)
        canvas.circle(place(circle.centre), circle.radius * place.scale, circle.ink,
                      circle.width * place.scale);
}

void paint(Canvas& canvas, Label const& label, Place const& place)
{
    canvas.text(place(label.at), label.text, {label.face, label.size * place.scale, label.ink, label.align},
                "picture.label");
}

void paint_all(Canvas& canvas, drawing::Picture const& picture, Place const& place)
{
    for (auto const& item : picture.items)
        std::visit([&](auto const& shape) { paint(canvas, shape, place); }, item);
}

} // namespace

void paint_items(Canvas& canvas, drawing::Picture const& picture)
{
    paint_all(canvas, picture, {0.0, 0.0, 1.0});
}

void paint_picture(Canvas& canvas, drawing::Picture const& picture, Rect const& space, std::string const& id)
{
    if (picture.width <= 0.0 || picture.height <= 0.0)
        return;
    double const scale = std::min({1.0, space.w / picture.width, space.h / picture.height});
    Place const place{space.x + (space.w - picture.width * scale) / 2,
                      space.y + (space.h - picture.height * scale) / 2, scale};
    canvas.note(id, ElementKind::picture, space, picture.spoken);
    paint_all(canvas, picture, place);
}

} // namespace isochore::screens
