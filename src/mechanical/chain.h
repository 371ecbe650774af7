#pragma once
#include "mechanical/joint.h"
#include <array>
#include <string>
#include <vector>

namespace isochore::mechanical {

/// A part of a gas connection. Zero where a figure is not known, except max_pressure: absent then.
struct Part {
    std::string id, name, kind;
    std::vector<End> ends;
    double length_m = 0.0;
    double diameter_m = 0.0; ///< outside, for the room it takes
    double volume_m3 = 0.0;
    double mass_kg = 0.0;
    double cost = 0.0;
    std::optional<double> max_pressure_pa; ///< gauge
    bool turns = false;                    ///< an elbow: goes on in another direction
};

/// Which way a part continues. "out" is away from the port, towards the door.
enum class Way { out, in, up, down, left, right };
[[nodiscard]] std::optional<Way> way_by_name(std::string_view name);

/// A part as used in a run.
struct Placed {
    Part part;
    std::size_t inlet = 0, outlet = 1;
    std::string seal;            ///< of the joint to the part before; empty: not chosen
    Way towards = Way::out;      ///< of an elbow: where it leads
    std::vector<Part> closed_by; ///< on the ends that are neither inlet nor outlet, in order
};

using Point = std::array<double, 3>; ///< out, up, right; m from the port's face

struct Leg {
    std::size_t part = 0;
    Point from{}, to{};
};

struct RunFigures {
    double volume_m3 = 0.0, length_m = 0.0, mass_kg = 0.0, cost = 0.0;
    double reach_m = 0.0;   ///< furthest out from the port's face
    double moment_nm = 0.0; ///< of the parts' weight about the port, if it all hung across
    std::optional<double> max_pressure_pa;
    std::vector<std::string> unrated; ///< parts without a pressure rating
    std::vector<Leg> legs;
};

/// Adds up a run from the port outwards. Each part's weight acts at its middle. Standard gravity.
[[nodiscard]] RunFigures run_figures(std::vector<Placed> const& run);

} // namespace isochore::mechanical
