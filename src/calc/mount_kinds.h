#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"

namespace isochore::calc {

/// mount.fasteners: bolts, self-tapping screws or tie-wraps under shock.
[[nodiscard]] Result<Answer> fasteners_calc(Inputs& in);
/// mount.clearance: what is left between the unit and the shut door.
[[nodiscard]] Result<Answer> clearance_calc(Inputs& in);
/// mount.sightline: how much of the display a person sees through the cabinet's window.
[[nodiscard]] Result<Answer> sightline_calc(Inputs& in);
/// mount.cables: wire lengths with slack, and what the drum must hold.
[[nodiscard]] Result<Answer> cables_calc(Inputs& in);

} // namespace isochore::calc
