#include "app/outage_frame.h"
#include "app/page_profile.h"
#include "app/pages.h"
#include "app/profile_entry.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;
using FieldKind = model::ProfileField::Kind;

namespace {

std::vector<std::string> faults_about(std::vector<Error> const& faults, std::string_view path)
{
    std::vector<std::string> texts;
    for (auto const& fault : faults)
        if (session::fault_path(fault) == path)
            texts.push_back(fault.detail);
    return texts;
}

std::string joined(Desk& desk, std::vector<std::string> const& texts)
{
    std::string all;
    for (auto const& text : texts)
        all += (all.empty() ? "" : "\n") + desk.words.sentence(text);
    return all;
}

/// The groups of values in their order.
std::vector<std::string_view> groups()
{
    std::vector<std::string_view> list;
    for (auto const& field : model::profile_fields())
        if (list.empty() || list.back() != field.group)
            list.push_back(field.group);
    return list;
}

struct Count {
    int needed = 0, there = 0, broken = 0;
};

Count count(model::Profile const& profile, std::vector<Error> const& faults)
{
    Count c;
    for (auto const& field : model::profile_fields()) {
        bool const there = profile.find(field.path) != nullptr;
        c.needed += field.required;
        c.there += field.required && there;
        c.broken += there && !faults_about(faults, field.path).empty();
    }
    return c;
}

/// The names of the values that break a rule: where to look.
std::string broken_ones(Desk& desk, model::Profile const& profile, std::vector<Error> const& faults)
{
    std::string names;
    for (auto const& field : model::profile_fields())
        if (profile.find(field.path) && !faults_about(faults, field.path).empty())
            names += (names.empty() ? "" : "; ") + desk.words(field.label); // some labels have a comma
    return names;
}

screens::VerdictView standing(Desk& desk, model::Profile const& profile, std::vector<Error> const& faults)
{
    auto const c = count(profile, faults);
    std::string const text =
        desk.words("{} of {} needed values are there.", {std::to_string(c.there), std::to_string(c.needed)});
    if (faults.empty())
        return {Mark::pass, desk.words("Complete, and no rule is broken"), text, {}};
    if (c.broken == 0)
        return {Mark::undecided, desk.words("Still open: {}", {std::to_string(faults.size())}), text, {}};
    return {Mark::fail, desk.words("Values that break a rule: {}", {std::to_string(c.broken)}),
            broken_ones(desk, profile, faults), text};
}

} // namespace

void ProfileEditPage::load_help(Desk& desk)
{
    if (std::exchange(m_help_read, true))
        return;
    if (auto help = session::nameplate_help(desk.workspace))
        m_help = std::move(*help);
    else
        desk.report(help.error());
}

void ProfileEditPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    load_help(desk);
    frame_plain(sheet);
    if (m_choosing_group) {
        screens::ListView list;
        list.heading = desk.words("Which group?");
        list.rows.push_back({"any", desk.words("all"), {}, {}, Mark::none, true});
        for (auto const group : groups())
            list.rows.push_back({"group." + std::string(group), desk.words(group), {}, {}, Mark::none, true});
        list.actions = {{"back", desk.words("Back"), {}, true, true, false}};
        sheet.list = std::move(list);
    } else if (m_path.empty()) {
        sheet.table = table(desk);
    } else {
        sheet.form = value_form(desk);
    }
}

screens::TableView ProfileEditPage::table(Desk& desk)
{
    auto const& p = m_draft.profile;
    auto const faults = files::check_profile(p, p.id).errors;
    screens::TableView t;
    t.heading = p.title.empty() ? p.text("breaker.model", desk.words("A new profile")) : p.title;
    t.text = desk.words("Revision {} by {}. What is entered is kept at once.",
                        {std::to_string(p.revision), p.author});
    t.filters = {
        {"open", desk.words("Show"), m_open_only ? desk.words("open ones") : desk.words("all"), m_open_only},
        {"group", desk.words("Group"), m_group.empty() ? desk.words("all") : desk.words(m_group),
         !m_group.empty()}};
    t.columns = {{desk.words("Value"), 1.3, false},
                 {desk.words("As written"), 0.9, false},
                 {desk.words("Source and confidence"), 1.3, false},
                 {desk.words("Open"), 1.9, false}};
    t.empty = desk.words("Nothing is open here.");
    if (m_group.empty() && !m_open_only) {
        t.rows.push_back({"head", {desk.words("Head")}, Mark::none});
        t.rows.push_back({"head.id",
                          {desk.words("Name in the library"),
                           p.id,
                           {},
                           p.id.empty() ? desk.words("needed") : std::string()},
                          p.id.empty() ? Mark::open : Mark::none,
                          p.parent == 0});
        t.rows.push_back(
            {"head.title",
             {desk.words("Title"), p.title, {}, p.title.empty() ? desk.words("needed") : std::string()},
             p.title.empty() ? Mark::open : Mark::none,
             true});
        t.rows.push_back({"head.invented",
                          {desk.words("Invented, for practice"),
                           p.invented ? desk.words("yes") : desk.words("no"),
                           {},
                           {}},
                          Mark::none,
                          true});
    }
    std::string_view group;
    for (auto const& field : model::profile_fields()) {
        if (!m_group.empty() && field.group != m_group)
            continue;
        auto const* value = p.find(field.path);
        auto const wrong = faults_about(faults, field.path);
        if (m_open_only && wrong.empty())
            continue;
        if (field.group != group) {
            group = field.group;
            t.rows.push_back({"group." + std::string(group), {desk.words(group)}, Mark::none});
        }
        std::string backing;
        if (value)
            backing = value->source + ", " +
                      (value->confirmed ? desk.words("confirmed") : desk.words("unconfirmed"));
        bool const missing = !value && field.required;
        t.rows.push_back(
            {std::string(field.path),
             {desk.words(field.label), value ? value_text(desk, field, value->value) : std::string("–"),
              backing, missing ? desk.words("needed") : joined(desk, wrong)},
             missing         ? Mark::open
             : wrong.empty() ? Mark::none
                             : Mark::fail,
             true});
    }
    t.notice = standing(desk, p, faults);
    t.actions = {{"back", desk.words("Back"), desk.words("it is kept"), false, true, false},
                 {"drop", desk.words("Throw away"), desk.words("hold"), false, true, true},
                 {"complete", desk.words("Add what standards say"), {}, false, true, false},
                 {"store", desk.words("Into the library"), desk.words("as a draft"), true, true, false}};
    return t;
}

