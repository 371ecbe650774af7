#include "drawing/clip.h"
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace isochore::drawing {

namespace {

/// The parameters at which a segment enters and leaves a box (Liang and Barsky 1984).
std::optional<std::pair<double, double>> inside_part(Point a, Point b, Box const& box)
{
    double const dx = b.x - a.x, dy = b.y - a.y;
    double enter = 0.0, leave = 1.0;
    auto const side = [&](double p, double q) {
        if (p == 0.0)
            return q >= 0.0;
        double const t = q / p;
        if (p < 0.0)
            enter = std::max(enter, t);
        else
            leave = std::min(leave, t);
        return enter <= leave;
    };
    if (side(-dx, a.x - box.left) && side(dx, box.right - a.x) && side(-dy, a.y - box.top) &&
        side(dy, box.bottom - a.y))
        return std::pair{enter, leave};
    return std::nullopt;
}

bool finite(Point p)
{
    return std::isfinite(p.x) && std::isfinite(p.y);
}

Point between(Point a, Point b, double t)
{
    return {a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
}

/// Keeps the side of an edge where `depth` is not negative.
template <class Depth> std::vector<Point> keep_side(std::vector<Point> const& area, Depth depth)
{
    std::vector<Point> kept;
    for (std::size_t i = 0; i < area.size(); ++i) {
        Point const a = area[i], b = area[(i + 1) % area.size()];
        double const da = depth(a), db = depth(b);
        if (da >= 0.0)
            kept.push_back(a);
        if ((da >= 0.0) != (db >= 0.0))
            kept.push_back(between(a, b, da / (da - db)));
    }
    return kept;
}

} // namespace

bool segment_meets(Point a, Point b, Box const& box)
{
    return inside_part(a, b, box).has_value();
}

std::vector<std::vector<Point>> clip_line(std::vector<Point> const& line, Box const& box)
{
    std::vector<std::vector<Point>> runs;
    bool open = false;
    for (std::size_t i = 1; i < line.size(); ++i) {
        Point const a = line[i - 1], b = line[i];
        auto const part = finite(a) && finite(b) ? inside_part(a, b, box) : std::nullopt;
        if (!part) {
            open = false;
            continue;
        }
        if (!open || part->first > 0.0)
            runs.push_back({between(a, b, part->first)});
        runs.back().push_back(between(a, b, part->second));
        open = part->second >= 1.0;
    }
    return runs;
}

std::vector<Point> clip_area(std::vector<Point> const& area, Box const& box)
{
    std::vector<Point> kept;
    std::copy_if(area.begin(), area.end(), std::back_inserter(kept), finite);
    kept = keep_side(kept, [&](Point p) { return p.x - box.left; });
    kept = keep_side(kept, [&](Point p) { return box.right - p.x; });
    kept = keep_side(kept, [&](Point p) { return p.y - box.top; });
    return keep_side(kept, [&](Point p) { return box.bottom - p.y; });
}

double height_at(std::vector<Point> const& line, double x)
{
    if (line.empty())
        return 0.0;
    for (std::size_t i = 1; i < line.size(); ++i) {
        Point const a = line[i - 1], b = line[i];
        if ((x - a.x) * (x - b.x) <= 0.0 && a.x != b.x)
            return a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x);
    }
    return std::abs(x - line.front().x) < std::abs(x - line.back().x) ? line.front().y : line.back().y;
}

} // namespace isochore::drawing
