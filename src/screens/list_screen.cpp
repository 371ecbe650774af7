#include "screens/marks.h"
#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

double draw_heading(Canvas& canvas, Point at, double width, std::string const& heading,
                    std::string const& text)
{
    Column column{canvas, at.x, width, at.y};
    column.text(heading, style::title, "heading");
    if (!text.empty()) {
        column.space(0.8);
        column.text(text, style::body, "heading.text");
    }
    return column.y - at.y;
}

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
    double const w = (window.w + 3.0 - column_gap) / 2, two = row_place(canvas, {0, 0, w, 0}, rows).text_w;
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

void draw_list(Canvas& canvas, Layout const& place, SheetView const& sheet, ListView const& list,
               Intent& intent)
{
    Rect const area = place.content;
    double const search_w = list.searchable ? (canvas.portrait() ? area.w : 74.0) : 0.0;
    double const heading_w = canvas.portrait() || !list.searchable ? area.w : area.w - search_w - 6.0;
    double y = area.y + draw_heading(canvas, {area.x, area.y}, heading_w, list.heading, list.text) + 2.0;
    if (list.searchable) {
        FieldView const field{"search", sheet.words.search, list.search, "", false, "", ""};
        Point const at = canvas.portrait() ? Point{area.x, y} : Point{area.right() - search_w, area.y};
        double const h = draw_field(canvas, at, search_w, field, sheet.words, true, intent);
        double const below = list.filters.empty() ? 2.0 : size::gap;
        y = canvas.portrait() ? y + h + below : std::max(y, area.y + h + below);
    }
    if (double const h = draw_filters(canvas, {area.x, y}, area.w, list.filters, intent); h > 0.0)
        y += h + 2.4;
    if (list.notice) {
        double const h = verdict_height(canvas, *list.notice, area.w);
        draw_verdict(canvas, {area.x, y, area.w, h}, *list.notice, "notice");
        y += h + 2.4;
    }
    Rect const window{area.x, y, area.w, area.bottom() - y};
    if (list.rows.empty()) {
        canvas.paragraph({area.x, y + 4.0}, area.w, list.empty, style::muted, "list.empty");
        return;
    }
    canvas.hline(area.x, area.right(), y, Ink::line, 0.3);
    Rect const inner{window.x, window.y, window.w - 3.0, window.h};
    if (stands_in_two_columns(canvas, inner, list.rows)) {
        double const w = (window.w - column_gap) / 2;
        std::size_t const half = (list.rows.size() + 1) / 2;
        draw_rows(canvas, {window.x, window.y, w, window.h}, window, list.rows, 0, half, intent);
        draw_rows(canvas, {window.x + w + column_gap, window.y, w, window.h}, window, list.rows, half,
                  list.rows.size(), intent);
        return;
    }
    double const offset = canvas.begin_scroll("list." + list.heading, window);
    double const h = draw_rows(canvas, {inner.x, inner.y - offset, inner.w, inner.h}, window, list.rows, 0,
                               list.rows.size(), intent);
    canvas.end_scroll(h);
}

} // namespace isochore::screens
