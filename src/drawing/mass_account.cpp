#include "drawing/mass_account.h"
#include "drawing/bar_rows.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

double half_width(double u95)
{
    return drawable(u95) ? std::abs(u95) : 0.0;
}

std::string mass_text(AccountedMass const& m)
{
    if (!drawable(m.mass_kg))
        return "?";
    double const u = half_width(m.u95_kg);
    if (u <= 0.0 || u < 1e-5)
        return fmt::format("{:.3f} kg", m.mass_kg);
    int const decimals = std::clamp(1 - static_cast<int>(std::floor(std::log10(u))), 0, 4);
    return fmt::format("{:.{}f} ± {:.{}f} kg", m.mass_kg, decimals, u, decimals);
}

BarRow row_of(AccountedMass const& m, double from, BarRow::Look look, Ink ink)
{
    BarRow row;
    row.name = m.name;
    row.value = mass_text(m);
    row.from = from;
    row.to = from + m.mass_kg;
    row.look = look;
    row.ink = ink;
    if (half_width(m.u95_kg) > 0.0) {
        row.low = row.to - half_width(m.u95_kg);
        row.high = row.to + half_width(m.u95_kg);
    }
    return row;
}

BarPlan bars_of(MassAccount const& a, double width, double size)
{
    using Look = BarRow::Look;
    BarPlan plan;
    plan.rows.push_back(row_of(a.out, 0.0, Look::filled, Ink::line));
    double found = 0.0;
    for (auto const& part : a.found)
        if (drawable(part.mass_kg) && part.mass_kg != 0.0) {
            plan.rows.push_back(row_of(part, found, Look::hollow, Ink::line));
            found += part.mass_kg;
        }
    // What is left over closes the gap up to what came out; its bar is as wide as the gap.
    BarRow rest = row_of(a.rest, found, Look::hatched, a.verdict == Mark::fail ? Ink::fail : Ink::accent);
    rest.strong = true;
    plan.rows.push_back(std::move(rest));
    if (drawable(a.out.mass_kg))
        plan.lines.push_back({a.out.mass_kg, {}, Ink::line, Dash::dashed});
    Extent e;
    e.take(0.0);
    for (auto const& row : plan.rows)
        for (double const value : {row.from, row.to, row.low.value_or(row.to), row.high.value_or(row.to)})
            e.take(value);
    int const most = std::clamp(static_cast<int>(0.5 * width / (3.0 * size)), 3, 7);
    double const margin = 0.04 * (e.high - e.low);
    plan.scale =
        nice_axis(e.low < 0.0 ? e.low - margin : 0.0, e.high > e.low ? e.high + margin : 1.0, most, false);
    plan.titles = a.x_titles;
    return plan;
}

/// Thin lines from the end of each bar to where the next begins, so that the chain of masses can be followed.
void join_bars(BarPlan const& plan, BarRows const& rows, Picture& picture)
{
    if (!rows.beside())
        return; // the names stand there
    for (std::size_t i = 1; i + 1 < plan.rows.size(); ++i) {
        double const x = rows.at(plan.rows[i].to);
        picture.line({x, rows.bar(i).bottom}, {x, rows.bar(i + 1).top}, Ink::line, 0.3, Dash::dotted);
    }
}

std::string spoken(MassAccount const& a)
{
    std::string text = fmt::format("Account of the gas: {} {}", a.out.name, mass_text(a.out));
    for (auto const& part : a.found)
        text += fmt::format("; {} {}", part.name, mass_text(part));
    return text + fmt::format("; {} {}.", a.rest.name, mass_text(a.rest));
}

} // namespace

Picture mass_account(MassAccount const& a, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(a);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    double const size = body_size(space);
    BarPlan const plan = bars_of(a, space.width_mm, size);
    BarRows const rows(picture, placement, plan, {0.0, 0.0, space.width_mm, space.height_mm}, size);
    join_bars(plan, rows, picture);
    return picture;
}

} // namespace isochore::drawing
