#include "session/gas_files.h"
#include "disk/whole_file.h"
#include "quantity/amount.h"
#include "report/csv.h"
#include "report/job_pack_pdf.h"
#include <fmt/format.h>

namespace isochore::session {

using language::said;
using language::Words;

namespace {

double in_pounds(double kg)
{
    return find_unit("lb", Dimension::mass)->from_si(kg);
}

std::string three(double value)
{
    return show_fixed(value, 3);
}

std::string label_of(GasMovement const& m)
{
    MovementKind const* kind = movement_kind(m.kind);
    return kind ? std::string(kind->label) : m.kind;
}

/// The state in words; the CSV has it in English.
std::string state_in_words(GasMovement const& m, Words const& words)
{
    if (!m.withdrawn.empty())
        return words("withdrawn: {}", {m.withdrawn});
    if (!m.superseded_by.empty())
        return words("corrected by entry {}", {m.superseded_by});
    return m.reopened ? words("an input was corrected in the outage") : words("in force");
}

report::RecordTable place_table(GasBook const& book, PlaceKind kind, char const* title, Words const& words)
{
    report::RecordTable table;
    table.title = words(title);
    bool const breakers = kind == PlaceKind::breaker;
    table.heads = {
        words("Name"), words("in, kg"), words("out, kg"), breakers ? words("net, kg") : words("holds, kg"),
        "lb",          "t CO2e"};
    table.right = {false, true, true, true, true, true};
    double sum = 0.0;
    for (auto const& p : balances(book)) {
        if (p.kind != kind)
            continue;
        std::string name = p.place;
        if (p.nameplate_kg != 0.0)
            name += words(", nameplate {} kg", {three(p.nameplate_kg)});
        if (!p.problem.empty())
            name += ". " + words.sentence(p.problem);
        table.rows.push_back({name, three(p.in_kg), three(p.out_kg), three(p.holds_kg),
                              three(in_pounds(p.holds_kg)), three(p.holds_kg * book.gwp.value / 1e3)});
        sum += p.holds_kg;
    }
    table.closing = words("Together {} kg, {} lb, {} t CO2e",
                          {three(sum), three(in_pounds(sum)), three(sum * book.gwp.value / 1e3)});
    return table;
}

report::RecordTable year_table(YearBalance const& year, Words const& words)
{
    report::RecordTable table;
    table.title = words("User emissions {} by 40 CFR 98 subpart DD", {std::to_string(year.year)});
    table.heads = {words("Term"), "kg", "lb"};
    table.right = {false, true, true};
    auto const row = [&](std::string label, double kg) {
        table.rows.push_back({std::move(label), three(kg), three(in_pounds(kg))});
    };
    for (auto const& group : balance_groups()) {
        for (auto const& term : group.terms)
            for (auto const& [name, kg] : year.terms)
                if (name == term.id)
                    row(fmt::format("    {} {}", term.sign * group.sign > 0 ? "+" : "−", words(term.label)),
                        kg);
        if (auto const* f = year.answer ? year.answer->find(group.figure) : nullptr)
            row(fmt::format("{} {}", group.sign > 0 ? "+" : "−", words(group.label)), f->value);
    }
    if (!year.answer) {
        table.closing = words("Refused: {}.", {words.sentence(year.answer.error().detail)});
    } else if (auto const* total = year.answer->find("user_emissions")) {
        auto const* co2e = year.answer->find("co2e");
        table.closing =
            words("User emissions {} kg, {} lb, {} t CO2e",
                  {three(total->value), three(in_pounds(total->value)), three(co2e ? co2e->value : 0.0)});
    }
    for (auto const& note : year.notes)
        table.closing += (table.closing.ends_with('.') ? " " : ". ") + words.sentence(note);
    return table;
}

/// What the rule asks to be checked of a year, and how it came out.
report::RecordTable check_table(YearBalance const& year, Words const& words)
{
    report::RecordTable table;
    table.title = words("Checks of 40 CFR 98.304(b) for {}", {std::to_string(year.year)});
    table.heads = {words("Outcome"), words("What was checked")};
    table.right = {false, false};
    if (!year.answer) {
        table.rows.push_back({words("not met"), words.sentence(year.answer.error().detail)});
        return table;
    }
    for (auto const& check : year.answer->checks)
        table.rows.push_back({check.verdict == calc::Verdict::pass ? words("met") : words("not compared"),
                              words.sentence(check.text)});
    return table;
}

report::RecordTable movement_table(GasBook const& book, Words const& words)
{
    report::RecordTable table;
    table.title = words("All entries");
    table.heads = {words("Day"), words("What"), words("From"), words("To"), "kg", words("Entry, who, state")};
    table.right = {false, false, false, false, true, false};
    for (auto const& m : book.movements) {
        std::string last = fmt::format("{}, {}", m.entry, m.who);
        if (!m.outage.empty())
            last += ", " + words("outage {}", {m.outage});
        if (!m.in_force() || m.reopened)
            last += ", " + state_in_words(m, words);
        if (!m.note.empty())
            last += ". " + m.note;
        table.rows.push_back(
            {m.day, words(label_of(m)), words.sentence(m.from), words.sentence(m.to),
             m.u_kg ? fmt::format("{} ± {}", three(m.mass_kg), three(2.0 * *m.u_kg)) : three(m.mass_kg),
             last});
    }
    return table;
}

} // namespace

std::vector<TermGroup> const& balance_groups()
{
    static std::vector<TermGroup> const groups = {
        {"Decrease in inventory",
         "decrease_in_inventory",
         1,
         {{"inventory_start", "Stored in containers at the start"},
          {"inventory_end", "Stored in containers at the end", -1}}},
        {"Acquisitions",
         "acquisitions",
         1,
         {{"bought_bulk", "Bought in bulk"},
          {"bought_in_equipment", "Bought inside equipment"},
          {"returned_after_recycling", "Back from recycling"}}},
        {"Disbursements",
         "disbursements",
         -1,
         {{"sold", "Sold"},
          {"sold_in_equipment", "Sold inside equipment"},
          {"returned_to_supplier", "Returned to suppliers"},
          {"sent_for_destruction", "Sent for destruction"},
          {"sent_for_recycling", "Sent for recycling"}}},
        {"Net increase in nameplate",
         "net_nameplate_increase",
         -1,
         {{"new_nameplate", "Nameplate of new equipment"},
          {"retired_nameplate", "Nameplate of retired equipment", -1}}}};
    return groups;
}

Result<std::string> gas_csv(GasBook const& book)
{
    std::vector<std::vector<report::CsvField>> rows;
    rows.push_back({{"entry"},
                    {"day"},
                    {"what"},
                    {"from"},
                    {"to"},
                    {"mass_kg"},
                    {"u_kg"},
                    {"mass_lb"},
                    {"t_co2e"},
                    {"gwp"},
                    {"gwp_source"},
                    {"typed"},
                    {"outage"},
                    {"outage_entry"},
                    {"step"},
                    {"who"},
                    {"at"},
                    {"state"},
                    {"note"}});
    auto const number = [](double value) { return report::CsvField{fmt::format("{:.9g}", value), true}; };
    for (auto const& m : book.movements)
        rows.push_back(
            {{std::to_string(m.entry), true},
             {m.day},
             {label_of(m)},
             {m.from},
             {m.to},
             number(m.mass_kg),
             m.u_kg ? number(*m.u_kg) : report::CsvField{},
             number(in_pounds(m.mass_kg)),
             number(m.mass_kg * book.gwp.value / 1e3),
             number(book.gwp.value),
             {book.gwp.name},
             {m.typed},
             {m.outage},
             m.outage.empty() ? report::CsvField{} : report::CsvField{std::to_string(m.outage_entry), true},
             {m.step},
             {m.who},
             {m.at},
             {state_in_words(m, {})},
             {m.note}});
    return report::csv_text(rows);
}

Result<std::string> gas_pdf(GasBook const& book, YearBalance const& year, std::string const& today,
                            Words const& words)
{
    report::JobPack sheets;
    sheets.translate = words.for_pictures();
    sheets.title = words("Gas ledger");
    sheets.subtitle = words("Every kilogram of gas this tablet knows of, up to {}", {today});
    sheets.created = today + "T00:00:00Z";
    sheets.block.job = words("Gas ledger {}", {std::to_string(year.year)});
    sheets.block.drawing_number = fmt::format("L-{}-{}", year.year, book.entries);
    sheets.block.revision = std::to_string(book.entries);
    sheets.facts = {{"GWP", words("{} kg CO2e a kg", {show_short(book.gwp.value, 6)})},
                    {words("Its source"), words.sentence(book.gwp.source) +
                                              (book.gwp.confirmed ? "" : "; " + words("unconfirmed"))},
                    {words("Entries"), std::to_string(book.entries)},
                    {words("Day"), today}};
    sheets.tables = {place_table(book, PlaceKind::container, said("By container"), words),
                     place_table(book, PlaceKind::breaker, said("By breaker"), words),
                     year_table(year, words), check_table(year, words), movement_table(book, words)};
    sheets.footer =
        words("Gas in hoses and breakers is not stored gas in the sense of the rule. A balance is checked "
              "against the rule in force before it is reported.");
    return report::job_pack_pdf(sheets);
}

Result<GasFiles> write_gas_files(Workspace& workspace, GasBook const& book, int year, Words const& words)
{
    auto const folder = workspace.folders().data / "ledger";
    if (auto made = disk::make_durable_directory(workspace.disk(), folder); !made)
        return tl::unexpected(made.error());
    return write_gas_files(workspace, book, year, folder, words);
}

Result<GasFiles> write_gas_files(Workspace& workspace, GasBook const& book, int year,
                                 disk::Path const& folder, Words const& words)
{
    std::string const today = calendar_day(stamp(workspace.clock().now()));
    auto const csv = gas_csv(book);
    auto const pdf = gas_pdf(book, balance_of_year(book, year, today), today, words);
    if (!csv || !pdf)
        return tl::unexpected(!csv ? csv.error() : pdf.error());
    std::string const name = fmt::format("gas-{}-{}-{:04}", year, today, book.entries);
    GasFiles const files{folder / (name + ".csv"),
                         folder / (name + (words.language() == "en" ? "" : "-" + words.language()) + ".pdf")};
    if (auto kept = disk::keep_whole(workspace.disk(), files.csv, *csv); !kept)
        return tl::unexpected(kept.error());
    if (auto kept = disk::keep_whole(workspace.disk(), files.pdf, *pdf); !kept)
        return tl::unexpected(kept.error());
    return files;
}

} // namespace isochore::session
