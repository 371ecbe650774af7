#include "calc/supervision_spread.h"
#include "calc/uncertain.h"
#include <array>

namespace isochore::calc {
namespace {

using electrical::SupervisedCircuit;
using electrical::SupervisedState;

/// Uncertainty of one number of one state, first order in supply and resistances.
Result<uncertainty::Budget> of_state(SupervisedCircuit const& circuit,
                                     std::span<uncertainty::Input const> inputs, std::size_t state,
                                     double SupervisedState::*number)
{
    auto const model = [&](std::span<double const> v) -> Result<double> {
        SupervisedCircuit c = circuit;
        c.dc_v = v[0];
        c.supervision_ohm = v[1];
        c.coil_ohm = v[2];
        c.input_ohm = v[3];
        auto const states = electrical::supervised_states(c, "inputs");
        if (!states)
            return tl::unexpected(states.error());
        return (*states)[state].*number;
    };
    return uncertainty::first_order(model, inputs);
}

} // namespace

Result<SupervisionSpread> supervision_spread(Inputs& in, SupervisedCircuit const& c)
{
    Uncertainties given(in);
    std::array const inputs{given.read("dc_max", c.dc_v, Dimension::voltage),
                            given.read("supervision_resistance", c.supervision_ohm, Dimension::resistance),
                            given.read("coil_resistance", c.coil_ohm, Dimension::resistance),
                            given.read("input_resistance", c.input_ohm, Dimension::resistance)};
    given.finish();
    if (in.error())
        return tl::unexpected(*in.error());
    SupervisionSpread spread;
    struct Wanted {
        uncertainty::Budget* into;
        std::size_t state;
        double SupervisedState::*number;
    };
    for (Wanted const& w : {Wanted{&spread.input_healthy, 0, &SupervisedState::input_v},
                            Wanted{&spread.current_healthy, 0, &SupervisedState::supervision_a},
                            Wanted{&spread.input_open, 1, &SupervisedState::input_v},
                            Wanted{&spread.current_open, 1, &SupervisedState::supervision_a}}) {
        auto budget = of_state(c, inputs, w.state, w.number);
        if (!budget)
            return tl::unexpected(budget.error());
        *w.into = std::move(*budget);
    }
    return spread;
}

} // namespace isochore::calc
