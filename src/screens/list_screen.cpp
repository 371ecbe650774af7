#include "screens/marks.h"
#include "screens/screen_parts.h"
#include <algorithm>
#include <span>

namespace isochore::screens {

namespace {

constexpr double sign_column = 9.0, pad = 2.0, column_gap = 8.0;
constexpr double group_head = 8.2; ///< the name of a group with the room above it

using Rows = std::span<ListRow const>;

double row_height(Canvas& canvas, ListRow const& row, double text_w)
{
    double const h = canvas.paragraph_height(row.title, style::strong, text_w) +
                     canvas.paragraph_height(row.detail, style::body, text_w);
    return std::max(size::target_min, h + 3.0);
}

struct RowPlace {
    double text_x, text_w, side_w;
};

std::size_t mixed(std::size_t key, std::size_t with)
{
    return (key ^ with) * 0x9E3779B97F4A7C15U + 1;
}

/// All of the rows that their measures depend on, in one number.
std::size_t stamp_of(Rows rows)
{
    std::hash<std::string> const text;
    std::size_t stamp = rows.size();
    for (auto const& row : rows) {
        for (auto const* part : {&row.title, &row.detail, &row.side})
            stamp = mixed(stamp, text(*part));
        stamp = mixed(stamp, row.mark != Mark::none || row.chosen ? 1 : 0);
    }
    return stamp;
}

/// What the rows of a list need. Kept from frame to frame as long as the list says the same: measuring
/// thousands of rows costs far more than drawing the few in sight.
class Measures {
public:
    Measures(Canvas& canvas, Rows all) : m_canvas(canvas), m_all(all), m_stamp(stamp_of(all)) {}

    [[nodiscard]] RowPlace place(double width, Rows rows) const
    {
        auto const& kept = m_canvas.measured(key(rows, 1, 0.0), [&] { return sign_and_side(rows); });
        double const left = kept[0], side = std::min(kept[1], width * 0.34);
        return {left, width - left - (side > 0 ? side + 4.0 : 0.0) - 4.0, side};
    }
    /// Of each row.
    [[nodiscard]] std::vector<double> const& heights(double text_w, Rows rows) const
    {
        return m_canvas.measured(key(rows, 2, text_w), [&] {
            std::vector<double> heights;
            heights.reserve(rows.size());
            for (auto const& row : rows)
                heights.push_back(row_height(m_canvas, row, text_w));
            return heights;
        });
    }
    /// Of all rows below each other.
    [[nodiscard]] double height(double text_w, Rows rows) const
    {
        double h = size::gap / 2;
        for (double const row : heights(text_w, rows))
            h += row + size::gap;
        return h;
    }
    /// Whether every title takes so many lines at most, and every detail three.
    [[nodiscard]] bool lines_fit(double text_w, Rows rows, std::size_t title_lines) const
    {
        auto const& kept = m_canvas.measured(key(rows, 2 + title_lines, text_w), [&] {
            double const most = static_cast<double>(title_lines) + 0.5;
            double const title = m_canvas.paragraph_height("X", style::strong, text_w),
                         detail = m_canvas.paragraph_height("X", style::body, text_w);
            bool const fit = std::all_of(rows.begin(), rows.end(), [&](ListRow const& row) {
                return m_canvas.paragraph_height(row.title, style::strong, text_w) < most * title &&
                       m_canvas.paragraph_height(row.detail, style::body, text_w) < 3.5 * detail;
            });
            return std::vector<double>{fit ? 1.0 : 0.0};
        });
        return kept[0] > 0.5;
    }

private:
    [[nodiscard]] std::size_t key(Rows rows, std::size_t what, double width) const
    {
        std::size_t key = mixed(m_stamp, what);
        key = mixed(key, static_cast<std::size_t>(rows.data() - m_all.data()));
        return mixed(mixed(key, rows.size()), std::hash<double>{}(width));
    }
    [[nodiscard]] std::vector<double> sign_and_side(Rows rows) const
    {
        bool marks = false;
        double side = 0.0;
        for (auto const& row : rows) {
            marks = marks || row.mark != Mark::none || row.chosen;
            for (std::string_view rest = row.side; !rest.empty();) { // each line by itself
                std::size_t const end = std::min(rest.find('\n'), rest.size());
                side = std::max(side, m_canvas.measure(rest.substr(0, end), style::body));
                rest.remove_prefix(std::min(end + 1, rest.size()));
            }
        }
        return {marks ? sign_column : pad, side};
    }

