#include "drawing/ct_taps.h"
#include "drawing/placement.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::drawing {

namespace {

class Taps {
public:
    Taps(CtTaps const& t, Space space, MeasureText const& measure, double size)
        : m_t(t), m_placement({0.0, 0.0, space.width_mm, space.height_mm}, measure), m_size(size)
    {
        m_picture.width = space.width_mm;
        m_picture.height = space.height_mm;
    }

    Picture draw()
    {
        if (m_t.segment_turns.empty())
            return std::move(m_picture);
        lay_out();
        primary();
        for (std::size_t i = 0; i < m_t.segment_turns.size(); ++i)
            segment(i);
        for (std::size_t i = 0; i < m_x.size(); ++i)
            terminal(i);
        used_pair();
        note();
        return std::move(m_picture);
    }

private:
    bool chosen() const
    {
        auto const last = static_cast<int>(m_x.size());
        return m_t.from >= 1 && m_t.to > m_t.from && m_t.to <= last;
    }
    bool in_use(std::size_t segment) const
    {
        auto const n = static_cast<int>(segment) + 1;
        return chosen() && n >= m_t.from && n < m_t.to;
    }
    std::string name(std::size_t i) const
    {
        return i < m_t.names.size() ? m_t.names[i] : fmt::format("X{}", i + 1);
    }
    double measure(std::string const& text, Face face, double size) const
    {
        return m_placement.measure()(text, face, size);
    }

    /// Terminals along the winding, wider where there are more turns, but never too close for their names.
    void lay_out()
    {
        double const margin = std::max(4.0, m_size * 1.6);
        std::vector<double> weights;
        double sum = 0.0;
        for (int const turns : m_t.segment_turns) {
            weights.push_back(std::sqrt(std::clamp(static_cast<double>(turns), 20.0, 20000.0)));
            sum += weights.back();
        }
        double const share = sum / static_cast<double>(weights.size());
        sum = 0.0;
        for (double& w : weights) {
            w = std::max(w, share * 0.75);
            sum += w;
        }
        double x = margin;
        m_x.push_back(x);
        for (double const w : weights) {
            x += w / sum * (m_picture.width - 2.0 * margin);
            m_x.push_back(x);
        }
        double const foot = m_t.note.empty() ? 0.0 : 2.6 * m_size;
        double const height = m_picture.height - foot;
        m_arc = std::clamp(height * 0.035, 2.0, 4.0);
        double const leads = std::clamp(height * 0.25, 5.0, 24.0);
        double const over = std::clamp(height * 0.25, 2.0 * m_size + m_arc, 2.2 * m_size + m_arc + 8.0);
        double const used = 1.4 * m_size + over + leads + 5.0 * m_size;
        m_primary = 1.4 * m_size + std::max(0.0, (height - used) / 2.0);
        m_winding = m_primary + over;
        m_terminals = std::max(m_winding + 4.0, std::min(m_winding + leads, height - 5.0 * m_size));
    }

    void primary()
    {
        m_picture.line({1.0, m_primary}, {m_picture.width - 1.0, m_primary}, Ink::line, 0.9);
        std::string const name =
            shorten_text(m_t.primary, m_picture.width * 0.4, Face::regular, m_size, m_placement.measure());
        m_placement.put_fixed(m_picture, {{1.0, m_primary - 0.5 * m_size}, name, m_size, Ink::muted});
        // Marks of the same polarity: a dot at H1 and one at the first terminal of the winding.
        double const clear = 1.0 + measure(name, Face::regular, m_size) + 1.8;
        m_picture.dot({clear, m_primary - 1.6}, 0.7, Ink::line);
        m_picture.dot({m_x.front() + 1.4, m_winding - m_arc - 1.4}, 0.7, Ink::line);
        m_placement.take(
            Box{m_x.front() + 1.4, m_winding - m_arc - 1.4, m_x.front() + 1.4, m_winding - m_arc - 1.4}.grown(
                0.9));
        std::string const text =
            shorten_text(m_t.turns, m_picture.width * 0.4, Face::regular, m_size, m_placement.measure());
        // Left of the corner, where the sheet puts its sign for the large picture.
        m_placement.put_fixed(m_picture, {{m_picture.width - 7.0, m_primary - 0.5 * m_size},
                                          text,
                                          m_size,
                                          Ink::muted,
                                          Face::regular,
                                          Align::right});
    }

