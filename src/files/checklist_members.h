#pragma once
#include "files/checklist_file.h"
#include "json/value.h"
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::files {

/// Reads the members of one JSON object of a checklist. Nothing stops at the first fault: each one goes to
/// the report with its place ("08_fill.json: steps[2].limit.max") and a harmless value is given in its stead.
/// Members no read asked for are refused by refuse_rest(), so that a misspelt word cannot pass unseen.
class Members {
public:
    Members(Json const& object, std::string place, FileReport& report);

    [[nodiscard]] bool has(std::string_view name) const;
    /// Required text, not empty, without control characters.
    std::string text(std::string_view name);
    std::string text_or(std::string_view name, std::string otherwise = {});
    /// An id: a-z, 0-9 and "_", begun by a letter. With `dotted`, two of them joined by a dot.
    std::string id(std::string_view name, bool dotted = false);
    std::vector<std::string> texts(std::string_view name);
    bool flag_or(std::string_view name, bool otherwise);
    int whole(std::string_view name, int least, int most);
    double number_or(std::string_view name, double least, double most, double otherwise);
    /// Index of one of the words given, or nothing (already reported).
    std::optional<std::size_t> word(std::string_view name, std::vector<std::string_view> const& words);
    /// The raw member, null when absent; the caller checks and reports.
    Json const& raw(std::string_view name);
    /// A member that must be an array of at most `longest` items; an empty one where it is absent or
    /// something else.
    Json const& array(std::string_view name, std::size_t longest = 500);

    void refuse(Error::Code code, std::string_view name, std::string detail);
    void refuse_rest();
    [[nodiscard]] std::string place(std::string_view name = {}) const;
    [[nodiscard]] FileReport& report() { return m_report; }

private:
    std::string checked(std::string_view name, Json const& value, bool may_be_empty);

    Json const& m_object;
    std::string m_place;
    FileReport& m_report;
    std::set<std::string, std::less<>> m_read;
};

/// Adds a fault, up to a thousand: a file of garbage must not fill the memory with complaints.
void add_fault(FileReport& report, Error error);

/// "08_fill.json: steps[2]" from "08_fill.json: steps" and 2.
[[nodiscard]] std::string item_place(std::string const& place, std::size_t index);

/// Characters a reader sees, not bytes.
[[nodiscard]] std::size_t character_count(std::string_view utf8);

} // namespace isochore::files
