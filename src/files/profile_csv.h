#pragma once
#include "files/profile_file.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::files {

/// What became of one row: a draft to complete, or the reasons why there is none.
struct NameplateRow {
    int line = 0; ///< in the file
    std::string id;
    bool taken = false;
    model::Profile profile;
    std::vector<Error> refused; ///< why the row is not taken
    std::vector<Error> open;    ///< what its draft still lacks before it can be checked
};

struct NameplateImport {
    std::vector<NameplateRow> rows; ///< every row of the file, in order
    std::vector<Error> errors;      ///< of the file as a whole: unreadable, no header, an unknown column
};

/// Drafts from a table of nameplates. The first row names the columns: "id", "title", "source", and value
/// paths ("gas.nominal") or their labels. Each cell is read as in a profile ("74 psi g"); an empty cell is no
/// value. Every row is reported on; a bad row never stops the others.
[[nodiscard]] NameplateImport read_nameplates(std::string_view text, std::string_view name,
                                              std::string_view author, std::string_view date);

} // namespace isochore::files
