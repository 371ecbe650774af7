#pragma once
#include "json/value.h"
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::files {

/// Where an input of a calculation or a side of a limit points; see model::CalcCall.
struct InputReference {
    enum class Kind { literal, profile, step, job, series };
    Kind kind = Kind::literal;
    std::string target; ///< profile path, step id, name of the fact, id of the log step
    std::string result; ///< of a compute step; empty for what was recorded
};

/// Reads "profile:gas.nominal", "step:fill.topup.mass_to_add", "series:leak.log". A text without one of the
/// four words in front is the literal itself. Nothing where the word is there but what follows is misshapen.
[[nodiscard]] std::optional<InputReference> read_input_reference(std::string_view text);

/// One text found in an inputs object, with its place in it ("uncertainties.pressure.class").
struct InputText {
    std::string place;
    std::string text;
};

/// All texts of an inputs object, however deep.
[[nodiscard]] std::vector<InputText> input_texts(Json const& inputs);

} // namespace isochore::files
