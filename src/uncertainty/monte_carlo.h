#pragma once
#include "quantity/result.h"
#include "uncertainty/interval.h"
#include "uncertainty/random.h"
#include <cstddef>
#include <span>
#include <vector>

namespace isochore::uncertainty {

inline constexpr int usual_draws = 20000;
inline constexpr std::uint64_t usual_seed = 20090301;

/// What the drawn results look like.
struct Spread {
    double mean = 0.0, u = 0.0;
    double low = 0.0, high = 0.0; ///< shortest interval holding 95 % of the draws (JCGM 101, 5.3.4)
    int draws = 0, refused = 0;   ///< draws the model could not compute, left out
};

/// Mean, standard deviation and shortest 95 % interval of a sample; the sample is left sorted.
/// Errors  no_solution with fewer than 100 values.
[[nodiscard]] Result<Spread> spread_of(std::vector<double>& sample, double coverage = level);

/// Propagation of distributions by Monte Carlo (JCGM 101:2008, 7). `model` takes the drawn values and gives
/// a double, NaN where it refuses the draw. More than one refused draw in a thousand is an error: the
/// interval would be cut off unseen.
template <class ModelFunction>
[[nodiscard]] Result<Spread> monte_carlo(ModelFunction&& model, std::span<Input const> inputs,
                                         int draws = usual_draws, std::uint64_t seed = usual_seed)
{
    Random random(seed);
    std::vector<double> values(inputs.size()), sample;
    sample.reserve(static_cast<std::size_t>(draws));
    int refused = 0;
    for (int i = 0; i < draws; ++i) {
        for (std::size_t k = 0; k < inputs.size(); ++k)
            values[k] = inputs[k].u == 0.0 ? inputs[k].value : random.draw(inputs[k]);
        double const result = model(std::span<double const>(values));
        if (std::isfinite(result))
            sample.push_back(result);
        else
            ++refused;
    }
    if (refused * 1000 > draws)
        return fail(Error::Code::no_solution, "uncertainties",
                    "the uncertainties given reach states that cannot be computed; check their units");
    auto spread = spread_of(sample);
    if (spread)
        spread->refused = refused;
    return spread;
}

} // namespace isochore::uncertainty
