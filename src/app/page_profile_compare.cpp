#include "app/outage_frame.h"
#include "app/page_profile.h"
#include "app/pages.h"
#include "model/profile_compare.h"
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using Kind = model::ProfileDifference::Kind;

namespace {

std::string heading_of(Desk& desk, Kind kind)
{
    switch (kind) {
    case Kind::physical:
        return desk.words("Physical differences");
    case Kind::choice:
        return desk.words("Other words, choices and counts");
    case Kind::written:
        return desk.words("The same quantity, written otherwise");
    case Kind::backing:
        return desk.words("Sources and confidence only");
    }
    return {};
}

std::string name_of(Desk& desk, model::Profile const& p)
{
    return p.id + ", " + desk.words("revision {}", {std::to_string(p.revision)});
}

screens::TableView comparison(Desk& desk, files::LibraryEntry const& a, files::LibraryEntry const& b)
{
    screens::TableView table;
    table.heading = desk.words("Compared side by side");
    table.text =
        desk.words("Pressures are compared as densities at 20 °C, so that gauge and absolute, bar and "
                   "psi neither hide nor invent a difference.");
    table.columns = {{desk.words("What"), 1.5, false},
                     {name_of(desk, a.profile), 1.3, false},
                     {name_of(desk, b.profile), 1.3, false},
                     {desk.words("Difference"), 0.7, true}};
    table.empty = desk.words("No difference at all.");
    std::optional<Kind> kind;
    for (auto const& difference : model::compare(a.profile, b.profile)) {
        if (kind != difference.kind) {
            kind = difference.kind;
            table.rows.push_back(
                {model::kind_name(difference.kind), {heading_of(desk, difference.kind)}, Mark::none});
        }
        auto const* field = model::profile_field(difference.path);
        auto const shown = [&](std::string const& value) {
            if (value.empty())
                return desk.words("nothing");
            return field && difference.kind == Kind::choice ? value_text(desk, *field, value) : value;
        };
        table.rows.push_back(
            {fmt::format("{}.{}", model::kind_name(difference.kind), difference.path),
             {desk.words(difference.label), shown(difference.a), shown(difference.b), difference.amount()},
             Mark::none});
    }
    table.actions = {{"back", desk.words("Back"), {}, false, true, false},
                     {"other", desk.words("Compare with another"), {}, true, true, false}};
    return table;
}

} // namespace

void ProfileComparePage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(sheet);
    auto const* a = desk.workspace.find_profile(m_id, m_revision);
    auto const* b = m_other.empty() ? nullptr : desk.workspace.find_profile(m_other, m_other_revision);
    if (a && b) {
        sheet.table = comparison(desk, *a, *b);
        return;
    }
    screens::ListView list;
    list.heading = desk.words("Compare with which?");
    list.text = a ? name_of(desk, a->profile) : m_id;
    m_finder.fill(desk, list, [&](files::LibraryEntry const& entry, media::Trust const& trust) {
        return &entry == a ? std::nullopt : std::optional(library_row(desk, entry, trust));
    });
    list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
    sheet.list = std::move(list);
}

void ProfileComparePage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::row && m_other.empty())
        std::tie(m_other, m_other_revision) = of_row(intent.id);
    else if (intent.kind == Intent::Kind::field)
        m_finder.search(desk);
    else if (intent.kind == Intent::Kind::action && intent.id == "other")
        m_other.clear();
    else if (intent.kind == Intent::Kind::action)
        desk.go(std::make_unique<ProfilePage>(m_home.first, m_home.second));
}

} // namespace isochore::app
