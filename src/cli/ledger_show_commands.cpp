#include "calc/gwp_sources.h"
#include "cli/answers.h"
#include "cli/open_ledger.h"
#include "quantity/amount.h"
#include "session/gas_files.h"
#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {

using session::GasMovement;
using session::PlaceKind;

namespace {

char const* place_name(PlaceKind kind)
{
    switch (kind) {
    case PlaceKind::container:
        return "container";
    case PlaceKind::breaker:
        return "breaker";
    case PlaceKind::hoses:
        return "hoses";
    case PlaceKind::air:
        return "air";
    case PlaceKind::outside:
        return "outside";
    case PlaceKind::none:
        break;
    }
    return "none";
}

double tonnes(double kg, session::GasBook const& book)
{
    return kg * book.gwp.value / 1e3;
}

double pounds(double kg)
{
    return find_unit("lb", Dimension::mass)->from_si(kg);
}

Json gwp_json(calc::GwpSource const& gwp)
{
    return {{"id", gwp.id},
            {"name", gwp.name},
            {"value", gwp.value},
            {"source", gwp.source},
            {"confirmed", gwp.confirmed}};
}

std::string state_word(GasMovement const& m)
{
    return !m.withdrawn.empty()       ? "withdrawn"
           : !m.superseded_by.empty() ? "corrected"
           : m.reopened               ? "reopened"
                                      : "in force";
}

void say_problems(std::ostream& out, OpenLedger const& open)
{
    for (auto const& problem : open.problems)
        out << "An outage could not be read, its gas is missing here. " << problem << '\n';
}

} // namespace

int ledger_list_command(Places const& places, LedgerOptions const& o, std::ostream& out)
{
    auto const open = open_ledger(places);
    if (!open)
        return say_error(out, open.error(), o.json);
    auto const balances = session::balances(open->book);
    bool const sound = open->problems.empty() && std::all_of(balances.begin(), balances.end(),
                                                             [](auto const& p) { return p.problem.empty(); });
    if (o.json) {
        Json rows = Json::array();
        for (auto const& p : balances) {
            Json row{{"kind", place_name(p.kind)},
                     {"name", p.place},
                     {"in_kg", p.in_kg},
                     {"out_kg", p.out_kg},
                     {"holds_kg", p.holds_kg},
                     {"holds_lb", pounds(p.holds_kg)},
                     {"nameplate_kg", p.nameplate_kg},
                     {"t_co2e", tonnes(p.holds_kg, open->book)}};
            if (!p.problem.empty())
                row["problem"] = p.problem;
            rows.push_back(std::move(row));
        }
        say_json(out, {{"places", rows}, {"gwp", gwp_json(open->book.gwp)}, {"problems", open->problems}});
        return sound ? 0 : 1;
    }
    say_problems(out, *open);
    if (balances.empty())
        out << "No gas has been moved yet.\n";
    else
        out << fmt::format("{:<10} {:<40} {:>10} {:>10} {:>10} {:>10} {:>10}\n", "", "", "in kg", "out kg",
                           "holds kg", "lb", "t CO2e");
    for (auto const& p : balances) {
        out << fmt::format("{:<10} {:<40} {:>10.3f} {:>10.3f} {:>10.3f} {:>10.3f} {:>10.3f}\n",
                           place_name(p.kind), p.place, p.in_kg, p.out_kg, p.holds_kg, pounds(p.holds_kg),
                           tonnes(p.holds_kg, open->book));
        if (!p.problem.empty())
            out << "           " << p.problem << '\n';
    }
    return sound ? 0 : 1;
}

int ledger_entries_command(Places const& places, LedgerOptions const& o, std::ostream& out)
{
    auto const open = open_ledger(places);
    if (!open)
        return say_error(out, open.error(), o.json);
    if (!o.json)
        say_problems(out, *open);
    Json rows = Json::array();
    for (auto const& m : open->book.movements) {
        if (!o.json) {
            auto const* kind = session::movement_kind(m.kind);
            out << fmt::format("{:>5}  {}  {:<34} {:>10.3f} kg  {} -> {}{}{}\n", m.entry, m.day,
                               kind ? std::string(kind->label) : m.kind, m.mass_kg, m.from, m.to,
                               m.outage.empty() ? "" : "  outage " + m.outage,
                               m.in_force() && !m.reopened ? "" : "  " + state_word(m));
            continue;
        }
        Json row{{"entry", m.entry}, {"day", m.day},          {"kind", m.kind}, {"from", m.from},
                 {"to", m.to},       {"mass_kg", m.mass_kg},  {"who", m.who},   {"at", m.at},
                 {"note", m.note},   {"state", state_word(m)}};
        if (m.u_kg)
            row["u_kg"] = *m.u_kg;
        if (!m.typed.empty())
            row["typed"] = m.typed;
        if (!m.outage.empty())
            row.update({{"outage", m.outage}, {"outage_entry", m.outage_entry}, {"step", m.step}});
        if (!m.withdrawn.empty())
            row["withdrawn"] = m.withdrawn;
        if (!m.superseded_by.empty())
            row["superseded_by"] = m.superseded_by;
        rows.push_back(std::move(row));
    }
    if (o.json)
        say_json(out, {{"entries", rows}, {"problems", open->problems}});
    return open->problems.empty() ? 0 : 1;
}