    Canvas& m_canvas;
    Rows m_all;
    std::size_t m_stamp;
};

void draw_row(Canvas& canvas, Rect const& r, RowPlace const& place, ListRow const& row, bool reading,
              Intent& intent)
{
    std::string const id = "row." + row.id;
    if (canvas.target(id, ElementKind::row, r, row.title + "\n" + row.detail + "\n" + row.side,
                      row.enabled)) {
        intent.kind = Intent::Kind::row;
        intent.id = row.id;
    }
    bool const pressed = row.enabled && canvas.pressed_in(r);
    if (pressed)
        canvas.fill(r, Ink::line);
    canvas.ground(pressed ? Ink::line : Ink::paper);
    Ink const ink = pressed ? Ink::inverse : row.enabled || reading ? Ink::text : Ink::muted;
    Ink const quiet = pressed ? Ink::inverse : reading ? Ink::text : Ink::muted;
    Point const sign{r.x + 4.0, r.y + r.h / 2};
    draw_mark(canvas, row.mark, sign, 6.0, pressed ? Ink::inverse : mark_ink(row.mark));
    if (row.chosen) {
        canvas.circle(sign, 2.6, ink, 0.5);
        if (*row.chosen)
            canvas.dot(sign, 1.5, ink);
    }
    double const title_h = canvas.paragraph_height(row.title, style::strong, place.text_w);
    double const detail_h = canvas.paragraph_height(row.detail, style::body, place.text_w);
    double const y = r.y + (r.h - title_h - detail_h) / 2;
    canvas.paragraph({r.x + place.text_x, y}, place.text_w, row.title, style::strong.with(ink),
                     id + ".title");
    canvas.paragraph({r.x + place.text_x, y + title_h}, place.text_w, row.detail, style::body.with(quiet),
                     id + ".detail");
    if (!row.side.empty()) {
        double const side_h = canvas.paragraph_height(row.side, style::body, place.side_w + 0.1);
        canvas.paragraph({r.right() - pad - place.side_w, r.y + (r.h - side_h) / 2}, place.side_w + 0.1,
                         row.side, style::body.with(ink).aligned(Align::right), id + ".side");
    }
    canvas.ground(Ink::paper);
}

double column_width(double width, std::size_t columns)
{
    return (width - column_gap * static_cast<double>(columns - 1)) / static_cast<double>(columns);
}

/// A short list that would have to scroll stands in two columns, read down the left one first, when that
/// spares the scrolling.
bool stands_in_two_columns(Canvas const& canvas, Measures const& measures, double width, double room, Rows rows)
{
    constexpr std::size_t most = 16;
    if (canvas.portrait() || rows.size() < 4 || rows.size() > most || !rows.front().group.empty())
        return false;
    if (measures.height(measures.place(width, rows).text_w, rows) <= room)
        return false;
    std::size_t const half = (rows.size() + 1) / 2;
    double const w = column_width(width, 2), two = measures.place(w, rows).text_w;
    return measures.height(two, rows.first(half)) <= room && measures.height(two, rows.subspan(half)) <= room;
}

/// How many rows of a group stand beside each other: as many as keep their titles on so many lines.
std::size_t columns_of(Measures const& measures, double width, Rows rows, std::size_t most,
                       std::size_t title_lines)
{
    for (std::size_t n = most; n > 1; --n)
        if (rows.size() >= n &&
            measures.lines_fit(measures.place(column_width(width, n), rows).text_w, rows, title_lines))
            return n;
    return 1;
}

// Draws rows from the top of `place`, `columns` beside each other; returns the height they take.
double draw_rows(Canvas& canvas, Measures const& measures, Rect const& place, Rect const& window, Rows rows,
                 std::size_t columns, Intent& intent)
{
    // Nothing to choose: a list to read.
    bool const reading = std::none_of(rows.begin(), rows.end(), [](ListRow const& r) { return r.enabled; });
    double const w = column_width(place.w, columns);
    RowPlace const inside = measures.place(w, rows);
    auto const& heights = measures.heights(inside.text_w, rows);
    double y = place.y + size::gap / 2;
    for (std::size_t i = 0; i < rows.size(); i += columns) {
        auto const across = rows.subspan(i, std::min(columns, rows.size() - i));
        double h = 0.0;
        for (std::size_t k = i; k < i + across.size(); ++k)
            h = std::max(h, heights[k]);
        // Rows far out of sight are only there to be counted and found.
        constexpr double near = 40.0;
        bool const in_sight = y + h > window.y - near && y < window.bottom() + near;
        Rect r{place.x, y, w, h};
        for (auto const& row : across) {
            if (in_sight) {
                draw_row(canvas, r, inside, row, reading, intent);
                canvas.hline(r.x, r.right(), r.bottom() + size::gap / 2, Ink::faint);
            } else {
                canvas.target("row." + row.id, ElementKind::row, r, row.title, row.enabled);
            }
            r.x += w + column_gap;
        }
        y += h + size::gap;
    }
    return y - place.y;
}

// One group after the other, each under its name and in as many columns as suit it.
double draw_groups(Canvas& canvas, Measures const& measures, Rect const& place, Rect const& window, Rows rows,
                   Intent& intent)
{
    double y = place.y;
    while (!rows.empty()) {
        std::string const& group = rows.front().group;
        auto const end =
            std::find_if(rows.begin(), rows.end(), [&](ListRow const& row) { return row.group != group; });
        auto const run = rows.first(static_cast<std::size_t>(end - rows.begin()));
        if (!group.empty()) {
            canvas.text({place.x, y + 6.4}, group, style::muted, "group." + run.front().id);
            y += group_head;
            canvas.hline(place.x, place.right(), y, Ink::line, 0.25);
        }
        std::size_t const most = canvas.portrait() ? 2 : 3;
        y += draw_rows(canvas, measures, {place.x, y, place.w, place.h}, window, run,
                       columns_of(measures, place.w, run, most, 1), intent);
        rows = rows.subspan(run.size());
    }
    return y - place.y;
}

} // namespace

// The head goes up with the rows: a low sheet shows its rows, not only its head.
void draw_list(Canvas& canvas, Layout const& place, SheetView const& sheet, ListView const& list,
               Intent& intent)
{
    Rect const area = place.content;
    double const width = area.w - 3.0;
    SheetHead const head{list.heading, list.text, list.filters, list.notice,
                         list.searchable ? &list.search : nullptr};
    auto const offset = canvas.begin_scroll("list." + list.heading, area);
    double const top = area.y - offset;
    double const y = top + draw_head(canvas, {area.x, top}, width, head, sheet.words, intent);
    double end = y;
    if (list.rows.empty()) {
        end += 4.0 + canvas.paragraph({area.x, y + 4.0}, width, list.empty, style::muted, "list.empty");
    } else {
        canvas.hline(area.x, area.x + width, y, Ink::line, 0.3);
        Rect const inner{area.x, y, width, area.bottom() - (y + offset)};
        Rows const rows(list.rows);
        Measures const measures(canvas, rows);
        // A menu that has to scroll stands in two columns, so that less of it is out of sight.
        bool const scrolls = measures.height(measures.place(width, rows).text_w, rows) > inner.h;
        std::size_t const menu =
            list.searchable || canvas.portrait() || !scrolls ? 1 : columns_of(measures, width, rows, 2, 2);
        if (!rows.front().group.empty()) {
            end += draw_groups(canvas, measures, inner, area, rows, intent);
        } else if (stands_in_two_columns(canvas, measures, width, inner.h, rows)) {
            double const w = column_width(width, 2);
            std::size_t const half = (rows.size() + 1) / 2;
            draw_rows(canvas, measures, {area.x, y, w, inner.h}, area, rows.first(half), 1, intent);
            draw_rows(canvas, measures, {area.x + w + column_gap, y, w, inner.h}, area, rows.subspan(half), 1,
                      intent);
        } else {
            end += draw_rows(canvas, measures, inner, area, rows, menu, intent);
        }
    }
    canvas.end_scroll(end - top);
}

} // namespace isochore::screens
