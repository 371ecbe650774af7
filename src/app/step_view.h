#pragma once
#include "app/desk.h"
#include "session/display.h"

namespace isochore::app {

/// What is half done at a step: typed but not recorded.
struct StepDraft {
    std::string typed;               ///< "4.61 bar g"
    std::string answer;              ///< chosen, not recorded
    std::vector<std::string> values; ///< a log reading, a value a column
    std::string reader, doer;
    bool correcting = false; ///< a recorded step opened for correction
    bool asked = false;      ///< the unlikely value was confirmed
};

/// Who reads and who does a challenge step: as chosen, as recorded, else the first two of the crew, shown so
/// that they can be changed before anything is recorded.
struct Pair {
    std::string reader, doer;
};
[[nodiscard]] Pair pair_of(session::Outage const& outage, model::Step const& step, StepDraft const& draft);

/// The units the crew uses, from what it has typed in this outage.
[[nodiscard]] session::UnitTaste taste_of(session::Outage const& outage);

/// The evaluation that the view shows: of the draft where there is one, else of what a compute step gives
/// now; empty where the step is locked or shows what was recorded. Calculations of a fifth of a second are
/// among them, so keep it while neither the journal nor the draft changes.
[[nodiscard]] session::Evaluation evaluate_draft(Desk& desk, model::Step const& step, StepDraft const& draft);

/// "Within limits", "Recorded: within limits", …; empty for a verdict that says nothing.
[[nodiscard]] std::string verdict_title(std::string const& verdict, model::StepKind kind, Words const& words,
                                        bool recorded);

/// Builds the sheet of one step from the journal's state, the draft and its evaluation. Pure: nothing is
/// changed.
[[nodiscard]] screens::StepView step_view(Desk& desk, model::Step const& step, StepDraft const& draft,
                                          session::Evaluation const& evaluation, screens::PictureSpace space);

} // namespace isochore::app
