#pragma once
#include <string>

namespace isochore {

/// Appends a finite double as ECMAScript's Number::toString writes it (ECMA-262, 6.1.6.1.20): the shortest
/// digits that read back as the same double, exponent form from 1e21 and below 1e-6, no negative zero.
void append_ecmascript_number(std::string& out, double value);

} // namespace isochore
