#include "drawing/cable_runs.h"
#include "drawing/axis.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

bool usable(CableRun const& run)
{
    for (double const length : {run.route_m, run.slack_m, run.tail_m})
        if (!drawable(length) || length < 0.0)
            return false;
    return !run.reach_m || (drawable(*run.reach_m) && *run.reach_m >= 0.0);
}

double wire(CableRun const& run)
{
    return run.route_m + run.slack_m + 2.0 * run.tail_m;
}

enum class Part { route, slack, tail };

class Bars {
public:
    Bars(CableRuns const& c, Space space, double foot, MeasureText const& measure, double size)
        : m_c(c), m_placement({0.0, 0.0, space.width_mm, space.height_mm - foot}, measure), m_size(size)
    {
        m_picture.width = space.width_mm;
        m_picture.height = space.height_mm;
        for (auto const& run : c.runs)
            if (usable(run))
                m_runs.push_back(&run);
    }

    Picture draw()
    {
        if (m_runs.empty())
            return std::move(m_picture);
        lay_out();
        scale();
        double y = m_top;
        for (auto const* run : m_runs) {
            bar(*run, y);
            y += m_pitch;
        }
        key();
        return std::move(m_picture);
    }

private:
    [[nodiscard]] double measure(std::string const& text, Face face = Face::regular) const
    {
        return m_placement.measure()(text, face, m_size);
    }
    [[nodiscard]] double x(double metres) const { return m_left + m_axis.share(metres) * (m_right - m_left); }

    void lay_out()
    {
        Extent e;
        e.take(0.0);
        for (auto const* run : m_runs) {
            e.take(wire(*run));
            if (run->reach_m)
                e.take(*run->reach_m);
        }
        bool const marked =
            std::any_of(m_runs.begin(), m_runs.end(), [](auto* run) { return run->mark != Mark::none; });
        // Right of the scale there is room for a mark behind the longest bar.
        double const margin = marked ? 1.2 * m_size + 2.0 : 0.4;
        m_left = 1.0;
        for (int most = 9; most >= 2; --most) {
            m_axis = nice_axis(0.0, e.high, most, true);
            double const half = measure(m_axis.texts.back()) / 2.0;
            m_right = m_picture.width - std::max(half + 0.4, margin);
            if ((m_right - m_left) / std::max(1.0, static_cast<double>(m_axis.ticks.size()) - 1.0) >
                2.0 * half + m_size)
                break;
        }
        m_left = std::max(1.0, measure(m_axis.texts.front()) / 2.0 + 0.3);
        // Over the bars the key, under them the scale.
        m_top = 1.5 * m_size;
        m_bottom = m_placement.outer().bottom - 2.75 * m_size;
        m_pitch = std::clamp((m_bottom - m_top) / static_cast<double>(m_runs.size()), 1.0, 6.0 * m_size);
        m_bottom = std::min(m_bottom, m_top + m_pitch * static_cast<double>(m_runs.size()));
    }

    void scale()
    {
        for (std::size_t i = 0; i < m_axis.ticks.size(); ++i) {
            double const at = x(m_axis.ticks[i]);
            m_picture.line({at, m_top}, {at, m_bottom}, Ink::faint, 0.2);
            Label const label{{at, m_bottom + 0.35 * m_size + ink_above * m_size},
                              m_axis.texts[i],
                              m_size,
                              Ink::muted,
                              Face::regular,
                              Align::centre};
            if (m_placement.free(label_box(label, measure(label.text))))
                m_placement.put_fixed(m_picture, label);
        }
        m_picture.line({m_left, m_bottom}, {m_right, m_bottom}, Ink::line, 0.35);
        std::string const title =
            first_fitting(m_c.x_titles, m_picture.width - 1.0, Face::regular, m_size, m_placement.measure());
        m_placement.put_fixed(m_picture, {{m_right, m_bottom + 1.5 * m_size + ink_above * m_size},
                                          title,
                                          m_size,
                                          Ink::text,
                                          Face::regular,
                                          Align::right});
    }

    /// The name and the sum over the bar, or the sum alone on a line of its own where both are too long.
    void bar(CableRun const& run, double top)
    {
        double const thick = std::clamp(m_pitch - 2.1 * m_size, 1.4, 1.5 * m_size);
        double const base = top + std::max(0.95 * m_size, (m_pitch - thick - 1.24 * m_size) / 2.0 + m_size);
        double const y = base + 0.45 * m_size;
        heading(run, base);
        double at = 0.0;
        for (auto const& [part, length] : {std::pair{Part::tail, run.tail_m},
                                           {Part::route, run.route_m},
                                           {Part::slack, run.slack_m},
                                           {Part::tail, run.tail_m}}) {
            piece(part, {x(at), y, x(at + length), y + thick});
            at += length;
        }
        if (run.reach_m)
            post(run, x(*run.reach_m), y, y + thick);
    }

