#pragma once
#include "app/words.h"
#include "screens/views.h"

namespace isochore::app {

/// The words the screens bring themselves, in the language in use.
[[nodiscard]] screens::WordsView screen_words(Words const& words);

} // namespace isochore::app
