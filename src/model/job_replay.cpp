#include "model/job_rules.h"
#include "model/job_state.h"
#include "json/member.h"
#include <algorithm>

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

/// One replay: the state so far, and the rules by which an entry moves it.
class Replay {
public:
    Replay(Checklists const& checklists, std::vector<Json> const& bodies)
        : m_checklists(checklists), m_bodies(bodies)
    {
        for (auto const& body : bodies)
            if (text_member(body, "type") == "undone")
                m_undone.push_back(static_cast<std::int64_t>(number_member(body, "undoes")));
    }

    JobState run()
    {
        for (std::size_t i = 0; i < m_bodies.size(); ++i)
            take(m_bodies[i], static_cast<std::int64_t>(i));
        return std::move(m_state);
    }

private:
    void take(Json const& body, std::int64_t n)
    {
        count_time(body);
        ++m_state.entries;
        m_state.last_at = text_member(body, "at");
        m_state.last_who = text_member(body, "who");
        m_state.last_what = describe_entry(m_checklists, body);
        if (std::find(m_undone.begin(), m_undone.end(), n) != m_undone.end()) {
            touch(text_member(body, "step"), n);
            return;
        }
        std::string const type = text_member(body, "type");
        if (type == "created")
            created(body);
        else if (type == "recorded")
            recorded(body, n);
        else if (type == "reading")
            reading(body, n);
        else if (type == "deferred")
            deferred(body, n);
        else if (type == "overridden")
            overridden(body, n);
        else if (type == "not_applicable")
            not_applicable(body, n);
        else if (type == "undone")
            touch(text_member(body, "step"), n);
        else if (type == "confirmed_again")
            m_state.confirmed_again_at = text_member(body, "at");
        else if (type == "shown")
            shown(body, n);
        else if (type == "stick_written") {
            m_state.stick = WrittenStick{text_member(body, "target"),   text_member(body, "set"),
                                         text_member(body, "manifest"), text_member(body, "at"),
                                         text_member(body, "who"),      texts_of(body, "files")};
            forget_what_was_shown();
        } else if (type == "in_hand") {
            if (member(body, "in_hand") == false)
                m_state.in_hand.erase(text_member(body, "part"));
            else
                m_state.in_hand.insert(text_member(body, "part"));
        } else if (type == "calibration")
            m_state.calibration_due[text_member(body, "instrument")] = text_member(body, "due");
        else if (type == "signed")
            m_state.signatures.push_back({text_member(body, "who"), text_member(body, "role"),
                                          text_member(body, "meaning"), text_member(body, "at"),
                                          text_member(body, "strokes")});
        else if (type == "sealed") {
            m_state.sealed = true;
            m_state.sealed_at = text_member(body, "at");
            m_state.record_hash = text_member(body, "record");
        } else if (type == "remark" || type == "opened" || type == "clock") {
            if (type != "opened")
                m_state.remarks.push_back(text_member(body, "text"));
        } else
            m_state.remarks.push_back("An entry of a later version (" + type +
                                      ") is kept but not understood.");
    }

    /// Time used: the monotonic clock within one run of the program. Between runs it starts anew and the
    /// difference would be negative or wrong, so a new run counts from its first entry.
    void count_time(Json const& body)
    {
        double const mono = number_member(body, "mono_s");
        std::string const run = text_member(body, "run");
        if (m_state.entries > 0 && run == m_run && mono > m_state.last_mono_s)
            m_state.open_s += mono - m_state.last_mono_s;
        m_run = run;
        m_state.last_mono_s = mono;
    }

    StepRecord& touch(std::string const& step, std::int64_t n)
    {
        StepRecord& record = m_state.records[step];
        record.history.push_back(n);
        return record;
    }

    void stamp(StepRecord& record, Json const& body, std::int64_t n)
    {
        record.at = text_member(body, "at");
        record.who = text_member(body, "who");
        record.entry = n;
    }

    void created(Json const& body)
    {
        m_state.created_at = text_member(body, "at");
        m_state.created_by = text_member(body, "who");
        m_state.crew = texts_of(body, "crew");
        Json const facts = member(body, "facts");
        if (facts.is_object())
            for (auto const& [name, value] : facts.items())
                if (value.is_string())
                    m_state.facts[name] = value.get<std::string>();
    }

