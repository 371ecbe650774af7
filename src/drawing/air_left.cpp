#include "drawing/air_left.h"
#include "drawing/callout.h"
#include "drawing/chart.h"
#include "drawing/series.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

constexpr double least_share = 1e-9; ///< a thousandth of a ppmv: nothing reads less

bool shown(double share)
{
    return drawable(share) && share >= 0.0 && share <= 1.0;
}

double on_scale(double share)
{
    return std::max(share, least_share);
}

ChartPlan plan_for(AirLeft const& air)
{
    ChartPlan plan;
    double low = 0.1;
    for (double const share : air.shares)
        if (shown(share))
            low = std::min(low, on_scale(share) / 2.0);
    if (air.limit && shown(*air.limit))
        low = std::min(low, on_scale(*air.limit) / 2.0);
    plan.x_low = 0.0;
    plan.x_high = std::max(1.0, static_cast<double>(air.shares.size()) - 1.0);
    plan.grow_x = false;
    plan.most_x = std::clamp(static_cast<int>(air.shares.size()), 2, 9); // whole cycles
    plan.y_low = low;
    plan.y_high = 1.0;
    plan.decade_text = share_text;
    plan.x_titles = air.x_titles;
    plan.y_titles = air.y_titles;
    return plan;
}

std::string spoken(AirLeft const& air)
{
    std::string text = "Air left by cycles";
    for (std::size_t i = 0; i < air.shares.size(); ++i)
        text += fmt::format("; {}: {}", i, share_text(air.shares[i]));
    for (auto const& part : {air.limit_label, air.result_label})
        if (!part.empty())
            text += "; " + part;
    return text + ".";
}

} // namespace

std::string share_text(double share)
{
    if (!drawable(share) || share < 0.0)
        return "?";
    if (share >= 0.999e-3)
        return fmt::format("{:.3g} %", share * 100.0);
    double const ppmv = share * 1e6;
    return ppmv >= 1000.0 ? fmt::format("{:.0f} ppmv", ppmv)
           : ppmv > 0.0   ? fmt::format("{:.3g} ppmv", ppmv)
                          : "0 ppmv";
}

Picture air_left(AirLeft const& air, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(air);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    Chart chart(picture, placement, plan_for(air), body_size(space));
    chart.grid();
    placement.patches_from_here(picture);
    std::vector<Point> line;
    for (std::size_t i = 0; i < air.shares.size(); ++i)
        if (shown(air.shares[i]))
            line.push_back({static_cast<double>(i), on_scale(air.shares[i])});
    if (air.limit && shown(*air.limit))
        draw_level(chart, on_scale(*air.limit), Ink::line, Dash::dotted);
    chart.curve(line, Ink::accent, 0.5, Dash::dashed);
    chart.frame();
    // A scale with room for a mark at each cycle gets one; a long run keeps its line and its end.
    bool const each = static_cast<double>(line.size()) < 3.0 + chart.plot().width() / 3.0;
    for (std::size_t i = 0; i < line.size(); ++i)
        if (each || i + 1 == line.size())
            chart.reading(line[i], 1.2, i + 1 == line.size() ? Ink::accent : Ink::line, i + 1 == line.size());
    if (air.limit && shown(*air.limit))
        name_level(picture, placement, chart, {on_scale(*air.limit), air.limit_label}, Ink::text);
    if (!line.empty())
        put_callout(picture, placement,
                    {chart.at(line.back()), air.result_label, chart.size(), Ink::accent, Face::bold},
                    chart.plot());
    return picture;
}

} // namespace isochore::drawing
