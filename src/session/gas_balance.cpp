#include "session/gas_balance.h"
#include "calc/registry.h"
#include "quantity/amount.h"
#include <algorithm>
#include <fmt/format.h>
#include <set>

namespace isochore::session {
namespace {

using Code = Error::Code;

/// Below this a mass is the rounding of sums.
constexpr double rounding_kg = 1e-9;

struct Places {
    std::map<std::pair<PlaceKind, std::string>, PlaceBalance> all;

    PlaceBalance& at(PlaceKind kind, std::string const& name)
    {
        auto& place = all[{kind, name}];
        place.kind = kind;
        place.place = name;
        return place;
    }

    void give(PlaceKind kind, std::string const& name, double kg, std::string const& day)
    {
        auto& place = at(kind, name);
        place.out_kg += kg;
        place.holds_kg -= kg;
        if (kind != PlaceKind::container || place.holds_kg > -rounding_kg || !place.problem.empty())
            return;
        place.problem =
            place.known ? fmt::format("on {} it gave {:.3f} kg more than it held", day, -place.holds_kg)
                        : fmt::format("it gave {:.3f} kg on {} and the ledger does not say where they came "
                                      "from: enter what it held, or its purchase, with an earlier day",
                                      kg, day);
    }

    void take(PlaceKind kind, std::string const& name, double kg)
    {
        auto& place = at(kind, name);
        place.in_kg += kg;
        place.holds_kg += kg;
        place.known = true;
    }

    void book(GasMovement const& m)
    {
        MovementKind const* kind = movement_kind(m.kind);
        if (!kind)
            return;
        if (m.kind == "nameplate" || m.kind == "retired") {
            bool const fresh = m.kind == "nameplate";
            at(PlaceKind::breaker, fresh ? m.to : m.from).nameplate_kg += fresh ? m.mass_kg : -m.mass_kg;
        } else if (m.kind == "counted") {
            auto& place = at(PlaceKind::container, m.to);
            place.holds_kg = m.mass_kg;
            place.known = true;
        } else if (m.kind == "difference") {
            return; // no gas moved: two instruments disagree
        } else {
            if (kind->from != PlaceKind::outside)
                give(kind->from, m.from, m.mass_kg, m.day);
            if (kind->to != PlaceKind::outside)
                take(kind->to, m.to, m.mass_kg);
        }
    }
};

Places places_until(GasBook const& book, std::string_view day)
{
    Places places;
    for (auto const& m : book.movements)
        if (m.in_force() && (day.empty() || m.day <= day))
            places.book(m);
    return places;
}

double stored_kg(Places const& places)
{
    double kg = 0.0;
    for (auto const& [key, place] : places.all)
        if (key.first == PlaceKind::container)
            kg += place.holds_kg;
    return kg;
}

std::string exact_kg(double kg)
{
    return fmt::format("{:.9f} kg", kg);
}

/// A container that the year meets for the first time by weighing it held that gas on its first day too.
void refuse_unknown_start(GasBook const& book, int year, YearBalance& out)
{
    std::string const first = fmt::format("{:04}-01-01", year);
    std::set<std::string> met;
    for (auto const& m : book.movements) {
        if (!m.in_force() || m.day > out.until)
            continue;
        bool const counted = m.kind == "counted";
        if (counted && m.day >= first && !met.contains(m.to) && m.mass_kg > rounding_kg) {
            out.answer =
                fail(Code::invalid_input, "inventory_start",
                     fmt::format(
                         "\"{}\" was weighed on {} with {:.3f} kg and nothing says what it held on {}: enter "
                         "what it held at the end of the last year, or its purchase",
                         m.to, m.day, m.mass_kg, first));
            return; // says more than that the sum does not come out
        }
        met.insert(m.to);
        met.insert(m.from);
    }
}

/// A breaker that left with its gas took its nameplate with it; the sum alone does not say whose is missing.
void refuse_unretired(GasBook const& book, std::string const& before, YearBalance& out)
{
    if (out.answer || !out.answer.error().where.ends_with("retired_nameplate"))
        return;
    std::set<std::string> retired;
    for (auto const& m : book.movements)
        if (m.in_force() && m.kind == "retired" && m.day <= out.until)
            retired.insert(m.from);
    for (auto const& m : book.movements)
        if (m.in_force() && m.kind == "equipment_sold" && m.day > before && m.day <= out.until &&
            !retired.contains(m.from)) {
            out.answer = fail(Code::out_of_range, m.from,
                              fmt::format("\"{}\" was sold with its gas on {} and its nameplate mass is not "
                                          "booked as retired: book that first",
                                          m.from, m.day));
            return;
        }
}

} // namespace

std::vector<PlaceBalance> balances(GasBook const& book, std::string_view day)
{
    std::vector<PlaceBalance> list;
    for (auto const& [key, place] : places_until(book, day).all)
        list.push_back(place);
    return list;
}

std::vector<int> years_of(GasBook const& book)
{
    std::set<int, std::greater<>> years;
    for (auto const& m : book.movements)
        if (m.in_force())
            years.insert(std::stoi(m.day.substr(0, 4)));
    return {years.begin(), years.end()};
}

YearBalance balance_of_year(GasBook const& book, int year, std::string_view today)
{
    YearBalance out;
    out.year = year;
    std::string const before = fmt::format("{:04}-12-31", year - 1), last = fmt::format("{:04}-12-31", year);
    out.until = today < last ? std::string(today) : last;
    Places const start = places_until(book, before), end = places_until(book, out.until);
    std::map<std::string, double, std::less<>> sums;
    for (auto const& m : book.movements)
        if (MovementKind const* kind = movement_kind(m.kind);
            kind && m.in_force() && !kind->term.empty() && m.day > before && m.day <= out.until)
            sums[std::string(kind->term)] += m.mass_kg;
    out.terms = {{"inventory_start", stored_kg(start)}, {"inventory_end", stored_kg(end)}};
    for (char const* term : {"bought_bulk", "bought_in_equipment", "returned_after_recycling", "sold",
                             "sold_in_equipment", "returned_to_supplier", "sent_for_destruction",
                             "sent_for_recycling", "new_nameplate", "retired_nameplate"})
        out.terms.emplace_back(term, sums[term]);

    Json inputs = Json::object();
    for (auto const& [name, kg] : out.terms)
        inputs[name] = exact_kg(kg);
    if (auto const closed = book.closed_years.find(year - 1); closed != book.closed_years.end())
        inputs["previous_inventory_end"] = exact_kg(closed->second);
    inputs["gwp"] = show_short(book.gwp.value, 6);
    inputs["gwp_source"] = book.gwp.name;
    out.answer = calc::run("emissions.balance", inputs);
    for (auto const& [key, place] : end.all)
        if (!place.problem.empty() && out.answer)
            out.answer =
                fail(Code::out_of_range, place.place, fmt::format("\"{}\": {}", place.place, place.problem));
    refuse_unretired(book, before, out);
    refuse_unknown_start(book, year, out);
    for (auto const& m : book.movements)
        if (m.in_force() && m.reopened && m.day > before && m.day <= out.until)
            out.notes.push_back(
                fmt::format("outage {}: an input was corrected, compute its gas account again", m.outage));
    if (today < last)
        out.notes.push_back(fmt::format("the year still runs: counted up to {}", out.until));
    return out;
}

} // namespace isochore::session
