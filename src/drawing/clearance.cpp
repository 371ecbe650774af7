#include "drawing/clearance.h"
#include "drawing/axis.h"
#include "drawing/placement.h"
#include "drawing/text.h"
#include "drawing/text_block.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::drawing {

namespace {

double depth_of(StackPart const& part)
{
    return drawable(part.depth_mm) && part.depth_mm > 0.0 ? part.depth_mm : 0.0;
}

std::string millimetres(double value, double tolerance)
{
    if (!drawable(value))
        return "?";
    if (drawable(tolerance) && tolerance > 0.0)
        return fmt::format("{:.4g} ± {:.2g}", value, tolerance);
    return fmt::format("{:.4g}", value);
}

class Section {
public:
    Section(ClearanceSection const& s, Space space, MeasureText const& measure)
        : m_s(s), m_placement({0.0, 0.0, space.width_mm, space.height_mm}, measure), m_size(body_size(space))
    {
        m_picture.width = space.width_mm;
        m_picture.height = space.height_mm;
        double stack = 0.0;
        for (auto const& part : s.parts)
            stack += depth_of(part);
        double const depth = drawable(s.depth_mm) && s.depth_mm > 0.0 ? s.depth_mm : std::max(stack, 1.0);
        m_scale = (space.width_mm - 2.0 * wall - 2.0) / std::max(depth, stack);
        m_left = wall + 1.0;
        m_door = m_left + depth * m_scale;
        m_stack = m_left + stack * m_scale;
    }

    Picture draw()
    {
        double const foot = 4.3 * m_size; // dimension rows and the gap's words
        m_top = 1.5 * m_size;
        m_floor = std::max(m_top + 10.0, m_picture.height - foot);
        walls();
        double x = m_left;
        for (auto const& part : m_s.parts) {
            double const w = depth_of(part) * m_scale;
            draw_part(part, x, x + w);
            x += w;
        }
        gap();
        dimensions();
        for (auto const& later : m_later)
            put_block(m_picture, m_placement, {{later.text, m_size, Ink::text, Face::regular}}, later.symbol,
                      {Side::above, Side::below});
        return std::move(m_picture);
    }

private:
    static constexpr double wall = 2.6;
    struct Later {
        std::string text;
        Box symbol;
    };

    double middle() const { return (m_top + m_floor) / 2.0; }

    void hatched(Box box, Ink ink)
    {
        m_picture.rect({box.left, box.top}, box.width(), box.height(), ink, 0.4);
        for (double y = box.top - box.width(); y < box.bottom; y += 2.2) {
            double const from = std::max(0.0, box.top - y), to = std::min(box.width(), box.bottom - y);
            if (to > from)
                m_picture.line({box.left + from, y + from}, {box.left + to, y + to}, ink, 0.2);
        }
        m_placement.take(box);
    }

    void walls()
    {
        hatched({m_left - wall, m_top, m_left, m_floor}, Ink::line);
        hatched({m_door, m_top, m_door + wall, m_floor}, Ink::line);
        m_picture.line({m_left, m_top}, {m_door, m_top}, Ink::faint, 0.3);
        m_picture.line({m_left, m_floor}, {m_door, m_floor}, Ink::faint, 0.3);
        auto const& measure = m_placement.measure();
        double const base = 0.95 * m_size, room = (m_door - 2.4) / 2.0 - 1.5;
        m_placement.put_fixed(
            m_picture,
            {{0.3, base}, shorten_text(m_s.back, room, Face::regular, m_size, measure), m_size, Ink::muted});
        // Left of the corner, where the sheet puts its sign for the large picture.
        m_placement.put_fixed(m_picture, {{m_door - 2.4, base},
                                          shorten_text(m_s.door, room, Face::regular, m_size, measure),
                                          m_size,
                                          Ink::muted,
                                          Face::regular,
                                          Align::right});
    }

    void draw_part(StackPart const& part, double x0, double x1)
    {
        double const room = m_floor - m_top;
        using Kind = StackPart::Kind;
        double const share = part.kind == Kind::plate ? 0.8 : part.kind == Kind::unit ? 0.56 : 0.2;
        double const half = room * share / 2.0;
        Box const box{x0, middle() - half, x1, middle() + half};
        if (part.kind == Kind::cable_bend) {
            bend(box);
        } else {
            Polyline body;
            body.points = {
                {box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}};
            body.width = 0.5;
            body.closed = body.filled = true;
            body.fill = Ink::panel;
            m_picture.items.emplace_back(std::move(body));
        }
        name(part, box);
    }

    /// A cable leaving the connector and turning down: its outer edge touches the end of its depth.
    void bend(Box box)
    {
        double const across = std::max(0.5, box.width() - 0.4);
        double const down = std::min(across, m_floor - middle() - 2.0);
        constexpr double cable = 1.6; // thickness as drawn
        for (double const inset : {0.0, cable}) {
            double const rx = across - inset, ry = down - inset;
            if (rx <= 0.3 || ry <= 0.3)
                continue;
            double const top = middle() - cable / 2.0 + inset;
            std::vector<Point> curve;
            for (int i = 0; i <= 12; ++i) {
                double const a = std::numbers::pi / 2.0 * i / 12.0;
                curve.push_back({box.left + rx * std::sin(a), top + ry - ry * std::cos(a)});
            }
            curve.push_back({box.left + rx, m_floor});
            m_placement.avoid(curve, 30.0);
            m_picture.polyline(std::move(curve), Ink::line, 0.4);
        }
    }

