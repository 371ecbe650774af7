#pragma once
#include "calc/answer.h"
#include "session/prediction.h"
#include "session/resolve.h"

namespace isochore::session {

/// What is to be said of a value, before and when it is recorded. Nothing here is stored.
struct Evaluation {
    std::string problem;  ///< blocks: what is wrong and what to do
    std::string question; ///< unlikely: asked, and recorded when confirmed
    std::string echo;     ///< the value in other words, to catch a slip
    std::string verdict;  ///< "pass", "fail", "undecided", "none"
    std::string reason, remedy, rule;
    std::optional<Amount> amount;
    std::optional<Prediction> prediction;
    Json result; ///< answer of a compute or log step, as in the line format
    Json inputs;
    std::optional<calc::Answer> answer;
    [[nodiscard]] bool ok() const { return problem.empty(); }
};

/// A typed value of a measure step, "4.61 bar g".
[[nodiscard]] Evaluation evaluate_value(Context const& context, model::Step const& step,
                                        std::string_view typed);
/// The answers of a step: its own and, where it asks for them, the fittings added to the store.
[[nodiscard]] std::vector<model::StepAnswer> answers_of(Context const& context, model::Step const& step);
/// An answer of a confirm or choose step.
[[nodiscard]] Evaluation evaluate_answer(Context const& context, model::Step const& step,
                                         std::string_view answer);
/// A compute step, or the readings of a log step so far.
[[nodiscard]] Evaluation evaluate_call(Context const& context, model::Step const& step);
/// One value of a reading of a log step, in its column.
[[nodiscard]] Evaluation evaluate_cell(Context const& context, model::Step const& step, std::size_t column,
                                       std::string_view typed);
/// One reading of a log step, a typed value a column.
[[nodiscard]] Evaluation evaluate_reading(Context const& context, model::Step const& step,
                                          std::vector<std::string> const& typed);

} // namespace isochore::session
