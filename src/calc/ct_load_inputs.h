#pragma once
#include "calc/inputs.h"
#include "electrical/load_check.h"
#include <vector>

namespace isochore::calc {

/// What ct.load_check is asked. Assumptions become notes.
struct LoadCase {
    std::vector<electrical::Tap> taps;
    electrical::Wiring recorded;
    double rated_secondary_a = 5.0;
    electrical::LoadReading reading;
    electrical::LoadReading expected; ///< what the coil should read, with its uncertainty
    bool has_reading = false;
    double tolerance = 0.05;
    double judge_above = 0.10;
    int most_turns = 1;
};

/// Reads the inputs of ct.load_check; faults are kept in `in`.
[[nodiscard]] LoadCase read_load(Inputs& in);

} // namespace isochore::calc
