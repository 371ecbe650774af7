#include "screens/polygon.h"
#include <algorithm>

namespace isochore::screens {

using drawing::Point;

namespace {

double cross(Point a, Point b, Point c)
{
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

double signed_area(std::vector<Point> const& points)
{
    double sum = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        Point const a = points[i], b = points[(i + 1) % points.size()];
        sum += a.x * b.y - b.x * a.y;
    }
    return sum / 2;
}

bool inside(Point p, Point a, Point b, Point c)
{
    return cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0;
}

bool same(Point a, Point b)
{
    return a.x == b.x && a.y == b.y;
}

bool is_ear(std::vector<Point> const& points, std::size_t i)
{
    std::size_t const n = points.size();
    Point const a = points[(i + n - 1) % n], b = points[i], c = points[(i + 1) % n];
    if (cross(a, b, c) <= 0)
        return false;
    return std::none_of(points.begin(), points.end(), [&](Point p) {
        return !same(p, a) && !same(p, b) && !same(p, c) && inside(p, a, b, c);
    });
}

} // namespace

std::vector<std::array<Point, 3>> triangles(std::vector<Point> points)
{
    std::vector<std::array<Point, 3>> result;
    if (signed_area(points) < 0)
        std::reverse(points.begin(), points.end());
    std::size_t misses = 0, i = 0;
    while (points.size() > 3 && misses < points.size()) {
        std::size_t const n = points.size();
        i %= n;
        Point const a = points[(i + n - 1) % n], b = points[i], c = points[(i + 1) % n];
        bool const ear = is_ear(points, i);
        if (ear)
            result.push_back({a, b, c});
        if (ear || cross(a, b, c) == 0) { // a corner on a straight edge covers nothing
            points.erase(points.begin() + static_cast<std::ptrdiff_t>(i));
            misses = 0;
        } else {
            ++misses;
            ++i;
        }
    }
    if (points.size() == 3)
        result.push_back({points[0], points[1], points[2]});
    return result;
}

} // namespace isochore::screens
