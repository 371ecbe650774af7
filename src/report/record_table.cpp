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

/// Shares of the columns by what they hold: the widest entry counts, within bounds so that no column starves.
std::vector<double> fitted_shares(Flow const& flow, RecordTable const& table)
{
    std::vector<double> shares;
    for (std::size_t c = 0; c < table.heads.size(); ++c) {
        double widest = flow.measure()(table.heads[c], Face::regular, paper_size::small);
        double word = longest_word(table.heads[c], Face::regular, paper_size::small, flow.measure());
        for (auto const& row : table.rows)
            if (c < row.size()) {
                widest = std::max(widest, flow.measure()(row[c], Face::regular, paper_size::body));
                word = std::max(word, longest_word(row[c], Face::regular, paper_size::body, flow.measure()));
            }
        shares.push_back(std::clamp(widest, std::min(word, 40.0) + 0.5, 60.0));
    }
    // A narrow table is not stretched to the edge: what is over goes to an empty column.
    constexpr double stretch = 1.6;
    double const natural = std::accumulate(shares.begin(), shares.end(), 0.0) * stretch;
    if (double const room = flow.width() - table_gap * static_cast<double>(shares.size()); natural < room)
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
