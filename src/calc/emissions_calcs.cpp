#include "calc/emissions_ledger.h"
#include "calc/registry.h"
#include "gas/emissions.h"
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;

constexpr char const* rule_source =
    "40 CFR part 98 subpart DD, 98.303 and 98.304(b) (structure read, wording from memory)";

double amount(Inputs& in, char const* name, bool required)
{
    double const kg =
        required ? in.quantity(name, Dimension::mass) : in.quantity_or(name, Dimension::mass, 0.0);
    if (!in.error() && kg < 0.0) {
        std::string term = name;
        std::replace(term.begin(), term.end(), '_', ' ');
        in.refuse(Code::out_of_range, name,
                  fmt::format("{} of {:.3f} kg: no figure of the balance is below zero", term, kg));
    }
    return kg;
}

gas::YearOfGas read_year(Inputs& in)
{
    gas::YearOfGas y;
    y.stored_start = amount(in, "inventory_start", true);
    y.stored_end = amount(in, "inventory_end", true);
    y.bought_bulk = amount(in, "bought_bulk", false);
    y.bought_in_equipment = amount(in, "bought_in_equipment", false);
    y.returned_after_recycling = amount(in, "returned_after_recycling", false);
    y.sold = amount(in, "sold", false);
    y.sold_in_equipment = amount(in, "sold_in_equipment", false);
    y.returned_to_supplier = amount(in, "returned_to_supplier", false);
    y.sent_for_destruction = amount(in, "sent_for_destruction", false);
    y.sent_for_recycling = amount(in, "sent_for_recycling", false);
    y.new_nameplate = amount(in, "new_nameplate", false);
    y.retired_nameplate = amount(in, "retired_nameplate", false);
    return y;
}

/// The rule's own checks: this year begins where the last ended, and gas cannot come from nowhere.
void refuse_inconsistent(Inputs& in, gas::YearOfGas const& y, gas::UserEmissions const& e,
                         std::optional<double> previous_end)
{
    if (in.error())
        return;
    double const tolerance = 1e-9 * (y.stored_start + y.stored_end + e.acquisitions + e.disbursements + 1.0);
    if (previous_end && std::fabs(*previous_end - y.stored_start) > tolerance)
        in.refuse(
            Code::invalid_input, "inventory_start",
            fmt::format(
                "{:.3f} kg at the start of this year is not the {:.3f} kg with which the last year ended",
                y.stored_start, *previous_end));
    if (e.total < -tolerance && y.sold_in_equipment > y.retired_nameplate + tolerance)
        in.refuse(
            Code::out_of_range, "retired_nameplate",
            fmt::format("{:.3f} kg were sold inside equipment and only {:.3f} kg of nameplate are retired, "
                        "which gives user emissions of {:.3f} kg: enter the nameplate of what was sold as "
                        "retired first",
                        y.sold_in_equipment, y.retired_nameplate, e.total));
    if (e.total < -tolerance)
        in.refuse(
            Code::out_of_range, "inventory_end",
            fmt::format(
                "the figures give user emissions of {:.3f} kg, and emissions are not negative: more gas is "
                "in stock and equipment than was there and was bought",
                e.total));
}

/// The rule's checks one by one; what breaks one was refused before with its figures.
void add_rule_checks(Answer& answer, gas::YearOfGas const& y, gas::UserEmissions const& e,
                     std::optional<double> previous_end)
{
    auto const add = [&](char const* name, Verdict verdict, std::string text, std::string remedy = {}) {
        answer.checks.push_back({name, verdict, std::move(text), std::move(remedy), ""});
    };
    add("figures", Verdict::pass, "no figure of the balance is below zero");
    if (previous_end)
        add("inventory_follows_on", Verdict::pass,
            fmt::format("the year begins with the {:.3f} kg with which the last one ended", *previous_end));
    else
        add("inventory_follows_on", Verdict::none,
            "the end of the last year is not given, so it is not compared with this year's start");
    add("acquisitions_complete", Verdict::pass,
        fmt::format("counted as acquired: {:.3f} kg inside equipment and {:.3f} kg back from recycling",
                    y.bought_in_equipment, y.returned_after_recycling));
    add("emissions_not_negative", Verdict::pass,
        fmt::format(
            "user emissions of {:.3f} kg are not negative; a decrease in inventory of {:.3f} kg and a net "
            "increase in nameplate of {:.3f} kg may be",
            std::fmax(e.total, 0.0), e.decrease_in_inventory, e.net_nameplate_increase));
}

Result<Answer> balance(Inputs& in)
{
    gas::YearOfGas const year = read_year(in);
    auto const previous_end = in.optional_quantity("previous_inventory_end", Dimension::mass);
    auto const gwp = in.optional_quantity("gwp", Dimension::count);
    std::string const gwp_source = in.text_or("gwp_source", "");
    if (!in.error() && gwp && !(*gwp >= 1.0 && *gwp < 100000.0))
        in.refuse(Code::out_of_range, "gwp", "a global warming potential lies between 1 and 100000");
    if (!in.error() && gwp && gwp_source.empty())
        in.refuse(Code::missing_input, "gwp_source", "say which table the GWP is from; they differ by 7 %");
    gas::UserEmissions const e = gas::user_emissions_kg(year);
    refuse_inconsistent(in, year, e, previous_end);
    if (in.error())
        return tl::unexpected(*in.error());

    Answer answer;
    double const pound = find_unit("lb", Dimension::mass)->factor;
    answer.add("user_emissions", e.total, "kg");
    answer.add("user_emissions_lb", e.total / pound, "lb");
    answer.add("decrease_in_inventory", e.decrease_in_inventory, "kg");
    answer.add("acquisitions", e.acquisitions, "kg");
    answer.add("disbursements", e.disbursements, "kg");
    answer.add("net_nameplate_increase", e.net_nameplate_increase, "kg");
    if (gwp) {
        answer.add("co2e", e.total * *gwp / 1e3, "t CO2e");
        answer.notes.push_back(fmt::format("GWP {:.0f} from {}", *gwp, gwp_source));
    }
    add_rule_checks(answer, year, e, previous_end);
    answer.working.push_back(
        {"user emissions = decrease in inventory + acquisitions - disbursements - net increase in nameplate",
         fmt::format("{:.3f} + {:.3f} - {:.3f} - {:.3f} = {:.3f} kg", e.decrease_in_inventory, e.acquisitions,
                     e.disbursements, e.net_nameplate_increase, e.total),
         rule_source});
    return answer;
}

constexpr std::array calculations = {
    Calculation{"emissions.balance", "a year's user emissions by mass balance", balance},
    Calculation{"emissions.ledger", "every kilogram moved, by container and breaker", emissions_ledger},
};

} // namespace

std::span<Calculation const> emissions_calculations()
{
    return calculations;
}

} // namespace isochore::calc
