#pragma once
#include <limits>
#include <string>

namespace isochore::uncertainty {

/// How the values an input could reasonably have are spread (JCGM 100, 4.3; JCGM 101, 6.4).
enum class Shape {
    normal,
    rectangular, ///< equally likely within +-a: u = a/sqrt 3
    triangular,  ///< u = a/sqrt 6
    student,     ///< mean of few readings: scaled t with the degrees of freedom given
};

/// One input of a measurement model: best estimate, standard uncertainty and where they come from. `u` is
/// always the standard uncertainty, whatever the shape (for `student` it is s/sqrt n).
struct Input {
    std::string name;
    double value = 0.0;
    double u = 0.0;
    Shape shape = Shape::normal;
    double degrees_of_freedom = std::numeric_limits<double>::infinity();
    std::string source;
};

} // namespace isochore::uncertainty
