#include "app/page_parts.h"
#include "app/outage_frame.h"
#include "app/pages.h"
#include "calc/registry.h"
#include "session/own_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cctype>
#include <fmt/format.h>

namespace isochore::app {

using screens::Intent;
using screens::Mark;

namespace {

std::string lower(std::string text)
{
    for (char& c : text)
        c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

std::string ends_text(Json const& part)
{
    std::string text;
    Json const ends = member(part, "ends");
    if (ends.is_array())
        for (auto const& end : ends)
            if (end.is_string())
                text += (text.empty() ? "" : " – ") + end.get<std::string>();
    return text;
}

std::string amount_text(Json const& figure, Dimension dimension, char const* unit)
{
    if (!figure.is_object() || !figure.contains("value"))
        return {};
    double const si = number_member(figure, "value");
    return si > 0.0 ? show_amount(si, *find_unit(unit, dimension), 3) : std::string();
}

std::string source_of(Words const& words, Json const& part)
{
    return text_member(part, "source") + ", " +
           (text_member(part, "confidence") == "confirmed" ? words("confirmed") : words("unconfirmed"));
}

/// What a part of the store is counted from, for the column of the ends.
std::string counted_from(Words const& words, Json const& part)
{
    if (text_member(part, "group") == "wire")
        return words("by the metre");
    return words("{} for each {}", {text_member(part, "each"), text_member(part, "per")});
}

void add_own(Desk& desk, screens::TableView& table, std::string const& search)
{
    auto const& own = desk.workspace.own_parts();
    for (auto const& part : own.parts) {
        if (!search.empty() && lower(part.dump()).find(search) == std::string::npos)
            continue;
        bool const fitting = text_member(part, "group") == "fitting";
        table.rows.push_back(
            {text_member(part, "id"),
             {text_member(part, "name"), fitting ? ends_text(part) : counted_from(desk.words, part),
              text_member(part, "length"), text_member(part, "mass"), text_member(part, "cost"),
              source_of(desk.words, part)},
             Mark::none,
             false,
             false});
    }
}

void add_built_in(Desk& desk, screens::TableView& table, std::string const& search)
{
    auto const answer = calc::run("fitting.parts", Json::object());
    if (!answer)
        return;
    for (auto const& part : member(answer->facts, "parts")) {
        std::string const ends = ends_text(part);
        if (!search.empty() && lower(text_member(part, "name") + ends).find(search) == std::string::npos)
            continue;
        table.rows.push_back(
            {text_member(part, "id"),
             {text_member(part, "name"), ends, amount_text(member(part, "length"), Dimension::length, "mm"),
              amount_text(member(part, "mass"), Dimension::mass, "g"),
              fmt::format("{:g}", number_member(part, "cost")), desk.words("built in, planning values")},
             Mark::none,
             false,
             false});
    }
}

/// One field of the form: its label, an example, and what is offered for it.
struct FieldText {
    char const* id;
    char const* label;
    char const* hint;
    std::vector<std::string> suggestions;
};

std::vector<FieldText> const& field_texts()
{
    static std::vector<FieldText> const texts{
        {"name", said("Name"), said("as in the catalogue"), {}},
        {"end1",
         said("First end"),
         said("thread, size, gender: G 1/2 male"),
         {"G 1/2 male", "G 3/8 male", "NPT 1/2 male", "M20x1.5 male"}},
        {"end2",
         said("Second end"),
         said("empty for a plug or a sensor"),
         {"G 3/8 female", "G 1/2 female", "tube 10 mm female", "UN 9/16-18 female boss"}},
        {"length", said("Length"), said("what it adds to the run: 32 mm"), {}},
        {"bore", said("Bore"), said("8 mm; or the volume instead"), {}},
        {"volume", said("Inner volume"), said("1.6 ml; or the bore instead"), {}},
        {"mass", said("Mass"), said("95 g"), {}},
        {"cost", said("Cost"), said("of one, a number"), {}},
        {"max_pressure", said("Pressure it stands"), said("above air: 40 bar"), {}},
        {"per",
         said("Counted from"),
         said("job, person, joint, circuit, input or fastener"),
         {"job", "person", "joint", "circuit"}},
        {"each", said("How many of it"), said("for one of those"), {"1", "2"}},
        {"source", said("Source of the figures"), said("catalogue, drawing, measured"), {}},
        {"confidence", said("Confidence"), said("confirmed or unconfirmed"), {"confirmed", "unconfirmed"}},
    };
    return texts;
}

FieldText const& field_text(std::string_view id)
{
    auto const& texts = field_texts();
    auto const it = std::find_if(texts.begin(), texts.end(), [&](FieldText const& t) { return t.id == id; });
    return it == texts.end() ? texts.front() : *it;
}

} // namespace

void PartsPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(desk, sheet);
    screens::TableView table;
    table.heading = desk.words("Parts");
    table.text =
        desk.words("What fitting chains and kit lists are made of. Added parts can be used at once.");
    table.filters = {{"own", desk.words("Show"),
                      m_own_only ? desk.words("added here") : desk.words("all parts"), m_own_only},
                     {"search", desk.words("Search"), m_search, !m_search.empty()}};
    table.columns = {{desk.words("Part"), 2.4, false},  {desk.words("Ends"), 2.4, false},
                     {desk.words("Length"), 0.9, true}, {desk.words("Mass"), 0.8, true},
                     {desk.words("Cost"), 0.7, true},   {desk.words("Source"), 2.0, false}};
    std::string const search = lower(m_search);
    if (!desk.workspace.own_parts().parts.empty())
        table.rows.push_back({"added", {desk.words("Added here")}, Mark::none, false, false});
    add_own(desk, table, search);
    if (!m_own_only) {
        table.rows.push_back({"built-in", {desk.words("Built in")}, Mark::none, false, false});
        add_built_in(desk, table, search);
    }
    table.empty = desk.words("No part yet that was added here.");
    auto const& faults = desk.workspace.own_parts().faults;
    if (!faults.empty())
        table.notice = screens::VerdictView{Mark::fail,
                                            desk.words("A part's file cannot be used"),
                                            fmt::format("{}", fmt::join(faults, "\n")),
                                            {}};
    table.actions = {{"back", desk.words("Back"), {}, false, true, false},
                     {"new", desk.words("Add a part"), {}, true, true, false}};
    sheet.table = std::move(table);
}

void PartsPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::action && intent.id == "new")
        desk.go(std::make_unique<NewPartPage>());
    else if (intent.kind == Intent::Kind::action)
        go_home(desk);
    else if (intent.id == "own")
        m_own_only = !m_own_only;
    else if (intent.id == "search")
        type_search(desk, m_search);
}

