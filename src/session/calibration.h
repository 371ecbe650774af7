#pragma once
#include "session/resolve.h"
#include <vector>

namespace isochore::session {

/// An instrument of the kit that a step reads with, and the calibration date typed for it.
struct InstrumentUse {
    std::string name;  ///< as in the kit list
    std::string due;   ///< "2027-03-31"; empty: not typed
    std::string step;  ///< title of the step that reads with it
    bool past = false; ///< the date lay behind the day of the reading
};

/// The instruments of one step, as on `day` ("2026-11-25"). A step names kinds ("voltmeter, calliper"); which
/// part of the kit that is says assets/parts/kit.json.
[[nodiscard]] std::vector<InstrumentUse> instruments_of(Context const& context, model::Step const& step,
                                                        std::string_view day);

/// The instruments past their date behind a step: its own, and those of the steps its calculation takes
/// readings from, each on the day it was read.
[[nodiscard]] std::vector<InstrumentUse> past_instruments(Context const& context, model::Step const& step);

/// "Contact thermometer is past its calibration date (2020-01-31): take another." for each; empty: none.
[[nodiscard]] std::string past_date_text(std::vector<InstrumentUse> const& past);

} // namespace isochore::session
