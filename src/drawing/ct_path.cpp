#include "drawing/ct_path.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::drawing {

namespace {

/// The row of stages: a line from the terminals to the coil, a sign for each stage, words under it.
class Row {
public:
    Row(CtPath const& p, Picture& picture, Box box, double size, MeasureText const& measure)
        : m_p(p), m_picture(picture), m_placement(box, measure), m_box(box), m_size(size)
    {
    }

    void draw()
    {
        auto const cells = cells_by_words();
        // The factor over the sign, name and current under it.
        double const above = 1.15 * m_size, below = 2.0 * line_pitch * m_size + 0.3;
        m_y = (m_box.top + above + m_box.bottom - below) / 2.0;
        m_reach = std::clamp((m_box.height() - above - below) / 2.0 - 0.5, 1.6, 5.0);
        double x = m_box.left + 1.0;
        terminals(x, cells.front());
        for (std::size_t i = 0; i < m_p.stages.size(); ++i) {
            x += cells[i];
            sign(m_p.stages[i], x, cells[i + 1]);
        }
    }

private:
    /// Each stage as wide as its words, the rest shared out; too long words give way alike.
    [[nodiscard]] std::vector<double> cells_by_words() const
    {
        auto const& measure = m_placement.measure();
        double const room = m_box.width() - 2.0, count = static_cast<double>(m_p.stages.size()) + 1.0;
        std::vector<double> cells;
        double sum = 0.0;
        auto const add = [&](double words, double sign) {
            cells.push_back(std::clamp(words + 1.6, sign, 0.5 * room));
            sum += cells.back();
        };
        add(std::max(measure(m_p.terminals, Face::regular, m_size),
                     measure(m_p.secondary, Face::bold, m_size)),
            6.0);
        for (auto const& stage : m_p.stages)
            add(std::max({measure(stage.name, Face::regular, m_size),
                          measure(stage.factor, Face::regular, m_size),
                          measure(stage.current, Face::bold, m_size)}),
                14.0);
        for (double& cell : cells)
            cell = sum < room ? cell + (room - sum) / count : cell * room / sum;
        return cells;
    }

    void terminals(double x, double cell)
    {
        m_picture.items.emplace_back(Circle{{x + 1.2, m_y}, 1.1, Ink::accent, 0.5, true, Ink::accent});
        m_picture.line({x + 2.3, m_y}, {x + cell, m_y}, Ink::line, 0.5);
        words(x, cell, {m_p.terminals, "", m_p.secondary});
    }

    /// A stage's sign in the middle of its cell, the conductor on both sides of it.
    void sign(CtStage const& stage, double x, double cell)
    {
        double const middle = x + cell / 2.0;
        double half = m_reach;
        switch (stage.kind) {
        case CtStage::Kind::delta:
            delta({middle, m_y});
            break;
        case CtStage::Kind::auxiliary:
            half = m_reach * 1.6;
            two_rings({middle, m_y});
            break;
        case CtStage::Kind::coil:
            coil({middle, m_y}, stage.turns);
            break;
        }
        bool const through = stage.kind == CtStage::Kind::coil;
        m_picture.line({x, m_y}, {through ? x + cell - 1.0 : middle - half, m_y}, Ink::line, 0.5);
        if (!through)
            m_picture.line({middle + half, m_y}, {x + cell, m_y}, Ink::line, 0.5);
        words(x, cell, {stage.factor, stage.name, stage.current});
    }

