#pragma once
#include "disk/disk.h"
#include "model/checklist.h"
#include "quantity/result.h"
#include <string_view>
#include <vector>

namespace isochore::files {

/// Every error of a file at once, each with its place: "checklists/08_fill.json: steps[2].limit.max".
struct FileReport {
    std::vector<Error> errors;
    [[nodiscard]] bool ok() const { return errors.empty(); }
};

/// Reads one checklist file's text into a stage; the cautions have their own reader (checklist_stage.h).
/// Format: {"format":"isochore.checklist/1", then the members of model::Stage and, in "steps", of model::Step
/// by the same names}. Different are only: "minutes" [low, likely, high]; "confidence" "confirmed" or
/// "unconfirmed" in a limit; "call" and "expected" {"calc","inputs":{…},"result"}. Members of another kind of
/// step, unknown members and repeated ones are refused.
[[nodiscard]] model::Stage read_stage(std::string_view text, std::string_view name, FileReport& report);

/// Reads all *.json of a folder, then checks what only the whole can show: unknown ids in needs, when,
/// inputs and limits, needs that form a circle, a profile path that is not a profile field, two steps of one
/// id, a calculation whose name is not in `known_calcs`, stage orders 1..n without gap.
struct LoadedChecklists {
    model::Checklists checklists;
    std::vector<std::pair<std::string, std::string>> texts; ///< file name, contents: pinned to each outage
    FileReport report;
};
[[nodiscard]] LoadedChecklists read_checklists(disk::Disk& disk, disk::Path const& folder,
                                               std::vector<std::string> const& known_calcs);
/// The same from texts already held (a pinned outage).
[[nodiscard]] LoadedChecklists read_checklist_texts(std::vector<std::pair<std::string, std::string>> texts,
                                                    std::vector<std::string> const& known_calcs);

} // namespace isochore::files
