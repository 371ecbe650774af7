#include "model/job_rules.h"
#include "model/job_state.h"
#include "json/member.h"
#include <algorithm>
#include <span>

namespace isochore::model {
namespace {

std::vector<std::string> texts_of(Json const& body, char const* name)
{
    std::vector<std::string> list;
    Json const j = member(body, name);
    if (j.is_array())
        for (auto const& item : j)
            if (item.is_string())
                list.push_back(item.get<std::string>());
    return list;
}

/// Which member of an entry goes into which text of the state.
template <class State> struct TextField {
    char const* name;
    std::string State::*into;
};

template <class State>
void read_texts(Json const& body, std::span<TextField<State> const> fields, State& into)
{
    for (auto const& field : fields)
        into.*field.into = text_member(body, field.name);
}

using R = StepRecord;
constexpr TextField<R> stamp_fields[] = {{"at", &R::at}, {"who", &R::who}};
constexpr TextField<R> recorded_fields[] = {
    {"typed", &R::typed},   {"answer", &R::answer}, {"verdict", &R::verdict}, {"reason", &R::reason},
    {"remedy", &R::remedy}, {"rule", &R::rule},     {"reader", &R::reader},   {"doer", &R::doer}};
constexpr TextField<R> deferred_fields[] = {
    {"owner", &R::defer_owner}, {"before", &R::defer_before}, {"reason", &R::defer_reason}};
constexpr TextField<R> overridden_fields[] = {{"by", &R::override_by}, {"reason", &R::override_reason}};
constexpr TextField<R> not_applicable_fields[] = {{"reason", &R::not_applicable_reason}};

constexpr TextField<WrittenStick> stick_fields[] = {{"target", &WrittenStick::target},
                                                    {"set", &WrittenStick::set},
                                                    {"manifest", &WrittenStick::manifest_hash},
                                                    {"at", &WrittenStick::at},
                                                    {"who", &WrittenStick::who}};
constexpr TextField<Signature> signature_fields[] = {{"who", &Signature::who},
                                                     {"role", &Signature::role},
                                                     {"meaning", &Signature::meaning},
                                                     {"at", &Signature::at},
                                                     {"strokes", &Signature::strokes}};
constexpr TextField<Move> move_fields[] = {
    {"at", &Move::at}, {"who", &Move::who}, {"by", &Move::by}, {"from", &Move::from}, {"to", &Move::to}};
constexpr TextField<JobState> created_fields[] = {{"at", &JobState::created_at},
                                                  {"who", &JobState::created_by}};
constexpr TextField<JobState> last_fields[] = {{"at", &JobState::last_at}, {"who", &JobState::last_who}};
constexpr TextField<JobState> confirmed_fields[] = {{"at", &JobState::confirmed_again_at}};
constexpr TextField<JobState> sealed_fields[] = {{"at", &JobState::sealed_at},
                                                 {"record", &JobState::record_hash}};
constexpr TextField<JobState> archived_fields[] = {{"at", &JobState::archived_at},
                                                   {"who", &JobState::archived_by}};

/// Entries that only give a step a status and say why.
struct StatusEntry {
    std::string_view type;
    StepStatus status;
    std::span<TextField<R> const> fields;
};
constexpr StatusEntry status_entries[] = {
    {"deferred", StepStatus::deferred, deferred_fields},
    {"overridden", StepStatus::overridden, overridden_fields},
    {"not_applicable", StepStatus::not_applicable, not_applicable_fields},
};

/// Closed, or judged: what a change of its inputs opens again.
bool is_decided(StepStatus status)
{
    return status == StepStatus::failed || status == StepStatus::undecided ||
           (is_closed(status) && status != StepStatus::not_applicable);
}

} // namespace

/// How each type of entry moves the state.
struct EntryRules {
    using Rule = void (*)(Replay& replay, Json const& body, std::int64_t n);
    struct Row {
        std::string_view type;
        Rule rule;
    };
    static Rule find(std::string_view type);

    static StepRecord& touch(Replay& replay, Json const& body, std::int64_t n)
    {
        StepRecord& record = replay.m_state.records[text_member(body, "step")];
        record.history.push_back(n);
        return record;
    }

