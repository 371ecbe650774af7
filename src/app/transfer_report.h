#pragma once
#include "app/desk.h"
#include "files/profile_csv.h"
#include "files/profile_import.h"
#include <array>
#include <functional>

namespace isochore::app {

/// What became of every row of a table, or of every file of a folder. There may be ten thousand: the sheet
/// gets one part of them, of one kind where only that is asked for, and nothing is put in words before it is
/// shown.
class TransferReport {
public:
    TransferReport(files::NameplateImport import, std::string name);
    /// `out`: profiles were written, not taken.
    TransferReport(std::vector<files::ImportLine> lines, std::string name, bool out);

    TransferReport(TransferReport const&) = delete;
    TransferReport& operator=(TransferReport const&) = delete;

    [[nodiscard]] screens::TableView view(Desk& desk) const;
    /// A filter or a turn to another part; false where the intent is none of its own.
    bool act(screens::Intent const& intent);

private:
    enum class Kind { all, refused, open, taken, known };
    static constexpr std::size_t kinds = 5;
    /// Puts one row into words.
    using Show = std::function<screens::TableRow(Desk&, std::size_t at, Kind)>;

    void add(Kind kind);
    [[nodiscard]] std::vector<std::size_t> const& shown() const;
    [[nodiscard]] std::string word(Desk& desk, Kind kind) const;
    [[nodiscard]] std::string heading(Desk& desk) const;
    [[nodiscard]] screens::VerdictView outcome(Desk& desk) const;

    std::string m_name;
    bool m_rows; ///< of a table; files otherwise
    bool m_out = false;
    std::vector<Kind> m_kind;                         ///< of each row, never `all`
    std::array<std::vector<std::size_t>, kinds> m_of; ///< the rows of each kind
    std::vector<Error> m_errors;                      ///< of the table as a whole
    Show m_show;
    Kind m_only = Kind::all;
    std::size_t m_first = 0; ///< of the part that is shown
};

} // namespace isochore::app
