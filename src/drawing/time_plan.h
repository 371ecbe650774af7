#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// One piece of work, in minutes from the start of the window. `high_min` is how long it takes at the most.
struct PlannedTask {
    std::string name;
    double start_min = 0.0, finish_min = 0.0;
    double high_min = 0.0;
    int people = 1;        ///< 0: time that passes by itself
    bool critical = false; ///< a delay of it delays the end
    std::string note;      ///< beside the bar: "10 / 15 / 30"; may be empty
};

/// The end of the work with its 95 % interval, minutes.
struct PlannedEnd {
    double mean_min = 0.0, low_min = 0.0, high_min = 0.0;
};

/// The time plan of an outage: a row for each task, its bar as many strips high as people work at it.
struct TimePlan {
    std::vector<PlannedTask> tasks;
    double window_min = 0.0; ///< 0: not known
    double print_mm = 0.0;   ///< text size; 0: by the space
    std::optional<PlannedEnd> end;
    std::optional<double> latest_start_min; ///< of the task `latest_start_of`
    std::string latest_start_of;            ///< its name
    std::string window_label = "window ends";
    std::string end_label = "likely end";
    std::string band_label = "end, 95 %";
    std::string critical_label = "critical path";
    std::string slack_label = "has slack";
    std::string wait_label = "waiting";
    std::string latest_label = "begin by";
    std::string strip_label = "one strip, one person";
    std::string note_label; ///< what the notes are: "minutes: least / likely / most"
    std::vector<std::string> x_titles{"hours from the start of the window", "hours from the start", "hours"};
};

[[nodiscard]] Picture time_plan(TimePlan const& plan, Space space, MeasureText const& measure);

/// Height in mm at which every row of a plan has room, at a width.
[[nodiscard]] double time_plan_height(TimePlan const& plan, double width_mm);

/// "1:35" for 95 minutes.
[[nodiscard]] std::string hours_text(double minutes);

} // namespace isochore::drawing