    void segment(std::size_t i)
    {
        double const from = m_x[i], to = m_x[i + 1];
        Ink const ink = in_use(i) ? Ink::accent : Ink::line;
        int const arcs = std::clamp(static_cast<int>((to - from) / 4.0), 2, 12);
        double const pitch = (to - from) / arcs;
        std::vector<Point> line;
        for (int k = 0; k < arcs; ++k)
            for (int s = k == 0 ? 0 : 1; s <= 10; ++s) {
                double const a = std::numbers::pi * s / 10.0;
                line.push_back(
                    {from + pitch * (k + 0.5 - 0.5 * std::cos(a)), m_winding - m_arc * std::sin(a)});
            }
        m_picture.polyline(std::move(line), ink, in_use(i) ? 0.8 : 0.45);
        Label const label{{(from + to) / 2.0, m_winding - m_arc - 0.7 * m_size},
                          i < m_t.segment_labels.size() ? m_t.segment_labels[i]
                                                        : std::to_string(m_t.segment_turns[i]),
                          m_size,
                          in_use(i) ? Ink::accent : Ink::text,
                          in_use(i) ? Face::bold : Face::regular,
                          Align::centre};
        if (m_placement.free(label_box(label, measure(label.text, label.face, m_size)).grown(0.3)))
            m_placement.put_fixed(m_picture, label);
    }

    void terminal(std::size_t i)
    {
        auto const n = static_cast<int>(i) + 1;
        bool const used = chosen() && (n == m_t.from || n == m_t.to);
        Ink const ink = used ? Ink::accent : Ink::line;
        m_picture.line({m_x[i], m_winding}, {m_x[i], m_terminals - 1.1}, ink, used ? 0.8 : 0.45);
        m_picture.items.emplace_back(
            Circle{{m_x[i], m_terminals}, 1.1, ink, used ? 0.6 : 0.4, true, used ? Ink::accent : Ink::paper});
        Face const face = used ? Face::bold : Face::regular;
        std::string const text =
            shorten_text(name(i), m_picture.width * 0.3, face, m_size, m_placement.measure());
        double const half = measure(text, face, m_size) / 2.0;
        double const x = std::clamp(m_x[i], half + 0.3, std::max(half + 0.3, m_picture.width - half - 0.3));
        Label const label{{x, m_terminals + 1.6 + ink_above * m_size},
                          text,
                          m_size,
                          used ? Ink::accent : Ink::muted,
                          face,
                          Align::centre};
        if (m_placement.free(label_box(label, 2.0 * half)))
            m_placement.put_fixed(m_picture, label);
    }

    void used_pair()
    {
        if (!chosen())
            return;
        double const a = m_x[static_cast<std::size_t>(m_t.from) - 1],
                     b = m_x[static_cast<std::size_t>(m_t.to) - 1];
        double const y = m_terminals + 1.9 + 1.25 * m_size;
        m_picture.polyline({{a, y - 0.5}, {a, y + 0.9}, {b, y + 0.9}, {b, y - 0.5}}, Ink::accent, 0.5);
        double const big = std::min(m_size * 1.2, 4.6);
        double const room = m_picture.width - 1.0;
        std::string const text = shorten_text(m_t.used_label, room, Face::bold, big, m_placement.measure());
        double const half = measure(text, Face::bold, big) / 2.0;
        double const x =
            std::clamp((a + b) / 2.0, half + 0.4, std::max(half + 0.4, m_picture.width - half - 0.4));
        Label const label{{x, y + 2.0 + ink_above * big}, text, big, Ink::accent, Face::bold, Align::centre};
        if (m_placement.free(label_box(label, 2.0 * half)))
            m_placement.put_fixed(m_picture, label);
    }

    void note()
    {
        if (m_t.note.empty())
            return;
        auto const lines =
            wrap_text(m_t.note, m_picture.width - 1.0, Face::regular, m_size, m_placement.measure());
        double base = m_picture.height - ink_below * m_size - 0.3 -
                      m_size * line_pitch * static_cast<double>(std::min<std::size_t>(lines.size(), 2) - 1);
        for (std::size_t i = 0; i < std::min<std::size_t>(lines.size(), 2);
             ++i, base += m_size * line_pitch) {
            Label label{{0.5, base}, lines[i], m_size, Ink::text};
            if (m_placement.free(label_box(label, measure(lines[i], Face::regular, m_size))))
                m_placement.put_fixed(m_picture, std::move(label));
        }
    }

    CtTaps const& m_t;
    Picture m_picture;
    Placement m_placement;
    double m_size;
    double m_primary = 0.0, m_winding = 0.0, m_terminals = 0.0;
    double m_arc = 2.2;
    std::vector<double> m_x;
};

std::string spoken(CtTaps const& t)
{
    std::string text = fmt::format("Current transformer with {} taps", t.segment_turns.size() + 1);
    if (t.from > 0 && t.to > t.from)
        text += fmt::format(", terminals {} and {} in use", t.from, t.to);
    for (auto const& part : {t.used_label, t.note})
        if (!part.empty())
            text += "; " + part;
    return text + ".";
}

} // namespace

Picture ct_taps(CtTaps const& taps, Space space, MeasureText const& measure, double size)
{
    Picture picture = Taps(taps, space, measure, size).draw();
    picture.spoken = spoken(taps);
    return picture;
}

Picture ct_taps(CtTaps const& taps, Space space, MeasureText const& measure)
{
    return ct_taps(taps, space, measure, body_size(space));
}

} // namespace isochore::drawing
