#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

namespace isochore::planning {

/// What is counted to know how many of a thing to bring.
struct KitCounts {
    int people = 2;
    int joints = 0; ///< gas joints to make
    int seals = 0;  ///< of these, joints whose seal has no size yet
    int current_circuits = 0;
    int inputs = 0; ///< trip and position inputs
    int fasteners = 0;
    int bolts = 0;       ///< of these, bolts
    double wire_m = 0.0; ///< of single conductors
    double run_m = 0.0;  ///< of the runs they lie in, side by side
    double gas_kg = 0.0;
};

/// By what a rule may count.
inline constexpr std::array kit_counts{"job",      "person", "joint", "seal", "circuit", "input",
                                       "fastener", "bolt",   "wire",  "run",  "gas"};

/// "Per job 1", "per joint 1 and one in five spare": a rule of the kit data.
struct KitRule {
    std::string id, name, kind; ///< kind: protective, tool, consumable, instrument, gas
    std::string per;            ///< one of kit_counts
    std::string wire;           ///< what it ends, of the kit data's wires; empty: nothing
    double each = 1.0;          ///< for one of those
    double spare = 0.0;         ///< share on top
    std::string unit = "pcs";   ///< pcs is rounded up
    double cost = 0.0;          ///< of one
    std::string source;
};

struct KitLine {
    std::string name, kind, unit, note, source;
    double quantity = 0.0;
    double cost = 0.0; ///< of all
};

/// How many of it to bring; nothing when its count is zero.
[[nodiscard]] std::optional<KitLine> kit_line(KitRule const& rule, KitCounts const& counts);

/// Whole cylinders that hold `gas_kg` and the share left in each that cannot be drawn.
[[nodiscard]] int cylinders_for(double gas_kg, double cylinder_kg, double heel_share);

enum class Calibration { in_date, expires_before_job, expired, unknown };
/// Dates as "YYYY-MM-DD", compared as text. Empty due date: unknown.
[[nodiscard]] Calibration calibration_state(std::string const& due, std::string const& today,
                                            std::string const& job_day);

} // namespace isochore::planning
