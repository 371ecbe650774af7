#pragma once
#include "electrical/supervision.h"
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::electrical {

enum class SupervisionKind { none, lamp, relay, relay_input };

/// One trip coil with what watches it.
struct TripCoil {
    double coil_ohm = 0.0;
    SupervisionKind kind = SupervisionKind::none;
    double supervision_ohm = 0.0; ///< where supervised
    double threshold_a = 0.0;     ///< below it the supervision alarms
    std::optional<double> bypass_ohm;
};

/// What the survey found.
struct WiringSurvey {
    double dc_min_v = 0.0, dc_max_v = 0.0;
    double input_ohm = 0.0, pick_up_v = 0.0, drop_out_v = 0.0;
    int trip_inputs = 1; ///< inputs of the unit that can follow trips
    std::vector<TripCoil> coils;
    bool spare_output = false;       ///< a free trip contact to wet
    bool output_follows_all = false; ///< it operates for every trip path
    bool spare_52b = false;
    std::optional<double> lamp_ohm;  ///< green lamp through 52b, where there is one
    std::optional<double> wetting_a; ///< current that keeps a 52b contact clean
};

enum class TripWiring { parallel_with_coil, separate_output, none };
enum class PositionWiring { wetted_52b, parallel_with_lamp, none };
[[nodiscard]] std::string_view trip_wiring_name(TripWiring w);
[[nodiscard]] std::string_view position_wiring_name(PositionWiring w);

/// One fact that speaks for or against a connection, with its numbers.
struct Reason {
    std::string about; ///< name of the connection
    bool in_favour = true;
    std::string text;
};

struct WiringChoice {
    TripWiring trip = TripWiring::none;
    PositionWiring position = PositionWiring::none;
    bool resistor_needed = false;        ///< a separate output wants its noise resistor
    double position_current_a = 0.0;     ///< through the 52b contact at the lowest supply
    bool position_wants_wetting = false; ///< that is less than the contact wants
    std::vector<Reason> reasons;
    std::vector<std::array<SupervisedState, 4>> states; ///< of each supervised coil
};

/// Chooses how trip and position reach the unit. Parallel with the coil wherever no supervision is masked or
/// lifted and every coil has an input, since the coil itself follows every trip path; else a separate output
/// that follows them all; else nothing. Errors: as supervised_states; out_of_range for no coil.
[[nodiscard]] Result<WiringChoice> choose_wiring(WiringSurvey const& survey, std::string_view where);

} // namespace isochore::electrical
