#pragma once
#include "model/checklist.h"
#include "model/entry_words.h"
#include "model/profile.h"
#include "json/value.h"
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::model {

/// Where a step stands. `reopened` is a step that was closed and whose inputs have changed since.
enum class StepStatus {
    not_started,
    in_progress,
    done,
    failed,
    undecided,
    deferred,
    not_applicable,
    overridden,
    reopened,
};
[[nodiscard]] char const* status_name(StepStatus status);

/// In place of the step a deferral must be closed before: it outlives the outage, with its owner.
inline constexpr std::string_view after_outage = "after_outage";

/// One reading of a log step: seconds since the log began, and the columns as typed.
struct Reading {
    double t_s = 0.0;
    std::vector<std::string> values;
    std::int64_t entry = 0;
    std::string at, who;
    bool operator==(Reading const&) const = default;
};

/// A disturbed series that a log no longer counts; its readings stay in the journal.
struct SetAside {
    int readings = 0;
    std::string reason, at, who;
    bool operator==(SetAside const&) const = default;
};

/// What the journal says of one step, newest word last.
struct StepRecord {
    StepStatus status = StepStatus::not_started;
    std::string typed;  ///< as typed, with its unit ("4.61 bar g"); the text of a text step
    std::string answer; ///< id of the answer chosen
    std::string verdict, reason, remedy, rule;
    Json result;   ///< the calculation's answer as stored; null where there was none
    Json inputs;   ///< what it was given
    Json expected; ///< the prediction stored before the reading: {"value","low","high","reference","text"}, SI
    std::string at, who, reader, doer;
    std::int64_t entry = -1; ///< number of the entry that set this
    std::string override_by, override_reason;
    std::string defer_owner, defer_before, defer_reason;
    std::string not_applicable_reason;
    std::string reopened_because; ///< title of the corrected step
    std::string reopened_by_move; ///< what a newer revision changed here, a sentence; empty: a correction
    std::vector<Reading> readings;
    std::vector<SetAside> set_aside; ///< series of a log begun and given up before this one
    std::map<std::string, std::string, std::less<>> shown; ///< settings as the unit shows them, by path
    std::string shown_from;                                ///< the file they came in; empty when typed
    std::vector<std::int64_t> history; ///< all entries that touched the step, oldest first
    bool operator==(StepRecord const&) const = default;
};

struct Signature {
    std::string who, role, meaning, at;
    std::string strokes; ///< the drawn signature as JSON, may be empty
    bool operator==(Signature const&) const = default;
};

struct WrittenStick {
    std::string target, set, manifest_hash, at, who;
    std::vector<std::string> files;
    bool operator==(WrittenStick const&) const = default;
};

/// The outage was taken over to newer revisions of its checklists or profile.
struct Move {
    std::string at, who, by;          ///< `by` confirmed it
    std::string from, to;             ///< both revisions in words
    std::vector<std::string> changes; ///< one line each
    std::int64_t entry = -1;
    bool operator==(Move const&) const = default;
};

/// The outage as its journal tells it: a pure replay, nothing kept elsewhere.
struct JobState {
    std::string job; ///< journal name
    std::map<std::string, std::string, std::less<>>
        facts; ///< station, bay, serial, job_no, window, altitude …
    std::vector<std::string> crew;
    std::string created_at, created_by, last_at, last_who;
    std::string entering; ///< who has the tablet: who began the outage, until it is handed over
    double last_mono_s = 0.0;
    std::int64_t entries = 0;
    std::string head;
    std::map<std::string, StepRecord, std::less<>> records;
    std::string last_physical; ///< the last physical step closed
    std::string last_physical_at;
    std::string confirmed_again_at;
    std::optional<WrittenStick> stick;
    std::vector<Signature> signatures;
    bool sealed = false;
    std::string sealed_at, record_hash;
    std::set<std::string> in_hand; ///< names of kit parts ticked off before the outage
    std::map<std::string, std::string, std::less<>> calibration_due; ///< of an instrument, "2027-03-31"
    bool archived = false; ///< put away: read, not written, until it is taken out again
    std::string archived_at, archived_by;
    std::vector<Move> moves;
    std::vector<std::string> remarks; ///< clock jumps, hand-overs
    double open_s = 0.0;              ///< time used so far, by the monotonic clock where it ran on

    [[nodiscard]] StepRecord const& record(std::string_view step) const;
    bool operator==(JobState const&) const = default;
};

/// The checklists an outage has followed, oldest first: those it began with and one more for each move to a
/// newer revision. An entry counts by the rules that held when it was made.
using Revisions = std::vector<Checklists const*>;

/// Follows a journal as it grows, so that an entry costs what it changes and not the whole outage. Only an
/// entry taken back lets all be replayed, since it never counted.
class Replay {
public:
    explicit Replay(Revisions revisions) : m_revisions(std::move(revisions)) {}

    /// Takes the entry bodies (as stored, oldest first) that came since the last call.
    void follow(std::vector<Json> const& bodies);
    /// The outage moved: the checklists that hold from its next "moved" entry on.
    void add_revision(Checklists const& checklists) { m_revisions.push_back(&checklists); }
    /// Its entry could not be written.
    void drop_revision() { m_revisions.pop_back(); }

    [[nodiscard]] JobState const& state() const { return m_state; }
    /// What the entries do not say of themselves.
    void set_head(std::string job, std::string head)
    {
        m_state.job = std::move(job);
        m_state.head = std::move(head);
    }

private:
    friend struct EntryRules;
    [[nodiscard]] Checklists const& checklists() const { return *m_revisions[m_revision]; }
    void take(Json const& body, std::int64_t n, bool taken_back);
    void count_time(Json const& body);

    Revisions m_revisions;
    std::size_t m_revision = 0;
    JobState m_state;
    std::string m_run;
};

/// Replays entry bodies over the checklists the outage is pinned to.
/// An entry of a type this version does not know is kept in the count and said in `remarks`.
[[nodiscard]] JobState replay(Checklists const& checklists, std::vector<Json> const& bodies);
[[nodiscard]] JobState replay(Revisions revisions, std::vector<Json> const& bodies);

/// "Recorded 4.61 bar g at Pressure before filling": one line for people.
[[nodiscard]] std::string describe_entry(Checklists const& checklists, Json const& body,
                                         EntryWords const& words = plain_words());

} // namespace isochore::model