    void heading(CableRun const& run, double base)
    {
        auto const& fonts = m_placement.measure();
        double const right = m_picture.width - 0.5, room = right - 0.5;
        double const sum = std::min(measure(run.total), room * 0.75);
        std::string const name = shorten_text(run.name, room - sum - m_size, Face::bold, m_size, fonts);
        m_placement.put_fixed(m_picture, {{0.5, base}, name, m_size, Ink::text, Face::bold});
        m_placement.put_fixed(m_picture, {{right, base},
                                          shorten_text(run.total, sum + 0.01, Face::regular, m_size, fonts),
                                          m_size,
                                          Ink::text,
                                          Face::regular,
                                          Align::right});
    }

    /// A route is full, slack hatched, a tail hollow: they are told apart without colour.
    void piece(Part part, Box box)
    {
        if (!(box.width() > 0.0))
            return;
        if (part == Part::route) {
            m_picture.filled_rect({box.left, box.top}, box.width(), box.height(), Ink::accent);
        } else if (part == Part::slack) {
            m_picture.filled_rect({box.left, box.top}, box.width(), box.height(), Ink::accent_soft);
            for (double at = box.left - box.height(); at < box.right; at += 1.6) {
                double const from = std::max(at, box.left), to = std::min(at + box.height(), box.right);
                if (to > from)
                    m_picture.line({from, box.bottom - (from - at)}, {to, box.bottom - (to - at)},
                                   Ink::accent, 0.25);
            }
        }
        m_picture.rect({box.left, box.top}, box.width(), box.height(), Ink::line, 0.35);
    }

    /// Where the fixed lead ends.
    void post(CableRun const& run, double at, double top, double bottom)
    {
        Ink const ink = run.mark == Mark::none ? Ink::line : mark_ink(run.mark);
        m_picture.line({at, top - 0.25 * m_size}, {at, bottom + 0.25 * m_size}, ink, 0.9);
        m_picture.line({at - 1.6, top - 0.25 * m_size}, {at, top - 0.25 * m_size}, ink, 0.9);
        m_picture.line({at - 1.6, bottom + 0.25 * m_size}, {at, bottom + 0.25 * m_size}, ink, 0.9);
        double const side = 1.2 * m_size;
        if (run.mark == Mark::none)
            return;
        double const end = std::max(at, x(wire(run)));
        draw_mark(m_picture, run.mark, {end + 1.2 + side / 2.0, (top + bottom) / 2.0}, side);
    }

    void key()
    {
        double at = 0.5;
        // The corner is left to the sheet's sign for the large picture.
        double const end = m_picture.width - 6.5, high = 0.75 * m_size, base = 0.95 * m_size;
        bool const fixed = std::any_of(m_runs.begin(), m_runs.end(), [](auto* run) { return run->reach_m; });
        auto const entry = [&](std::string const& text, auto draw) {
            double const wide = measure(text);
            if (text.empty() || at + 4.0 + 0.8 + wide > end)
                return;
            draw(Box{at, base - high, at + 4.0, base});
            m_placement.put_fixed(m_picture, {{at + 4.8, base}, text, m_size, Ink::muted});
            at += 4.8 + wide + m_size;
        };
        entry(m_c.route, [&](Box box) { piece(Part::route, box); });
        entry(m_c.slack, [&](Box box) { piece(Part::slack, box); });
        entry(m_c.tails, [&](Box box) { piece(Part::tail, box); });
        if (fixed)
            entry(m_c.reach, [&](Box box) {
                m_picture.line({box.right - 0.5, box.top}, {box.right - 0.5, box.bottom}, Ink::line, 0.8);
                m_picture.line({box.right - 2.0, box.top}, {box.right - 0.5, box.top}, Ink::line, 0.8);
                m_picture.line({box.right - 2.0, box.bottom}, {box.right - 0.5, box.bottom}, Ink::line, 0.8);
            });
    }

    CableRuns const& m_c;
    Picture m_picture;
    Placement m_placement;
    double m_size;
    std::vector<CableRun const*> m_runs;
    Axis m_axis;
    double m_left = 0.0, m_right = 1.0, m_top = 0.0, m_bottom = 1.0, m_pitch = 1.0;
};

std::string spoken(CableRuns const& c)
{
    std::string text = fmt::format("Wires of {} runs", c.runs.size());
    for (auto const& run : c.runs)
        text += "; " + run.name + " " + run.total +
                (run.mark == Mark::none ? std::string() : fmt::format(", {}", mark_word(run.mark)));
    for (auto const& foot : c.foot)
        text += "; " + foot.text;
    return text + ".";
}

} // namespace

Picture cable_runs(CableRuns const& c, Space space, MeasureText const& measure)
{
    double const size = body_size(space);
    Footing const footing(c.foot, space, size, space.height_mm * 0.3, measure);
    Picture picture = Bars(c, space, footing.height(), measure, size).draw();
    footing.draw(picture, measure);
    picture.spoken = spoken(c);
    return picture;
}

} // namespace isochore::drawing
