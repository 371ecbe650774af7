#pragma once
#include "calc/answer.h"
#include "session/outage.h"

namespace isochore::session {

/// Where the outage stands against its window.
struct PlanNow {
    bool in_window = false;              ///< the first work of the window is recorded; before it is preparing
    bool last_start_done = false;        ///< the work that must not be begun too late is begun
    double window_s = 0.0, used_s = 0.0; ///< used counts from that first record on; 0 before
    double left_s = 0.0;                 ///< of the window; negative: over-run
    double remaining_s = 0.0;            ///< mean of the work still open
    double chance = 0.0;                 ///< of finishing it in what is left
    double wanted_chance = 0.0;          ///< of finishing, asked of the last start
    /// How long the work of no return (opening the gas) may still be put off; negative: too late.
    std::optional<double> last_start_in_s;
    std::string last_start_title;
    [[nodiscard]] double slack_s() const { return left_s - remaining_s; }
};

/// The plan against the clock. The draws are made when an entry was added; between entries only the time that
/// passes is held against them, so that asking in every frame costs nothing.
class LivePlan {
public:
    /// nullopt where the outage has no window, or its plan cannot be made (no stage of it is known).
    [[nodiscard]] std::optional<PlanNow> now(Outage const& outage);

private:
    std::string m_job;
    std::int64_t m_entries = -1;
    std::vector<double> m_finishes_s, m_last_start_finishes_s;
    PlanNow m_plan;
    std::int64_t m_window_from_ms = 0;
};

/// kit.plan with what the survey has found so far: the call of the checklist's own plan step.
/// Errors: not_found (no such step), those of kit.plan.
[[nodiscard]] Result<calc::Answer> survey_plan(Outage const& outage);
/// That step; nullptr where the checklists have none.
[[nodiscard]] model::Step const* plan_step(model::Checklists const& checklists);

} // namespace isochore::session
