#include "drawing/series.h"
#include "drawing/callout.h"
#include <algorithm>

namespace isochore::drawing {

void draw_band(Chart& chart, std::vector<BandPoint> const& band)
{
    std::vector<Point> edge;
    for (auto const& b : band)
        edge.push_back({b.x, b.high});
    for (auto b = band.rbegin(); b != band.rend(); ++b)
        edge.push_back({b->x, b->low});
    chart.area(edge, Ink::accent_soft);
}

void draw_level(Chart& chart, double value, Ink ink, Dash dash)
{
    chart.curve({{chart.x().low, value}, {chart.x().high, value}}, ink, 0.45, dash);
}

void name_level(Picture& picture, Placement& placement, Chart const& chart, Level const& level, Ink ink)
{
    if (level.label.empty() || !drawable(level.value))
        return;
    std::vector<Point> const line{chart.at(chart.x().low, level.value),
                                  chart.at(chart.x().high, level.value)};
    double const width = placement.measure()(level.label, Face::regular, chart.size());
    if (placement.put(picture, {{}, level.label, chart.size(), ink}, offers_along(line, width, chart.size()),
                      {chart.plot(), true, 9.0}))
        return;
    Callout callout;
    callout.at = {line.front().x + 0.85 * (line.back().x - line.front().x), line.front().y};
    callout.text = level.label;
    callout.size = chart.size();
    callout.ink = ink;
    callout.clear = 1.0;
    put_callout(picture, placement, callout, chart.plot());
}

void name_plateau(Picture& picture, Placement& placement, Chart const& chart, Level const& plateau)
{
    if (!drawable(plateau.value))
        return;
    Callout callout;
    callout.at = chart.at(chart.x().low + 0.75 * (chart.x().high - chart.x().low), plateau.value);
    callout.text = plateau.label;
    callout.size = std::min(chart.size() * 1.1, 4.2);
    callout.ink = Ink::accent;
    callout.face = Face::bold;
    put_callout(picture, placement, callout, chart.plot());
}

} // namespace isochore::drawing
