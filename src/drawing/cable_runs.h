#pragma once
#include "drawing/footing.h"
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// One run of wires: what each wire's length is made of, in metres.
struct CableRun {
    std::string name;  ///< "current leads"
    std::string total; ///< "6 × 7.45 m = 44.7 m"
    double route_m = 0.0, slack_m = 0.0;
    double tail_m = 0.0;             ///< at each end
    std::optional<double> reach_m{}; ///< a fixed lead is so long
    Mark mark = Mark::none;          ///< does it reach
};

struct CableRuns {
    std::vector<CableRun> runs;
    std::vector<FootText> foot; ///< the total, and what is too short
    std::string route = "route", slack = "slack", tails = "tails", reach = "fixed lead";
    std::vector<std::string> x_titles{"metres of one wire", "m"};
};

/// A bar a run, tail, route, slack and tail end to end over one scale; the end of a fixed lead is a post.
[[nodiscard]] Picture cable_runs(CableRuns const& cables, Space space, MeasureText const& measure);

} // namespace isochore::drawing
