#include "app/outage_frame.h"
#include "app/pages.h"
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

void LibraryPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(desk, sheet);
    screens::ListView list;
    if (m_profile.empty()) {
        list.heading = desk.words("Profiles");
        list.text = desk.words("One breaker model each. Every limit says where it comes from.");
        list.searchable = true;
        list.search = m_search;
        list.empty = desk.words("No profile found.");
        for (auto const& p : desk.workspace.library()) {
            if (!m_search.empty() && (p.profile.title + p.profile.id).find(m_search) == std::string::npos)
                continue;
            list.rows.push_back({p.profile.id, p.profile.title.empty() ? p.profile.id : p.profile.title,
                                 p.report.ok() ? fmt::format("{}, {}", p.profile.text("breaker.mechanism"),
                                                             p.profile.text("rating.voltage"))
                                               : session::all_faults(p.report).substr(0, 200),
                                 p.profile.status, p.report.ok() ? Mark::pass : Mark::fail, true});
        }
    } else if (auto const* p = desk.workspace.find_profile(m_profile)) {
        list.heading = p->profile.title;
        list.text = desk.words("Revision {}, {}, {}",
                               {std::to_string(p->profile.revision), p->profile.author, p->profile.date});
        if (p->profile.invented)
            list.text += ". " + desk.words("An invented model, for practice only.");
        for (auto const& e : p->report.errors)
            list.rows.push_back({e.where, e.where, e.detail, desk.words("fault"), Mark::fail, false});
        for (auto const& field : model::profile_fields())
            if (auto const* value = p->profile.find(field.path))
                list.rows.push_back({std::string(field.path), std::string(field.label) + ": " + value->value,
                                     value->source,
                                     value->confirmed ? desk.words("confirmed") : desk.words("unconfirmed"),
                                     value->confirmed ? Mark::pass : Mark::undecided, false});
    }
    list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void LibraryPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row && m_profile.empty())
        m_profile = intent.id;
    else if (intent.kind == Intent::Kind::field)
        type_search(desk, m_search);
    else if (intent.kind == Intent::Kind::action) {
        if (m_profile.empty())
            desk.go(std::make_unique<JobsPage>());
        m_profile.clear();
    }
}

} // namespace isochore::app
