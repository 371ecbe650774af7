#pragma once
#include "planning/schedule.h"
#include <cstdint>

namespace isochore::planning {

struct ChanceCase {
    int crew = 1;
    double window_s = 7200.0;
    double common_u = 0.0; ///< relative standard deviation of a factor on all times of one day
    int draws = 4000;
    std::uint64_t seed = 1;
};

struct Chance {
    double chance = 0.0, u_chance = 0.0; ///< of finishing inside the window, and what the draws leave open
    double mean_s = 0.0, u_s = 0.0;      ///< of the finish
    double low_s = 0.0, high_s = 0.0;    ///< shortest interval with 95 % of the draws
    std::vector<double> finishes_s;      ///< sorted
    std::vector<double> criticality;     ///< share of draws in which a task lay on the critical chain
    [[nodiscard]] double quantile_s(double share) const;
};

/// Monte Carlo over the task times: each a PERT (beta) draw of low, likely, high, all times one common factor
/// exp(N(0, common_u)), since a slow day slows everything. The same seed gives the same answer.
/// Source: PERT beta with (low + 4 likely + high)/6 for the mean; JCGM 101 for the interval.
/// Precondition: check_tasks passed.
[[nodiscard]] Result<Chance> finish_chance(std::span<Task const> tasks, ChanceCase const& c);

} // namespace isochore::planning
