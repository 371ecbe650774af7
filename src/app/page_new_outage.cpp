#include "app/outage_frame.h"
#include "app/page_profile.h"
#include "app/page_step.h"
#include "app/page_stick.h"
#include "app/pages.h"
#include "session/profile_step.h"
#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

struct Fact {
    char const* id;
    char const* label;
    char const* hint;
};

constexpr std::array<Fact, 6> facts = {
    {{"station", said("Station"), ""},
     {"bay", said("Bay"), ""},
     {"serial", said("Breaker serial number"), ""},
     {"job_no", said("Job number"), ""},
     {"window", said("Outage window"), said("for example 2 h")},
     {"crew", said("Crew, names with commas"), said("the first makes the entries")}}};

std::vector<std::string> names_of(std::string const& text)
{
    std::vector<std::string> names;
    std::string name;
    for (char c : text + ",") {
        if (c != ',') {
            if (c != ' ' || !name.empty())
                name += c;
            continue;
        }
        while (!name.empty() && name.back() == ' ')
            name.pop_back();
        if (!name.empty())
            names.push_back(name);
        name.clear();
    }
    return names;
}

using Keys = session::ReleaseStanding::Keys;

/// One row a model, by the revision an outage would take; what none can take says why.
screens::ListRow offered(Desk& desk, files::LibraryEntry const& newest, media::Trust const& trust)
{
    auto const& library = desk.workspace.library();
    auto const* released = library.released(newest.profile.id);
    auto const& entry = released ? *released : newest;
    auto const& p = entry.profile;
    auto const standing = session::standing_of(entry, library, trust);
    std::string detail = in_short(p, desk.words);
    Mark mark = Mark::none;
    if (!entry.faults.empty()) {
        detail = desk.fault(entry.faults.front());
        mark = Mark::fail;
    } else if (!released) {
        detail = desk.words("No revision of it is released, so no outage can take it.");
        mark = Mark::locked;
    } else if (standing.refused() || standing.to_accept()) {
        detail = standing_text(desk, standing);
        mark = standing.refused() ? Mark::locked : Mark::undecided;
    }
    return {p.id,
            p.title.empty() ? p.id : p.title,
            detail,
            entry.faults.empty() ? desk.words("revision {}", {std::to_string(p.revision)})
                                 : desk.words("faults: {}", {std::to_string(entry.faults.size())}),
            mark,
            released && entry.faults.empty()};
}

} // namespace

NewOutagePage::NewOutagePage()
{
    m_facts["window"] = "2 h";
}

void NewOutagePage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(sheet);
    if (m_profile.empty()) {
        screens::ListView list;
        list.heading = desk.words("New outage: which breaker?");
        list.text =
            desk.words("The profile sets every limit. Compare it with the nameplate before you begin.");
        m_finder.fill(desk, list, [&desk](files::LibraryEntry const& newest, media::Trust const& trust) {
            return std::optional(offered(desk, newest, trust));
        });
        if (!desk.workspace.library().errors.empty())
            list.notice = unreadable_profiles(desk);
        list.actions = {{"back", desk.words("Back"), {}, false, true, false}};
        sheet.list = std::move(list);
        return;
    }
    screens::FormView form;
    form.heading = desk.words("New outage");
    auto const* p = desk.workspace.released_profile(m_profile);
    form.text = m_profile;
    if (p)
        form.text =
            p->profile.title + ", " + desk.words("revision {}", {std::to_string(p->profile.revision)});
    if (p && p->profile.invented)
        form.text += ". " + desk.words("An invented model, for practice only.");
    for (auto const& fact : facts) {
        auto const it = m_facts.find(fact.id);
        form.fields.push_back({fact.id,
                               desk.words(fact.label),
                               it == m_facts.end() ? std::string() : it->second,
                               {},
                               false,
                               desk.words(fact.hint),
                               {}});
    }
    if (p)
        if (auto const standing = session::standing_of(desk.workspace, *p); standing && standing->to_accept())
            form.verdict = screens::VerdictView{Mark::undecided,
                                                desk.words("A person must accept this release"),
                                                standing_text(desk, *standing),
                                                {}};
    if (!m_problem.empty())
        form.verdict = screens::VerdictView{Mark::undecided, desk.words("Not yet"), m_problem, {}};
    form.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"begin", desk.words("Begin the outage"), {}, true, true, false}};
    sheet.form = std::move(form);
}

