#include "drawing/bar_rows.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>

namespace isochore::drawing {

namespace {

constexpr double gap = 1.6;                             ///< between names, bars and values
constexpr double least_thick = 1.4;                     ///< of a bar
constexpr double corner_high = 5.4, corner_until = 4.0; ///< the sheet's sign in the corner, mm
constexpr double line_words = 1.3;                      ///< height of a row of words above the bars, in em

double scale_height(bool titles, double size)
{
    return (titles ? 2.75 : 1.55) * size;
}

/// What the words take beside the bars, mm.
double words_width(BarPlan const& plan, double size, MeasureText const& measure)
{
    double names = 0.0, values = 0.0;
    for (auto const& row : plan.rows) {
        Face const face = row.strong ? Face::bold : Face::regular;
        names = std::max(names, measure(row.name, face, size));
        values = std::max(values, measure(row.value, face, size));
    }
    return names + values + (names > 0.0 ? gap : 0.0) + (values > 0.0 ? gap : 0.0);
}

bool any_words(BarPlan const& plan)
{
    return std::any_of(plan.lines.begin(), plan.lines.end(),
                       [](BarLine const& l) { return !l.label.empty(); });
}

double pitch_of(BarPlan const& plan, Box area, double size)
{
    double const room = area.height() - scale_height(!plan.titles.empty(), size) -
                        (any_words(plan) ? line_words * size : 0.0);
    return room / std::max<double>(1.0, static_cast<double>(plan.rows.size()));
}

constexpr double beside_share = 0.5; ///< of the width, for words beside the bars

} // namespace

double bar_rows_size(BarPlan const& plan, Box area, double most, double least, MeasureText const& measure)
{
    for (double size = most; size > least; size -= 0.1) {
        double const pitch = pitch_of(plan, area, size);
        if (pitch >= (words_width(plan, size, measure) <= beside_share * area.width() ? 1.3 : 2.4) * size)
            return size;
    }
    return least;
}

double bar_rows_height(std::size_t rows, bool lines, bool titles, double size)
{
    return (lines ? line_words * size : 0.0) + static_cast<double>(rows) * 1.45 * size +
           scale_height(titles, size);
}

BarRows::BarRows(Picture& picture, Placement& placement, BarPlan const& plan, Box area, double size)
    : m_picture(picture), m_placement(placement), m_plan(plan), m_area(area), m_plot(area), m_size(size)
{
    m_plot.bottom = std::max(area.top + 4.0, area.bottom - scale_height(!plan.titles.empty(), size));
    choose_sides();
    lay_out_lines();
    lay_out_rows();
    draw_scale();
    for (std::size_t i = 0; i < m_bars.size(); ++i)
        if (drawable(plan.rows[i].to))
            draw_bar(plan.rows[i], m_bars[i]);
    for (std::size_t i = 0; i < m_bars.size(); ++i)
        draw_interval(plan.rows[i], m_bars[i]);
    draw_lines();
    for (std::size_t i = 0; i < m_bars.size(); ++i)
        write_row(plan.rows[i], i);
}

double BarRows::width_of(std::string const& text, bool strong) const
{
    return m_placement.measure()(text, strong ? Face::bold : Face::regular, m_size);
}

double BarRows::at(double value) const
{
    double const share = drawable(value) ? m_plan.scale.share(value) : 0.0;
    return m_plot.left + std::clamp(std::isfinite(share) ? share : 0.0, 0.0, 1.0) * m_plot.width();
}

/// Words beside the bars, or above them where that leaves the bars too little and the rows are high enough.
void BarRows::choose_sides()
{
    for (auto const& row : m_plan.rows) {
        m_names = std::max(m_names, width_of(row.name, row.strong));
        m_values = std::max(m_values, width_of(row.value, row.strong));
    }
    double const width = m_area.width();
    double const words = words_width(m_plan, m_size, m_placement.measure());
    double const pitch = pitch_of(m_plan, m_area, m_size);
    m_beside = words <= beside_share * width || pitch < 1.2 * m_size + least_thick + 1.2;
    if (!m_beside) {
        m_names = m_values = 0.0;
        m_plot.left = m_area.left + 0.4;
        m_plot.right = m_area.right - 0.4;
        return;
    }
    m_names = std::min(m_names, std::max(0.34 * width, 0.6 * width - m_values));
    m_values = std::min(m_values, std::max(0.0, 0.68 * width - m_names));
    m_plot.left = m_area.left + m_names + (m_names > 0.0 ? gap : 0.4);
    m_plot.right = m_area.right - m_values - (m_values > 0.0 ? gap : 0.4);
}

/// True when neither's words lie on the other's nor on the line that leads up to them.
bool BarRows::apart(LineWords const& a, LineWords const& b)
{
    constexpr double space = 1.0;
    auto const crosses = [](LineWords const& upper, LineWords const& lower) {
        return upper.row > lower.row && upper.x > lower.left - space && upper.x < lower.right + space;
    };
    bool const beside = a.right + space <= b.left || b.right + space <= a.left;
    return (a.row != b.row || beside) && !crosses(a, b) && !crosses(b, a);
}

/// Tries every row and side for the words of line `next` and those after it, and keeps the cheapest way that
/// shows most of them.
void BarRows::place_words(std::size_t next, WordsSoFar& now, WordsSoFar& best) const
{
    if (next == m_plan.lines.size()) {
        if (now.cost < best.cost)
            best = now;
        return;
    }
    auto const& line = m_plan.lines[next];
    constexpr double left_out = 100.0;
    WordsSoFar const before = now;
    if (drawable(line.at) && !line.label.empty() && next < 4) {
        auto const& measure = m_placement.measure();
        double const x = at(line.at), first = m_area.left + 0.4;
        std::string const text = shorten_text(line.label, m_area.width() - 6.8, Face::bold, m_size, measure);
        double const wide = measure(text, Face::bold, m_size);
        // The sheet puts its sign for the large picture into the corner.
        double const corner = m_area.top < corner_until && !m_plan.corner_free ? 6.0 : 0.4;
        double const last = std::max(first, m_area.right - corner - wide);
        for (int row = 0; row < 3; ++row)
            for (auto const& [start, dislike] :
                 {std::pair{x - wide / 2.0, 0.0}, std::pair{x + 1.1, 0.3}, std::pair{x - wide - 1.1, 0.35}}) {
                double const left = std::clamp(start, first, last);
                LineWords const words{text, left, left + wide, x, row, line.ink};
                double const far = std::max({0.0, words.left - x - 1.2, x - words.right - 1.2});
                if (!std::all_of(before.words.begin(), before.words.end(),
                                 [&](LineWords const& other) { return apart(words, other); }))
                    continue;
                now.words.push_back(words);
                now.cost += row + dislike + far;
                place_words(next + 1, now, best);
                now = before;
            }
    }
    now.cost += line.label.empty() ? 0.0 : left_out;
    place_words(next + 1, now, best);
    now = before;
}

/// The words of the lines in as few rows above the bars as they need.
void BarRows::lay_out_lines()
{
    WordsSoFar now, best;
    best.cost = 1e9;
    place_words(0, now, best);
    m_words = std::move(best.words);
    int rows = 0;
    for (auto const& words : m_words)
        rows = std::max(rows, words.row + 1);
    m_plot.top = std::min(m_area.top + (rows > 0 ? rows * line_words * m_size : 0.6), m_plot.bottom - 3.0);
}

/// The top of the plot from which the first value beside it stays clear of the sheet's sign for the large
/// picture; the top as it is where the rows have no room to give.
double BarRows::below_corner(double rows) const
{
    if (!m_beside || m_plan.corner_free || m_area.top >= corner_until || m_values <= 0.0)
        return m_plot.top;
    double const half = 0.5 / rows, letters = (ink_above + ink_below) / 2.0 * m_size;
    double const top = (m_area.top + corner_high + 0.8 + letters - half * m_plot.bottom) / (1.0 - half);
    return (m_plot.bottom - top) / rows >= 1.3 * m_size ? top : m_plot.top;
}

void BarRows::lay_out_rows()
{
    auto const count = static_cast<double>(std::max<std::size_t>(1, m_plan.rows.size()));
    m_plot.top = std::max(m_plot.top, below_corner(count));
    m_pitch = m_plot.height() / count;
    // Words above a bar stand nearer to it than to the one before.
    double const words = m_beside ? 0.0 : 1.1 * m_size + 0.5;
    double const most = std::max(least_thick, (m_beside ? 2.1 : 1.7) * m_size);
    m_thick = std::clamp(m_beside ? 0.62 * m_pitch : 0.72 * (m_pitch - words), least_thick, most);
    for (std::size_t i = 0; i < m_plan.rows.size(); ++i) {
        auto const& row = m_plan.rows[i];
        double const top = m_plot.top + m_pitch * static_cast<double>(i);
        double const middle = m_beside ? top + m_pitch / 2.0 : top + words + m_thick / 2.0;
        double const a = at(row.from), b = at(row.to);
        m_bars.push_back({std::min(a, b), middle - m_thick / 2.0, std::max(a, b), middle + m_thick / 2.0});
    }
}

void BarRows::draw_scale()
{
    auto const& scale = m_plan.scale;
    auto const& measure = m_placement.measure();
    if (m_plan.band && drawable(m_plan.band->first) && drawable(m_plan.band->second)) {
        double const a = at(m_plan.band->first), b = at(m_plan.band->second);
        m_picture.filled_rect({std::min(a, b), m_plot.top}, std::max(0.5, std::abs(b - a)), m_plot.height(),
                              Ink::accent_soft);
    }
    double const base = m_plot.bottom + 0.5 * m_size + ink_above * m_size;
    double end = -1e9;
    for (std::size_t i = 0; i < scale.ticks.size(); ++i) {
        double const x = at(scale.ticks[i]);
        m_picture.line({x, m_plot.top}, {x, m_plot.bottom}, Ink::faint, 0.18);
        m_picture.line({x, m_plot.bottom}, {x, m_plot.bottom + 0.9}, Ink::line, 0.3);
        double const half = measure(scale.texts[i], Face::regular, m_size) / 2.0;
        double const middle = std::clamp(x, m_area.left + half + 0.2,
                                         std::max(m_area.left + half + 0.2, m_area.right - half - 0.2));
        if (std::abs(middle - x) > half || middle - half < end + 0.6 * m_size)
            continue;
        m_placement.put_fixed(
            m_picture, {{middle, base}, scale.texts[i], m_size, Ink::muted, Face::regular, Align::centre});
        end = middle + half;
    }
    m_picture.line({m_plot.left, m_plot.bottom}, {m_plot.right, m_plot.bottom}, Ink::line, 0.35);
    if (m_plan.titles.empty())
        return;
    std::string text = first_fitting(m_plan.titles, m_area.width() - 0.6, Face::regular, m_size, measure);
    double const wide = measure(text, Face::regular, m_size);
    double const right = std::max(m_plot.right, m_area.left + wide + 0.3);
    m_placement.put_fixed(m_picture, {{std::min(right, m_area.right - 0.2), base + 1.2 * m_size},
                                      std::move(text),
                                      m_size,
                                      Ink::text,
                                      Face::regular,
                                      Align::right});
}

void BarRows::draw_bar(BarRow const& row, Box box)
{
    using Look = BarRow::Look;
    if (row.look == Look::points) {
        m_picture.line({m_plot.left, (box.top + box.bottom) / 2.0},
                       {m_plot.right, (box.top + box.bottom) / 2.0}, Ink::faint, 0.25);
        return; // the marks lie over the lines
    }
    int const stripes = std::clamp(row.stripes, 1, 6);
    double const between = stripes > 1 ? 0.5 : 0.0;
    double const high = (box.height() - between * (stripes - 1)) / stripes;
    double const wide = std::max(0.35, box.width());
    for (int stripe = 0; stripe < stripes; ++stripe) {
        double const top = box.top + stripe * (high + between);
        if (row.look == Look::filled) {
            m_picture.filled_rect({box.left, top}, wide, high, row.ink);
            continue;
        }
        m_picture.filled_rect({box.left, top}, wide, high, Ink::paper);
        if (row.look == Look::hatched)
            for (double x = box.left - high; x < box.left + wide; x += 1.7) {
                double const from = std::max(0.0, box.left - x), to = std::min(high, box.left + wide - x);
                if (to > from)
                    m_picture.line({x + from, top + high - from}, {x + to, top + high - to}, row.ink, 0.22);
            }
        m_picture.rect({box.left, top}, wide, high, row.ink, 0.4);
    }
}

/// Whiskers; pale where they lie on a solid bar.
void BarRows::draw_interval(BarRow const& row, Box box)
{
    if (!row.low || !row.high || !drawable(*row.low) || !drawable(*row.high) || !drawable(row.to))
        return;
    double const y = (box.top + box.bottom) / 2.0, cap = std::min(1.4, 0.35 * m_thick);
    double const low = at(std::min(*row.low, *row.high)), high = at(std::max(*row.low, *row.high));
    bool const solid = row.look == BarRow::Look::filled;
    auto const over = [&](double x) { return solid && x > box.left + 0.05 && x < box.right - 0.05; };
    double const from = std::clamp(box.left, low, high), to = std::clamp(box.right, low, high);
    auto const run = [&](double a, double b, Ink ink) {
        if (b - a > 0.02)
            m_picture.line({a, y}, {b, y}, ink, 0.4);
    };
    run(low, from, Ink::text);
    run(from, to, solid ? Ink::paper : Ink::text);
    run(to, high, Ink::text);
    for (double const x : {low, high})
        m_picture.line({x, y - cap}, {x, y + cap}, over(x) ? Ink::paper : Ink::text, 0.4);
}

void BarRows::draw_lines()
{
    for (auto const& line : m_plan.lines)
        if (drawable(line.at)) {
            // Without words it leads up to nothing above the first bar.
            double const top = line.label.empty() && !m_bars.empty() ? m_bars.front().top : m_plot.top;
            m_picture.line({at(line.at), top}, {at(line.at), m_plot.bottom}, line.ink, 0.55, line.dash);
        }
    double const r = std::clamp(0.5 * m_thick, 0.9, 1.5);
    for (std::size_t i = 0; i < m_bars.size(); ++i)
        for (double const value : m_plan.rows[i].points) {
            if (!drawable(value))
                continue;
            Point const centre{at(value), (m_bars[i].top + m_bars[i].bottom) / 2.0};
            m_picture.area({{centre.x, centre.y - r},
                            {centre.x + r, centre.y},
                            {centre.x, centre.y + r},
                            {centre.x - r, centre.y}},
                           m_plan.rows[i].ink);
        }
    for (auto const& words : m_words) {
        double const base = m_plot.top - (words.row * line_words + 0.42) * m_size;
        if (words.row > 0)
            m_picture.line({words.x, base + 0.3 * m_size}, {words.x, m_plot.top}, words.ink, 0.3);
        m_placement.put_fixed(m_picture,
                              {{words.left, base}, words.text, m_size, words.ink, Face::bold, Align::left});
    }
}

void BarRows::write_row(BarRow const& row, std::size_t index)
{
    auto const& measure = m_placement.measure();
    Face const face = row.strong ? Face::bold : Face::regular;
    double const top = m_plot.top + m_pitch * static_cast<double>(index);
    double const base = m_beside ? top + m_pitch / 2.0 + (ink_above - ink_below) / 2.0 * m_size
                                 : top + 0.25 + ink_above * m_size;
    double const width = m_area.width() - 0.8;
    // The sheet puts its sign for the large picture into the corner.
    double const corner = !m_beside && !m_plan.corner_free && m_area.top < corner_until &&
                                  base - ink_above * m_size < m_area.top + corner_high
                              ? 6.0
                              : 0.2;
    double const values =
        std::min(m_beside ? m_values : width_of(row.value, row.strong), 0.6 * width - (corner - 0.2));
    double const names = m_beside ? m_names : width - values - corner - (values > 0.0 ? gap : 0.0);
    auto const put = [&](std::string const& text, double room, Point at, Align align) {
        if (text.empty() || room < m_size)
            return;
        Label label{at,   shorten_text(text, room + 0.01, face, m_size, measure), m_size, Ink::text, face,
                    align};
        if (!label.text.empty() &&
            m_placement.free(label_box(label, measure(label.text, face, m_size)).grown(-0.02))) {
            // Above a bar the words lie among the lines that run down through the rows.
            Box const box = label_box(label, measure(label.text, face, m_size));
            if (!m_beside)
                m_picture.filled_rect({box.left - 0.4, box.top}, box.width() + 0.8, box.height(), Ink::paper);
            m_placement.put_fixed(m_picture, std::move(label));
        }
    };
    put(row.value, values, {m_area.right - corner, base}, Align::right);
    put(row.name, names, {m_area.left + 0.2, base}, Align::left);
}

} // namespace isochore::drawing
