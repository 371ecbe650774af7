#include "uncertainty/budget.h"
#include "uncertainty/student.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::uncertainty {
namespace {

/// Sensitivity over a small part of the input's own uncertainty. One-sided where the model ends nearby.
double sensitivity(Model const& model, std::vector<double> values, std::size_t i, double u, double centre)
{
    double const at = values[i];
    double const step = std::max(0.01 * u, 1e-7 * std::fabs(at));
    values[i] = at + step;
    auto const above = model(values);
    values[i] = at - step;
    auto const below = model(values);
    if (above && below)
        return (*above - *below) / (2.0 * step);
    if (above)
        return (*above - centre) / step;
    if (below)
        return (centre - *below) / step;
    return 0.0;
}

} // namespace

double welch_satterthwaite(std::span<double const> u, std::span<double const> degrees_of_freedom)
{
    double variance = 0.0, sum = 0.0;
    for (std::size_t i = 0; i < u.size(); ++i) {
        variance += u[i] * u[i];
        if (std::isfinite(degrees_of_freedom[i]))
            sum += std::pow(u[i], 4) / degrees_of_freedom[i];
    }
    return sum > 0.0 ? variance * variance / sum : std::numeric_limits<double>::infinity();
}

Result<Budget> first_order(Model const& model, std::span<Input const> inputs)
{
    std::vector<double> values;
    for (auto const& input : inputs) {
        if (!(input.u >= 0.0))
            return fail(Error::Code::invalid_input, input.name,
                        fmt::format("{} is no standard uncertainty: it must not be negative", input.u));
        values.push_back(input.value);
    }
    auto const centre = model(values);
    if (!centre)
        return tl::unexpected(centre.error());

    Budget budget;
    budget.value = *centre;
    std::vector<double> parts, freedom;
    double variance = 0.0;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        Input const& input = inputs[i];
        if (input.u == 0.0)
            continue;
        double const c = sensitivity(model, values, i, input.u, *centre);
        double const part = std::fabs(c) * input.u;
        budget.contributions.push_back({input.name, input.source, c, part, 0.0});
        parts.push_back(part);
        freedom.push_back(input.degrees_of_freedom);
        variance += part * part;
    }
    budget.u = std::sqrt(variance);
    budget.degrees_of_freedom = welch_satterthwaite(parts, freedom);
    budget.coverage = coverage_95(budget.degrees_of_freedom);
    for (auto& part : budget.contributions)
        part.share = variance > 0.0 ? part.u * part.u / variance : 0.0;
    std::stable_sort(budget.contributions.begin(), budget.contributions.end(),
                     [](auto const& a, auto const& b) { return a.share > b.share; });
    return budget;
}

} // namespace isochore::uncertainty
