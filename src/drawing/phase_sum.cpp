#include "drawing/phase_sum.h"
#include "drawing/bar_rows.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::drawing {

namespace {

double size_of(double ampere)
{
    return drawable(ampere) ? std::abs(ampere) : 0.0;
}

std::string percent(double share)
{
    if (!drawable(share))
        return "?";
    double const p = std::clamp(share, 0.0, 1.0) * 100.0;
    return p >= 99.95   ? "100 %"
           : p >= 10.0  ? fmt::format("{:.0f} %", p)
           : p >= 0.095 ? fmt::format("{:.1f} %", p)
                        : "0 %";
}

void arrow(Picture& picture, Placement& placement, Point from, Point to, Ink ink, double width)
{
    double const dx = to.x - from.x, dy = to.y - from.y, length = std::hypot(dx, dy);
    if (length < 0.5)
        return;
    double const head = std::min(2.6, 0.45 * length), ux = dx / length, uy = dy / length;
    Point const neck{to.x - ux * head, to.y - uy * head};
    picture.line(from, neck, ink, width);
    picture.area({to,
                  {neck.x - uy * head * 0.36, neck.y + ux * head * 0.36},
                  {neck.x + uy * head * 0.36, neck.y - ux * head * 0.36}},
                 ink);
    placement.avoid({from, to}, 12.0);
}

/// The arrows from one point, each where its coil puts it; a reversed one with the place it belongs to in
/// dots, one that may be reversed with a question mark.
void draw_star(PhaseSum const& s, Picture& picture, Placement& placement, Box box, double size)
{
    double largest = 0.0;
    for (double const a : s.phase_a)
        largest = std::max(largest, size_of(a));
    double const reach = std::min(box.width(), box.height()) / 2.0 - 1.3 * size - 0.6;
    if (largest <= 0.0 || reach < 4.0)
        return;
    Point const centre = box.centre();
    picture.circle(centre, reach, Ink::faint, 0.25);
    std::array<Point, 3> tips;
    for (std::size_t i = 0; i < 3; ++i) {
        double const length = reach * size_of(s.phase_a[i]) / largest;
        double const own =
            (90.0 + (drawable(s.angle_deg[i]) ? s.angle_deg[i] : 0.0)) * std::numbers::pi / 180.0;
        auto const tip_at = [&](double sign) {
            return Point{centre.x + sign * length * std::cos(own), centre.y - sign * length * std::sin(own)};
        };
        bool const reversed = s.direction[i] < 0;
        tips[i] = tip_at(reversed ? -1.0 : 1.0);
        if (reversed)
            picture.line(centre, tip_at(1.0), Ink::muted, 0.3, Dash::dotted);
        // Two coils on one phase: the second arrow lies beside the first.
        double beside = 0.0;
        for (std::size_t k = 0; k < i; ++k)
            if (std::hypot(tips[k].x - tips[i].x, tips[k].y - tips[i].y) < 0.25 * reach)
                beside = 1.1;
        double const turn = own + (reversed ? std::numbers::pi : 0.0);
        Point const aside{beside * std::sin(turn), beside * std::cos(turn)};
        tips[i] = {tips[i].x + aside.x, tips[i].y + aside.y};
        arrow(picture, placement, {centre.x + aside.x, centre.y + aside.y}, tips[i],
              reversed ? Ink::fail : Ink::line, reversed ? 0.9 : 0.7);
    }
    picture.dot(centre, 0.8, Ink::line);
    for (std::size_t i = 0; i < 3; ++i) {
        double const dx = tips[i].x - centre.x, dy = tips[i].y - centre.y;
        double const length = std::max(0.1, std::hypot(dx, dy));
        Point const at{tips[i].x + dx / length * 0.75 * size,
                       tips[i].y + dy / length * 0.75 * size + (ink_above - ink_below) / 2.0 * size};
        std::vector<Placement::Offer> offers{{at, Align::centre, 0.0}};
        for (double shift = 1.0; shift < 6.0; shift += 1.0)
            for (double const sign : {1.0, -1.0})
                offers.push_back({{at.x + sign * shift, at.y}, Align::centre, shift});
        placement.put(picture,
                      {{},
                       s.names[i] + (s.direction[i] == 0 ? "?" : ""),
                       size,
                       s.direction[i] <= 0 ? Ink::fail : Ink::text,
                       Face::bold},
                      offers, {box});
    }
}

BarPlan bars_of(PhaseSum const& s, double width, double size)
{
    BarPlan plan;
    Extent e;
    e.take(0.0);
    e.take(s.sum_a + std::abs(s.u95_a));
    e.take(s.sum_a);
    for (auto const& x : s.explanations) {
        for (double const a : x.expected_a)
            e.take(a);
        BarRow row;
        row.name = x.text;
        row.value = percent(x.probability);
        row.points = x.expected_a;
        row.look = BarRow::Look::points;
        row.strong = &x == &s.explanations.front();
        plan.rows.push_back(std::move(row));
    }
    plan.scale = nice_axis(0.0, e.high > 0.0 ? e.high * 1.06 : 1.0,
                           std::clamp(static_cast<int>(0.5 * width / (3.0 * size)), 3, 7), false);
    plan.titles = s.x_titles;
    if (drawable(s.sum_a)) {
        std::string text = fmt::format("{} {:.4g}", s.read_label, s.sum_a);
        if (drawable(s.u95_a) && s.u95_a > 0.0) {
            text += fmt::format(" ± {:.2g}", s.u95_a);
            plan.band = {s.sum_a - s.u95_a, s.sum_a + s.u95_a};
        }
        plan.lines.push_back({s.sum_a, text + " A", Ink::accent, Dash::solid});
    }
    return plan;
}

std::string spoken(PhaseSum const& s)
{
    std::string text = fmt::format("Currents {:.4g}, {:.4g} and {:.4g} A, {} {:.4g} A", s.phase_a[0],
                                   s.phase_a[1], s.phase_a[2], s.read_label, s.sum_a);
    for (auto const& x : s.explanations)
        text += fmt::format("; {}: {:.4g} A, {}", x.text, x.expected_a.empty() ? 0.0 : x.expected_a.front(),
                            percent(x.probability));
    return text + ".";
}

} // namespace

Picture phase_sum(PhaseSum const& s, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(s);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    double const size = body_size(space);
    Box rows{0.0, 0.0, space.width_mm, space.height_mm};
    double const least = bar_rows_height(s.explanations.size(), true, true, size);
    double const wide = std::min(0.34 * space.width_mm, 0.9 * space.height_mm);
    double const spare = space.height_mm - 1.15 * least;
    // The arrows stand above the rows where there is height to spare, else beside them where there is width.
    if (spare > 24.0) {
        double const high = std::min({spare, 0.55 * space.height_mm, 0.75 * space.width_mm});
        draw_star(s, picture, placement, {0.0, 0.0, space.width_mm, high}, size);
        rows.top = high;
    } else if (space.width_mm - wide > 15.0 * size && wide > 26.0) {
        draw_star(s, picture, placement, {0.0, 0.0, wide, space.height_mm}, size);
        rows.left = wide + 2.0;
    }
    BarPlan const plan = bars_of(s, rows.width(), size);
    BarRows(picture, placement, plan, rows,
            bar_rows_size(plan, rows, size, std::min(size, body_size({0.0, 0.0})), measure));
    return picture;
}

} // namespace isochore::drawing