    void name(StackPart const& part, Box box)
    {
        auto const& measure = m_placement.measure();
        bool const solid = part.kind != StackPart::Kind::cable_bend;
        // In the box where its words fit whole, else above or below it.
        double const word = longest_word(part.label, Face::regular, m_size, measure);
        bool const inside = solid && box.width() > word + 2.0 && box.height() > 2.6 * m_size;
        if (inside) {
            fill_box(m_picture, m_placement, {{part.label, m_size, Ink::text, Face::regular}}, box);
            m_placement.take(box);
            return;
        }
        m_placement.avoid(box, 30.0);
        m_later.push_back({part.label, box});
    }

    void gap()
    {
        Ink const ink = m_s.verdict == Mark::none ? Ink::accent : mark_ink(m_s.verdict);
        double const a = std::min(m_stack, m_door), b = std::max(m_stack, m_door);
        if (m_stack > m_door + 0.05)
            m_picture.rect({a, m_top}, b - a, m_floor - m_top, ink, 0.5);
        m_picture.line({a, m_top + 1.0}, {a, m_floor}, ink, 0.3, Dash::dashed);
        m_placement.avoid({{a, m_top}, {a, m_floor}}, 40.0);
        arrows(a, b, m_top + (m_floor - m_top) * 0.14, ink);
        double const base = m_picture.height - ink_below * m_size - 0.4;
        double const mark = m_s.verdict == Mark::none ? 0.0 : 1.3 * m_size;
        std::string const text = shorten_text(m_s.gap_label, m_picture.width - mark - 2.0, Face::bold, m_size,
                                              m_placement.measure());
        // The mark at the edge, where no wider type can run into it.
        double const right = m_picture.width - 0.5 - (mark > 0.0 ? mark + 1.2 : 0.0);
        m_placement.put_fixed(m_picture, {{right, base}, text, m_size, ink, Face::bold, Align::right});
        if (mark > 0.0)
            draw_mark(m_picture, m_s.verdict, {m_picture.width - 0.5 - mark / 2.0, base - 0.36 * m_size},
                      mark);
    }

    void arrow(Point tip, double direction, Ink ink)
    {
        m_picture.area({tip, {tip.x - direction * 2.0, tip.y - 0.7}, {tip.x - direction * 2.0, tip.y + 0.7}},
                       ink);
    }

    /// A dimension between two x: arrows inside, or from outside where the two are close.
    void arrows(double a, double b, double y, Ink ink)
    {
        bool const close = b - a < 5.0;
        m_picture.line({close ? a - 4.0 : a, y}, {close ? b + 4.0 : b, y}, ink, 0.3);
        arrow({a, y}, close ? 1.0 : -1.0, ink);
        arrow({b, y}, close ? -1.0 : 1.0, ink);
    }

    void dimensions()
    {
        double const y = m_floor + 1.55 * m_size;
        double x = m_left;
        for (auto const& part : m_s.parts) {
            double const end = x + depth_of(part) * m_scale;
            dimension(x, end, y,
                      {millimetres(part.depth_mm, part.tolerance_mm), millimetres(part.depth_mm, 0.0)});
            x = end;
        }
        dimension(m_left, m_door, y + 1.35 * m_size, {millimetres(m_s.depth_mm, m_s.tolerance_mm) + " mm"});
    }

    void dimension(double a, double b, double y, std::vector<std::string> const& wordings)
    {
        for (double const x : {a, b})
            m_picture.line({x, m_floor + 0.6}, {x, y + 0.8}, Ink::muted, 0.2);
        if (b - a > 5.0) {
            m_picture.line({a, y}, {b, y}, Ink::muted, 0.25);
            arrow({a, y}, -1.0, Ink::muted);
            arrow({b, y}, 1.0, Ink::muted);
        }
        auto const& measure = m_placement.measure();
        std::string text = wordings.front();
        if (measure(text, Face::regular, m_size) > b - a - 1.0)
            text = wordings.back();
        double const half = measure(text, Face::regular, m_size) / 2.0;
        double const middle_x = std::clamp((a + b) / 2.0, half + 0.3, m_picture.width - half - 0.3);
        Label const label{
            {middle_x, y - 0.35 * m_size}, text, m_size, Ink::muted, Face::regular, Align::centre};
        if (m_placement.free(label_box(label, 2.0 * half)))
            m_placement.put_fixed(m_picture, label);
    }

    ClearanceSection const& m_s;
    Picture m_picture;
    Placement m_placement;
    double m_size;
    double m_scale = 1.0, m_left = 0.0, m_door = 0.0, m_stack = 0.0, m_top = 0.0, m_floor = 0.0;
    std::vector<Later> m_later;
};

std::string spoken(ClearanceSection const& s)
{
    std::string text =
        fmt::format("Section of the cabinet, {} mm deep", millimetres(s.depth_mm, s.tolerance_mm));
    for (auto const& part : s.parts)
        text += fmt::format("; {} {} mm", part.label, millimetres(part.depth_mm, part.tolerance_mm));
    if (!s.gap_label.empty())
        text += "; " + s.gap_label;
    if (s.verdict != Mark::none)
        text += ", " + (s.verdict_word.empty() ? mark_word(s.verdict) : s.verdict_word);
    return text + ".";
}

} // namespace

Picture clearance_section(ClearanceSection const& section, Space space, MeasureText const& measure)
{
    Picture picture = Section(section, space, measure).draw();
    picture.spoken = spoken(section);
    return picture;
}

} // namespace isochore::drawing
