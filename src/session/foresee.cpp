#include "session/foresee.h"
#include "calc/registry.h"
#include "model/job_rules.h"
#include <algorithm>

namespace isochore::session {
namespace {

using model::Step;

/// Quick enough to be worked out with every key, within the frame (tests/bench/foresee_bench.cpp). What
/// draws by the ten thousand is not among them.
constexpr std::string_view quick[] = {"ct.load_check",    "ct.phases",       "ct.ratio",      "fill.account",
                                      "fill.target",      "fitting.chain",   "fitting.identify",
                                      "gas.density",      "gas.moisture",    "input.resistor",
                                      "input.wiring",     "mount.clearance", "mount.fasteners",
                                      "purge.dilution"};

bool is_quick(std::string_view calc)
{
    return std::find(std::begin(quick), std::end(quick), calc) != std::end(quick);
}

/// Puts the value in for each reference to its step; true where there was one.
bool put_in(Json& inputs, std::string const& reference, std::string const& value)
{
    if (inputs.is_string() && inputs.get_ref<std::string const&>() == reference) {
        inputs = value;
        return true;
    }
    bool found = false;
    if (inputs.is_structured())
        for (auto& inner : inputs)
            found = put_in(inner, reference, value) || found;
    return found;
}

/// With an input still to come there is nothing to foresee yet.
bool waits_for_more(Context const& context, model::CalcCall const& call)
{
    auto const answer = calc::run(call.calc, resolve_inputs(context, call));
    return !answer && answer.error().code == Error::Code::missing_input;
}

} // namespace

std::optional<Foreseen> foresee(Context const& context, Step const& source, std::string_view value)
{
    std::string const reference = "step:" + source.id;
    for (auto const& stage : context.checklists.stages)
        for (Step const& step : stage.steps) {
            if (step.kind != model::StepKind::compute || !step.call || !is_quick(step.call->calc) ||
                step.call->inputs_json.find(reference) == std::string::npos ||
                model::applies(context.checklists, context.state, step) == false)
                continue;
            Json inputs = Json::parse(step.call->inputs_json, nullptr, false);
            if (!put_in(inputs, reference, std::string(value)))
                continue;
            Step with_value = step;
            with_value.call->inputs_json = inputs.dump();
            Evaluation evaluation = evaluate_call(context, with_value);
            if (!evaluation.ok() && waits_for_more(context, *with_value.call))
                continue;
            return Foreseen{&step, std::move(evaluation)};
        }
    return std::nullopt;
}

} // namespace isochore::session