    void recorded(Json const& body, std::int64_t n)
    {
        std::string const id = text_member(body, "step");
        StepRecord& record = touch(id, n);
        bool const before = record.entry >= 0 && record.status != StepStatus::in_progress;
        bool const changed = record.typed != text_member(body, "typed") ||
                             record.answer != text_member(body, "answer") ||
                             record.result != member(body, "result");
        auto readings = std::move(record.readings);
        auto shown = std::move(record.shown);
        auto shown_from = std::move(record.shown_from);
        auto history = std::move(record.history);
        record = StepRecord{};
        record.readings = std::move(readings);
        record.shown = std::move(shown);
        record.shown_from = std::move(shown_from);
        record.history = std::move(history);
        stamp(record, body, n);
        record.typed = text_member(body, "typed");
        record.answer = text_member(body, "answer");
        record.verdict = text_member(body, "verdict");
        record.reason = text_member(body, "reason");
        record.remedy = text_member(body, "remedy");
        record.rule = text_member(body, "rule");
        record.reader = text_member(body, "reader");
        record.doer = text_member(body, "doer");
        record.result = member(body, "result");
        record.inputs = member(body, "inputs");
        record.expected = member(body, "expected");
        record.status = record.verdict == "fail"        ? StepStatus::failed
                        : record.verdict == "undecided" ? StepStatus::undecided
                                                        : StepStatus::done;
        Step const* step = m_checklists.step(id);
        if (step && step->physical && record.status == StepStatus::done) {
            m_state.last_physical = id;
            m_state.last_physical_at = record.at;
        }
        if (before && changed)
            reopen_users_of(id);
    }

    void reading(Json const& body, std::int64_t n)
    {
        StepRecord& record = touch(text_member(body, "step"), n);
        Reading r;
        r.t_s = number_member(body, "t_s");
        r.values = texts_of(body, "values");
        r.entry = n;
        r.at = text_member(body, "at");
        r.who = text_member(body, "who");
        // A log that starts again (after a re-made joint) says so; its old readings stay in the journal only.
        if (member(body, "restart") == true)
            record.readings.clear();
        record.readings.push_back(std::move(r));
        bool const was_closed = is_closed(record.status);
        record.status = StepStatus::in_progress;
        if (was_closed)
            reopen_users_of(text_member(body, "step"));
    }

    /// What the unit shows for some settings. A step decided before is open again until it is compared anew.
    void shown(Json const& body, std::int64_t n)
    {
        StepRecord& record = touch(text_member(body, "step"), n);
        if (member(body, "restart") == true)
            record.shown.clear();
        Json const values = member(body, "values");
        if (values.is_object())
            for (auto const& [path, value] : values.items())
                if (value.is_string())
                    record.shown[path] = value.get<std::string>();
        record.shown_from = text_member(body, "file");
        bool const was_closed = is_closed(record.status);
        record.status = StepStatus::in_progress;
        if (was_closed)
            reopen_users_of(text_member(body, "step"));
    }

    /// After a new set was written, what the unit showed before says nothing any more.
    void forget_what_was_shown()
    {
        for (auto& [id, record] : m_state.records) {
            Step const* step = m_checklists.step(id);
            if (!step || step->compare.empty())
                continue;
            record.shown.clear();
            record.shown_from.clear();
            bool const decided = record.status == StepStatus::done || record.status == StepStatus::failed ||
                                 record.status == StepStatus::undecided;
            if (decided) {
                record.status = StepStatus::reopened;
                record.reopened_because = m_state.stick->set;
            }
        }
    }

    void deferred(Json const& body, std::int64_t n)
    {
        StepRecord& record = touch(text_member(body, "step"), n);
        stamp(record, body, n);
        record.status = StepStatus::deferred;
        record.defer_owner = text_member(body, "owner");
        record.defer_before = text_member(body, "before");
        record.defer_reason = text_member(body, "reason");
    }

