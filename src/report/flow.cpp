#include "report/flow.h"
#include "drawing/text.h"
#include <algorithm>
#include <fmt/format.h>
#include <utility>

namespace isochore::report {

using namespace drawing;

namespace {

constexpr double bar_width = 22.0;

double mark_room(CellText const& text)
{
    return text.mark == Mark::none && !text.box ? 0.0 : text.size * 1.35;
}

double pitch_of(CellText const& text)
{
    return text.size * paper_size::pitch;
}

} // namespace

double Flow::SetColumn::height() const
{
    double sum = 0.0;
    for (auto const& line : lines)
        sum += pitch_of(style(line));
    return sum;
}

void Flow::measure_height(Block& block)
{
    double tallest = 0.0;
    for (auto const& column : block.columns)
        tallest = std::max(tallest, column.height());
    block.height = block.before + tallest + block.after;
}

Flow::Block Flow::set(Row row) const
{
    Block block;
    block.above = row.above;
    block.before = row.before;
    block.after = row.after;
    block.keep_with_next = row.keep_with_next;
    for (auto& column : row.columns) {
        SetColumn& done = block.columns.emplace_back();
        done.left = column.left;
        done.width = column.width;
        done.texts = std::move(column.texts);
        for (std::size_t t = 0; t < done.texts.size(); ++t) {
            auto const& text = done.texts[t];
            if (text.text.empty() && !text.bar && text.mark == Mark::none)
                continue;
            double const room = column.width - mark_room(text) - (text.bar ? bar_width + 12.0 : 0.0);
            bool first = true;
            for (auto& line : wrap_text(text.text, room, text.face, text.size, m_measure)) {
                done.lines.push_back({t, std::move(line), first});
                first = false;
            }
        }
    }
    measure_height(block);
    return block;
}

void Flow::push(Block block)
{
    block.table = m_table;
    block.bookmark = std::exchange(m_bookmark, {});
    m_blocks.push_back(std::move(block));
}

void Flow::add(Row row)
{
    push(set(std::move(row)));
}

void Flow::add(Fixed fixed)
{
    Block block;
    block.height = fixed.height;
    block.draw = std::move(fixed.draw);
    block.keep_with_next = fixed.keep_with_next;
    push(std::move(block));
}

void Flow::gap(double height)
{
    Block block;
    block.height = height;
    block.is_gap = true;
    // Belongs to what follows: never alone at the foot of a sheet.
    block.keep_with_next = true;
    block.table = m_table;
    m_blocks.push_back(std::move(block));
}

void Flow::begin_table(Row head)
{
    head.keep_with_next = true;
    m_table = static_cast<int>(m_heads.size());
    m_heads.push_back(set(head));
    Block first = set(std::move(head));
    first.is_head = true;
    push(std::move(first));
}

void Flow::end_table()
{
    m_table = -1;
}

void Flow::paint_line(Line const& line, SetColumn const& column, Picture& sheet, double baseline) const
{
    CellText const& style = column.style(line);
    double const inset = mark_room(style);
    if (line.first && style.mark != Mark::none)
        draw_mark(sheet, style.mark, {column.left + style.size * 0.5, baseline - 0.36 * style.size},
                  style.size * 1.05);
    if (line.first && style.box)
        sheet.rect({column.left + 0.1, baseline - 0.82 * style.size}, style.size, style.size, Ink::line,
                   0.25);
    double x = column.left + inset;
    if (style.align == Align::right)
        x = column.left + column.width;
    else if (style.align == Align::centre)
        x = column.left + column.width / 2.0;
    if (!line.text.empty())
        sheet.label({x, baseline}, line.text, style.size, style.ink, style.face, style.align);
    if (style.struck && !line.text.empty()) {
        double const width = m_measure(line.text, style.face, style.size);
        double const from = style.align == Align::right ? x - width : x;
        sheet.line({from - 0.3, baseline - 0.28 * style.size},
                   {from + width + 0.3, baseline - 0.28 * style.size}, Ink::fail, 0.25);
    }
    if (line.first && style.bar) {
        double const share = std::clamp(*style.bar, 0.0, 1.0);
        double const left = column.left + column.width - bar_width - 11.0, top = baseline - 0.68 * style.size;
        double const height = 0.62 * style.size;
        sheet.rect({left, top}, bar_width, height, Ink::faint, 0.15);
        if (share > 0.0)
            sheet.filled_rect({left, top}, bar_width * share, height, Ink::accent);
        sheet.label({column.left + column.width, baseline}, fmt::format("{:.0f} %", share * 100.0),
                    style.size, Ink::text, Face::regular, Align::right);
    }
}

void Flow::paint(Block const& block, Picture& sheet, double top) const
{
    if (block.above != Rule::none)
        sheet.line({0.0, top}, {m_width, top}, block.above == Rule::line ? Ink::line : Ink::faint,
                   block.above == Rule::line ? 0.35 : 0.18);
    if (block.draw)
        block.draw(sheet, 0.0, top);
    for (auto const& column : block.columns) {
        double y = top + block.before;
        for (auto const& line : column.lines) {
            auto const& style = column.style(line);
            double const pitch = pitch_of(style);
            paint_line(line, column, sheet, y + pitch * 0.5 + 0.28 * style.size);
            y += pitch;
        }
    }
}

/// Fills sheets from the top, keeping together what belongs together.
class Flow::Breaker {
public:
    Breaker(Flow const& flow, double height) : m_flow(flow), m_height(height) { m_sheets.emplace_back(); }

