#include "calc/emissions_ledger.h"
#include <fmt/format.h>
#include <map>

namespace isochore::calc {
namespace {

using Code = Error::Code;

constexpr char const* atmosphere = "air";

struct Ledger {
    std::map<std::string, double> held, received, given; // by place, kg
    std::map<std::string, double> emitted;               // by what
    bool stock_known = false;
};

void read_stock(Inputs& in, Ledger& ledger)
{
    Json const& stock = in.raw("stock");
    if (stock.is_null())
        return;
    Inputs places = in.object("stock");
    if (stock.is_object())
        for (auto const& [place, mass] : stock.items()) {
            double const kg = places.quantity(place, Dimension::mass);
            if (!places.error() && kg < 0.0)
                places.refuse(Code::out_of_range, place, "nothing holds less than nothing");
            ledger.held[place] = kg;
        }
    in.absorb(places);
    ledger.stock_known = true;
}

void book(Inputs& in, Ledger& ledger, Inputs& entry)
{
    std::string const from = entry.text("from"), to = entry.text("to");
    double const kg = entry.quantity("mass", Dimension::mass);
    std::string const what =
        entry.one_of("what", {"fill", "recovery", "handling_loss", "leakage", "transfer"}, "transfer");
    entry.text_or("date", "");
    if (!entry.error() && !(kg > 0.0))
        entry.refuse(Code::out_of_range, "mass", "must be above zero: turn from and to round instead");
    if (!entry.error() && from == to)
        entry.refuse(Code::invalid_input, "to", "is the same place as from");
    if (!entry.error() && from == atmosphere)
        entry.refuse(Code::invalid_input, "from", "gas does not come out of the air");
    if (!entry.error() && ledger.stock_known && !ledger.held.contains(from))
        entry.refuse(Code::unknown, "from", fmt::format("the stock does not name \"{}\"", from));
    entry.refuse_unread();
    if (!entry.error()) {
        ledger.held[from] -= kg;
        ledger.given[from] += kg;
        ledger.received[to] += kg;
        if (to == atmosphere)
            ledger.emitted[what] += kg;
        else
            ledger.held[to] += kg;
        if (ledger.stock_known && ledger.held[from] < -1e-9)
            entry.refuse(Code::out_of_range, "mass",
                         fmt::format("\"{}\" would hold {:.3f} kg after this: it did not have that much",
                                     from, ledger.held[from]));
    }
    in.absorb(entry);
}

} // namespace

Result<Answer> emissions_ledger(Inputs& in)
{
    Ledger ledger;
    read_stock(in, ledger);
    auto entries = in.list("entries");
    if (!in.error() && entries.empty())
        in.refuse(Code::missing_input, "entries", "is a list of movements {from, to, mass, what}");
    for (Inputs& entry : entries)
        if (!in.error())
            book(in, ledger, entry);
    auto const gwp = in.optional_quantity("gwp", Dimension::count);
    std::string const source = in.text_or("gwp_source", "");
    if (!in.error() && gwp && source.empty())
        in.refuse(Code::missing_input, "gwp_source", "say which table the GWP is from; they differ by 7 %");
    if (in.error())
        return tl::unexpected(*in.error());

    Answer answer;
    double emitted = 0.0;
    for (auto const& [what, kg] : ledger.emitted)
        emitted += kg;
    auto const of = [&](char const* what) {
        return ledger.emitted.contains(what) ? ledger.emitted.at(what) : 0.0;
    };
    answer.add("emitted", emitted, "kg");
    answer.add("emitted_lb", emitted / find_unit("lb", Dimension::mass)->factor, "lb");
    answer.add("handling_loss", of("handling_loss"), "kg");
    answer.add("leakage", of("leakage"), "kg");
    if (gwp) {
        answer.add("co2e", emitted * *gwp / 1e3, "t CO2e");
        answer.notes.push_back(fmt::format("GWP {:.0f} from {}", *gwp, source));
    }
    Json places = Json::array();
    for (auto const& [place, kg] : ledger.held) {
        auto const in_kg = ledger.received.contains(place) ? ledger.received.at(place) : 0.0;
        auto const out_kg = ledger.given.contains(place) ? ledger.given.at(place) : 0.0;
        Json row{{"place", place}, {"in_kg", in_kg}, {"out_kg", out_kg}, {"change_kg", in_kg - out_kg}};
        if (ledger.stock_known)
            row["holds_kg"] = kg;
        places.push_back(std::move(row));
    }
    answer.facts["places"] = std::move(places);
    return answer;
}

} // namespace isochore::calc