int ledger_kinds_command(Places const&, LedgerOptions const& o, std::ostream& out)
{
    Json rows = Json::array();
    for (auto const& k : session::movement_kinds()) {
        if (!k.desk)
            continue;
        rows.push_back({{"kind", k.id},
                        {"label", k.label},
                        {"from", place_name(k.from)},
                        {"to", place_name(k.to)},
                        {"term", k.term}});
        if (!o.json)
            out << fmt::format("{:<12} {}{}{}\n", k.id, k.label,
                               k.from_label.empty() ? "" : fmt::format("; --from {}", k.from_label),
                               k.to_label.empty() ? "" : fmt::format("; --to {}", k.to_label));
    }
    if (o.json)
        say_json(out, rows);
    return 0;
}

int ledger_year_command(Places const& places, LedgerOptions const& o, std::ostream& out)
{
    auto const open = open_ledger(places);
    if (!open)
        return say_error(out, open.error(), o.json);
    auto const year = session::balance_of_year(open->book, open->year_of(o), open->today);
    bool const sound = year.answer && open->problems.empty();
    if (o.json) {
        Json terms = Json::object();
        for (auto const& [name, kg] : year.terms)
            terms[name] = kg;
        Json answer{{"year", year.year},
                    {"until", year.until},
                    {"terms_kg", terms},
                    {"gwp", gwp_json(open->book.gwp)},
                    {"closed", open->book.closed_years.contains(year.year)},
                    {"notes", year.notes},
                    {"problems", open->problems}};
        if (year.answer)
            answer["balance"] = calc::to_json(*year.answer);
        else
            answer["refused"] = {{"where", year.answer.error().where},
                                 {"detail", year.answer.error().detail}};
        say_json(out, answer);
        return sound ? 0 : 1;
    }
    say_problems(out, *open);
    auto const row = [&](std::string_view sign, std::string_view label, double kg) {
        out << fmt::format("{} {:<44} {:>12.3f} kg {:>12.3f} lb\n", sign, label, kg, pounds(kg));
    };
    for (auto const& group : session::balance_groups()) {
        for (auto const& term : group.terms)
            for (auto const& [name, kg] : year.terms)
                if (name == term.id)
                    row(term.sign * group.sign > 0 ? "  +" : "  -", term.label, kg);
        if (auto const* f = year.answer ? year.answer->find(group.figure) : nullptr)
            row(group.sign > 0 ? "+  " : "-  ", group.label, f->value);
    }
    if (!year.answer)
        out << "This balance is refused: " << year.answer.error().detail << '\n';
    else if (auto const* total = year.answer->find("user_emissions"))
        out << fmt::format("User emissions {}: {:.3f} kg, {:.3f} lb, {:.3f} t CO2e with GWP {:.6g} ({})\n",
                           year.year, total->value, pounds(total->value), tonnes(total->value, open->book),
                           open->book.gwp.value, open->book.gwp.name);
    if (year.answer)
        for (auto const& check : year.answer->checks)
            out << fmt::format("{:<13} {}\n", check.verdict == calc::Verdict::pass ? "met" : "not compared",
                               check.text);
    for (auto const& note : year.notes)
        out << note << '\n';
    return sound ? 0 : 1;
}

int ledger_gwp_command(Places const& places, LedgerOptions const& o, std::ostream& out)
{
    auto open = open_ledger(places);
    if (!open)
        return say_error(out, open.error(), o.json);
    if (!o.gwp.empty()) {
        if (auto const done = open->ledger.choose_gwp(o.gwp, o.who); !done)
            return say_error(out, done.error(), o.json);
        open->book.gwp = *calc::gwp_source(o.gwp);
    }
    auto const sources = calc::gwp_sources();
    if (!sources)
        return say_error(out, sources.error(), o.json);
    Json rows = Json::array();
    for (auto const& source : *sources) {
        bool const used = source.id == open->book.gwp.id;
        rows.push_back(gwp_json(source));
        rows.back()["in_use"] = used;
        if (!o.json)
            out << fmt::format("{} {:<16} {:>8.6g}  {}  {}{}\n", used ? "*" : " ", source.id, source.value,
                               source.name, source.source, source.confirmed ? "" : "  (unconfirmed)");
    }
    if (o.json)
        say_json(out, rows);
    return 0;
}

} // namespace isochore::cli
