#pragma once
#include "files/checklist_file.h"
#include "model/profile.h"
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::media {

/// How a value of one unit stands to the profile of its model.
enum class Layering {
    own,      ///< the profile has no such value: a serial number
    replaces, ///< the unit's own value counts: its measured offset
    agrees,   ///< must be what the profile says; anything else is a conflict
    within,   ///< a tap of the profile's full ratio
};

/// What one value of a unit is. Paths shared with the profile mean the same there.
struct UnitField {
    std::string_view path, label;
    model::ProfileField::Kind kind = model::ProfileField::Kind::text;
    Dimension dimension = Dimension::fraction;
    bool required = false;
    std::vector<std::string_view> choices;
    Layering layering = Layering::own;
};
[[nodiscard]] std::span<UnitField const> unit_fields();
[[nodiscard]] UnitField const* unit_field(std::string_view path);

/// The values of one monitoring unit on one breaker, as written.
struct UnitValues {
    std::string job;        ///< the outage they come from
    std::string profile_id; ///< the model they are layered over
    int profile_revision = 0;
    std::map<std::string, std::string, std::less<>> values; ///< by path
    [[nodiscard]] std::string text(std::string_view path) const;
};

/// {"format":"isochore.unit/1","job","profile","revision","values":{"unit.serial":"…"}}; all errors at once.
[[nodiscard]] UnitValues read_unit_values(std::string_view text, std::string_view name,
                                          files::FileReport& report);
[[nodiscard]] std::string write_unit_values(UnitValues const& unit);

/// One value the unit will work with, and where it comes from.
struct Setting {
    enum class Origin { unit, profile, derived };
    std::string path, label;
    std::string value; ///< "36.0 kg/m3", as a person and the unit read it
    Origin origin = Origin::unit;
    model::ProfileField::Kind kind = model::ProfileField::Kind::text;
    Dimension dimension = Dimension::fraction;
};
[[nodiscard]] char const* origin_name(Setting::Origin origin);

/// The unit says one thing and the profile another.
struct SettingConflict {
    std::string path, label, unit_value, profile_value;
    std::string detail; ///< one sentence with both values and what to do
};

struct UnitSettings {
    std::vector<Setting> settings;
    std::vector<SettingConflict> conflicts;
    std::vector<Error> missing; ///< required values not there, and values that cannot be read
    [[nodiscard]] bool ready() const { return conflicts.empty() && missing.empty(); }
    [[nodiscard]] Setting const* find(std::string_view path) const;
};

/// The unit's values layered over the profile and what is derived from both.
[[nodiscard]] UnitSettings layer(model::Profile const& profile, UnitValues const& unit);

/// The file a unit loads:
/// {"format":"isochore.settings/1","job","profile","revision","settings":{path:value}}, stable to the byte
/// for equal settings.
[[nodiscard]] std::string write_settings(model::Profile const& profile, UnitValues const& unit,
                                         UnitSettings const& settings);

/// One setting held against what the unit shows after loading.
struct ReadBackRow {
    enum class State { same, differs, not_shown, unreadable };
    std::string path, label, expected, shown;
    State state = State::not_shown;
    std::string detail; ///< empty when it is the same
};
[[nodiscard]] char const* state_name(ReadBackRow::State state);

/// Field by field. A number is the same when it rounds to what is shown, whatever the unit it is shown in.
[[nodiscard]] std::vector<ReadBackRow>
compare_read_back(UnitSettings const& settings, std::map<std::string, std::string, std::less<>> const& shown);

/// The settings of a file brought back from the unit, by path. Errors: corrupt, unknown.
[[nodiscard]] Result<std::map<std::string, std::string, std::less<>>> read_settings(std::string_view text,
                                                                                    std::string_view name);

} // namespace isochore::media
