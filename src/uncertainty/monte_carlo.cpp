#include "uncertainty/monte_carlo.h"
#include <algorithm>

namespace isochore::uncertainty {

Result<Spread> spread_of(std::vector<double>& sample, double coverage)
{
    std::size_t const n = sample.size();
    if (n < 100)
        return fail(Error::Code::no_solution, "draws", "fewer than 100 draws give no 95 % interval");
    std::sort(sample.begin(), sample.end());
    Spread spread;
    spread.draws = static_cast<int>(n);
    for (double x : sample)
        spread.mean += x / static_cast<double>(n);
    for (double x : sample)
        spread.u += (x - spread.mean) * (x - spread.mean) / static_cast<double>(n - 1);
    spread.u = std::sqrt(spread.u);
    std::size_t const width =
        std::min(n - 1, static_cast<std::size_t>(coverage * static_cast<double>(n) + 0.5));
    std::size_t best = 0;
    for (std::size_t i = 0; i + width < n; ++i)
        if (sample[i + width] - sample[i] < sample[best + width] - sample[best])
            best = i;
    spread.low = sample[best];
    spread.high = sample[best + width];
    return spread;
}

} // namespace isochore::uncertainty
