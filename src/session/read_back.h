#pragma once
#include "media/unit_values.h"
#include "session/evaluate.h"
#include "session/outage.h"

namespace isochore::session {

using ShownValues = std::map<std::string, std::string, std::less<>>;

/// What the unit shows held against what was loaded, field by field.
struct ReadBack {
    std::vector<media::ReadBackRow> rows;
    std::vector<std::string> missing; ///< labels of the settings that must be read and were not
    int read = 0;                     ///< fields with a reading
    std::string answer;               ///< id of the step's answer this amounts to; empty while undecided
    Evaluation evaluation;            ///< verdict, reason with the fields that differ, rows as its result
};

/// A step that compares (model::Step::compare). A field that differs or cannot be read fails it. It is
/// undecided while a setting the checklist names is not read yet. Settings beyond those count when given.
[[nodiscard]] ReadBack compare_with_unit(Outage const& outage, model::Step const& step);
/// The same for readings that are not noted.
[[nodiscard]] ReadBack compare_with_unit(Outage const& outage, model::Step const& step,
                                         ShownValues const& shown);

/// What this outage's unit works with: the pinned profile with the unit's own values over it.
[[nodiscard]] media::UnitSettings settings_of(Outage const& outage);

/// What a unit wrote about itself, found on its stick.
struct UnitReport {
    std::string file; ///< "READBACK/U0000001.JSN"
    ShownValues values;
};

/// The folder in which a unit leaves its settings, beside the sets: ISOCHORE/READBACK/*.JSN, each a file of
/// settings (isochore.settings/1). Sets written by a tablet are never taken for it: a file compared with
/// itself proves nothing. Of several the one with this unit's serial number is meant.
/// Errors: not_found (no folder, no file, none of this unit, each said), corrupt and unknown (a file that
/// cannot be read, where no other fits).
[[nodiscard]] Result<UnitReport> find_unit_report(disk::Disk& disk, disk::Path const& target,
                                                  std::string_view unit_serial);

} // namespace isochore::session
