#pragma once
#include "quantity/result.h"
#include <array>
#include <optional>
#include <string_view>

namespace isochore::electrical {

/// Where the trip input is connected: across the coil alone, or ahead of the 52a contact so that it spans
/// contact and coil together.
enum class InputPosition { across_coil, across_contact_and_coil };

/// A trip circuit with supervision: + supply, supervision resistance (it bridges the open trip contact),
/// 52a contact, trip coil, - supply; the trip input in parallel with the coil.
struct SupervisedCircuit {
    double dc_v = 0.0;
    double supervision_ohm = 0.0;
    double coil_ohm = 0.0;
    double input_ohm = 0.0;
    InputPosition position = InputPosition::across_coil;
    std::optional<double> bypass_ohm; ///< stands in for the 52a contact while the breaker is open
};

/// What the input and the supervision see in one state of coil and breaker.
struct SupervisedState {
    bool coil_healthy = true;
    bool breaker_closed = true;
    double input_v = 0.0;
    double supervision_a = 0.0;
    double coil_v = 0.0;
};

/// The four states: closed and healthy, closed and open coil, open and healthy, open and open coil.
/// Formula   Ohm's law on the series and parallel resistances of the state.
/// Errors    out_of_range for a supply or resistance that is not above zero.
[[nodiscard]] Result<std::array<SupervisedState, 4>> supervised_states(SupervisedCircuit const& circuit,
                                                                       std::string_view where);

} // namespace isochore::electrical
