#pragma once
#include "model/job_state.h"
#include "model/profile.h"

namespace isochore::model {

/// One difference that a newer revision of the checklists or the profile brings to an outage.
struct RevisionChange {
    enum class Kind { added, removed, kind, limit, calculation, answers, needs, rules, wording, profile };
    Kind kind = Kind::wording;
    std::string step;      ///< id; empty for a value of the profile that no step reads
    std::string title;     ///< of the step, or the label of the profile's value
    std::string old_value; ///< in words; empty where there was none; of a removed step: how it stood
    std::string new_value;
};
[[nodiscard]] char const* change_name(RevisionChange::Kind kind);
/// "Limit of “Find the leak rate”: at most 0.5 % a year → at most 0.3 % a year".
[[nodiscard]] std::string describe(RevisionChange const& change);

/// A step that was closed, or judged, and does not stand under the newer revision.
struct ReopenedStep {
    std::string step, title, because; ///< `because` is a sentence for people
    bool anew = false;                ///< what was recorded answers another question: nothing of it stays
};

/// What moving an outage would do. Nothing is done yet.
struct RevisionMove {
    std::vector<RevisionChange> changes; ///< steps in their new order, then removed ones, then the profile
    std::vector<ReopenedStep> reopens;
};

/// One set of texts an outage follows.
struct Revision {
    Checklists const& checklists;
    Profile const& profile;
};

/// Compares the revision an outage follows with a newer one. A step opens again where its limit, its
/// calculation, its answers, its kind or a profile value it reads changed, where it now needs a step that is
/// not closed, where it now wants a reader and a doer it does not name, and where it used such a step.
/// Other wording is listed and opens nothing: the person who confirms the move reads it.
[[nodiscard]] RevisionMove compare_revisions(Revision const& old, Revision const& next,
                                             JobState const& state);

} // namespace isochore::model
