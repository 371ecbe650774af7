#include "model/checklist.h"

namespace isochore::model {

char const* step_kind_name(StepKind kind)
{
    switch (kind) {
    case StepKind::confirm:
        return "confirm";
    case StepKind::measure:
        return "measure";
    case StepKind::compute:
        return "compute";
    case StepKind::choose:
        return "choose";
    case StepKind::log:
        return "log";
    case StepKind::attach:
        return "attach";
    }
    return "confirm";
}

Step const* Checklists::step(std::string_view id) const
{
    for (auto const& s : stages)
        for (auto const& step : s.steps)
            if (step.id == id)
                return &step;
    return nullptr;
}

Stage const* Checklists::stage(std::string_view id) const
{
    for (auto const& s : stages)
        if (s.id == id)
            return &s;
    return nullptr;
}

Stage const* Checklists::stage_of(std::string_view step_id) const
{
    for (auto const& s : stages)
        for (auto const& step : s.steps)
            if (step.id == step_id)
                return &s;
    return nullptr;
}

} // namespace isochore::model
