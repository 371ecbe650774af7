#include "screens/marks.h"
#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double gutter = 3.4, mark_column = 8.0, row_pad = 1.1;

struct Place {
    double x, w;
};

TextStyle style_of(TableRow const& row)
{
    return row.total || row.cells.size() == 1 ? style::bold : style::body;
}

/// Where the columns stand, from the left edge of the table: a figure is never broken, so columns of figures
/// get what the widest needs, and the words share the rest.
std::vector<Place> columns_of(Canvas& canvas, TableView const& table, double width)
{
    bool const marks = std::any_of(table.rows.begin(), table.rows.end(),
                                   [](TableRow const& r) { return r.mark != Mark::none; });
    double const room = width - (marks ? mark_column : 0.0) -
                        gutter * static_cast<double>(table.columns.empty() ? 0 : table.columns.size() - 1);
    double shares = 0.0;
    for (auto const& c : table.columns)
        shares += c.share;
    std::vector<double> widths;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        double w = room * table.columns[i].share / shares;
        if (table.columns[i].number)
            for (auto const& row : table.rows)
                if (row.cells.size() > 1 && i < row.cells.size())
                    w = std::max(w, canvas.measure(row.cells[i], style_of(row)) + 0.1);
        widths.push_back(w);
    }
    // What the figures took comes from the words.
    double figures = 0.0, words = 0.0;
    for (std::size_t i = 0; i < widths.size(); ++i)
        (table.columns[i].number ? figures : words) += widths[i];
    constexpr double most = 0.65; // beyond this even figures have to break
    double const squeeze = words > 0.0 ? std::min(1.0, most * room / std::max(figures, 1e-9)) : 1.0;
    double const left = room - figures * squeeze;
    std::vector<Place> places;
    double x = 0.0;
    for (std::size_t i = 0; i < widths.size(); ++i) {
        double const w = table.columns[i].number ? widths[i] * squeeze
                         : words > 0.0           ? widths[i] * left / words
                                                 : 0.0;
        places.push_back({x, w});
        x += w + gutter;
    }
    return places;
}

double text_height(Canvas& canvas, TableView const& table, std::vector<Place> const& columns, double width,
                   TableRow const& row)
{
    TextStyle const how = style_of(row);
    if (row.cells.size() == 1)
        return canvas.paragraph_height(row.cells.front(), how, width - mark_column);
    double h = 0.0;
    for (std::size_t i = 0; i < std::min(row.cells.size(), table.columns.size()); ++i)
        h = std::max(h, canvas.paragraph_height(row.cells[i], how, columns[i].w));
    return h;
}

double row_height(Canvas& canvas, TableView const& table, std::vector<Place> const& columns, double width,
                  TableRow const& row)
{
    double const h =
        text_height(canvas, table, columns, width, row) + 2 * row_pad + (row.cells.size() == 1 ? 3.0 : 0.0);
    return row.enabled ? std::max(h, size::target_min) : h;
}

void draw_cells(Canvas& canvas, Rect const& r, TableView const& table, std::vector<Place> const& columns,
                TableRow const& row, double text_h, TextStyle const& how)
{
    std::string const id = "row." + row.id;
    double const top = row.cells.size() == 1 ? r.bottom() - row_pad - text_h : r.y + (r.h - text_h) / 2;
    if (row.cells.size() == 1) {
        canvas.paragraph({r.x, top}, r.w - mark_column, row.cells.front(), how, id + ".group");
        return;
    }
    for (std::size_t i = 0; i < std::min(row.cells.size(), table.columns.size()); ++i)
        canvas.paragraph({r.x + columns[i].x, top}, columns[i].w + 0.05, row.cells[i],
                         table.columns[i].number ? how.aligned(Align::right) : how,
                         id + "." + std::to_string(i));
}

