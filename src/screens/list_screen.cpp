#include "screens/marks.h"
#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double sign_column = 9.0, pad = 2.0, column_gap = 8.0;

double row_height(Canvas& canvas, ListRow const& row, double text_w)
{
    double const h = canvas.paragraph_height(row.title, style::strong, text_w) +
                     canvas.paragraph_height(row.detail, style::body, text_w);
    return std::max(size::target_min, h + 3.0);
}

struct RowPlace {
    double text_x, text_w, side_w;
};

RowPlace row_place(Canvas& canvas, Rect const& inner, std::vector<ListRow> const& rows)
{
    bool marks = false;
    double side = 0.0;
    for (auto const& row : rows) {
        marks = marks || row.mark != Mark::none;
        side = std::max(side, canvas.measure(row.side, style::body));
    }
    side = std::min(side, inner.w * 0.34);
    double const left = marks ? sign_column : pad;
    return {left, inner.w - left - (side > 0 ? side + 4.0 : 0.0) - 4.0, side};
}

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
    draw_mark(canvas, row.mark, {r.x + 4.0, r.y + r.h / 2}, 6.0, pressed ? Ink::inverse : mark_ink(row.mark));
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

double rows_height(Canvas& canvas, std::vector<ListRow> const& rows, std::size_t begin, std::size_t end,
                   double text_w)
{
    double h = size::gap / 2;
    for (std::size_t i = begin; i < end; ++i)
        h += row_height(canvas, rows[i], text_w) + size::gap;
    return h;
}

// A short list that would have to scroll stands in two columns, read down the left one first, when that
// spares the scrolling.
bool stands_in_two_columns(Canvas& canvas, Rect const& window, std::vector<ListRow> const& rows)
{
    constexpr std::size_t most = 16;
    if (canvas.portrait() || rows.size() < 4 || rows.size() > most)
        return false;
    double const one = row_place(canvas, window, rows).text_w;
    if (rows_height(canvas, rows, 0, rows.size(), one) <= window.h)
        return false;
    std::size_t const half = (rows.size() + 1) / 2;
    double const w = (window.w - column_gap) / 2, two = row_place(canvas, {0, 0, w, 0}, rows).text_w;
    return rows_height(canvas, rows, 0, half, two) <= window.h &&
           rows_height(canvas, rows, half, rows.size(), two) <= window.h;
}

// Draws rows from the top of `place`; returns the height they take.
double draw_rows(Canvas& canvas, Rect const& place, Rect const& window, std::vector<ListRow> const& rows,
                 std::size_t begin, std::size_t end, Intent& intent)
{
    // Nothing to choose: a list to read.
    bool const reading = std::none_of(rows.begin(), rows.end(), [](ListRow const& r) { return r.enabled; });
    RowPlace const columns = row_place(canvas, place, rows);
    double y = place.y + size::gap / 2;
    for (std::size_t i = begin; i < end; ++i) {
        auto const& row = rows[i];
        double const h = row_height(canvas, row, columns.text_w);
        Rect const r{place.x, y, place.w, h};
        // Rows far out of sight are only there to be counted and found.
        constexpr double near = 40.0;
        if (y + h > window.y - near && y < window.bottom() + near) {
            draw_row(canvas, r, columns, row, reading, intent);
            canvas.hline(r.x, r.right(), r.bottom() + size::gap / 2, Ink::faint);
        } else {
            canvas.target("row." + row.id, ElementKind::row, r, row.title, row.enabled);
        }
        y += h + size::gap;
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
        if (stands_in_two_columns(canvas, inner, list.rows)) {
            double const w = (width - column_gap) / 2;
            std::size_t const half = (list.rows.size() + 1) / 2;
            draw_rows(canvas, {area.x, y, w, inner.h}, area, list.rows, 0, half, intent);
            draw_rows(canvas, {area.x + w + column_gap, y, w, inner.h}, area, list.rows, half,
                      list.rows.size(), intent);
        } else {
            end += draw_rows(canvas, inner, area, list.rows, 0, list.rows.size(), intent);
        }
    }
    canvas.end_scroll(end - top);
}

} // namespace isochore::screens
