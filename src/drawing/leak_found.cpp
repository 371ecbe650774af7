#include "drawing/leak_found.h"
#include "drawing/bar_rows.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

bool above_zero(double value)
{
    return drawable(value) && value > 1.0 / largest_drawable;
}

std::string grams(double g)
{
    return above_zero(g) ? fmt::format("{:.3g} g", g) : std::string("?");
}

std::string tick(double g)
{
    return g >= 0.999e-4 && g < 1e6 ? fmt::format("{:g}", g) : fmt::format("{:.0e}", g);
}

BarRow row_of(std::string const& name, double grams_a_year, double low, bool strong)
{
    BarRow row;
    row.name = name;
    row.value = "< " + grams(grams_a_year);
    row.from = low;
    row.to = above_zero(grams_a_year) ? grams_a_year : std::nan("");
    row.look = BarRow::Look::hatched;
    row.strong = strong;
    return row;
}

BarPlan bars_of(LeakFound const& f, double width, double size)
{
    Extent e;
    for (double const g : {f.one_g, f.all_g, f.limit_g.value_or(0.0)})
        if (above_zero(g))
            e.take(g);
    BarPlan plan;
    int const most = std::clamp(static_cast<int>(0.55 * width / (2.6 * size)), 2, 7);
    // A decade of room on both sides, so that a bar can be seen to begin and to end.
    plan.scale =
        e.any ? decade_axis(e.low / 3.0, e.high * 2.0, most, tick) : decade_axis(0.1, 100.0, most, tick);
    plan.rows = {row_of(f.one_label, f.one_g, plan.scale.low, false),
                 row_of(f.all_label, f.all_g, plan.scale.low, true)};
    if (f.limit_g && above_zero(*f.limit_g))
        plan.lines.push_back({*f.limit_g, f.limit_label, Ink::accent, Dash::solid});
    plan.titles = f.x_titles;
    return plan;
}

/// Says inside the plot what lies left and right of the end of a bar, where it has room.
void name_sides(LeakFound const& f, BarRows const& rows, Picture& picture, Placement& placement, double size)
{
    Box const bar = rows.bar(1), plot = rows.plot();
    double const base = (bar.top + bar.bottom) / 2.0 + (ink_above - ink_below) / 2.0 * size;
    if (f.limit_g)
        placement.avoid({{rows.at(*f.limit_g), plot.top}, {rows.at(*f.limit_g), plot.bottom}}, 20.0);
    Placement::Wish wish{plot, true, 15.0};
    double const wide = placement.measure()(f.hidden_label, Face::regular, size);
    if (bar.width() > wide + 3.0) {
        picture.filled_rect({bar.left + 1.2, base - ink_above * size - 0.3}, wide + 1.2, 1.0 * size + 0.6,
                            Ink::paper);
        placement.put(picture, {{}, f.hidden_label, size, Ink::text},
                      {{{bar.left + 1.8, base}, Align::left, 0.0}}, {plot, false, 15.0});
    }
    placement.avoid(bar.grown(0.8), 40.0);
    placement.put(picture, {{}, f.shown_label, size, Ink::text},
                  {{{bar.right + 1.6, base}, Align::left, 0.0},
                   {{std::max(bar.right, rows.at(f.limit_g.value_or(0.0))) + 1.6, base}, Align::left, 0.5},
                   {{plot.right - 0.6, base}, Align::right, 1.0}},
                  wish);
}

std::string spoken(LeakFound const& f)
{
    std::string text = fmt::format("Leaks the search would have shown: {} {} a year, {} {} a year",
                                   f.one_label, grams(f.one_g), f.all_label, grams(f.all_g));
    if (!f.limit_label.empty())
        text += "; " + f.limit_label;
    return text + ".";
}

} // namespace

Picture leak_found(LeakFound const& f, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(f);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    double const size = body_size(space);
    BarPlan const plan = bars_of(f, space.width_mm, size);
    BarRows const rows(picture, placement, plan, {0.0, 0.0, space.width_mm, space.height_mm}, size);
    if (above_zero(f.all_g))
        name_sides(f, rows, picture, placement, size);
    return picture;
}

} // namespace isochore::drawing