Json NewPartPage::part() const
{
    Json part{{"group", m_group}};
    for (auto const& field : session::part_fields(m_group))
        if (auto const it = m_typed.find(field);
            it != m_typed.end() && !it->second.empty() && field != "end1" && field != "end2")
            part[field] = it->second;
    if (m_group == "fitting") {
        part["kind"] = "adapter";
        part["ends"] = Json::array();
        for (char const* end : {"end1", "end2"})
            if (auto const it = m_typed.find(end); it != m_typed.end() && !it->second.empty())
                part["ends"].push_back(it->second);
    }
    return part;
}

void NewPartPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(desk, sheet);
    screens::FormView form;
    form.heading = desk.words("Add a part");
    form.text = desk.words("Amounts with their unit. The source says how far the figures can be trusted.");
    form.answers_label = desk.words("What it is");
    form.answers = {{"fitting", desk.words("Fitting"), m_group == "fitting"},
                    {"wire", desk.words("Wire"), m_group == "wire"},
                    {"spare", desk.words("Spare or tool"), m_group == "spare"}};
    Json const now = part();
    auto const faults = session::check_own_part(now, desk.workspace.own_parts().parts);
    for (auto const& id : session::part_fields(m_group)) {
        FieldText const& text = field_text(id);
        auto const it = m_typed.find(id);
        screens::FieldView field{id,
                                 desk.words(text.label),
                                 it == m_typed.end() ? "" : it->second,
                                 {},
                                 false,
                                 desk.words(text.hint),
                                 {}};
        bool const empty = field.typed.empty();
        for (auto const& fault : faults)
            if (fault.field == id && field.problem.empty() && (m_tried || !empty))
                field.problem = fault.detail;
        form.fields.push_back(std::move(field));
    }
    if (m_tried && !faults.empty())
        form.verdict = screens::VerdictView{
            Mark::undecided,
            desk.words("Not yet"),
            desk.words("{} fields are not as they must be; each says why.", {std::to_string(faults.size())}),
            {}};
    form.actions = {{"back", desk.words("Back"), {}, false, true, false},
                    {"add", desk.words("Add"), {}, true, true, false}};
    sheet.form = std::move(form);
}

void NewPartPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::answer)
        m_group = intent.id;
    else if (intent.kind == Intent::Kind::field)
        type(desk, intent.id);
    else if (intent.kind == Intent::Kind::action && intent.id == "back")
        desk.go(std::make_unique<PartsPage>());
    else if (intent.kind == Intent::Kind::action && intent.id == "add")
        add(desk);
}

void NewPartPage::type(Desk& desk, std::string const& field)
{
    FieldText const& text = field_text(field);
    EntryRequest r;
    r.label = desk.words(text.label);
    r.context = desk.words(text.hint);
    r.text = true;
    r.typed = m_typed[field];
    r.suggestions = text.suggestions;
    r.judge = [this, field](std::string const& whole) {
        Json tried = part();
        if (field == "end1" || field == "end2")
            tried["ends"] = field == "end1" ? Json::array({whole}) : Json::array({"G 1/2 male", whole});
        else
            tried[field] = whole;
        return EntryJudgement{{}, whole.empty() ? "" : session::fault_of_field(tried, field), {}};
    };
    r.done = [this, field](std::string const& typed, std::string const&) { m_typed[field] = typed; };
    desk.entry.open(std::move(r));
}

void NewPartPage::add(Desk& desk)
{
    m_tried = true;
    if (!session::check_own_part(part(), desk.workspace.own_parts().parts).empty())
        return;
    if (auto const added = desk.workspace.add_part(part()); !added) {
        desk.report(added.error());
        return;
    }
    if (desk.outage)
        desk.outage->set_parts(desk.workspace.own_parts().parts);
    desk.go(std::make_unique<PartsPage>());
}

} // namespace isochore::app