    std::vector<Sheet> run()
    {
        auto const& blocks = m_flow.m_blocks;
        bool starts_group = true, group_fits = true;
        for (std::size_t i = 0; i < blocks.size(); ++i) {
            Block const& block = blocks[i];
            int const table = block.is_head ? -1 : block.table;
            if (starts_group) {
                double const together = group_height(i);
                group_fits = together <= m_height - top_of(table);
                if (group_fits && m_y + together > m_height && m_y > top_of(table))
                    next_sheet(table);
            }
            // A group taller than a sheet is broken between its blocks, and a block between its lines.
            bool const whole = block.height <= m_height - top_of(table);
            if (!group_fits && whole && m_y + block.height > m_height)
                next_sheet(table);
            place(block);
            starts_group = !block.keep_with_next;
        }
        return std::move(m_sheets);
    }

private:
    double group_height(std::size_t i) const
    {
        auto const& blocks = m_flow.m_blocks;
        double sum = blocks[i].height;
        while (i + 1 < blocks.size() && blocks[i].keep_with_next)
            sum += blocks[++i].height;
        return sum;
    }

    double top_of(int table) const
    {
        return table < 0 ? 0.0 : m_flow.m_heads[static_cast<std::size_t>(table)].height;
    }

    void next_sheet(int table)
    {
        m_sheets.emplace_back();
        m_y = 0.0;
        if (table < 0)
            return;
        Block const& head = m_flow.m_heads[static_cast<std::size_t>(table)];
        m_flow.paint(head, m_sheets.back().picture, 0.0);
        m_y = head.height;
    }

    void place(Block const& block)
    {
        if (!block.bookmark.empty())
            m_sheets.back().bookmarks.push_back(block.bookmark);
        if (block.is_gap) {
            m_y += m_y > 0.0 ? block.height : 0.0;
            return;
        }
        if (m_y + block.height > m_height + 1e-6 && !block.columns.empty()) {
            place_in_parts(block);
            return;
        }
        m_flow.paint(block, m_sheets.back().picture, m_y);
        m_y += block.height;
    }

    /// A row taller than what is left: as many lines of every cell as fit, the rest on the next sheets.
    void place_in_parts(Block const& block)
    {
        Block rest = block;
        while (true) {
            Block part = rest;
            bool more = false, any = false;
            double const room = m_height - m_y - part.before - part.after;
            for (std::size_t c = 0; c < part.columns.size(); ++c) {
                auto const& column = part.columns[c];
                auto& lines = part.columns[c].lines;
                std::size_t fit = 0;
                for (double y = 0.0; fit < lines.size(); ++fit)
                    if ((y += pitch_of(column.style(lines[fit]))) > room)
                        break;
                auto& left = rest.columns[c].lines;
                left.assign(lines.begin() + static_cast<std::ptrdiff_t>(fit), lines.end());
                lines.resize(fit);
                more = more || !left.empty();
                any = any || fit > 0;
            }
            if (any) {
                measure_height(part);
                m_flow.paint(part, m_sheets.back().picture, m_y);
                m_y += part.height;
            }
            if (!more || (!any && m_y <= top_of(block.table)))
                return;
            next_sheet(block.table);
            rest.above = Rule::faint;
        }
    }

    Flow const& m_flow;
    double m_height;
    double m_y = 0.0;
    std::vector<Sheet> m_sheets;
};

std::vector<Flow::Sheet> Flow::sheets(double height) const
{
    return Breaker(*this, height).run();
}

} // namespace isochore::report
