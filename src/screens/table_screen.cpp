#include "screens/marks.h"
#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double gutter = 3.4, mark_column = 8.0, row_pad = 1.1;

struct Place {
    double x, w;
};

/// Where the columns stand. Stacked: too many figures for one line with the words, which get a line of their
/// own above them.
struct Columns {
    std::vector<Place> at;
    bool stacked = false;
};

TextStyle style_of(TableRow const& row)
{
    return row.total || row.cells.size() == 1 ? style::bold : style::body;
}

Columns stacked_columns(TableView const& table, double room)
{
    auto const figures = static_cast<double>(table.columns.size() - 1);
    double const w = (room - gutter * (figures - 1.0)) / figures;
    Columns columns{{{0.0, room}}, true};
    for (std::size_t i = 1; i < table.columns.size(); ++i)
        columns.at.push_back({static_cast<double>(i - 1) * (w + gutter), w});
    return columns;
}

double widest_word(Canvas& canvas, std::string_view text, TextStyle const& how)
{
    double widest = 0.0;
    while (!text.empty()) {
        std::size_t const end = std::min(text.find_first_of(" \n-"), text.size());
        widest = std::max(widest, canvas.measure(text.substr(0, std::min(end + 1, text.size())), how));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return widest;
}

/// What a column of words needs so that no word of it is broken; a column of figures, for its heading.
double word_room(Canvas& canvas, TableView const& table, std::size_t column, double most)
{
    constexpr std::size_t looked_at = 200; // rows: enough to know, and few enough for every frame
    double need = widest_word(canvas, table.columns[column].heading, style::muted);
    if (!table.columns[column].number)
        for (std::size_t r = 0; r < std::min(table.rows.size(), looked_at); ++r)
            if (auto const& row = table.rows[r]; row.cells.size() > 1 && column < row.cells.size())
                need = std::max(need, widest_word(canvas, row.cells[column], style_of(row)));
    return std::min(need + 0.1, most);
}

/// Shares of `left` by what each column asks for, none below what it needs where the others can give it.
void share_out(std::vector<double>& widths, std::vector<double> const& needs, double left)
{
    double asked = 0.0, lacking = 0.0, spare = 0.0;
    for (double const w : widths)
        asked += w;
    for (std::size_t i = 0; i < widths.size(); ++i) {
        widths[i] *= asked > 0.0 ? left / asked : 0.0;
        lacking += std::max(0.0, needs[i] - widths[i]);
        spare += std::max(0.0, widths[i] - needs[i]);
    }
    if (lacking <= 0.0 || spare <= 0.0)
        return;
    double const given = std::min(1.0, spare / lacking), taken = std::min(1.0, lacking / spare);
    for (std::size_t i = 0; i < widths.size(); ++i)
        widths[i] += widths[i] < needs[i] ? (needs[i] - widths[i]) * given : (needs[i] - widths[i]) * taken;
}

/// Where the columns stand, from the left edge of the table: a figure is never broken, so columns of figures
/// get what the widest needs, and the words share the rest; nor is a word, where there is room.
Columns columns_of(Canvas& canvas, TableView const& table, double width)
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
        if (table.columns[i].number) {
            w = std::max(w, word_room(canvas, table, i, room / 3));
            for (auto const& row : table.rows)
                if (row.cells.size() > 1 && i < row.cells.size())
                    w = std::max(w, canvas.measure(row.cells[i], style_of(row)) + 0.1);
        }
        widths.push_back(w);
    }
    // What the figures took comes from the words.
    double figures = 0.0, words = 0.0;
    for (std::size_t i = 0; i < widths.size(); ++i)
        (table.columns[i].number ? figures : words) += widths[i];
    constexpr double most = 0.65; // beyond this even figures have to break
    double const squeeze = words > 0.0 ? std::min(1.0, most * room / std::max(figures, 1e-9)) : 1.0;
    bool const one_of_words = std::count_if(table.columns.begin(), table.columns.end(),
                                            [](TableColumn const& c) { return !c.number; }) == 1;
    if (squeeze < 1.0 && one_of_words && !table.columns.front().number)
        return stacked_columns(table, width - (marks ? mark_column : 0.0));
    double const left = room - figures * squeeze;
    std::vector<double> of_words, needs;
    for (std::size_t i = 0; i < widths.size(); ++i)
        if (!table.columns[i].number) {
            of_words.push_back(widths[i]);
            needs.push_back(word_room(canvas, table, i, left / 2));
        }
    share_out(of_words, needs, left);
    Columns columns;
    double x = 0.0;
    for (std::size_t i = 0, word = 0; i < widths.size(); ++i) {
        double const w = table.columns[i].number ? widths[i] * squeeze : of_words[word++];
        columns.at.push_back({x, w});
        x += w + gutter;
    }
    return columns;
}

