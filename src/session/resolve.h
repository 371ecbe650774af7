#pragma once
#include "model/checklist.h"
#include "model/job_state.h"
#include "model/profile.h"
#include <optional>
#include <string>
#include <string_view>

namespace isochore::session {

/// What every question about an outage is answered from. Values only; see model/job_state.h.
struct Context {
    model::Checklists const& checklists;
    model::Profile const& profile;
    model::JobState const& state;
    Json const* parts = nullptr; ///< the store's own parts (session/own_parts.h); none where null
};

/// The text a reference stands for ("profile:gas.nominal", "step:fill.pressure_before",
/// "step:fill.topup.mass_to_add", "job:altitude"); a literal stands for itself. nullopt: not known yet.
[[nodiscard]] std::optional<std::string> resolve_text(Context const& context, std::string_view reference);

/// The inputs of a calculation with every reference replaced. Members that are not known yet are left
/// out, so that the calculation names the required ones itself. Series become arrays of arrays. In a list,
/// "parts:fittings" and "parts:kit" stand for the store's own parts and "parts:instruments" for the
/// instruments whose calibration date was typed; "job:today" is the day of the last entry.
[[nodiscard]] Json resolve_inputs(Context const& context, model::CalcCall const& call);

/// The barometer or altitude recorded in this outage, as "98.2 kPa abs" or "120 m"; empty: none.
struct Air {
    std::string baro, altitude;
    double pressure_pa = 101325.0;
};
[[nodiscard]] Air air_of(Context const& context);

/// A figure of a stored answer as text that reads back exactly: "0.72031 kg", "593210 Pa abs".
[[nodiscard]] std::optional<std::string> figure_text(Json const& answer, std::string_view name);

} // namespace isochore::session
