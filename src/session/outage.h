#pragma once
#include "journal/journal.h"
#include "model/job_rules.h"
#include "model/revision_move.h"
#include "session/clock.h"
#include "session/evaluate.h"
#include <memory>

namespace isochore::session {

/// One set of texts an outage follows: its checklists and its breaker profile.
struct Pinned {
    model::Checklists checklists;
    model::Profile profile;
    Json texts; ///< {"checklists":[{"file","hash"}],"profile":{"id","revision","hash"}}, as entries name it
};

/// "profile kd-41 revision 2, checklists of 2026-02-01, mark 3F2A91BC": two sets of checklists can bear the
/// date of the same newest stage; the mark is the front of the hash over the texts of all.
[[nodiscard]] std::string revision_name(Pinned const& pinned);

/// The step of that id. Errors: unknown, naming ids that are near.
[[nodiscard]] Result<model::Step const*> known_step(model::Checklists const& checklists, std::string_view id);

/// One outage in hand: the only writer of its journal. Every call that records returns after the entry is on
/// disk, or an error with nothing changed. The rules are those of model/job_rules.h; the window, the command
/// line and the rehearsals all come through here.
class Outage {
public:
    /// Takes over a journal job whose pinned texts have been read. Notices a clock that was set back or far
    /// forward since the last entry and records it.
    [[nodiscard]] static Result<std::unique_ptr<Outage>> open(journal::Journal& journal, Clock& clock,
                                                              std::string job, model::Checklists checklists,
                                                              model::Profile profile, std::string who);
    /// The same with all revisions the outage has followed, oldest first: one, and one more for each move.
    /// `who` empty: who had the tablet last.
    [[nodiscard]] static Result<std::unique_ptr<Outage>> open(journal::Journal& journal, Clock& clock,
                                                              std::string job, std::vector<Pinned> revisions,
                                                              std::string who);

    [[nodiscard]] model::Checklists const& checklists() const { return m_revisions.back()->checklists; }
    [[nodiscard]] model::Profile const& profile() const { return m_revisions.back()->profile; }
    [[nodiscard]] Pinned const& pinned() const { return *m_revisions.back(); }
    [[nodiscard]] model::JobState const& state() const { return m_replay.state(); }
    [[nodiscard]] std::vector<Json> const& bodies() const { return m_bodies; }
    [[nodiscard]] std::string const& job() const { return m_job; }
    [[nodiscard]] Context context() const { return {checklists(), profile(), state(), &m_parts}; }
    /// The store's own parts, for calculations and answers that take them.
    void set_parts(Json parts) { m_parts = std::move(parts); }
    /// An entry in one line, with the titles of the revision it was made under.
    [[nodiscard]] std::string describe(Json const& body,
                                       model::EntryWords const& words = model::plain_words()) const;
    [[nodiscard]] Clock& clock() const { return m_clock; }
    [[nodiscard]] journal::Journal& journal() const { return m_journal; }

    /// Who makes the entries from now on.
    void set_who(std::string who) { m_who = std::move(who); }
    /// The tablet goes to somebody else, who makes the entries from now on, also after a restart. The entry
    /// about it carries the new name. Errors: missing_input, denied (sealed or archived), io.
    [[nodiscard]] Result<void> hand_over(std::string const& to);
    [[nodiscard]] std::string const& who() const { return m_who; }