screens::FormView ProfileEditPage::value_form(Desk& desk)
{
    auto const& field = *model::profile_field(m_path);
    auto const& p = m_draft.profile;
    auto const* value = p.find(m_path);
    screens::FormView form;
    form.heading = desk.words(field.label);
    form.text = desk.words(field.group) + ". " +
                (field.limit      ? desk.words("It decides a pass or a fail, so its source counts.")
                 : field.required ? desk.words("It is needed.")
                                  : desk.words("It may be left out."));
    auto const* suggested = m_help.find(m_path);
    auto const add_answer = [&](std::string const& choice) {
        form.answers.push_back(
            {"pick." + choice, value_text(desk, field, choice), value && value->value == choice});
    };
    if (field.kind == FieldKind::choice)
        for (auto const choice : field.choices)
            add_answer(std::string(choice));
    else if (suggested)
        for (auto const& choice : suggested->values)
            add_answer(choice);
    if (!form.answers.empty())
        form.answers_label =
            field.kind == FieldKind::choice ? desk.words("One of these") : desk.words("Usual values");
    if (field.kind != FieldKind::choice)
        form.fields.push_back({"value",
                               desk.words("As written on the nameplate"),
                               value ? value->value : std::string(),
                               {},
                               false,
                               value_echo(p, field),
                               {}});
    if (value) {
        form.fields.push_back({"source", desk.words("Source"), value->source, {}, false, {}, {}});
        form.fields.push_back({"confidence",
                               desk.words("Confidence"),
                               value->confirmed ? desk.words("confirmed") : desk.words("unconfirmed"),
                               {},
                               false,
                               desk.words("tap to change"),
                               {}});
    }
    auto const wrong =
        value ? faults_about(files::check_profile(p, p.id).errors, m_path) : std::vector<std::string>{};
    if (!wrong.empty())
        form.verdict =
            screens::VerdictView{Mark::fail, desk.words("This breaks a rule"), joined(desk, wrong), {}};
    form.actions = {{"all", desk.words("All values"), {}, false, true, false},
                    {"remove", desk.words("Leave it out"), {}, false, value != nullptr, false},
                    {"next", desk.words("Next value"), {}, true, true, false}};
    return form;
}

void ProfileEditPage::act(Desk& desk, Intent const& intent)
{
    if (m_choosing_group) {
        if (intent.kind == Intent::Kind::row)
            m_group = intent.id.starts_with("group.") ? intent.id.substr(6) : std::string();
        if (intent.kind == Intent::Kind::row || intent.kind == Intent::Kind::action)
            m_choosing_group = false;
    } else if (m_path.empty()) {
        act_table(desk, intent);
    } else {
        act_value(desk, intent);
    }
}

void ProfileEditPage::act_table(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::filter && intent.id == "open")
        m_open_only = !m_open_only;
    else if (intent.kind == Intent::Kind::filter)
        m_choosing_group = true;
    else if (intent.kind == Intent::Kind::row)
        open_row(desk, intent.id);
    else if (intent.kind != Intent::Kind::action)
        return;
    else if (intent.id == "store")
        store(desk);
    else if (intent.id == "complete") {
        m_draft.profile = files::complete_profile(std::move(m_draft.profile), m_help);
        keep(desk);
    } else if (intent.id == "drop") {
        if (auto const dropped = session::drop_draft(desk.workspace, m_draft.name); !dropped)
            desk.report(dropped.error());
        else
            desk.go(std::make_unique<LibraryPage>());
    } else
        desk.go(std::make_unique<LibraryPage>());
}

