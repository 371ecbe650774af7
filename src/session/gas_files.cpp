#include "session/gas_files.h"
#include "disk/whole_file.h"
#include "quantity/amount.h"
#include "report/csv.h"
#include "report/job_pack_pdf.h"
#include <fmt/format.h>

namespace isochore::session {
namespace {

double in_pounds(double kg)
{
    return find_unit("lb", Dimension::mass)->from_si(kg);
}

std::string three(double value)
{
    return show_fixed(value, 3);
}

std::string state_of(GasMovement const& m)
{
    if (!m.withdrawn.empty())
        return "withdrawn: " + m.withdrawn;
    if (!m.superseded_by.empty())
        return "corrected by entry " + m.superseded_by;
    return m.reopened ? "an input was corrected in the outage" : "in force";
}

std::string label_of(GasMovement const& m)
{
    MovementKind const* kind = movement_kind(m.kind);
    return kind ? std::string(kind->label) : m.kind;
}

report::RecordTable place_table(GasBook const& book, PlaceKind kind, char const* title)
{
    report::RecordTable table;
    table.title = title;
    bool const breakers = kind == PlaceKind::breaker;
    table.heads = {"Name", "in, kg", "out, kg", breakers ? "net, kg" : "holds, kg", "lb", "t CO2e"};
    table.right = {false, true, true, true, true, true};
    double sum = 0.0;
    for (auto const& p : balances(book)) {
        if (p.kind != kind)
            continue;
        std::string name = p.place;
        if (p.nameplate_kg != 0.0)
            name += fmt::format(", nameplate {} kg", three(p.nameplate_kg));
        if (!p.problem.empty())
            name += ". " + p.problem;
        table.rows.push_back({name, three(p.in_kg), three(p.out_kg), three(p.holds_kg),
                              three(in_pounds(p.holds_kg)), three(p.holds_kg * book.gwp.value / 1e3)});
        sum += p.holds_kg;
    }
    table.closing = fmt::format("Together {} kg, {} lb, {} t CO2e", three(sum), three(in_pounds(sum)),
                                three(sum * book.gwp.value / 1e3));
    return table;
}

report::RecordTable year_table(YearBalance const& year)
{
    report::RecordTable table;
    table.title = fmt::format("User emissions {} by 40 CFR 98 subpart DD", year.year);
    table.heads = {"Term", "kg", "lb"};
    table.right = {false, true, true};
    auto const row = [&](std::string label, double kg) {
        table.rows.push_back({std::move(label), three(kg), three(in_pounds(kg))});
    };
    for (auto const& group : balance_groups()) {
        for (auto const& term : group.terms)
            for (auto const& [name, kg] : year.terms)
                if (name == term.id)
                    row(fmt::format("    {} {}", term.sign * group.sign > 0 ? "+" : "−",
                                    std::string(term.label)),
                        kg);
        if (auto const* f = year.answer ? year.answer->find(group.figure) : nullptr)
            row(fmt::format("{} {}", group.sign > 0 ? "+" : "−", std::string(group.label)), f->value);
    }
    if (!year.answer) {
        table.closing = "Refused: " + year.answer.error().detail + ".";
    } else if (auto const* total = year.answer->find("user_emissions")) {
        auto const* co2e = year.answer->find("co2e");
        table.closing = fmt::format("User emissions {} kg, {} lb, {} t CO2e", three(total->value),
                                    three(in_pounds(total->value)), three(co2e ? co2e->value : 0.0));
    }
    for (auto const& note : year.notes)
        table.closing += ". " + note;
    return table;
}

report::RecordTable movement_table(GasBook const& book)
{
    report::RecordTable table;
    table.title = "All entries";
    table.heads = {"Day", "What", "From", "To", "kg", "Entry, who, state"};
    table.right = {false, false, false, false, true, false};
    for (auto const& m : book.movements) {
        std::string last = fmt::format("{}, {}", m.entry, m.who);
        if (!m.outage.empty())
            last += ", outage " + m.outage;
        if (!m.in_force() || m.reopened)
            last += ", " + state_of(m);
        if (!m.note.empty())
            last += ". " + m.note;
        table.rows.push_back(
            {m.day, label_of(m), m.from, m.to,
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
             {state_of(m)},
             {m.note}});
    return report::csv_text(rows);
}

Result<std::string> gas_pdf(GasBook const& book, YearBalance const& year, std::string const& today)
{
    report::JobPack sheets;
    sheets.title = "Gas ledger";
    sheets.subtitle = fmt::format("Every kilogram of gas this tablet knows of, up to {}", today);
    sheets.created = today + "T00:00:00Z";
    sheets.block.job = fmt::format("Gas ledger {}", year.year);
    sheets.block.drawing_number = fmt::format("L-{}-{}", year.year, book.entries);
    sheets.block.revision = std::to_string(book.entries);
    sheets.facts = {{"GWP", fmt::format("{} kg CO2e a kg", show_short(book.gwp.value, 6))},
                    {"Its source", book.gwp.source + (book.gwp.confirmed ? "" : "; unconfirmed")},
                    {"Entries", std::to_string(book.entries)},
                    {"Day", today}};
    sheets.tables = {place_table(book, PlaceKind::container, "By container"),
                     place_table(book, PlaceKind::breaker, "By breaker"), year_table(year),
                     movement_table(book)};
    sheets.footer =
        "Gas in hoses and breakers is not stored gas in the sense of the rule. A balance is checked "
        "against the rule in force before it is reported.";
    return report::job_pack_pdf(sheets);
}

Result<GasFiles> write_gas_files(Workspace& workspace, GasBook const& book, int year)
{
    auto const folder = workspace.folders().data / "ledger";
    if (auto made = disk::make_durable_directory(workspace.disk(), folder); !made)
        return tl::unexpected(made.error());
    return write_gas_files(workspace, book, year, folder);
}

Result<GasFiles> write_gas_files(Workspace& workspace, GasBook const& book, int year,
                                 disk::Path const& folder)
{
    std::string const today = calendar_day(stamp(workspace.clock().now()));
    auto const csv = gas_csv(book);
    auto const pdf = gas_pdf(book, balance_of_year(book, year, today), today);
    if (!csv || !pdf)
        return tl::unexpected(!csv ? csv.error() : pdf.error());
    std::string const name = fmt::format("gas-{}-{}-{:04}", year, today, book.entries);
    GasFiles const files{folder / (name + ".csv"), folder / (name + ".pdf")};
    if (auto kept = disk::keep_whole(workspace.disk(), files.csv, *csv); !kept)
        return tl::unexpected(kept.error());
    if (auto kept = disk::keep_whole(workspace.disk(), files.pdf, *pdf); !kept)
        return tl::unexpected(kept.error());
    return files;
}

} // namespace isochore::session
