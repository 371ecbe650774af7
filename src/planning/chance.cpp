#include "planning/chance.h"
#include "uncertainty/monte_carlo.h"
#include <algorithm>
#include <cmath>

namespace isochore::planning {
namespace {

using uncertainty::Random;

/// Gamma with shape >= 1 and scale 1 (Marsaglia and Tsang, ACM Trans. Math. Softw. 26(3), 363, 2000).
double gamma(Random& random, double shape)
{
    double const d = shape - 1.0 / 3.0;
    double const c = 1.0 / std::sqrt(9.0 * d);
    for (;;) {
        double const x = random.normal();
        double const t = 1.0 + c * x;
        if (t <= 0.0)
            continue;
        double const v = t * t * t;
        double const u = 1.0 - random.uniform(); // above 0, for the logarithm
        if (std::log(u) < 0.5 * x * x + d - d * v + d * std::log(v))
            return d * v;
    }
}

double pert(Random& random, Task const& t)
{
    double const span = t.high_s - t.low_s;
    if (!(span > 0.0))
        return t.likely_s;
    double const a = gamma(random, 1.0 + 4.0 * (t.likely_s - t.low_s) / span);
    double const b = gamma(random, 1.0 + 4.0 * (t.high_s - t.likely_s) / span);
    return t.low_s + span * a / (a + b);
}

} // namespace

double Chance::quantile_s(double share) const
{
    if (finishes_s.empty())
        return 0.0;
    auto const last = static_cast<double>(finishes_s.size() - 1);
    return finishes_s[static_cast<std::size_t>(std::clamp(std::ceil(share * last), 0.0, last))];
}

Result<Chance> finish_chance(std::span<Task const> tasks, ChanceCase const& c)
{
    Random random(c.seed);
    auto const order = priority_order(tasks, c.crew);
    Chance out;
    std::vector<int> critical(tasks.size(), 0);
    std::vector<double> durations(tasks.size());
    int inside = 0;
    for (int n = 0; n < c.draws; ++n) {
        double const day = std::exp(c.common_u * random.normal());
        for (std::size_t i = 0; i < tasks.size(); ++i)
            durations[i] = pert(random, tasks[i]) * (tasks[i].waiting ? 1.0 : day);
        Schedule const s = place(tasks, durations, c.crew, order);
        out.finishes_s.push_back(s.finish_s);
        inside += s.finish_s <= c.window_s ? 1 : 0;
        for (std::size_t i : s.critical)
            ++critical[i];
    }
    for (int count : critical)
        out.criticality.push_back(static_cast<double>(count) / c.draws);
    auto const spread = uncertainty::spread_of(out.finishes_s);
    if (!spread)
        return tl::unexpected(spread.error());
    out.mean_s = spread->mean;
    out.u_s = spread->u;
    out.low_s = spread->low;
    out.high_s = spread->high;
    out.chance = static_cast<double>(inside) / c.draws;
    // Never quite certain from finite draws (rule of succession), so 0 and 1 keep an uncertainty too.
    double const p = (inside + 1.0) / (c.draws + 2.0);
    out.u_chance = std::sqrt(p * (1.0 - p) / c.draws);
    return out;
}

} // namespace isochore::planning
