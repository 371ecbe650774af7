#include "quantity/result.h"

namespace isochore {

char const* code_name(Error::Code code)
{
    switch (code) {
    case Error::Code::invalid_input:
        return "invalid_input";
    case Error::Code::missing_input:
        return "missing_input";
    case Error::Code::out_of_range:
        return "out_of_range";
    case Error::Code::two_phase:
        return "two_phase";
    case Error::Code::liquid:
        return "liquid";
    case Error::Code::no_solution:
        return "no_solution";
    case Error::Code::unknown:
        return "unknown";
    case Error::Code::not_found:
        return "not_found";
    case Error::Code::corrupt:
        return "corrupt";
    case Error::Code::denied:
        return "denied";
    case Error::Code::io:
        return "io";
    case Error::Code::device:
        return "device";
    }
    return "invalid_input";
}

} // namespace isochore
