#include "drawing/coil_states.h"
#include "drawing/placement.h"
#include "drawing/text.h"
#include <algorithm>
#include <array>

namespace isochore::drawing {

namespace {

constexpr double row_pitch = 1.42; // of the em: rows are read across

class Table {
public:
    Table(CoilStates const& s, Space space, MeasureText const& measure, double size)
        : m_s(s), m_placement({0.0, 0.0, space.width_mm, space.height_mm}, measure), m_size(size)
    {
        m_picture.width = space.width_mm;
        m_picture.height = space.height_mm;
    }

    [[nodiscard]] double wanted() const
    {
        double const lines = m_s.rows.empty() ? 0.0 : heads() + static_cast<double>(m_s.rows.size());
        return lines * row_pitch * m_size + footing(1e3).height() + 0.6;
    }

    Picture draw()
    {
        // The two rows that decide go before the reasons.
        double const deciding = heads() + std::min<double>(2.0, static_cast<double>(m_s.rows.size()));
        double const least = m_s.rows.empty() ? 0.0 : deciding * row_pitch * m_size;
        Footing const foot = footing(std::max(m_picture.height - least, 2.0 * m_size));
        double const room = m_picture.height - foot.height();
        double const fit = room / (row_pitch * m_size) - heads();
        double bottom = 0.0;
        if (!m_s.rows.empty() && fit >= 1.0)
            bottom = table(std::min(m_s.rows.size(), static_cast<std::size_t>(fit)));
        foot.draw_from(std::min(bottom, room), m_picture, m_placement.measure());
        return std::move(m_picture);
    }

private:
    using Cells = std::array<std::string, 4>;

    [[nodiscard]] double measure(std::string const& text, Face face) const
    {
        return m_placement.measure()(text, face, m_size);
    }
    [[nodiscard]] bool limits() const { return !m_s.voltage_limits.empty() || !m_s.current_limits.empty(); }
    [[nodiscard]] double heads() const { return (m_s.title.empty() ? 1.0 : 2.0) + (limits() ? 1.0 : 0.0); }
    [[nodiscard]] Footing footing(double most) const
    {
        return {m_s.foot, {m_picture.width, m_picture.height}, m_size, most, m_placement.measure()};
    }

    /// Where the columns begin: as wide as their words, the rest shared out between them.
    [[nodiscard]] std::array<double, 5> columns() const
    {
        // No word, however long, takes the room of the others.
        double const most = m_picture.width * 0.45;
        std::array<double, 4> width{};
        auto const take = [&](Cells const& cells, double extra) {
            for (std::size_t i = 0; i < 4; ++i)
                width[i] =
                    std::clamp(measure(cells[i], Face::bold) + (i > 1 ? extra : 0.0) + 0.8, width[i], most);
        };
        take({m_s.breaker_head, m_s.coil_head, m_s.voltage_head, m_s.current_head}, 0.0);
        take({"", "", shortest(m_s.voltage_limits), shortest(m_s.current_limits)}, 0.0);
        for (auto const& row : m_s.rows)
            take({row.breaker, row.coil, row.voltage, row.current}, 1.5 * m_size);
        double sum = 0.0;
        for (double const w : width)
            sum += w;
        double const spare = m_picture.width - 1.0 - sum;
        std::array<double, 5> at{0.5, 0.0, 0.0, 0.0, 0.0};
        for (std::size_t i = 0; i < 4; ++i) {
            // Too wide words give way in the share of their column.
            double const w = spare >= 0.0 ? width[i] + spare / 4.0 : width[i] * (m_picture.width - 1.0) / sum;
            at[i + 1] = at[i] + w;
        }
        return at;
    }

    void cell(double left, double right, double base, std::string const& text, Ink ink,
              Face face = Face::regular)
    {
        std::string const shown = shorten_text(text, right - left - 0.6, face, m_size, m_placement.measure());
        m_placement.put_fixed(m_picture, {{left, base}, shown, m_size, ink, face});
    }

    [[nodiscard]] static std::string shortest(std::vector<std::string> const& wordings)
    {
        return wordings.empty() ? std::string() : wordings.back();
    }
    void limit(double left, double right, double base, std::vector<std::string> const& wordings)
    {
        if (!wordings.empty())
            cell(left, right, base,
                 first_fitting(wordings, right - left - 0.6, Face::regular, m_size, m_placement.measure()),
                 Ink::muted);
    }

    double table(std::size_t rows)
    {
        auto const x = columns();
        double const pitch = row_pitch * m_size;
        double base = 0.98 * m_size;
        if (!m_s.title.empty()) {
            cell(0.5, m_picture.width, base, m_s.title, Ink::text, Face::bold);
            base += pitch;
        }
        Cells const heads{m_s.breaker_head, m_s.coil_head, m_s.voltage_head, m_s.current_head};
        for (std::size_t i = 0; i < 4; ++i)
            cell(x[i], x[i + 1], base, heads[i], Ink::muted);
        if (limits()) {
            base += pitch * 0.92;
            limit(x[2], x[3], base, m_s.voltage_limits);
            limit(x[3], x[4], base, m_s.current_limits);
        }
        for (std::size_t r = 0; r < rows; ++r) {
            double const rule = base + 0.4 * m_size;
            m_picture.line({0.0, rule}, {m_picture.width, rule}, Ink::faint, 0.25);
            base += pitch;
            row(m_s.rows[r], x, base);
        }
        return base + 0.7 * m_size;
    }

    void row(CoilState const& state, std::array<double, 5> const& x, double base)
    {
        cell(x[0], x[1], base, state.breaker, Ink::text);
        cell(x[1], x[2], base, state.coil, Ink::text);
        value(x[2], x[3], base, state.voltage, state.voltage_mark);
        value(x[3], x[4], base, state.current, state.current_mark);
    }

    /// The sign stands before the value, where no wider number can push it off.
    void value(double left, double right, double base, std::string const& text, Mark mark)
    {
        if (text.empty())
            return;
        double const side = 1.05 * m_size;
        if (mark != Mark::none)
            draw_mark(m_picture, mark, {left + side / 2.0, base - 0.36 * m_size}, side);
        cell(left + 1.5 * m_size, right, base, text, mark == Mark::none ? Ink::muted : Ink::text,
             mark == Mark::none ? Face::regular : Face::bold);
    }

    CoilStates const& m_s;
    Picture m_picture;
    Placement m_placement;
    double m_size;
};

std::string spoken(CoilStates const& s)
{
    std::string text = s.title;
    for (auto const& row : s.rows)
        text += "; " + s.breaker_head + " " + row.breaker + ", " + s.coil_head + " " + row.coil + ": " +
                s.voltage_head + " " + row.voltage + ", " + s.current_head + " " + row.current;
    for (auto const& foot : s.foot)
        text += "; " + foot.text;
    return text + ".";
}

} // namespace

double coil_states_height(CoilStates const& states, Space space, MeasureText const& measure, double size)
{
    return Table(states, space, measure, size).wanted();
}

Picture coil_states(CoilStates const& states, Space space, MeasureText const& measure, double size)
{
    Picture picture = Table(states, space, measure, size).draw();
    picture.spoken = spoken(states);
    return picture;
}

Picture coil_states(CoilStates const& states, Space space, MeasureText const& measure)
{
    return coil_states(states, space, measure, body_size(space));
}

} // namespace isochore::drawing
