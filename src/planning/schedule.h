#pragma once
#include "quantity/result.h"
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::planning {

/// A piece of work. Times are for `people` at it; with fewer the work takes longer in proportion.
struct Task {
    std::string id, title, stage;
    double low_s = 0.0, likely_s = 0.0, high_s = 0.0;
    int people = 1;                 ///< how many it is planned for
    int least_people = 1;           ///< fewer may not do it
    bool waiting = false;           ///< time that passes by itself: takes no people and does not stretch
    std::vector<std::size_t> needs; ///< positions of tasks that must be finished first
};

/// Refuses times out of order, people out of range and needs that run in a circle.
/// Errors: out_of_range, no_solution (a circle, named; a task that needs more people than the crew has).
[[nodiscard]] Result<void> check_tasks(std::span<Task const> tasks, int crew, std::string_view where);

/// A task and all that need it, directly or through others, as tasks of their own: what is left once it is
/// begun. Needs on tasks outside are dropped, as those are finished by then.
[[nodiscard]] std::vector<Task> from_task(std::span<Task const> tasks, std::size_t first);

/// Mean of the PERT (beta) distribution, s. Formula (low + 4 likely + high) / 6.
[[nodiscard]] double mean_s(Task const& task);

struct Slot {
    double start_s = 0.0, finish_s = 0.0;
    int people = 0;
    int waits_for = -1; ///< the task whose finish let this one start; -1 for the beginning
};

struct Schedule {
    std::vector<Slot> slots; ///< in the order of the tasks
    double finish_s = 0.0;
    std::vector<std::size_t> critical; ///< chain of tasks that sets the finish, first to last
};

/// Places tasks one after another, the one with the longest work behind it first, as soon as its needs are
/// finished and people are free (serial schedule generation; a good order, not proved the best).
/// `durations_s` are for the planned people. Precondition: check_tasks passed.
[[nodiscard]] Schedule place(std::span<Task const> tasks, std::span<double const> durations_s, int crew);

/// The priorities `place` works by, worth keeping when it is called many times.
[[nodiscard]] std::vector<std::size_t> priority_order(std::span<Task const> tasks, int crew);
[[nodiscard]] Schedule place(std::span<Task const> tasks, std::span<double const> durations_s, int crew,
                             std::span<std::size_t const> order);

} // namespace isochore::planning
