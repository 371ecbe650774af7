#pragma once
#include "calc/inputs.h"
#include "electrical/noise_resistor.h"

namespace isochore::calc {

/// What disturbs the input, in SI units.
struct NoiseCurrents {
    double leakage_a = 0.0;
    double coupled_a = 0.0;
};

/// Reads the inputs of input.resistor. Assumptions become notes; faults are kept in `in`.
[[nodiscard]] electrical::NoiseResistorCase read_resistor_case(Inputs& in, NoiseCurrents& noise);

/// Refuses a value that is given and not above zero.
void check_positive(Inputs& in, char const* name, std::optional<double> value);

} // namespace isochore::calc