/// The room of one cell: words with nothing beside them may use all that is left of the row.
double cell_width(TableView const& table, Columns const& columns, std::vector<std::string> const& cells,
                  std::size_t i, double width)
{
    Place const& own = columns.at[i];
    if (i == 0 || columns.stacked || table.columns[i].number)
        return own.w;
    for (std::size_t j = i + 1; j < cells.size(); ++j)
        if (!cells[j].empty())
            return own.w;
    return std::max(own.w, width - mark_column - own.x);
}

/// The height of the words, and of what stands beside or under them.
struct RowHeights {
    double first = 0.0, rest = 0.0;
    bool stacked = false;

    [[nodiscard]] double whole() const { return stacked ? first + rest : std::max(first, rest); }
};

RowHeights heights_of(Canvas& canvas, TableView const& table, Columns const& columns, double width,
                      std::vector<std::string> const& cells, TextStyle const& how)
{
    RowHeights h;
    h.stacked = columns.stacked;
    for (std::size_t i = 0; i < std::min(cells.size(), columns.at.size()); ++i) {
        double& part = i == 0 ? h.first : h.rest;
        part = std::max(part,
                        canvas.paragraph_height(cells[i], how, cell_width(table, columns, cells, i, width)));
    }
    return h;
}

double text_height(Canvas& canvas, TableView const& table, Columns const& columns, double width,
                   TableRow const& row)
{
    TextStyle const how = style_of(row);
    return row.cells.size() == 1 ? canvas.paragraph_height(row.cells.front(), how, width - mark_column)
                                 : heights_of(canvas, table, columns, width, row.cells, how).whole();
}

double row_height(Canvas& canvas, TableView const& table, Columns const& columns, double width,
                  TableRow const& row)
{
    double const h =
        text_height(canvas, table, columns, width, row) + 2 * row_pad + (row.cells.size() == 1 ? 3.0 : 0.0);
    return row.enabled ? std::max(h, size::target_min) : h;
}

void draw_cells(Canvas& canvas, Rect const& r, TableView const& table, Columns const& columns,
                TableRow const& row, TextStyle const& how)
{
    std::string const id = "row." + row.id;
    double const text_h = text_height(canvas, table, columns, r.w, row);
    double const top = row.cells.size() == 1 ? r.bottom() - row_pad - text_h : r.y + (r.h - text_h) / 2;
    if (row.cells.size() == 1) {
        canvas.paragraph({r.x, top}, r.w - mark_column, row.cells.front(), how, id + ".group");
        return;
    }
    double const under =
        columns.stacked ? heights_of(canvas, table, columns, r.w, row.cells, how).first : 0.0;
    for (std::size_t i = 0; i < std::min(row.cells.size(), columns.at.size()); ++i)
        canvas.paragraph({r.x + columns.at[i].x, top + (i == 0 ? 0.0 : under)},
                         cell_width(table, columns, row.cells, i, r.w) + 0.05, row.cells[i],
                         table.columns[i].number ? how.aligned(Align::right) : how,
                         id + "." + std::to_string(i));
}

void draw_row(Canvas& canvas, Rect const& r, TableView const& table, Columns const& columns,
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
    draw_cells(canvas, r, table, columns, row, style_of(row).with(ink));
    if (row.mark != Mark::none)
        draw_mark(canvas, row.mark, {r.right() - mark_column / 2 + 1.0, r.y + r.h / 2}, 4.8,
                  pressed ? Ink::inverse : mark_ink(row.mark));
    canvas.ground(Ink::paper);
}

RowHeights heading_heights(Canvas& canvas, TableView const& table, Columns const& columns)
{
    RowHeights h;
    h.stacked = columns.stacked;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        double& part = i == 0 ? h.first : h.rest;
        part =
            std::max(part, canvas.paragraph_height(table.columns[i].heading, style::muted, columns.at[i].w));
    }
    return h;
}

constexpr double under_headings = 0.8;

void draw_headings(Canvas& canvas, Point at, TableView const& table, Columns const& columns)
{
    RowHeights const h = heading_heights(canvas, table, columns);
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        auto const& heading = table.columns[i].heading;
        // Headings of different heights stand on one line.
        double const bottom = at.y + (columns.stacked && i == 0 ? h.first : h.whole());
        double const own = canvas.paragraph_height(heading, style::muted, columns.at[i].w);
        canvas.paragraph({at.x + columns.at[i].x, bottom - own}, columns.at[i].w, heading,
                         table.columns[i].number ? style::muted.aligned(Align::right) : style::muted,
                         "column." + std::to_string(i));
    }
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
    double const y_of_headings = y, pinned = std::max(area.y, y);
    double const headings_h = heading_heights(canvas, table, columns).whole() + under_headings;
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
    // A scroll fades its edges: headings that stay at the upper one must not look as if they were going too.
    bool const stay = pinned > y_of_headings;
    if (stay)
        canvas.end_scroll(y - top + 1.0);
    draw_headings(canvas, {area.x, pinned}, table, columns);
    canvas.hline(area.x, area.x + width, pinned + headings_h, Ink::line, size::stroke);
    if (!stay)
        canvas.end_scroll(y - top + 1.0);
}

} // namespace isochore::screens
