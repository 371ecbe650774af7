#include "calc/leak_weather.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {

void check_temperature_step(Answer& answer, std::vector<TimedReading> const& series)
{
    auto const t = column_of(series, 1);
    if (t.size() < 4)
        return;
    std::vector<double> steps;
    for (std::size_t i = 1; i < t.size(); ++i)
        steps.push_back(std::fabs(t[i] - t[i - 1]));
    auto const largest = std::max_element(steps.begin(), steps.end());
    double const usual =
        std::fmax(middle_of(steps), 0.05); // a step below half a tenth is the thermometer's own
    if (*largest < 6.0 * usual)
        return;
    auto const at = static_cast<std::size_t>(largest - steps.begin());
    answer.checks.push_back({"temperature_step", Verdict::undecided,
                             fmt::format("temperature jumps by {:.2f} K between {:.0f} s and {:.0f} s, the "
                                         "others by about {:.2f} K: sun or "
                                         "draught on the pipe, and the gas may not have followed",
                                         *largest, series[at].time_s, series[at + 1].time_s, usual),
                             "shade the pipe, wait until gas and metal agree, and start the series again",
                             ""});
}

} // namespace isochore::calc
