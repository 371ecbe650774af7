#pragma once
#include "model/job_state.h"

namespace isochore::model {

/// A step that no longer stands in the way: done, overridden or not applicable.
[[nodiscard]] bool is_closed(StepStatus status);

/// Does the step apply, given the branch taken? nullopt: its branch is not decided yet.
[[nodiscard]] std::optional<bool> applies(Checklists const& checklists, JobState const& state,
                                          Step const& step);

/// Whether nobody may say of this step that it does not apply: a hold point, one that is never overridden, and
/// one whose answer other steps wait for.
[[nodiscard]] bool always_applies(Checklists const& checklists, Step const& step);

/// The status after branches: not_applicable where another branch was taken.
[[nodiscard]] StepStatus status_of(Checklists const& checklists, JobState const& state, Step const& step);

/// What unlocks the step, in words that name the steps missing; empty when it is open.
/// Only needs and hold points block (design section 2). A deferred step lets others pass until the step it
/// must be closed before, and keeps that one locked; at a hold point it lets nothing pass.
[[nodiscard]] std::string locked_because(Checklists const& checklists, JobState const& state,
                                         Step const& step, EntryWords const& words = plain_words());

/// A step's title that an entry or error carries in English, in these words; any other text as it is.
[[nodiscard]] std::string title_in_words(Checklists const& checklists, std::string const& english,
                                         EntryWords const& words);

/// The steps named in locked_because, in order.
[[nodiscard]] std::vector<Step const*> missing_for(Checklists const& checklists, JobState const& state,
                                                   Step const& step);

/// The open step that leads to opening this one: a missing step, or what is missing for that, and so on; the
/// step itself when it is open.
[[nodiscard]] Step const& leads_to(Checklists const& checklists, JobState const& state, Step const& step);

/// The step to offer next: the first open one at or after `from` (a step id, empty: the start), then from the
/// start. When no other is open, those put off come back by themselves; nullptr when all are closed or wait
/// until after the outage.
[[nodiscard]] Step const* next_step(Checklists const& checklists, JobState const& state,
                                    std::string_view from);

/// The steps `step` can be put off to: all that come after it and are not of a branch that was not taken.
[[nodiscard]] std::vector<Step const*> may_wait_until(Checklists const& checklists, JobState const& state,
                                                      Step const& step);
/// The one to propose: the first later step that needs or uses `step`, else the last of the outage; nullptr
/// when nothing comes after it.
[[nodiscard]] Step const* proposed_wait(Checklists const& checklists, JobState const& state,
                                        Step const& step);

struct StageProgress {
    int applicable = 0, closed = 0, failed = 0, deferred = 0, undecided = 0;
    [[nodiscard]] bool complete() const { return applicable == closed; }
};
[[nodiscard]] StageProgress progress(Checklists const& checklists, JobState const& state, Stage const& stage);

/// Closed steps that used `step` directly or through others: what a correction of it re-opens.
[[nodiscard]] std::vector<Step const*> dependents(Checklists const& checklists, std::string_view step);

/// Ids of the steps a step's calculation, prediction, limit or branch mention.
[[nodiscard]] std::vector<std::string> uses_of(Step const& step);

/// What stands between now and signing, worst first: open, failed, undecided, deferred steps.
struct Deviation {
    Step const* step = nullptr;
    StepStatus status = StepStatus::not_started;
    std::string text;
    bool blocks_signing = false;
};
[[nodiscard]] std::vector<Deviation> deviations(Checklists const& checklists, JobState const& state,
                                                EntryWords const& words = plain_words());

} // namespace isochore::model
