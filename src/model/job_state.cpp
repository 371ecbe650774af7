#include "model/job_state.h"

namespace isochore::model {

char const* status_name(StepStatus status)
{
    switch (status) {
    case StepStatus::not_started:
        return "not started";
    case StepStatus::in_progress:
        return "in progress";
    case StepStatus::done:
        return "done";
    case StepStatus::failed:
        return "failed";
    case StepStatus::undecided:
        return "undecided";
    case StepStatus::deferred:
        return "deferred";
    case StepStatus::not_applicable:
        return "not applicable";
    case StepStatus::overridden:
        return "overridden";
    case StepStatus::reopened:
        return "re-opened";
    }
    return "not started";
}

StepRecord const& JobState::record(std::string_view step) const
{
    static StepRecord const nothing;
    auto const it = records.find(step);
    return it == records.end() ? nothing : it->second;
}

} // namespace isochore::model
