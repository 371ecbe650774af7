#include "electrical/current_loop.h"
#include <string>

namespace isochore::electrical {

std::string_view loop_state_name(LoopState state)
{
    switch (state) {
    case LoopState::open_loop:
        return "open loop";
    case LoopState::under_range:
        return "under range";
    case LoopState::measuring:
        return "measuring";
    case LoopState::over_range:
        return "over range";
    case LoopState::shorted:
        return "short";
    }
    return "measuring";
}

Result<void> check_loop(CurrentLoop const& l, std::string_view where)
{
    if (l.low == l.high)
        return fail(Error::Code::out_of_range, std::string(where) + ".range_high",
                    "equals range_low: a range needs a span, read the sensor's plate again");
    if (l.low > l.high)
        return fail(Error::Code::out_of_range, std::string(where) + ".range_low",
                    "is above range_high: the two look swapped");
    if (!(l.open_below_a <= l.valid_from_a && l.valid_from_a <= l.zero_a && l.zero_a < l.full_a &&
          l.full_a <= l.valid_to_a && l.valid_to_a <= l.short_above_a))
        return fail(
            Error::Code::out_of_range, std::string(where),
            "the loop's currents must rise in this order: open_below, valid_from, zero, full, valid_to, "
            "short_above");
    return {};
}

double loop_value(CurrentLoop const& l, double current_a)
{
    return l.low + (current_a - l.zero_a) / (l.full_a - l.zero_a) * (l.high - l.low);
}

double loop_current_a(CurrentLoop const& l, double value)
{
    return l.zero_a + (value - l.low) / (l.high - l.low) * (l.full_a - l.zero_a);
}

LoopState loop_state(CurrentLoop const& l, double current_a)
{
    if (current_a < l.open_below_a)
        return LoopState::open_loop;
    if (current_a > l.short_above_a)
        return LoopState::shorted;
    if (current_a < l.valid_from_a)
        return LoopState::under_range;
    if (current_a > l.valid_to_a)
        return LoopState::over_range;
    return LoopState::measuring;
}

} // namespace isochore::electrical
