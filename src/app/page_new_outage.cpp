#include "app/outage_frame.h"
#include "app/page_profile.h"
#include "app/page_step.h"
#include "app/pages.h"
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

/// One row a model, by the revision an outage would take; what none can take says why.
void offer_profiles(Desk& desk, std::string const& search, screens::ListView& list)
{
    files::LibraryFilter filter;
    filter.text = search;
    for (auto const* newest : files::search(desk.workspace.library(), filter)) {
        auto const* released = desk.workspace.released_profile(newest->profile.id);
        auto const& entry = released ? *released : *newest;
        auto const& p = entry.profile;
        bool const ok = released && entry.faults.empty();
        std::string detail = fmt::format("{}, {}, {}", p.text("breaker.mechanism"), p.text("rating.voltage"),
                                         p.text("rating.frequency"));
        if (!entry.faults.empty())
            detail = session::all_faults({entry.faults}).substr(0, 200);
        else if (!released)
            detail = desk.words("No revision of it is released, so no outage can take it.");
        list.rows.push_back({p.id, p.title.empty() ? p.id : p.title, detail,
                             entry.faults.empty()
                                 ? desk.words("revision {}", {std::to_string(p.revision)})
                                 : desk.words("faults: {}", {std::to_string(entry.faults.size())}),
                             ok                     ? Mark::none
                             : entry.faults.empty() ? Mark::locked
                                                    : Mark::fail,
                             ok});
    }
    if (!desk.workspace.library().errors.empty())
        list.notice = unreadable_profiles(desk);
}

} // namespace

NewOutagePage::NewOutagePage()
{
    m_facts["window"] = "2 h";
}

void NewOutagePage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(desk, sheet);
    if (m_profile.empty()) {
        screens::ListView list;
        list.heading = desk.words("New outage: which breaker?");
        list.text =
            desk.words("The profile sets every limit. Compare it with the nameplate before you begin.");
        list.searchable = true;
        list.search = m_search;
        list.empty = desk.words("No profile found.");
        offer_profiles(desk, m_search, list);
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
    if (!m_problem.empty())
        form.verdict = screens::VerdictView{Mark::undecided, desk.words("Not yet"), m_problem, {}};
    form.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"begin", desk.words("Begin the outage"), {}, true, true, false}};
    sheet.form = std::move(form);
}

void NewOutagePage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row) {
        m_profile = intent.id;
    } else if (intent.kind == Intent::Kind::field && m_profile.empty()) {
        type_search(desk, m_search);
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
                    r.judge = [](std::string const& whole) {
                        auto const t = parse_amount(whole, Dimension::time, "window");
                        return EntryJudgement{{}, t ? std::string() : t.error().detail, {}};
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

void NewOutagePage::begin(Desk& desk)
{
    session::NewOutage setup;
    setup.facts = m_facts;
    setup.crew = names_of(m_facts["crew"]);
    setup.facts.erase("crew");
    if (!setup.crew.empty())
        setup.who = setup.crew.front();
    auto outage = desk.workspace.begin(m_profile, setup);
    if (!outage) {
        m_problem = outage.error().detail;
        return;
    }
    desk.outage = std::move(*outage);
    desk.drafts.clear();
    desk.go(std::make_unique<StepPage>());
}

} // namespace isochore::app
