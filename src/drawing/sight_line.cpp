#include "drawing/sight_line.h"
#include "drawing/axis.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::drawing {

namespace {

bool usable(SightLine const& s)
{
    for (double const length : {s.window_mm, s.display_mm, s.eye_mm})
        if (!drawable(length) || !(length > 0.0))
            return false;
    return drawable(s.offset_mm) && drawable(s.gap_mm) && s.gap_mm >= 0.0;
}

std::string millimetres(double mm)
{
    return fmt::format("{:.4g} mm", mm);
}

/// From above: the eye at the left, the door's glass, the display behind it.
class Sight {
public:
    Sight(SightLine const& s, Space space, Footing const& footing, MeasureText const& measure, double size)
        : m_s(s), m_placement({0.0, 0.0, space.width_mm, space.height_mm - footing.height()}, measure),
          m_size(size)
    {
        m_picture.width = space.width_mm;
        m_picture.height = space.height_mm;
        lay_out();
    }

    Picture draw()
    {
        seen_area();
        door();
        lines();
        display();
        eye();
        dimensions();
        return std::move(m_picture);
    }

private:
    [[nodiscard]] double seen_half() const
    {
        return 0.5 * m_s.window_mm * (m_s.eye_mm + m_s.gap_mm) / m_s.eye_mm;
    }
    [[nodiscard]] double y(double across) const { return m_axis - across * m_across; }

    void lay_out()
    {
        Box const outer = m_placement.outer();
        double const names = 1.5 * m_size, sizes = 1.6 * m_size;
        double const top = outer.top + names, bottom = outer.bottom - sizes;
        // Half of what must be seen across, the door's frame included.
        double const half = std::max(
            {seen_half(), std::abs(m_s.offset_mm) + m_s.display_mm / 2.0, m_s.window_mm / 2.0 * 1.25});
        m_across = (bottom - top) / (2.0 * half);
        m_axis = (top + bottom) / 2.0;
        m_top = top;
        m_bottom = bottom;
        m_eye = outer.left + std::max(4.0, m_size * 1.4);
        double const right = outer.right - std::max(12.0, longest() + 4.2);
        double const along = (right - m_eye) / (m_s.eye_mm + m_s.gap_mm);
        m_glass = right - m_s.gap_mm * along;
        m_display = right;
    }
    /// Words right of the display.
    [[nodiscard]] double longest() const
    {
        auto const& measure = m_placement.measure();
        double const most = m_picture.width * 0.3;
        double width = 0.0;
        for (auto const& text : {m_s.display, m_s.hidden})
            width = std::max(width, measure(text, Face::regular, m_size));
        return std::min(width, most);
    }

