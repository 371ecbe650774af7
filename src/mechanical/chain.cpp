#include "mechanical/chain.h"
#include <algorithm>
#include <cmath>

namespace isochore::mechanical {
namespace {

constexpr double gravity = 9.80665;

Point direction(Way way)
{
    switch (way) {
    case Way::out:
        return {1.0, 0.0, 0.0};
    case Way::in:
        return {-1.0, 0.0, 0.0};
    case Way::up:
        return {0.0, 1.0, 0.0};
    case Way::down:
        return {0.0, -1.0, 0.0};
    case Way::right:
        return {0.0, 0.0, 1.0};
    case Way::left:
        return {0.0, 0.0, -1.0};
    }
    return {1.0, 0.0, 0.0};
}

Point along(Point const& from, Point const& d, double length)
{
    return {from[0] + d[0] * length, from[1] + d[1] * length, from[2] + d[2] * length};
}

double norm(Point const& p)
{
    return std::sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]);
}

void count(RunFigures& f, Part const& part)
{
    f.volume_m3 += part.volume_m3;
    f.mass_kg += part.mass_kg;
    f.cost += part.cost;
    if (!part.max_pressure_pa)
        f.unrated.push_back(part.name);
    else
        f.max_pressure_pa =
            std::min(f.max_pressure_pa.value_or(*part.max_pressure_pa), *part.max_pressure_pa);
}

} // namespace

std::optional<Way> way_by_name(std::string_view name)
{
    constexpr std::pair<std::string_view, Way> ways[] = {{"out", Way::out},   {"in", Way::in},
                                                         {"up", Way::up},     {"down", Way::down},
                                                         {"left", Way::left}, {"right", Way::right}};
    for (auto const& [word, way] : ways)
        if (word == name)
            return way;
    return std::nullopt;
}

RunFigures run_figures(std::vector<Placed> const& run)
{
    RunFigures f;
    Point at{};
    Way heading = Way::out;
    for (std::size_t i = 0; i < run.size(); ++i) {
        Part const& part = run[i].part;
        Point const start = at;
        Point corner = at;
        if (part.turns) {
            // An elbow spends half its length on each side of the bend.
            corner = along(at, direction(heading), 0.5 * part.length_m);
            at = along(corner, direction(run[i].towards), 0.5 * part.length_m);
            if (heading != run[i].towards)
                f.legs.push_back({i, start, corner});
            heading = run[i].towards;
            f.legs.push_back({i, corner, at});
        } else {
            at = along(at, direction(heading), part.length_m);
            f.legs.push_back({i, start, at});
        }
        double const half = 0.5 * part.diameter_m;
        bool const straight_out = heading == Way::out && !part.turns;
        f.reach_m =
            std::max({f.reach_m, at[0] + (straight_out ? 0.0 : half), corner[0] + (part.turns ? half : 0.0)});
        f.length_m += part.length_m;
        Point const middle{0.5 * (start[0] + at[0]), 0.5 * (start[1] + at[1]), 0.5 * (start[2] + at[2])};
        double mass = part.mass_kg;
        count(f, part);
        for (Part const& plug : run[i].closed_by) {
            count(f, plug);
            mass += plug.mass_kg;
        }
        f.moment_nm += mass * gravity * norm(middle);
    }
    return f;
}

} // namespace isochore::mechanical
