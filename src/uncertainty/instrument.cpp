#include "uncertainty/instrument.h"
#include "uncertainty/budget.h"
#include <cmath>

namespace isochore::uncertainty {

Input reading(std::string name, double value, Instrument const& instrument)
{
    double const root3 = std::sqrt(3.0);
    std::vector<double> u, freedom;
    Input input{std::move(name), value, 0.0, Shape::normal, std::numeric_limits<double>::infinity(), {}};
    auto const add = [&](double part, Shape shape, double degrees, char const* what) {
        u.push_back(part);
        freedom.push_back(degrees);
        input.shape = u.size() == 1 ? shape : Shape::normal;
        input.source += (input.source.empty() ? "" : ", ") + std::string(what);
    };
    double const certain = std::numeric_limits<double>::infinity();
    if (instrument.standard)
        add(*instrument.standard, Shape::normal, certain, "standard uncertainty given");
    if (instrument.limit)
        add(*instrument.limit / root3, Shape::rectangular, certain, "limit of error / sqrt 3");
    if (instrument.accuracy_class && instrument.span)
        add(*instrument.accuracy_class * *instrument.span / root3, Shape::rectangular, certain,
            "class x span / sqrt 3");
    if (instrument.resolution)
        add(*instrument.resolution / (2.0 * root3), Shape::rectangular, certain, "resolution / sqrt 12");
    if (instrument.calibration_expanded)
        add(*instrument.calibration_expanded / instrument.calibration_factor, Shape::normal, certain,
            "calibration U / k");
    if (instrument.repeatability && instrument.readings >= 2)
        add(*instrument.repeatability / std::sqrt(instrument.readings), Shape::student,
            instrument.readings - 1.0, "repeated readings s / sqrt n");
    double variance = 0.0;
    for (double part : u)
        variance += part * part;
    input.u = std::sqrt(variance);
    input.degrees_of_freedom = welch_satterthwaite(u, freedom);
    // Several parts together: t as soon as few readings are among them.
    if (u.size() > 1 && std::isfinite(input.degrees_of_freedom))
        input.shape = Shape::student;
    return input;
}

double class_for(double u, double span)
{
    return u * std::sqrt(3.0) / span;
}

} // namespace isochore::uncertainty