void draw_row(Canvas& canvas, Rect const& r, TableView const& table, std::vector<Place> const& columns,
              TableRow const& row, Intent& intent)
{
    bool pressed = false;
    if (row.enabled) {
        std::string spoken;
        for (auto const& cell : row.cells)
            spoken += (spoken.empty() ? "" : "\n") + cell;
        if (canvas.target("row." + row.id, ElementKind::row, r, spoken)) {
            intent.kind = Intent::Kind::row;
            intent.id = row.id;
        }
        pressed = canvas.pressed_in(r);
    }
    if (pressed)
        canvas.fill(r, Ink::line);
    canvas.ground(pressed ? Ink::line : Ink::paper);
    Ink const ink = pressed ? Ink::inverse : Ink::text;
    draw_cells(canvas, r, table, columns, row, text_height(canvas, table, columns, r.w, row),
               style_of(row).with(ink));
    if (row.mark != Mark::none)
        draw_mark(canvas, row.mark, {r.right() - mark_column / 2 + 1.0, r.y + r.h / 2}, 4.8,
                  pressed ? Ink::inverse : mark_ink(row.mark));
    canvas.ground(Ink::paper);
}

double draw_headings(Canvas& canvas, Point at, TableView const& table, std::vector<Place> const& columns)
{
    double h = 0.0;
    for (std::size_t i = 0; i < columns.size(); ++i)
        h = std::max(h, canvas.paragraph_height(table.columns[i].heading, style::muted, columns[i].w));
    for (std::size_t i = 0; i < columns.size(); ++i) {
        double const own = canvas.paragraph_height(table.columns[i].heading, style::muted, columns[i].w);
        canvas.paragraph({at.x + columns[i].x, at.y + h - own}, columns[i].w, table.columns[i].heading,
                         table.columns[i].number ? style::muted.aligned(Align::right) : style::muted,
                         "column." + std::to_string(i));
    }
    return h + 0.8;
}

} // namespace

void draw_table(Canvas& canvas, Layout const& place, TableView const& table, Intent& intent)
{
    Rect const area = place.content;
    double y = area.y + draw_heading(canvas, {area.x, area.y}, area.w, table.heading, table.text) + 2.0;
    if (double const h = draw_filters(canvas, {area.x, y}, area.w, table.filters, intent); h > 0.0)
        y += h + 2.4;
    if (table.notice) {
        double const h = verdict_height(canvas, *table.notice, area.w);
        draw_verdict(canvas, {area.x, y, area.w, h}, *table.notice, "notice");
        y += h + 2.4;
    }
    if (table.rows.empty()) {
        canvas.paragraph({area.x, y + 4.0}, area.w, table.empty, style::muted, "list.empty");
        return;
    }
    double const width = area.w - 3.0;
    auto const columns = columns_of(canvas, table, width);
    y += draw_headings(canvas, {area.x, y}, table, columns);
    canvas.hline(area.x, area.right(), y, Ink::line, size::stroke);
    Rect const window{area.x, y, area.w, area.bottom() - y};
    double const offset = canvas.begin_scroll("table." + table.heading, window);
    double at = window.y - offset;
    for (auto const& row : table.rows) {
        double const h = row_height(canvas, table, columns, width, row);
        if (row.total)
            canvas.hline(area.x, area.x + width, at, Ink::line, 0.3);
        Rect const r{area.x, at, width, h};
        // Rows far out of sight are only there to be counted and found.
        constexpr double near = 40.0;
        if (at + h > window.y - near && at < window.bottom() + near)
            draw_row(canvas, r, table, columns, row, intent);
        else if (row.enabled)
            canvas.target("row." + row.id, ElementKind::row, r, row.cells.front());
        at += h + (row.enabled ? size::gap : 0.0);
        canvas.hline(area.x, area.x + width, at - (row.enabled ? size::gap / 2 : 0.0),
                     row.cells.size() == 1 ? Ink::line : Ink::faint);
    }
    canvas.end_scroll(at + offset - window.y + 1.0);
}

} // namespace isochore::screens
