#include "app/page_parts.h"
#include "app/outage_frame.h"
#include "app/pages.h"
#include "calc/registry.h"
#include "session/outage_parts.h"
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

/// The files that cannot be used, each with what is wrong in it.
std::string faults_text(Words const& words, std::vector<std::string> const& faults)
{
    std::string text;
    for (auto const& fault : faults)
        text += (text.empty() ? "" : "\n") + words.sentence(fault);
    return text;
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
             true,
             false});
    }
}

/// Parts that were added and withdrawn: kept, no longer offered.
void add_withdrawn(Desk& desk, screens::TableView& table, std::string const& search)
{
    bool headed = false;
    for (auto const& [id, revisions] : desk.workspace.own_parts().history.items()) {
        Json const& last = revisions.back();
        if (!session::is_withdrawn(last) ||
            (!search.empty() && lower(last.dump()).find(search) == std::string::npos))
            continue;
        if (!headed)
            table.rows.push_back({"withdrawn", {desk.words("Withdrawn")}, Mark::none, false, false});
        headed = true;
        table.rows.push_back(
            {id,
             {text_member(last, "name"), ends_text(last), text_member(last, "length"),
              text_member(last, "mass"), text_member(last, "cost"), text_member(last, "reason")},
             Mark::not_applicable,
             true,
             false});
    }
}

