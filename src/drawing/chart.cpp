#include "drawing/chart.h"
#include "drawing/clip.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>

namespace isochore::drawing {

namespace {
constexpr double tick_gap = 1.0; ///< between the frame and its numbers
}

Chart::Chart(Picture& picture, Placement& placement, ChartPlan const& plan, double size)
    : m_picture(picture), m_placement(placement), m_size(size)
{
    lay_out(plan);
    label_axes(plan);
    if (m_second)
        label_second(plan);
}

double Chart::widest(std::vector<std::string> const& texts) const
{
    double width = 0.0;
    for (auto const& text : texts)
        width = std::max(width, m_placement.measure()(text, Face::regular, m_size));
    return width;
}

void Chart::lay_out(ChartPlan const& plan)
{
    Box const outer = m_placement.outer();
    // The sheet puts its sign for the large picture into the upper right corner.
    constexpr double below_sign = 5.4, corner_until = 4.0;
    double const title = outer.top + (plan.y_titles.empty() ? 0.6 * m_size : 1.45 * m_size);
    double const top = outer.top < corner_until ? std::max(title, below_sign) : title;
    double const bottom = outer.bottom - (plan.x_titles.empty() ? 1.6 : 2.8) * m_size;
    lay_out_y(plan, top, std::max(top + 5.0, bottom));
    lay_out_x(plan);
}

void Chart::lay_out_y(ChartPlan const& plan, double top, double bottom)
{
    int const rows = std::clamp(static_cast<int>((bottom - top) / (2.2 * m_size)) + 1, 2, 9);
    m_y = plan.decade_text ? decade_axis(plan.y_low, plan.y_high, rows, plan.decade_text)
                           : nice_axis(plan.y_low, plan.y_high, rows, plan.grow_y);
    if (plan.second) {
        double const a = m_y.low * plan.second->scale + plan.second->offset;
        double const b = m_y.high * plan.second->scale + plan.second->offset;
        m_second = nice_axis(a, b, rows, false);
    }
    Box const outer = m_placement.outer();
    m_plot.top = top;
    m_plot.bottom = bottom;
    m_plot.left = outer.left + widest(m_y.texts) + tick_gap + 0.2;
    m_plot.right = outer.right - (m_second ? widest(m_second->texts) + tick_gap + 0.2 : 1.0);
}

void Chart::lay_out_x(ChartPlan const& plan)
{
    Box const outer = m_placement.outer();
    for (int most = std::max(2, plan.most_x); most >= 2; --most) {
        m_x = nice_axis(plan.x_low, plan.x_high, most, plan.grow_x);
        double const half = widest(m_x.texts) / 2.0;
        double const right = std::min(m_plot.right, outer.right - half - 0.1);
        double const pitch =
            (right - m_plot.left) / std::max(1.0, static_cast<double>(m_x.ticks.size()) - 1.0);
        if (pitch > 2.0 * half + 0.8 * m_size || most == 2) {
            m_plot.right = right;
            m_plot.left = std::max(m_plot.left, outer.left + half + 0.1);
            break;
        }
    }
    m_plot.right = std::max(m_plot.right, m_plot.left + 5.0);
}

Point Chart::at(double x, double y) const
{
    return {m_plot.left + m_x.share(x) * m_plot.width(), m_plot.bottom - m_y.share(y) * m_plot.height()};
}

std::vector<Point> Chart::at(std::vector<Point> const& values) const
{
    std::vector<Point> points;
    for (Point const v : values)
        if (drawable(v.x) && drawable(v.y) && (!m_y.decades || v.y > 0.0))
            points.push_back(at(v));
    return points;
}

void Chart::label_axes(ChartPlan const& plan)
{
    auto const& measure = m_placement.measure();
    double const middle = (ink_above - ink_below) / 2.0 * m_size;
    // The lowest number of the scale reaches half an em below the corner; the numbers under the axis start
    // below that.
    double const below = m_plot.bottom + 0.55 * m_size + ink_above * m_size;
    for (std::size_t i = 0; i < m_y.ticks.size(); ++i) {
        double const y = at(m_x.low, m_y.ticks[i]).y + middle;
        m_placement.put_fixed(
            m_picture,
            {{m_plot.left - tick_gap, y}, m_y.texts[i], m_size, Ink::muted, Face::regular, Align::right});
    }
    for (std::size_t i = 0; i < m_x.ticks.size(); ++i) {
        Label const label{{at(m_x.ticks[i], m_y.low).x, below},
                          m_x.texts[i],
                          m_size,
                          Ink::muted,
                          Face::regular,
                          Align::centre};
        if (m_placement.free(label_box(label, measure(label.text, label.face, label.size))))
            m_placement.put_fixed(m_picture, label);
    }
    double const width = m_placement.outer().width() - 0.4;
    if (!plan.x_titles.empty()) {
        std::string text = first_fitting(plan.x_titles, width, Face::regular, m_size, measure);
        double const wide = measure(text, Face::regular, m_size);
        double const right = std::max(m_plot.right, m_placement.outer().left + wide + 0.2);
        m_placement.put_fixed(
            m_picture,
            {{right, below + 1.2 * m_size}, std::move(text), m_size, Ink::text, Face::regular, Align::right});
    }
    if (!plan.y_titles.empty()) {
        double const second =
            m_second ? measure(second_title(plan), Face::regular, m_size) + m_size + m_plot.left : 0.0;
        // The long numbers of a scale of decades leave no room for the title over them.
        double const room = std::max(
            m_y.decades ? m_placement.outer().right - m_plot.left - 0.4 : width - second, width * 0.3);
        std::string text = first_fitting(plan.y_titles, room, Face::regular, m_size, measure);
        double const wide = measure(text, Face::regular, m_size);
        double const left = std::min(m_plot.left, m_placement.outer().right - wide - 0.2);
        m_placement.put_fixed(m_picture, {{left, m_placement.outer().top + 0.85 * m_size},
                                          std::move(text),
                                          m_size,
                                          Ink::text,
                                          Face::regular,
                                          Align::left});
    }
}

std::string Chart::second_title(ChartPlan const& plan) const
{
    return first_fitting(plan.second->titles, m_placement.outer().width() * 0.4, Face::regular, m_size,
                         m_placement.measure());
}

void Chart::label_second(ChartPlan const& plan)
{
    double const middle = (ink_above - ink_below) / 2.0 * m_size;
    for (std::size_t i = 0; i < m_second->ticks.size(); ++i) {
        double const y = m_plot.bottom - m_second->share(m_second->ticks[i]) * m_plot.height();
        m_picture.line({m_plot.right, y}, {m_plot.right - 1.2, y}, Ink::line, 0.25);
        m_placement.put_fixed(m_picture, {{m_plot.right + tick_gap, y + middle},
                                          m_second->texts[i],
                                          m_size,
                                          Ink::muted,
                                          Face::regular,
                                          Align::left});
    }
    Box const outer = m_placement.outer();
    std::string text = second_title(plan);
    m_placement.put_fixed(m_picture, {{outer.right - 0.2, outer.top + 0.85 * m_size},
                                      std::move(text),
                                      m_size,
                                      Ink::muted,
                                      Face::regular,
                                      Align::right});
}

void Chart::grid()
{
    for (double const tick : m_x.ticks)
        if (double const x = at(tick, m_y.low).x; x > m_plot.left + 0.1 && x < m_plot.right - 0.1)
            m_picture.line({x, m_plot.top}, {x, m_plot.bottom}, Ink::faint, 0.18);
    for (double const tick : m_y.ticks)
        if (double const y = at(m_x.low, tick).y; y > m_plot.top + 0.1 && y < m_plot.bottom - 0.1)
            m_picture.line({m_plot.left, y}, {m_plot.right, y}, Ink::faint, 0.18);
}

void Chart::frame()
{
    m_picture.rect({m_plot.left, m_plot.top}, m_plot.width(), m_plot.height(), Ink::line, 0.35);
}

void Chart::curve(std::vector<Point> const& values, Ink ink, double width, Dash dash)
{
    for (auto& run : clip_line(at(values), m_plot)) {
        m_placement.avoid(run);
        m_picture.polyline(std::move(run), ink, width, dash);
    }
}

void Chart::area(std::vector<Point> const& values, Ink fill)
{
    auto points = clip_area(at(values), m_plot);
    if (points.size() > 2)
        m_picture.area(std::move(points), fill);
}

void Chart::reading(Point value, double radius, Ink ink, bool filled)
{
    if (!drawable(value.x) || !drawable(value.y) || (m_y.decades && value.y <= 0.0))
        return;
    Point const p = at(value);
    if (!m_plot.grown(0.01).holds(p))
        return;
    m_picture.items.emplace_back(Circle{p, radius, ink, 0.4, true, filled ? ink : Ink::paper});
    m_placement.avoid(Box{p.x, p.y, p.x, p.y}.grown(radius + 0.3), 25.0);
}

} // namespace isochore::drawing