void ProfileEditPage::open_row(Desk& desk, std::string const& row)
{
    if (row == "head.id")
        type_head(desk, false);
    else if (row == "head.title")
        type_head(desk, true);
    else if (row == "head.invented") {
        m_draft.profile.invented = !m_draft.profile.invented;
        keep(desk);
    } else if (model::profile_field(row))
        m_path = row;
}

void ProfileEditPage::act_value(Desk& desk, Intent const& intent)
{
    auto& values = m_draft.profile.values;
    if (intent.kind == Intent::Kind::answer && intent.id.starts_with("pick."))
        set_value(desk, intent.id.substr(5));
    else if (intent.kind == Intent::Kind::field && intent.id == "value")
        type_value(desk);
    else if (intent.kind == Intent::Kind::field && intent.id == "source")
        type_source(desk);
    else if (intent.kind == Intent::Kind::field && intent.id == "confidence") {
        if (auto const it = values.find(m_path); it != values.end()) {
            it->second.confirmed = !it->second.confirmed;
            keep(desk);
        }
    } else if (intent.kind == Intent::Kind::action && intent.id == "all")
        m_path.clear();
    else if (intent.kind == Intent::Kind::action && intent.id == "next")
        next_value();
    else if (intent.kind == Intent::Kind::action && intent.id == "remove") {
        if (auto const it = values.find(m_path); it != values.end())
            values.erase(it);
        keep(desk);
    } else if (intent.kind == Intent::Kind::key && intent.text.size() == 1) {
        // Typing on a real keyboard opens the field it belongs to.
        if (model::profile_field(m_path)->kind != FieldKind::choice) {
            type_value(desk);
            desk.entry.act(intent);
        }
    }
}

void ProfileEditPage::next_value()
{
    auto const fields = model::profile_fields();
    auto const at =
        std::find_if(fields.begin(), fields.end(), [&](auto const& f) { return f.path == m_path; });
    m_path = at == fields.end() || at + 1 == fields.end() ? std::string() : std::string((at + 1)->path);
}

void ProfileEditPage::set_value(Desk& desk, std::string const& value)
{
    auto& v = m_draft.profile.values[m_path];
    if (v.value != value)
        v.confirmed = false; // another value is another claim
    v.value = value;
    if (v.source.empty())
        v.source = "nameplate";
    auto& p = m_draft.profile;
    if (m_path == "breaker.model") {
        if (p.parent == 0 && p.id.empty())
            p.id = session::id_from_model(value);
        if (p.title.empty())
            p.title = value;
    }
    keep(desk);
}

void ProfileEditPage::keep(Desk& desk)
{
    if (auto const kept = session::keep_draft(desk.workspace, m_draft); !kept)
        desk.report(kept.error());
}

void ProfileEditPage::type_value(Desk& desk)
{
    auto r = value_request(desk, *model::profile_field(m_path), m_draft.profile);
    r.done = [this, &desk](std::string const& typed, std::string const& unit) {
        set_value(desk, unit.empty() ? typed : typed + " " + unit);
    };
    desk.entry.open(std::move(r));
}

void ProfileEditPage::type_source(Desk& desk)
{
    EntryRequest r;
    r.label = desk.words("Source");
    auto const& field = *model::profile_field(m_path);
    r.context = desk.words(field.label);
    r.text = true;
    r.typed = m_draft.profile.find(m_path) ? m_draft.profile.find(m_path)->source : std::string();
    r.suggestions.push_back("nameplate");
    for (auto const& [path, value] : m_draft.profile.values)
        if (r.suggestions.size() < 4 && !value.source.empty() &&
            std::find(r.suggestions.begin(), r.suggestions.end(), value.source) == r.suggestions.end())
            r.suggestions.push_back(value.source);
    r.done = [this, &desk](std::string const& typed, std::string const&) {
        m_draft.profile.values[m_path].source = typed;
        keep(desk);
    };
    desk.entry.open(std::move(r));
}

void ProfileEditPage::type_head(Desk& desk, bool title)
{
    EntryRequest r;
    r.label = title ? desk.words("Title") : desk.words("Name in the library");
    r.text = true;
    auto const& p = m_draft.profile;
    r.typed = title ? p.title : p.id;
    if (title) {
        r.suggestions.push_back(p.text("breaker.model", p.id) + ", " + in_short(p, desk.words));
    } else {
        r.suggestions.push_back(session::id_from_model(p.text("breaker.model")));
        r.judge = [&desk](std::string const& whole) {
            bool const fit = session::id_from_model(whole) == whole;
            return EntryJudgement{
                {}, fit ? std::string() : desk.words("Small letters, digits and single dashes only."), {}};
        };
    }
    r.done = [this, &desk, title](std::string const& typed, std::string const&) {
        (title ? m_draft.profile.title : m_draft.profile.id) = typed;
        keep(desk);
    };
    desk.entry.open(std::move(r));
}

void ProfileEditPage::store(Desk& desk)
{
    auto const stored = session::store_draft(desk.workspace, m_draft);
    if (!stored)
        desk.report(stored.error());
    else
        desk.go(std::make_unique<ProfilePage>(m_draft.profile.id, m_draft.profile.revision));
}

} // namespace isochore::app
