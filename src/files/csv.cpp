#include "files/csv.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::files {
namespace {

constexpr char quote = '\x22';

char separator_of(std::string_view text)
{
    auto const line = text.substr(0, text.find('\n'));
    auto const commas = std::count(line.begin(), line.end(), ',');
    auto const semicolons = std::count(line.begin(), line.end(), ';');
    return semicolons > commas ? ';' : ',';
}

/// Takes one file apart, character by character.
class Reader {
public:
    Reader(std::string_view text, std::string_view name) : m_text(text), m_name(name)
    {
        if (m_text.starts_with("\xEF\xBB\xBF"))
            m_text.remove_prefix(3);
        m_separator = separator_of(m_text);
    }

    Result<std::vector<CsvRow>> run()
    {
        while (m_at < m_text.size())
            if (auto const read = read_row(); !read)
                return tl::unexpected(read.error());
        return std::move(m_rows);
    }

private:
    Result<void> read_row()
    {
        CsvRow row;
        row.line = m_line;
        for (;;) {
            auto cell = read_cell();
            if (!cell)
                return tl::unexpected(cell.error());
            row.cells.push_back(std::move(*cell));
            if (m_at >= m_text.size() || m_text[m_at] != m_separator)
                break;
            ++m_at;
        }
        skip_line_end();
        bool const empty = row.cells.size() == 1 && row.cells[0].empty();
        if (!empty)
            m_rows.push_back(std::move(row));
        return {};
    }

    Result<std::string> read_cell()
    {
        if (m_at < m_text.size() && m_text[m_at] == quote)
            return read_quoted();
        auto const end =
            std::min(m_text.find_first_of(std::string{m_separator, '\r', '\n'}, m_at), m_text.size());
        std::string cell(m_text.substr(m_at, end - m_at));
        m_at = end;
        if (cell.find(quote) != std::string::npos)
            return fail(Error::Code::corrupt, fmt::format("{}:{}", m_name, m_line),
                        "a quote stands inside an unquoted cell; put the whole cell in quotes");
        return cell;
    }

    Result<std::string> read_quoted()
    {
        int const began = m_line;
        std::string cell;
        for (++m_at; m_at < m_text.size(); ++m_at) {
            char const c = m_text[m_at];
            if (c == '\n')
                ++m_line;
            if (c != quote) {
                cell += c;
                continue;
            }
            if (m_at + 1 < m_text.size() && m_text[m_at + 1] == quote) {
                cell += quote;
                ++m_at;
                continue;
            }
            ++m_at;
            if (m_at < m_text.size() && m_text[m_at] != m_separator && m_text[m_at] != '\r' &&
                m_text[m_at] != '\n')
                return fail(Error::Code::corrupt, fmt::format("{}:{}", m_name, m_line),
                            "text follows a closing quote; double a quote that belongs to the cell");
            return cell;
        }
        return fail(Error::Code::corrupt, fmt::format("{}:{}", m_name, began), "a quote is never closed");
    }

    void skip_line_end()
    {
        if (m_at < m_text.size() && m_text[m_at] == '\r')
            ++m_at;
        if (m_at < m_text.size() && m_text[m_at] == '\n')
            ++m_at;
        ++m_line;
    }

    std::string_view m_text;
    std::string m_name;
    char m_separator = ',';
    std::size_t m_at = 0;
    int m_line = 1;
    std::vector<CsvRow> m_rows;
};

} // namespace

Result<std::vector<CsvRow>> read_csv(std::string_view text, std::string_view name)
{
    return Reader(text, name).run();
}

std::string csv_text(std::string_view cell)
{
    std::string out(cell);
    if (!out.empty() &&
        (std::string_view("=+-@\t\r").find(out[0]) != std::string_view::npos || out[0] == '\0'))
        out.insert(out.begin(), '\'');
    if (out.find_first_of(",;\x22\r\n") == std::string::npos)
        return out;
    std::string quoted(1, quote);
    for (char const c : out)
        quoted += c == quote ? std::string(2, quote) : std::string(1, c);
    return quoted + quote;
}

} // namespace isochore::files