    static void only_touch(Replay& replay, Json const& body, std::int64_t n)
    {
        static_cast<void>(touch(replay, body, n));
    }

    static void created(Replay& replay, Json const& body, std::int64_t)
    {
        JobState& state = replay.m_state;
        read_texts<JobState>(body, created_fields, state);
        state.crew = texts_of(body, "crew");
        state.entering = state.created_by;
        Json const facts = member(body, "facts");
        if (facts.is_object())
            for (auto const& [name, value] : facts.items())
                if (value.is_string())
                    state.facts[name] = value.get<std::string>();
    }

    static void recorded(Replay& replay, Json const& body, std::int64_t n)
    {
        JobState& state = replay.m_state;
        std::string const id = text_member(body, "step");
        StepRecord& record = touch(replay, body, n);
        bool const before = record.entry >= 0 && record.status != StepStatus::in_progress;
        StepRecord next;
        next.readings = std::move(record.readings);
        next.set_aside = std::move(record.set_aside);
        next.history = std::move(record.history);
        next.shown = std::move(record.shown);
        next.shown_from = std::move(record.shown_from);
        next.entry = n;
        read_texts<R>(body, stamp_fields, next);
        read_texts<R>(body, recorded_fields, next);
        next.result = member(body, "result");
        next.inputs = member(body, "inputs");
        next.expected = member(body, "expected");
        next.status = next.verdict == "fail"        ? StepStatus::failed
                      : next.verdict == "undecided" ? StepStatus::undecided
                                                    : StepStatus::done;
        bool const changed =
            record.typed != next.typed || record.answer != next.answer || record.result != next.result;
        record = std::move(next);
        Step const* step = replay.checklists().step(id);
        if (step && step->physical && record.status == StepStatus::done) {
            state.last_physical = id;
            state.last_physical_at = record.at;
        }
        if (before && changed)
            reopen_users_of(replay, id);
    }

    static void reading(Replay& replay, Json const& body, std::int64_t n)
    {
        StepRecord& record = touch(replay, body, n);
        // So a journal of an earlier version says that a log starts again.
        if (member(body, "restart") == true)
            record.readings.clear();
        record.readings.push_back({number_member(body, "t_s"), texts_of(body, "values"), n,
                                   text_member(body, "at"), text_member(body, "who")});
        in_progress_again(replay, record, body);
    }

    /// A log starts again after a disturbed series: neither its readings nor what they said count any more.
    static void series_anew(Replay& replay, Json const& body, std::int64_t n)
    {
        StepRecord& record = touch(replay, body, n);
        StepRecord next;
        next.history = std::move(record.history);
        next.set_aside = std::move(record.set_aside);
        next.set_aside.push_back({static_cast<int>(record.readings.size()), text_member(body, "reason"),
                                  text_member(body, "at"), text_member(body, "who")});
        next.status = record.status;
        record = std::move(next);
        in_progress_again(replay, record, body);
    }

    /// A step that was decided is not so any more, and what used its outcome opens again.
    static void in_progress_again(Replay& replay, StepRecord& record, Json const& body)
    {
        bool const was_decided = is_decided(record.status);
        record.status = StepStatus::in_progress;
        if (was_decided)
            reopen_users_of(replay, text_member(body, "step"));
    }

    /// What the unit shows for some settings. A step decided before is open again until it is compared anew.
    static void shown(Replay& replay, Json const& body, std::int64_t n)
    {
        StepRecord& record = touch(replay, body, n);
        if (member(body, "restart") == true)
            record.shown.clear();
        Json const values = member(body, "values");
        if (values.is_object())
            for (auto const& [path, value] : values.items())
                if (value.is_string())
                    record.shown[path] = value.get<std::string>();
        record.shown_from = text_member(body, "file");
        in_progress_again(replay, record, body);
    }

