#pragma once
#include "calc/answer.h"
#include "model/entry_words.h"
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::session {

/// How the crew likes its units; from what they typed last, else from the profile.
struct UnitTaste {
    std::string pressure = "bar"; ///< "bar", "MPa", "kPa", "psi"
    std::string mass = "kg";
    std::string temperature = "degC";
};

/// A figure as screens and paper show it: digits by its uncertainty, the unit people use.
struct ShownFigure {
    std::string label;       ///< "Mass to add"
    std::string value;       ///< "0.72 kg"
    std::string uncertainty; ///< "± 0.09 kg" (95 %), or empty
};
[[nodiscard]] ShownFigure show_figure(calc::Figure const& figure, UnitTaste const& taste);

/// The figures of a stored answer (line format), those named first and only those, or all.
[[nodiscard]] std::vector<ShownFigure> show_results(Json const& answer, std::vector<std::string> const& names,
                                                    UnitTaste const& taste);

/// "mass_to_add" to "Mass to add".
[[nodiscard]] std::string label_of(std::string_view name);

using model::fill_places;

/// A sentence with its units as print has them: "kg/m³" and "°C" for "kg/m3" and "degC".
[[nodiscard]] std::string in_print(std::string text);

/// "2 h 05" or "38 min"; years for long spans ("22.9 yr").
[[nodiscard]] std::string show_span(double seconds);

} // namespace isochore::session
