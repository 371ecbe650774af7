#include "electrical/supervision.h"
#include <cmath>
#include <limits>
#include <string>

namespace isochore::electrical {
namespace {

using Code = Error::Code;
constexpr double none = std::numeric_limits<double>::infinity(); // an open path, in ohm

double parallel(double a, double b)
{
    if (std::isinf(a))
        return b;
    if (std::isinf(b))
        return a;
    return a * b / (a + b);
}

/// Voltage over `part` of the series chain part + rest that carries `current`.
double drop(double current, double ohm)
{
    return std::isinf(ohm) ? 0.0 : current * ohm;
}

SupervisedState state(SupervisedCircuit const& c, bool healthy, bool closed)
{
    SupervisedState s{healthy, closed, 0.0, 0.0, 0.0};
    double const coil = healthy ? c.coil_ohm : none;
    double const contact = closed ? 0.0 : c.bypass_ohm.value_or(none);
    double const at_coil = c.position == InputPosition::across_coil ? parallel(coil, c.input_ohm) : coil;
    double const branch = std::isinf(contact) || std::isinf(at_coil) ? none : contact + at_coil;
    double const load = c.position == InputPosition::across_coil ? branch : parallel(branch, c.input_ohm);
    if (std::isinf(load))
        return s; // no path: nothing flows and nothing is seen
    s.supervision_a = c.dc_v / (c.supervision_ohm + load);
    double const node_v = drop(s.supervision_a, load);
    double const coil_node_v = std::isinf(branch) ? 0.0 : node_v * at_coil / branch;
    s.coil_v = healthy ? coil_node_v : 0.0;
    s.input_v = c.position == InputPosition::across_coil ? coil_node_v : node_v;
    return s;
}

} // namespace

Result<std::array<SupervisedState, 4>> supervised_states(SupervisedCircuit const& c, std::string_view where)
{
    struct Named {
        double value;
        char const* what;
    };
    for (Named const& n :
         {Named{c.dc_v, "the supply voltage"}, Named{c.supervision_ohm, "the supervision resistance"},
          Named{c.coil_ohm, "the coil resistance"}, Named{c.input_ohm, "the input resistance"},
          Named{c.bypass_ohm.value_or(1.0), "the bypass resistance"}})
        if (!(n.value > 0.0) || !std::isfinite(n.value))
            return fail(Code::out_of_range, std::string(where),
                        std::string(n.what) + " must be above zero: measure it or take it from the drawing");
    return std::array{state(c, true, true), state(c, false, true), state(c, true, false),
                      state(c, false, false)};
}

} // namespace isochore::electrical