    /// Records a typed value of a measure step. `confirmed_question` says that the person was asked and
    /// kept it. Errors: denied (locked step, sealed outage), invalid_input (the evaluation's problem or an
    /// unanswered question), io.
    [[nodiscard]] Result<Evaluation> record_value(std::string_view step, std::string_view typed,
                                                  bool confirmed_question = false);
    [[nodiscard]] Result<Evaluation> record_answer(std::string_view step, std::string_view answer,
                                                   std::string_view reader = {}, std::string_view doer = {});
    /// Notes what the unit shows for settings, by path, at a step that compares; `file` is where it was read,
    /// empty when typed. `restart` drops what was noted before. The comparison itself is recorded apart.
    [[nodiscard]] Result<void> add_shown(std::string_view step,
                                         std::map<std::string, std::string, std::less<>> const& values,
                                         std::string_view file = {}, bool restart = false);
    /// Compares what was noted with what was loaded and records the outcome, field by field
    /// (session/read_back.h). Errors: missing_input (nothing read yet, no reader or doer), else as above.
    [[nodiscard]] Result<Evaluation> record_comparison(std::string_view step, std::string_view reader = {},
                                                       std::string_view doer = {});
    /// Computes and records a compute step; ends a log step with what its readings say.
    [[nodiscard]] Result<Evaluation> record_call(std::string_view step);
    /// Records a typed text with a file of that hash: photos, documents.
    [[nodiscard]] Result<void> record_attachment(std::string_view step, std::string_view name,
                                                 std::string_view hash);
    /// Adds a reading to a log step. The first one starts its clock.
    [[nodiscard]] Result<Evaluation> add_reading(std::string_view step, std::vector<std::string> const& typed,
                                                 bool confirmed_question = false,
                                                 std::optional<double> at_s = {});
    /// A log begins anew after a disturbed series: the readings so far stay in the journal and count no more.
    /// Errors: missing_input (no reason, no reading yet), denied, invalid_input (no log), io.
    [[nodiscard]] Result<void> begin_new_series(std::string_view step, std::string_view reason);
    /// Puts a step off. `before` names the later step it must be closed before, which stays locked until
    /// then; model::after_outage leaves it to its owner when the outage is over; empty: the one proposed
    /// (model::proposed_wait). Errors: denied (hold point, not to be put off), missing_input, unknown,
    /// invalid_input (`before` does not come later), io.
    [[nodiscard]] Result<void> defer(std::string_view step, std::string_view reason, std::string_view owner,
                                     std::string_view before);
    /// `by` has shown a PIN where the step's policy asks for one: the caller checks it (seal/people.h).
    [[nodiscard]] Result<void> override_step(std::string_view step, std::string_view reason,
                                             std::string_view by, bool pin_checked);
    [[nodiscard]] Result<void> not_applicable(std::string_view step, std::string_view reason);
    /// The last entry about a step that can be taken back; nullptr when there is none. What went out to
    /// others or was another revision's is corrected, not taken back.
    [[nodiscard]] Json const* to_take_back() const;
    /// Takes it back, as a new entry. Errors: not_found when there is none.
    [[nodiscard]] Result<std::string> undo();
    /// The step whose physical state must be seen again, since more than 15 minutes have passed, or nobody
    /// knows how many since the clock was set back; nullptr: none.
    [[nodiscard]] model::Step const* to_confirm_again() const;
    [[nodiscard]] Result<void> confirm_again();
    /// Goes on under a newer revision, whose texts the caller has kept in the journal. `by` confirmed what
    /// the move changes, with a PIN where `pin_checked`. Errors: missing_input, denied, io.
    [[nodiscard]] Result<void> move(Pinned next, model::RevisionMove const& changes, std::string_view by,
                                    bool pin_checked);
    /// Puts the outage away, sealed or not: it is read, not written, until it is taken out again.
    [[nodiscard]] Result<void> archive();
    [[nodiscard]] Result<void> unarchive();
    /// Why nothing can be entered (sealed, archived, a full or read-only disk); empty when it can.
    [[nodiscard]] std::string why_closed() const;
    /// An entry of another kind (stick_written, signed, sealed, remark) with its own members.
    [[nodiscard]] Result<void> note(Json body);

    /// Seconds since the log step's first reading, by the monotonic clock; 0 before it.
    [[nodiscard]] double log_seconds(std::string_view step) const;
    /// "14:02 on 2026-11-25, A. Rowan: Recorded 4.61 bar g at …": for the resume screen.
    [[nodiscard]] std::string last_entry_line(model::EntryWords const& words = model::plain_words()) const;

private:
    Outage(journal::Journal& journal, Clock& clock, std::string job, std::vector<Pinned> revisions,
           std::string who);
    [[nodiscard]] Result<void> load();
    [[nodiscard]] Result<void> watch_clock();
    [[nodiscard]] Result<void> append(Json body);
    /// Puts who, when and in what state of the outage on an entry and writes it.
    [[nodiscard]] Result<void> write(Json body);
    [[nodiscard]] Result<void> not_closed() const;
    [[nodiscard]] Result<model::Step const*> writable(std::string_view step) const;
    [[nodiscard]] Json recorded_body(model::Step const& step, Evaluation const& evaluation) const;
    /// Records what was seen at a step that one person may read and another do.
    [[nodiscard]] Result<Evaluation> record_seen(model::Step const& step, Evaluation evaluation,
                                                 std::string_view answer, std::string_view seen,
                                                 std::string_view reader, std::string_view doer);

    journal::Journal& m_journal;
    Clock& m_clock;
    std::string m_job;
    std::vector<std::unique_ptr<Pinned>> m_revisions; ///< the replay points into them
    std::string m_who;
    std::vector<Json> m_bodies;
    std::string m_head; ///< hash of the last entry
    model::Replay m_replay;
    Json m_parts = Json::array();
};

/// What a new outage is made of.
struct NewOutage {
    std::map<std::string, std::string, std::less<>> facts; ///< station, bay, serial, job_no, window …
    std::vector<std::string> crew;
    std::string who;
};

} // namespace isochore::session
