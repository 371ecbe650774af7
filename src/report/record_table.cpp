#include "drawing/text.h"
#include "report/record_pages.h"
#include <algorithm>
#include <numeric>

namespace isochore::report {

using namespace drawing;

CellText head_text(std::string text)
{
    CellText head;
    head.text = std::move(text);
    head.size = paper_size::small;
    head.ink = Ink::muted;
    return head;
}

std::vector<Column> columns_of(Flow const& flow, std::vector<double> const& shares, double left, double gap)
{
    double const sum = std::accumulate(shares.begin(), shares.end(), 0.0);
    double const room = flow.width() - left - gap * static_cast<double>(shares.size() - 1);
    std::vector<Column> columns;
    for (double const share : shares) {
        Column& column = columns.emplace_back();
        column.left = left;
        column.width = share / sum * room;
        left += column.width + gap;
    }
    return columns;
}

void add_heading(Flow& flow, std::string const& text, std::string const& side)
{
    flow.gap(2.0);
    Row row;
    row.columns = columns_of(flow, {side.empty() ? 1.0 : 0.55, side.empty() ? 0.001 : 0.45});
    row.columns[0].texts = {{text, Face::bold, Ink::text, paper_size::head}};
    row.columns[1].texts = {{side, Face::regular, Ink::muted, paper_size::body}};
    row.columns[1].texts[0].align = Align::right;
    row.keep_with_next = true;
    row.before = 0.0;
    flow.add(std::move(row));
}

namespace {

constexpr double table_gap = 3.2; ///< a number set right must not lean on the text behind it

/// Its parts between spaces: what a day or a serial number needs so that it is not broken at a hyphen.
double unbroken(std::string_view text, Face face, double size, MeasureText const& measure)
{
    double widest = longest_word(text, face, size, measure);
    while (!text.empty()) {
        std::size_t const end = std::min(text.find_first_of(" \n"), text.size());
        widest = std::max(widest, measure(text.substr(0, end), face, size));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return widest;
}

/// Shares of the columns by what they hold: the widest entry counts, within bounds so that no column starves.
/// Where the sheet is too narrow for all, the columns of sentences give way, not those of days and figures.
std::vector<double> fitted_shares(Flow const& flow, RecordTable const& table)
{
    constexpr double most_word = 40.0, most = 60.0;
    std::vector<double> shares, needs, asked;
    for (std::size_t c = 0; c < table.heads.size(); ++c) {
        double widest = flow.measure()(table.heads[c], Face::regular, paper_size::small);
        double word = unbroken(table.heads[c], Face::regular, paper_size::small, flow.measure());
        for (auto const& row : table.rows)
            if (c < row.size()) {
                widest = std::max(widest, flow.measure()(row[c], Face::regular, paper_size::body));
                word = std::max(word, unbroken(row[c], Face::regular, paper_size::body, flow.measure()));
            }
        needs.push_back(std::min(word, most_word) + 0.5);
        asked.push_back(std::max(widest, needs.back()));
        shares.push_back(std::min(asked.back(), std::max(most, needs.back())));
    }
    double const wanted = std::accumulate(shares.begin(), shares.end(), 0.0),
                 needed = std::accumulate(needs.begin(), needs.end(), 0.0),
                 gaps = table_gap * static_cast<double>(shares.size() - 1);
    if (double const room = flow.width() - gaps; wanted > room && needed < room) {
        double const kept = (room - needed) / (wanted - needed);
        for (std::size_t c = 0; c < shares.size(); ++c)
            shares[c] = needs[c] + kept * (shares[c] - needs[c]);
        return shares;
    }
    // Long sentences take what the others leave.
    double const left = flow.width() - gaps - wanted,
                 lacking = std::accumulate(asked.begin(), asked.end(), 0.0) - wanted;
    if (left > 0.0 && lacking > 0.0)
        for (std::size_t c = 0; c < shares.size(); ++c)
            shares[c] += std::min(1.0, left / lacking) * (asked[c] - shares[c]);
    // A narrow table is not stretched to the edge: what is over goes to an empty column.
    constexpr double stretch = 1.6;
    double const natural = std::accumulate(shares.begin(), shares.end(), 0.0) * stretch;
    if (double const room = flow.width() - gaps - table_gap; natural < room)
        shares.push_back((room - natural) / stretch);
    return shares;
}

} // namespace

void add_table(Flow& flow, RecordTable const& table)
{
    if (table.heads.empty())
        return;
    if (!table.title.empty())
        add_heading(flow, table.title);
    auto const shares = fitted_shares(flow, table);
    auto const right = [&](std::size_t c) { return c < table.right.size() && table.right[c]; };
    Row head;
    head.columns = columns_of(flow, shares, 0.0, table_gap);
    for (std::size_t c = 0; c < table.heads.size(); ++c) {
        head.columns[c].texts = {head_text(table.heads[c])};
        head.columns[c].texts[0].align = right(c) ? Align::right : Align::left;
    }
    head.above = Rule::line;
    flow.begin_table(std::move(head));
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        Row row;
        row.columns = columns_of(flow, shares, 0.0, table_gap);
        for (std::size_t c = 0; c < std::min(table.heads.size(), table.rows[r].size()); ++c) {
            row.columns[c].texts = {{table.rows[r][c]}};
            row.columns[c].texts[0].align = right(c) ? Align::right : Align::left;
        }
        row.above = Rule::faint;
        row.before = row.after = 0.6;
        // The first two rows and the last two stay together: no row stands alone.
        row.keep_with_next = r == 0 ? table.rows.size() > 1 : r + 2 == table.rows.size();
        if (r + 1 == table.rows.size() && !table.closing.empty())
            row.keep_with_next = true;
        flow.add(std::move(row));
    }
    if (!table.closing.empty()) {
        Row closing;
        closing.columns = columns_of(flow, {1.0});
        closing.columns[0].texts = {{table.closing, Face::bold}};
        closing.above = Rule::line;
        flow.add(std::move(closing));
    }
    flow.end_table();
}

} // namespace isochore::report