void NewOutagePage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row) {
        choose(desk, intent.id);
    } else if (intent.kind == Intent::Kind::field && m_profile.empty()) {
        m_finder.search(desk);
    } else if (intent.kind == Intent::Kind::field) {
        for (auto const& fact : facts)
            if (intent.id == fact.id) {
                EntryRequest r;
                r.label = desk.words(fact.label);
                r.context = desk.words(fact.hint);
                r.text = true;
                r.typed = m_facts[fact.id];
                if (auto const outages = desk.workspace.outages(); outages && intent.id == "station")
                    for (auto const& o : *outages)
                        if (r.suggestions.size() < 4 && std::find(r.suggestions.begin(), r.suggestions.end(),
                                                                  o.station) == r.suggestions.end())
                            r.suggestions.push_back(o.station);
                if (intent.id == "window") {
                    r.suggestions = {"1 h", "2 h", "4 h", "8 h"};
                    r.judge = [&desk](std::string const& whole) {
                        auto const t = parse_amount(whole, Dimension::time, "window");
                        return EntryJudgement{
                            {}, t ? std::string() : desk.words.sentence(t.error().detail), {}};
                    };
                }
                r.done = [this, id = std::string(fact.id)](std::string const& typed, std::string const&) {
                    m_facts[id] = typed;
                    m_problem.clear();
                };
                desk.entry.open(std::move(r));
            }
    } else if (intent.kind == Intent::Kind::action && intent.id == "back") {
        if (m_profile.empty())
            desk.go(std::make_unique<JobsPage>());
        else
            m_profile.clear();
    } else if (intent.kind == Intent::Kind::action && intent.id == "begin") {
        begin(desk);
    }
}

/// A key nobody here trusts is asked about before anything is typed.
void NewOutagePage::choose(Desk& desk, std::string const& id)
{
    auto const* entry = desk.workspace.released_profile(id);
    auto const standing = entry ? session::standing_of(desk.workspace, *entry)
                                : Result<session::ReleaseStanding>(session::ReleaseStanding{});
    if (!standing)
        return desk.report(standing.error());
    if (!standing->refused()) {
        m_profile = id;
        return;
    }
    Question q;
    q.title = desk.words("Released with a key this tablet does not know");
    q.text =
        standing_text(desk, *standing) + "\n\n" + desk.words("No outage takes it until its key is trusted.");
    q.actions = {{"cancel", desk.words("Back"), {}, true, true, false},
                 {"trust", desk.words("Trust this key"), {}, false, true, false}};
    q.answered = [this, &desk, id, key = standing->unknown.front()](std::string const& answer) {
        if (answer == "trust")
            ask_to_trust(desk, key, [this, &desk, id] {
                m_finder.forget();
                choose(desk, id);
            });
    };
    desk.question = std::move(q);
}

/// An unusual release is taken by a person who gives a name and a reason; both stand in the first entry.
void NewOutagePage::begin(Desk& desk)
{
    auto const* entry = desk.workspace.released_profile(m_profile);
    auto const standing = entry ? session::standing_of(desk.workspace, *entry)
                                : Result<session::ReleaseStanding>(session::ReleaseStanding{});
    if (!standing)
        return desk.report(standing.error());
    if (!standing->to_accept())
        return begin_with(desk, {});
    desk.ask(desk.words("Take this release all the same?"),
             standing_text(desk, *standing) + "\n\n" +
                 desk.words("Your name and your reason stand in the record, as a deviation."),
             desk.words("Give the reason"), [this, &desk] { accept(desk); });
}

void NewOutagePage::accept(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("Why is this release taken?");
    r.text = true;
    r.done = [this, &desk](std::string const& why, std::string const&) {
        auto const pins = session::pins_are_kept(desk.workspace);
        ask_person(desk, desk.words("Who accepts it?"), pins && *pins,
                   [this, &desk, why](std::string const& by, bool checked) {
                       begin_with(desk, {by, why, checked});
                   });
    };
    desk.entry.open(std::move(r));
}

void NewOutagePage::begin_with(Desk& desk, session::AcceptedRelease const& accepted)
{
    session::NewOutage setup;
    setup.facts = m_facts;
    setup.crew = names_of(m_facts["crew"]);
    setup.facts.erase("crew");
    if (!setup.crew.empty())
        setup.who = setup.crew.front();
    auto outage = desk.workspace.begin(m_profile, setup, accepted);
    if (!outage) {
        m_problem = desk.words.sentence(outage.error().detail);
        return;
    }
    desk.outage = std::move(*outage);
    desk.drafts.clear();
    desk.go(std::make_unique<StepPage>());
}

} // namespace isochore::app