    /// After a new set was written, what the unit showed before says nothing any more.
    static void forget_what_was_shown(Replay& replay)
    {
        for (auto& [id, record] : replay.m_state.records) {
            Step const* step = replay.checklists().step(id);
            if (!step || step->compare.empty())
                continue;
            record.shown.clear();
            record.shown_from.clear();
            bool const decided = record.status == StepStatus::done || record.status == StepStatus::failed ||
                                 record.status == StepStatus::undecided;
            if (decided) {
                record.status = StepStatus::reopened;
                record.reopened_because = replay.m_state.stick->set;
                record.reopened_by_move.clear();
            }
        }
    }

    static void status(Replay& replay, Json const& body, std::int64_t n)
    {
        std::string const type = text_member(body, "type");
        for (auto const& entry : status_entries)
            if (entry.type == type) {
                StepRecord& record = touch(replay, body, n);
                read_texts<R>(body, stamp_fields, record);
                read_texts<R>(body, entry.fields, record);
                record.entry = n;
                record.status = entry.status;
            }
    }

    static void confirmed_again(Replay& replay, Json const& body, std::int64_t)
    {
        read_texts<JobState>(body, confirmed_fields, replay.m_state);
    }

    static void stick_written(Replay& replay, Json const& body, std::int64_t)
    {
        WrittenStick stick;
        read_texts<WrittenStick>(body, stick_fields, stick);
        stick.files = texts_of(body, "files");
        replay.m_state.stick = std::move(stick);
        forget_what_was_shown(replay);
    }

    static void in_hand(Replay& replay, Json const& body, std::int64_t)
    {
        if (member(body, "in_hand") == false)
            replay.m_state.in_hand.erase(text_member(body, "part"));
        else
            replay.m_state.in_hand.insert(text_member(body, "part"));
    }

    static void calibration(Replay& replay, Json const& body, std::int64_t)
    {
        replay.m_state.calibration_due[text_member(body, "instrument")] = text_member(body, "due");
    }

    /// A part of the store as this outage uses it. Taking a newer revision opens what was worked out with the
    /// earlier one; which steps that are was found when it was taken.
    static void part(Replay& replay, Json const& body, std::int64_t)
    {
        for (auto const& id : texts_of(body, "reopens"))
            reopen(replay, id, text_member(member(body, "part"), "name"));
    }

    static void signed_by(Replay& replay, Json const& body, std::int64_t)
    {
        read_texts<Signature>(body, signature_fields, replay.m_state.signatures.emplace_back());
    }

    static void sealed(Replay& replay, Json const& body, std::int64_t)
    {
        replay.m_state.sealed = true;
        read_texts<JobState>(body, sealed_fields, replay.m_state);
    }

    static void archived(Replay& replay, Json const& body, std::int64_t)
    {
        replay.m_state.archived = true;
        read_texts<JobState>(body, archived_fields, replay.m_state);
    }

    static void unarchived(Replay& replay, Json const&, std::int64_t)
    {
        replay.m_state.archived = false;
        replay.m_state.archived_at.clear();
        replay.m_state.archived_by.clear();
    }

    /// From here on the newer checklists rule. What opens again was worked out when the move was confirmed
    /// and stands in the entry, so that it never depends on a later program's opinion.
    static void moved(Replay& replay, Json const& body, std::int64_t n)
    {
        JobState& state = replay.m_state;
        if (replay.m_revision + 1 < replay.m_revisions.size())
            ++replay.m_revision;
        Move move;
        read_texts<Move>(body, move_fields, move);
        move.entry = n;
        move.changes = texts_of(body, "lines");
        state.moves.push_back(std::move(move));
        Json const reopens = member(body, "reopens");
        if (!reopens.is_array())
            return;
        for (auto const& item : reopens) {
            StepRecord& record = touch(replay, item, n);
            if (member(item, "anew") == true) { // another kind of step: what was recorded answers nothing
                auto history = std::move(record.history);
                record = StepRecord{};
                record.history = std::move(history);
            } else {
                record.status = StepStatus::reopened;
            }
            record.reopened_by_move = text_member(item, "because");
        }
    }

    static void remark(Replay& replay, Json const& body, std::int64_t)
    {
        replay.m_state.remarks.push_back(text_member(body, "text"));
        if (std::string const to = text_member(body, "to"); !to.empty())
            replay.m_state.entering = to;
    }

