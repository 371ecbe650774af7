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

// The head goes up with the rows, but the headings of the columns stay above them.
void draw_table(Canvas& canvas, Layout const& place, SheetView const& sheet, TableView const& table,
                Intent& intent)
{
    Rect const area = place.content;
    double const width = area.w - 3.0;
    SheetHead const head{table.heading, table.text, table.filters, table.notice};
    auto const offset = canvas.begin_scroll("table." + table.heading, area);
    double const top = area.y - offset;
    double y = top + draw_head(canvas, {area.x, top}, width, head, sheet.words, intent);
    if (table.rows.empty()) {
        y += 4.0 + canvas.paragraph({area.x, y + 4.0}, width, table.empty, style::muted, "list.empty");
        return canvas.end_scroll(y - top);
    }
    auto const columns = columns_of(canvas, table, width);
    double const pinned = std::max(area.y, y);
    double const headings_h = draw_headings(canvas, {area.x, pinned}, table, columns);
    canvas.hline(area.x, area.x + width, pinned + headings_h, Ink::line, size::stroke);
    y += headings_h;
    Rect const window{area.x, pinned + headings_h, area.w, area.bottom() - pinned - headings_h};
    canvas.begin_clip(window);
    for (auto const& row : table.rows) {
        double const h = row_height(canvas, table, columns, width, row);
        if (row.total)
            canvas.hline(area.x, area.x + width, y, Ink::line, 0.3);
        Rect const r{area.x, y, width, h};
        // Rows far out of sight are only there to be counted and found.
        constexpr double near = 40.0;
        if (y + h > window.y - near && y < window.bottom() + near)
            draw_row(canvas, r, table, columns, row, intent);
        else if (row.enabled)
            canvas.target("row." + row.id, ElementKind::row, r, row.cells.front());
        y += h + (row.enabled ? size::gap : 0.0);
        canvas.hline(area.x, area.x + width, y - (row.enabled ? size::gap / 2 : 0.0),
                     row.cells.size() == 1 ? Ink::line : Ink::faint);
    }
    canvas.end_clip();
    canvas.end_scroll(y - top + 1.0);
}

} // namespace isochore::screens
