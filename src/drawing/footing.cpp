#include "drawing/footing.h"
#include "drawing/text.h"

namespace isochore::drawing {

namespace {
constexpr double edge = 0.5;    // mm at either side
constexpr double air = 0.35;    // of the em, above the first line
constexpr double mark_em = 1.2; // side of a mark
// A screen sets small type to whole pixels and then runs wider than it was measured, by some hundredths.
constexpr double set_wider = 0.93;
} // namespace

FootText conclusion(std::string text, Mark mark)
{
    return {std::move(text), mark, Face::bold, mark == Mark::none ? Ink::accent : mark_ink(mark)};
}

Footing::Footing(std::vector<FootText> const& texts, Space space, double size, double most_mm,
                 MeasureText const& measure)
    : m_size(size)
{
    bool marked = false;
    for (auto const& t : texts)
        marked = marked || (t.mark != Mark::none && !t.text.empty());
    // All texts begin in one line, so that the marks stand in a column of their own.
    double const left = edge + (marked ? mark_em * size + 1.2 : 0.0);
    double const width = (space.width_mm - left - edge) * set_wider;
    for (auto const& t : texts) {
        if (t.text.empty())
            continue;
        Mark mark = t.mark;
        for (auto& line : wrap_text(t.text, width, t.face, size, measure)) {
            m_lines.push_back({std::move(line), {{}, mark, t.face, t.ink}, left, false});
            mark = Mark::none;
        }
        m_lines.back().last = true;
    }
    double const lines = (most_mm - air * size) / (line_pitch * size);
    cut(lines > 0.0 ? static_cast<std::size_t>(lines) : 0, width, measure);
}

void Footing::cut(std::size_t most, double width, MeasureText const& measure)
{
    if (m_lines.size() <= most)
        return;
    m_lines.resize(most);
    if (!m_lines.empty() && !m_lines.back().last)
        m_lines.back().text =
            shorten_text(m_lines.back().text + " …", width, m_lines.back().style.face, m_size, measure);
}

double Footing::height() const
{
    return m_lines.empty() ? 0.0 : (static_cast<double>(m_lines.size()) * line_pitch + air) * m_size;
}

void Footing::draw(Picture& picture, MeasureText const& measure) const
{
    draw_from(picture.height - height(), picture, measure);
}

void Footing::draw_from(double top, Picture& picture, MeasureText const& measure) const
{
    Placement placement({0.0, 0.0, picture.width, picture.height}, measure);
    double base = top + (air + ink_above) * m_size;
    for (auto const& line : m_lines) {
        double const side = mark_em * m_size;
        if (line.style.mark != Mark::none)
            draw_mark(picture, line.style.mark, {edge + side / 2.0, base - 0.36 * m_size}, side);
        placement.put_fixed(picture, {{line.left, base}, line.text, m_size, line.style.ink, line.style.face});
        base += line_pitch * m_size;
    }
}

} // namespace isochore::drawing