    void overridden(Json const& body, std::int64_t n)
    {
        StepRecord& record = touch(text_member(body, "step"), n);
        stamp(record, body, n);
        record.status = StepStatus::overridden;
        record.override_by = text_member(body, "by");
        record.override_reason = text_member(body, "reason");
    }

    void not_applicable(Json const& body, std::int64_t n)
    {
        StepRecord& record = touch(text_member(body, "step"), n);
        stamp(record, body, n);
        record.status = StepStatus::not_applicable;
        record.not_applicable_reason = text_member(body, "reason");
    }

    void reopen_users_of(std::string const& id)
    {
        Step const* changed = m_checklists.step(id);
        for (Step const* user : dependents(m_checklists, id)) {
            auto const it = m_state.records.find(user->id);
            if (it == m_state.records.end())
                continue;
            StepRecord& record = it->second;
            bool const decided = is_closed(record.status) || record.status == StepStatus::failed ||
                                 record.status == StepStatus::undecided;
            if (decided && record.status != StepStatus::not_applicable) {
                record.status = StepStatus::reopened;
                record.reopened_because = changed ? changed->title : id;
            }
        }
    }

    Checklists const& m_checklists;
    std::vector<Json> const& m_bodies;
    std::vector<std::int64_t> m_undone;
    JobState m_state;
    std::string m_run;
};

std::string quoted(std::string const& text)
{
    return text.empty() ? text : " \"" + text + "\"";
}

} // namespace

JobState replay(Checklists const& checklists, std::vector<Json> const& bodies)
{
    return Replay(checklists, bodies).run();
}

std::string describe_entry(Checklists const& checklists, Json const& body)
{
    std::string const type = text_member(body, "type");
    Step const* step = checklists.step(text_member(body, "step"));
    std::string const at = step ? " at “" + step->title + "”" : "";
    if (type == "created")
        return "Outage begun";
    if (type == "opened")
        return "Program opened the outage";
    if (type == "recorded") {
        std::string value = text_member(body, "typed");
        if (value.empty() && step)
            for (auto const& a : step->answers)
                if (a.id == text_member(body, "answer"))
                    value = a.label;
        if (value.empty())
            value = text_member(body, "answer");
        std::string const verdict = text_member(body, "verdict");
        if (value.empty())
            value = verdict.empty() || verdict == "none" ? "result" : verdict;
        return "Recorded " + value + at;
    }
    if (type == "reading") {
        std::string values;
        for (auto const& v : texts_of(body, "values"))
            values += (values.empty() ? "" : ", ") + v;
        return "Reading " + values + at;
    }
    if (type == "shown") {
        Json const values = member(body, "values");
        std::string const file = text_member(body, "file");
        if (!file.empty())
            return "Read what the unit shows from " + file + at;
        std::string list;
        if (values.is_object())
            for (auto const& [path, value] : values.items())
                if (value.is_string())
                    list += (list.empty() ? "" : ", ") + path + " = " + value.get<std::string>();
        return "The unit shows " + list + at;
    }
    if (type == "deferred")
        return "Deferred" + at + ", owner " + text_member(body, "owner") +
               quoted(text_member(body, "reason"));
    if (type == "overridden")
        return "Overridden" + at + " by " + text_member(body, "by") + quoted(text_member(body, "reason"));
    if (type == "not_applicable")
        return "Marked not applicable" + at + quoted(text_member(body, "reason"));
    if (type == "undone")
        return "Took back the last entry" + at;
    if (type == "confirmed_again")
        return "Confirmed again after a break" + at;
    if (type == "stick_written")
        return "Wrote set " + text_member(body, "set") + " to the stick";
    if (type == "in_hand")
        return (member(body, "in_hand") == false ? "No longer in hand: " : "In hand: ") +
               text_member(body, "part");
    if (type == "calibration")
        return "Calibration of " + text_member(body, "instrument") + " due " + text_member(body, "due");
    if (type == "signed")
        return "Signed by " + text_member(body, "who");
    if (type == "sealed")
        return "Record sealed";
    if (type == "clock" || type == "remark")
        return text_member(body, "text");
    return "Entry of a later version";
}

} // namespace isochore::model