    void seen_area()
    {
        double const half = std::min(seen_half() * m_across, (m_bottom - m_top) / 2.0);
        m_picture.area({{m_eye, m_axis}, {m_display, m_axis - half}, {m_display, m_axis + half}},
                       Ink::accent_soft);
    }
    void door()
    {
        // The glass is flush with the inside of the door, from where the gap is measured.
        double const half = m_s.window_mm / 2.0 * m_across, thick = 1.5;
        for (auto const& [from, to] : {std::pair{m_top, m_axis - half}, std::pair{m_axis + half, m_bottom}})
            if (to - from > 0.3)
                m_picture.filled_rect({m_glass - thick, from}, thick, to - from, Ink::line);
        for (double const side : {-0.6, 0.0})
            m_picture.line({m_glass + side, m_axis - half}, {m_glass + side, m_axis + half}, Ink::line, 0.25);
    }
    void lines()
    {
        double const half = seen_half() * m_across;
        for (double const side : {-1.0, 1.0})
            m_picture.line({m_eye, m_axis}, {m_display, m_axis + side * half}, Ink::accent, 0.4);
        m_picture.line({m_eye, m_axis}, {m_display + 3.0, m_axis}, Ink::muted, 0.2, Dash::dashed);
    }
    /// The part that is seen is full, what the frame hides is hollow and named.
    void display()
    {
        double const low = m_s.offset_mm - m_s.display_mm / 2.0, high = m_s.offset_mm + m_s.display_mm / 2.0;
        double const seen = seen_half();
        double const from = std::clamp(-seen, low, high), to = std::clamp(seen, low, high);
        part(low, from, false);
        part(from, to, true);
        part(to, high, false);
        Point const at{m_display + 3.4, y((from + to) / 2.0)};
        if (to > from)
            write(at, m_s.display, Ink::text);
        for (auto const& [a, b] : {std::pair{low, from}, std::pair{to, high}})
            if (b - a > 0.02 * m_s.display_mm)
                write({at.x, y((a + b) / 2.0)}, m_s.hidden, Ink::fail);
    }
    void part(double low, double high, bool seen)
    {
        if (!(high > low))
            return;
        Polyline bar;
        bar.points = {
            {m_display, y(low)}, {m_display + 2.2, y(low)}, {m_display + 2.2, y(high)}, {m_display, y(high)}};
        bar.closed = true;
        bar.width = 0.45;
        bar.ink = seen ? Ink::accent : Ink::fail;
        bar.filled = seen;
        bar.fill = Ink::accent;
        m_picture.items.emplace_back(std::move(bar));
    }
    void eye()
    {
        double const r = 2.6;
        std::vector<Point> lids;
        for (int i = 0; i <= 12; ++i) {
            double const a = std::numbers::pi * i / 12.0;
            lids.push_back({m_eye - r * std::cos(a), m_axis - 1.5 * std::sin(a)});
        }
        for (int i = 11; i > 0; --i) {
            double const a = std::numbers::pi * i / 12.0;
            lids.push_back({m_eye - r * std::cos(a), m_axis + 1.5 * std::sin(a)});
        }
        Polyline shape;
        shape.points = lids;
        shape.closed = shape.filled = true;
        shape.fill = Ink::paper;
        shape.width = 0.4;
        m_picture.items.emplace_back(std::move(shape));
        m_picture.dot({m_eye, m_axis}, 0.9, Ink::line);
        centred(m_eye, m_axis - 2.4 - ink_below * m_size, m_s.eye, Ink::muted);
        // The angle stands at its arc where the lines have room for it between them.
        double const half = std::atan2(seen_half() * m_across, m_display - m_eye);
        double const reach = (m_glass - m_eye) * 0.45;
        std::vector<Point> arc;
        for (int i = -8; i <= 8; ++i)
            arc.push_back(
                {m_eye + reach * std::cos(half * i / 8.0), m_axis + reach * std::sin(half * i / 8.0)});
        m_picture.polyline(std::move(arc), Ink::accent, 0.3);
        std::string const angle = fmt::format("{:.1f}°", 2.0 * sight_half_angle_deg(m_s));
        double const at = m_eye + reach + 1.0;
        double const wide = m_placement.measure()(angle, Face::regular, m_size);
        bool const inside = std::tan(half) * (at - m_eye) > 1.25 * m_size && at + wide < m_glass - 1.5;
        Label const label{inside ? Point{at, m_axis - 0.4 * m_size}
                                 : Point{at - wide - 1.5, m_axis - reach * std::tan(half) - 0.8},
                          angle, m_size, Ink::accent};
        if (m_placement.free(label_box(label, wide)))
            m_placement.put_fixed(m_picture, label);
    }
    void write(Point at, std::string const& text, Ink ink)
    {
        auto const& measure = m_placement.measure();
        double const room = m_placement.outer().right - at.x - 0.3;
        Label const label{{at.x, at.y + 0.28 * m_size},
                          shorten_text(text, room, Face::regular, m_size, measure),
                          m_size,
                          ink};
        if (m_placement.free(label_box(label, measure(label.text, label.face, m_size))))
            m_placement.put_fixed(m_picture, label);
    }
    /// The whole text where nothing stands in its way, else a short one.
    void centred(double x, double base, std::string const& text, Ink ink)
    {
        auto const& measure = m_placement.measure();
        // At the top the corner is left to the sheet's sign for the large picture.
        double const right = m_picture.width - (base < 1.5 * m_size ? 6.5 : 0.3);
        for (double const share : {1.0, 0.4}) {
            double const room = std::min(right - 0.3, m_picture.width * share);
            std::string const shown = shorten_text(text, room, Face::regular, m_size, measure);
            double const half = measure(shown, Face::regular, m_size) / 2.0;
            double const at = std::clamp(x, half + 0.3, std::max(half + 0.3, right - half));
            Label const label{{at, base}, shown, m_size, ink, Face::regular, Align::centre};
            if (!m_placement.free(label_box(label, 2.0 * half)))
                continue;
            m_placement.put_fixed(m_picture, label);
            return;
        }
    }
    /// Lengths along under the drawing, the window's width over it, the offset at the display.
    void dimensions()
    {
        double const base = m_placement.outer().bottom - ink_below * m_size - 0.2;
        double const rule = base - 0.85 * m_size - 0.5;
        for (double const x : {m_eye, m_glass, m_display})
            m_picture.line({x, rule - 1.0}, {x, rule + 1.0}, Ink::muted, 0.25);
        m_picture.line({m_eye, rule}, {m_display, rule}, Ink::muted, 0.25);
        centred((m_eye + m_glass) / 2.0, base, millimetres(m_s.eye_mm), Ink::muted);
        centred(m_display, base, millimetres(m_s.gap_mm), Ink::muted);
        centred(m_glass - 2.0, m_placement.outer().top + 0.95 * m_size, m_s.window, Ink::text);
    }

    SightLine const& m_s;
    Picture m_picture;
    Placement m_placement;
    double m_size;
    double m_eye = 0.0, m_glass = 0.0, m_display = 0.0, m_axis = 0.0, m_top = 0.0, m_bottom = 0.0;
    double m_across = 1.0;
};

std::string spoken(SightLine const& s)
{
    std::string text = fmt::format("Sight line from above: window {}, eye {} before it, display {} wide, {} "
                                   "behind it and {} off its middle",
                                   millimetres(s.window_mm), millimetres(s.eye_mm), millimetres(s.display_mm),
                                   millimetres(s.gap_mm), millimetres(s.offset_mm));
    return text + (s.result.empty() ? "." : "; " + s.result + ".");
}

} // namespace

double sight_half_angle_deg(SightLine const& s)
{
    return std::atan2(s.window_mm / 2.0, s.eye_mm) * 180.0 / std::numbers::pi;
}

Picture sight_line(SightLine const& s, Space space, MeasureText const& measure)
{
    double const size = body_size(space);
    Footing const footing({conclusion(s.result, s.verdict), {s.note}}, space, size, space.height_mm * 0.3,
                          measure);
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    if (usable(s))
        picture = Sight(s, space, footing, measure, size).draw();
    footing.draw(picture, measure);
    picture.spoken = spoken(s);
    return picture;
}

} // namespace isochore::drawing
