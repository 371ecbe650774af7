#include "files/profile_csv.h"
#include "files/csv.h"
#include "files/profile_text.h"
#include "json/utf8.h"
#include <algorithm>
#include <fmt/format.h>
#include <optional>
#include <set>

namespace isochore::files {
namespace {

using Code = Error::Code;

std::string trimmed(std::string_view text)
{
    auto const first = text.find_first_not_of(" \t\r\n");
    if (first == std::string_view::npos)
        return {};
    return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

/// The path a column heading stands for; empty where it is none of ours.
std::string path_of(std::string const& heading)
{
    if (heading == "id" || heading == "title" || heading == "source")
        return heading;
    for (auto const& field : model::profile_fields())
        if (field.path == heading || field.label == heading)
            return std::string(field.path);
    return {};
}

/// A cell over several lines as one: a title and a source are read on one.
std::string on_one_line(std::string_view text)
{
    std::string line;
    for (char const c : text)
        if (c != '\r' && c != '\n' && c != '\t')
            line += c;
        else if (!line.empty() && line.back() != ' ')
            line += ' ';
    return line;
}

/// The columns of the table as paths. Faults are noted; an unknown column is not read.
std::vector<std::string> read_header(CsvRow const& row, std::string_view name, std::vector<Error>& errors)
{
    std::vector<std::string> columns;
    std::set<std::string> seen;
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
        auto const heading = trimmed(row.cells[i]);
        auto path = path_of(heading);
        auto const where = fmt::format("{}:{}: column {}", name, row.line, i + 1);
        if (path.empty())
            errors.push_back({Code::unknown, where,
                              fmt::format("\"{}\" is no value of a profile; the column was not read",
                                          printable(heading))});
        else if (!seen.insert(path).second) {
            errors.push_back({Code::invalid_input, where, fmt::format("\"{}\" is there twice", path)});
            path.clear();
        }
        columns.push_back(path);
    }
    if (!seen.contains("id"))
        errors.push_back({Code::missing_input, fmt::format("{}:{}", name, row.line),
                          "no column is called \"id\"; every profile needs a name of its own"});
    return columns;
}

/// Why the whole table cannot be read; nothing where it can. A spreadsheet may save in another encoding.
std::optional<Error> refuse_encoding(std::string_view text, std::string_view name)
{
    bool const utf16 = text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF");
    std::size_t const at = utf16 ? 0 : find_not_utf8(text);
    if (at == std::string_view::npos)
        return std::nullopt;
    auto const line = 1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n');
    return Error{Code::corrupt, fmt::format("{}:{}", name, line),
                 "this is not UTF-8: save the table as CSV in UTF-8 and take it again"};
}

void read_cell(NameplateRow& row, std::string const& path, std::string const& cell, std::string const& place)
{
    if (has_control(cell))
        row.refused.push_back({Code::invalid_input, place, "the cell holds a control character"});
    else if (path == "id")
        row.id = row.profile.id = cell;
    else if (path == "title")
        row.profile.title = cell;
    else if (auto const* field = model::profile_field(path)) {
        if (auto const wrong = refuse_value(*field, cell, place))
            row.refused.push_back({wrong->code, place, wrong->detail});
        row.profile.values[path].value = cell;
    }
}

NameplateRow read_row(CsvRow const& row, std::vector<std::string> const& columns, std::string_view name)
{
    NameplateRow out;
    out.line = row.line;
    std::string source;
    if (row.cells.size() != columns.size())
        out.refused.push_back(
            {Code::corrupt, fmt::format("{}:{}", name, row.line),
             fmt::format("the row has {} cells, the heading {}", row.cells.size(), columns.size())});
    for (std::size_t i = 0; i < std::min(row.cells.size(), columns.size()); ++i) {
        auto const cell = on_one_line(trimmed(row.cells[i]));
        if (columns[i] == "source" && !has_control(cell))
            source = cell;
        else if (!cell.empty() && !columns[i].empty())
            read_cell(out, columns[i], cell, fmt::format("{}:{}: {}", name, row.line, columns[i]));
    }
    if (source.empty())
        source = fmt::format("nameplate, {} line {}", printable(name), row.line);
    for (auto& [path, value] : out.profile.values)
        value.source = source;
    return out;
}

void settle_head(NameplateRow& row, std::string_view name, std::string_view author, std::string_view date,
                 std::set<std::string>& ids)
{
    auto const place = fmt::format("{}:{}: id", name, row.line);
    bool const said = row.id.empty() && !row.refused.empty(); // a row cut short, or an id nobody can read
    if (row.id.empty() && !said)
        row.refused.push_back({Code::missing_input, place, "every profile needs a name of its own"});
    else if (!row.id.empty() && !is_profile_id(row.id))
        row.refused.push_back({Code::invalid_input, place,
                               fmt::format("\"{}\" may hold only a-z, 0-9 and -", printable(row.id))});
    else if (!row.id.empty() && !ids.insert(row.id).second)
        row.refused.push_back({Code::invalid_input, place, fmt::format("\"{}\" is there twice", row.id)});
    row.profile.author = author;
    row.profile.date = date;
    if (row.profile.title.empty())
        row.profile.title = row.profile.text("breaker.model", row.id);
    row.taken = row.refused.empty();
    if (row.taken)
        row.open = check_profile(row.profile, row.id).errors;
}

} // namespace

NameplateImport read_nameplates(std::string_view text, std::string_view name, std::string_view author,
                                std::string_view date)
{
    NameplateImport import;
    if (auto const wrong = refuse_encoding(text, name)) {
        import.errors.push_back(*wrong);
        return import;
    }
    auto const rows = read_csv(text, name);
    if (!rows) {
        import.errors.push_back(rows.error());
        return import;
    }
    if (rows->empty()) {
        import.errors.push_back({Code::missing_input, std::string(name), "the file is empty"});
        return import;
    }
    auto const columns = read_header(rows->front(), name, import.errors);
    std::set<std::string> ids;
    for (std::size_t i = 1; i < rows->size(); ++i) {
        auto row = read_row((*rows)[i], columns, name);
        settle_head(row, name, author, date, ids);
        import.rows.push_back(std::move(row));
    }
    return import;
}

} // namespace isochore::files
