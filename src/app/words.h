#pragma once
#include "language/words.h"

namespace isochore::app {

using language::said;
using language::Words;

} // namespace isochore::app
