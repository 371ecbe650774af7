#pragma once
#include "electrical/comtrade.h"
#include <optional>
#include <vector>

namespace isochore::electrical {

/// A moment in a record with its standard uncertainty, s.
struct Instant {
    double time_s = 0.0;
    double u_s = 0.0;
};

/// A digital channel's changes: when it first left a state after `from_s` and when it last did.
struct ContactChange {
    Instant first, settled;
    bool becomes = false; ///< the state it settles in
};

/// First change from the normal state. Uncertainty: the change lies evenly between two samples.
/// Errors: no_solution when it never changes or is already on at the start.
[[nodiscard]] Result<Instant> first_on(Comtrade const& record, DigitalChannel const& channel);

/// First crossing of the threshold in size by an analogue trip channel.
[[nodiscard]] Result<Instant> first_above(Comtrade const& record, AnalogChannel const& channel,
                                          double threshold);

/// How a contact moves after `from_s`. Errors: no_solution when it does not move.
[[nodiscard]] Result<ContactChange> contact_change(Comtrade const& record, DigitalChannel const& channel,
                                                   double from_s);

/// When a current ends: the zero after the last sample that exceeds `threshold`.
/// The zero is interpolated; u = sampling interval / sqrt 12.
/// Errors: no_solution when the current never exceeds the threshold or still flows at the end.
[[nodiscard]] Result<Instant> current_ends(Comtrade const& record, AnalogChannel const& channel,
                                           double threshold);

/// When a current begins: the first sample beyond the threshold.
[[nodiscard]] Result<Instant> current_begins(Comtrade const& record, AnalogChannel const& channel,
                                             double threshold);

/// Largest size of a channel, missing samples left out; 0 when all are missing.
[[nodiscard]] double peak(AnalogChannel const& channel);

} // namespace isochore::electrical