    /// Windings in a triangle, IEC 60617 S00806.
    void delta(Point c)
    {
        double const r = m_reach;
        Polyline shape;
        shape.points = {{c.x, c.y - r}, {c.x + r, c.y + r * 0.75}, {c.x - r, c.y + r * 0.75}};
        shape.closed = true;
        shape.width = 0.5;
        m_picture.items.emplace_back(std::move(shape));
        m_picture.line({c.x - r, c.y}, {c.x - r * 0.55, c.y}, Ink::line, 0.5);
        m_picture.line({c.x + r * 0.55, c.y}, {c.x + r, c.y}, Ink::line, 0.5);
    }
    /// A transformer of two windings, IEC 60617 S00841.
    void two_rings(Point c)
    {
        double const r = m_reach;
        for (double const side : {-0.6, 0.6})
            m_picture.circle({c.x + side * r, c.y}, r, Ink::line, 0.5);
    }
    /// The pick-up coil around the conductor, which goes through it once or more.
    void coil(Point c, int turns)
    {
        double const r = m_reach;
        std::vector<Point> ring;
        for (int i = 0; i <= 24; ++i) {
            double const a = 2.0 * std::numbers::pi * i / 24.0;
            ring.push_back({c.x + 0.55 * r * std::cos(a), c.y + r * std::sin(a)});
        }
        m_picture.polyline(std::move(ring), Ink::accent, 0.9);
        for (int pass = 1; pass < std::min(turns, 4); ++pass) {
            // Each further pass comes back outside the coil.
            double const up = r * (0.25 + 0.2 * pass);
            std::vector<Point> loop;
            for (int i = 0; i <= 10; ++i) {
                double const a = std::numbers::pi * i / 10.0;
                loop.push_back({c.x + 1.1 * r * std::cos(a), c.y - up * std::sin(a)});
            }
            m_picture.polyline(std::move(loop), Ink::line, 0.4);
        }
    }

    struct Words {
        std::string factor, name, current;
    };
    void words(double x, double cell, Words const& w)
    {
        auto const& measure = m_placement.measure();
        double const low = m_box.bottom - ink_below * m_size - 0.2;
        auto const put = [&](std::string const& text, double base, Ink ink, Face face) {
            m_placement.put_fixed(m_picture, {{x + cell / 2.0, base},
                                              shorten_text(text, cell - 0.8, face, m_size, measure),
                                              m_size,
                                              ink,
                                              face,
                                              Align::centre});
        };
        put(w.factor, m_y - m_reach - 0.5 - ink_below * m_size, Ink::text, Face::regular);
        put(w.name, low - line_pitch * m_size, Ink::muted, Face::regular);
        put(w.current, low, Ink::text, Face::bold);
    }

    CtPath const& m_p;
    Picture& m_picture;
    Placement m_placement;
    Box m_box;
    double m_size;
    double m_y = 0.0, m_reach = 2.0;
};

std::string spoken(CtPath const& p, std::string const& winding)
{
    std::string text = winding;
    if (!text.empty() && text.back() == '.')
        text.pop_back();
    text += "; " + p.secondary;
    for (auto const& stage : p.stages)
        text += "; " + stage.name + " " + stage.factor + ", " + stage.current;
    for (auto const& foot : p.foot)
        text += "; " + foot.text;
    return text + ".";
}

} // namespace

Picture ct_path(CtPath const& p, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    double const size = body_size(space);
    // The note of the winding stands with the figures: there is more room.
    auto texts = p.foot;
    texts.push_back({p.main.note});
    Footing const footing(texts, space, size, space.height_mm * 0.3, measure);
    CtTaps taps = p.main;
    taps.note.clear();
    if (!p.primary.empty())
        taps.primary += "  " + p.primary;
    double const room = space.height_mm - footing.height();
    double const row = p.stages.empty() ? 0.0 : std::clamp(room * 0.4, 5.4 * size, 8.0 * size);
    Picture const winding = ct_taps(taps, {space.width_mm, room - row}, measure, size);
    append(picture, winding, {0.0, 0.0});
    if (!p.stages.empty())
        Row(p, picture, {0.0, room - row, space.width_mm, room}, size, measure).draw();
    footing.draw(picture, measure);
    picture.spoken = spoken(p, winding.spoken);
    return picture;
}

} // namespace isochore::drawing