    static void nothing(Replay&, Json const&, std::int64_t) {}

    static void of_a_later_version(Replay& replay, Json const& body, std::int64_t)
    {
        replay.m_state.remarks.push_back("An entry of a later version (" + text_member(body, "type") +
                                         ") is kept but not understood.");
    }

    static void reopen_users_of(Replay& replay, std::string const& id)
    {
        Checklists const& checklists = replay.checklists();
        Step const* changed = checklists.step(id);
        for (Step const* user : dependents(checklists, id))
            reopen(replay, user->id, changed ? changed->title : id);
    }

    static void reopen(Replay& replay, std::string const& id, std::string const& because)
    {
        auto const it = replay.m_state.records.find(id);
        if (it == replay.m_state.records.end() || !is_decided(it->second.status))
            return;
        it->second.status = StepStatus::reopened;
        it->second.reopened_because = because;
        it->second.reopened_by_move.clear();
    }
};

EntryRules::Rule EntryRules::find(std::string_view type)
{
    static constexpr Row rows[] = {
        {"created", created},
        {"recorded", recorded},
        {"reading", reading},
        {"series_anew", series_anew},
        {"shown", shown},
        {"deferred", status},
        {"overridden", status},
        {"not_applicable", status},
        {"undone", only_touch},
        {"confirmed_again", confirmed_again},
        {"stick_written", stick_written},
        {"in_hand", in_hand},
        {"calibration", calibration},
        {"part", part},
        {"signed", signed_by},
        {"sealed", sealed},
        {"archived", archived},
        {"unarchived", unarchived},
        {"moved", moved},
        {"remark", remark},
        {"clock", remark},
        {"opened", nothing},
    };
    for (auto const& row : rows)
        if (row.type == type)
            return row.rule;
    return of_a_later_version;
}

void Replay::take(Json const& body, std::int64_t n, bool taken_back)
{
    count_time(body);
    ++m_state.entries;
    read_texts<JobState>(body, last_fields, m_state);
    if (taken_back)
        EntryRules::only_touch(*this, body, n);
    else
        EntryRules::find(text_member(body, "type"))(*this, body, n);
}

/// Time used: the monotonic clock within one run of the program. Between runs it starts anew and the
/// difference would be negative or wrong, so a new run counts from its first entry.
void Replay::count_time(Json const& body)
{
    double const mono = number_member(body, "mono_s");
    std::string const run = text_member(body, "run");
    if (m_state.entries > 0 && run == m_run && mono > m_state.last_mono_s)
        m_state.open_s += mono - m_state.last_mono_s;
    m_run = run;
    m_state.last_mono_s = mono;
}

void Replay::follow(std::vector<Json> const& bodies)
{
    auto const known = static_cast<std::size_t>(m_state.entries);
    bool const takes_back = std::any_of(bodies.begin() + static_cast<std::ptrdiff_t>(known), bodies.end(),
                                        [](Json const& b) { return text_member(b, "type") == "undone"; });
    std::vector<bool> taken_back(bodies.size());
    if (takes_back) {
        for (std::size_t i = 0; i < bodies.size(); ++i)
            if (text_member(bodies[i], "type") == "undone")
                if (double const n = number_member(bodies[i], "undoes", -1.0);
                    n >= 0 && n < static_cast<double>(i)) // nothing takes back what is yet to come
                    taken_back[static_cast<std::size_t>(n)] = true;
        JobState fresh;
        fresh.job = std::move(m_state.job);
        fresh.head = std::move(m_state.head);
        m_state = std::move(fresh);
        m_revision = 0;
        m_run.clear();
    }
    for (auto i = static_cast<std::size_t>(m_state.entries); i < bodies.size(); ++i)
        take(bodies[i], static_cast<std::int64_t>(i), taken_back[i]);
}

JobState replay(Revisions revisions, std::vector<Json> const& bodies)
{
    Replay replay(std::move(revisions));
    replay.follow(bodies);
    return replay.state();
}

JobState replay(Checklists const& checklists, std::vector<Json> const& bodies)
{
    return replay(Revisions{&checklists}, bodies);
}

} // namespace isochore::model