void add_built_in(Desk& desk, screens::TableView& table, std::string const& search)
{
    auto const answer = calc::run("fitting.parts", Json::object());
    if (!answer)
        return;
    for (auto const& part : member(answer->facts, "parts")) {
        std::string const ends = ends_text(part), name = desk.words.sentence(text_member(part, "name"));
        if (!search.empty() &&
            lower(text_member(part, "name") + "\n" + name + ends).find(search) == std::string::npos)
            continue;
        table.rows.push_back(
            {text_member(part, "id"),
             {name, ends, amount_text(member(part, "length"), Dimension::length, "mm"),
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
        {"by", said("Entered by"), said("a name"), {}},
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
    frame_plain(sheet);
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
    add_withdrawn(desk, table, search);
    table.empty = desk.words("No part yet that was added here.");
    auto const& faults = desk.workspace.own_parts().faults;
    if (!faults.empty())
        table.notice = screens::VerdictView{
            Mark::fail, desk.words("A part's file cannot be used"), faults_text(desk.words, faults), {}};
    table.actions = {{"back", desk.words("Back"), {}, false, true, false},
                     {"new", desk.words("Add a part"), {}, true, true, false}};
    sheet.table = std::move(table);
}

void PartsPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::action && intent.id == "new")
        desk.go(std::make_unique<PartFormPage>());
    else if (intent.kind == Intent::Kind::action)
        go_home(desk);
    else if (intent.kind == Intent::Kind::row)
        desk.go(std::make_unique<PartPage>(intent.id));
    else if (intent.id == "own")
        m_own_only = !m_own_only;
    else if (intent.id == "search")
        type_search(desk, m_search);
}

PartFormPage::PartFormPage(Json const& part)
{
    if (!part.is_object())
        return;
    m_id = text_member(part, "id");
    m_group = text_member(part, "group");
    if (std::string const kind = text_member(part, "kind"); !kind.empty())
        m_kind = kind;
    for (auto const& field : session::part_fields(m_group))
        m_typed[field] = text_member(part, field.c_str());
    Json const ends = member(part, "ends");
    for (std::size_t i = 0; ends.is_array() && i < ends.size() && i < 2; ++i)
        m_typed[i == 0 ? "end1" : "end2"] = ends[i].is_string() ? ends[i].get<std::string>() : "";
}

std::vector<std::string> PartFormPage::fields() const
{
    auto all = session::part_fields(m_group);
    all.emplace_back("by");
    return all;
}

Json PartFormPage::part() const
{
    Json part{{"group", m_group}};
    if (!m_id.empty())
        part["id"] = m_id;
    for (auto const& field : session::part_fields(m_group))
        if (auto const it = m_typed.find(field);
            it != m_typed.end() && !it->second.empty() && field != "end1" && field != "end2")
            part[field] = it->second;
    if (m_group == "fitting") {
        part["kind"] = m_kind;
        part["ends"] = Json::array();
        for (char const* end : {"end1", "end2"})
            if (auto const it = m_typed.find(end); it != m_typed.end() && !it->second.empty())
                part["ends"].push_back(it->second);
    }
    return part;
}

void PartFormPage::view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace)
{
    frame_plain(sheet);
    screens::FormView form;
    bool const change = !m_id.empty();
    form.heading = change ? desk.words("Change a part") : desk.words("Add a part");
    form.text = change
                    ? desk.words("The earlier revision stays to be seen. An outage that took the part keeps "
                                 "it as it took it.")
                    : desk.words("Amounts with their unit. The source says how far the figures can be "
                                 "trusted.");
    if (!change) {
        form.answers_label = desk.words("What it is");
        form.answers = {{"fitting", desk.words("Fitting"), m_group == "fitting"},
                        {"wire", desk.words("Wire"), m_group == "wire"},
                        {"spare", desk.words("Spare or tool"), m_group == "spare"}};
    }
    if (desk.outage && m_typed["by"].empty())
        m_typed["by"] = desk.outage->who();
    Json const now = part();
    auto const faults = session::check_own_part(now, desk.workspace.own_parts().parts);
    for (auto const& id : fields()) {
        FieldText const& text = field_text(id);
        auto const it = m_typed.find(id);
        screens::FieldView field{id,
                                 desk.words(text.label),
                                 it == m_typed.end()  ? ""
                                 : id == "confidence" ? desk.words.sentence(it->second)
                                                      : it->second,
                                 {},
                                 false,
                                 desk.words(text.hint),
                                 {}};
        bool const empty = field.typed.empty();
        for (auto const& fault : faults)
            if (fault.field == id && field.problem.empty() && (m_tried || !empty))
                field.problem = desk.words.sentence(fault.detail);
        form.fields.push_back(std::move(field));
    }
    if (m_tried && !faults.empty())
        form.verdict = screens::VerdictView{
            Mark::undecided,
            desk.words("Not yet"),
            desk.words("{} fields are not as they must be; each says why.", {std::to_string(faults.size())}),
            {}};
    form.actions = {
        {"back", desk.words("Back"), {}, false, true, false},
        {"add", change ? desk.words("Keep the change") : desk.words("Add"), {}, true, true, false}};
    sheet.form = std::move(form);
}

void PartFormPage::act(Desk& desk, Intent const& intent)
{
    if (intent.kind == Intent::Kind::answer)
        m_group = intent.id;
    else if (intent.kind == Intent::Kind::field)
        type(desk, intent.id);
    else if (intent.kind == Intent::Kind::action && intent.id == "back")
        leave(desk);
    else if (intent.kind == Intent::Kind::action && intent.id == "add")
        keep(desk);
}

void PartFormPage::type(Desk& desk, std::string const& field)
{
    FieldText const& text = field_text(field);
    EntryRequest r;
    r.label = desk.words(text.label);
    r.context = desk.words(text.hint);
    r.text = true;
    r.typed = m_typed[field];
    r.suggestions = text.suggestions;
    r.judge = [this, &desk, field](std::string const& whole) {
        Json tried = part();
        if (field == "end1" || field == "end2")
            tried["ends"] = field == "end1" ? Json::array({whole}) : Json::array({"G 1/2 male", whole});
        else
            tried[field] = whole;
        std::string const fault =
            whole.empty() || field == "by" ? std::string() : session::fault_of_field(tried, field);
        return EntryJudgement{{}, desk.words.sentence(fault), {}};
    };
    r.done = [this, field](std::string const& typed, std::string const&) { m_typed[field] = typed; };
    desk.entry.open(std::move(r));
}

void PartFormPage::leave(Desk& desk)
{
    if (m_id.empty())
        desk.go(std::make_unique<PartsPage>());
    else
        desk.go(std::make_unique<PartPage>(m_id));
}

void PartFormPage::keep(Desk& desk)
{
    m_tried = true;
    if (!session::check_own_part(part(), desk.workspace.own_parts().parts).empty())
        return;
    auto const kept = m_id.empty() ? desk.workspace.add_part(part(), m_typed["by"])
                                   : desk.workspace.revise_part(m_id, part(), m_typed["by"]);
    if (!kept)
        return desk.report(kept.error());
    refresh_parts(desk);
    leave(desk);
}

std::string part_label(Words const& words, std::string_view field)
{
    return field == "ends" ? words("Ends") : words(field_text(field).label);
}

void refresh_parts(Desk& desk)
{
    if (desk.outage)
        desk.outage->set_parts(session::parts_in(*desk.outage, desk.workspace.own_parts().parts));
}

} // namespace isochore::app
