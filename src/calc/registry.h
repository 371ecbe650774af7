#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::calc {

/// A calculation by name. `run` reads its inputs, and may assume nothing about them. It must be pure.
struct Calculation {
    std::string_view name;    ///< "gas.density"
    std::string_view purpose; ///< one line for help
    Result<Answer> (*run)(Inputs&);
};

/// The families; each is defined in its own file (gas_calcs.cpp, fill_calcs.cpp, …). A new calculation is
/// a function in its family's file and a row in that family's table; a new family is one more line here
/// and in registry.cpp.
[[nodiscard]] std::span<Calculation const> gas_calculations();
[[nodiscard]] std::span<Calculation const> fill_calculations();
[[nodiscard]] std::span<Calculation const> leak_calculations();
[[nodiscard]] std::span<Calculation const> purge_calculations();
[[nodiscard]] std::span<Calculation const> emissions_calculations();
[[nodiscard]] std::span<Calculation const> ct_calculations();
[[nodiscard]] std::span<Calculation const> input_calculations();
[[nodiscard]] std::span<Calculation const> sensor_calculations();
[[nodiscard]] std::span<Calculation const> mount_calculations();
[[nodiscard]] std::span<Calculation const> fitting_calculations();
[[nodiscard]] std::span<Calculation const> timing_calculations();
[[nodiscard]] std::span<Calculation const> plan_calculations();

[[nodiscard]] std::vector<Calculation const*> all_calculations();

/// Runs one calculation. Errors: unknown (no such calculation) or whatever the calculation refuses.
/// Unread inputs are refused; notes of the inputs come first in the answer.
[[nodiscard]] Result<Answer> run(std::string_view name, Json const& inputs);

/// One line of the format of `isochore calc` to one line of answer, never throwing, never ending.
[[nodiscard]] std::string answer_line(std::string_view line);

} // namespace isochore::calc
