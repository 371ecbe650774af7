#include "gas_support.h"

using namespace isochore;

TEST_CASE("the yearly balance gives each term and the worked total", "[calc][emissions]")
{
    // Own invented case: 20 + 115 - 20 - 30 = 85 lb = 906.1 t CO2e at 23500, 879.1 t at 22800.
    std::string const year = R"({"inventory_start":"100 lb","inventory_end":"80 lb","bought_bulk":"115 lb",
        "returned_to_supplier":"20 lb","new_nameplate":"60 lb","retired_nameplate":"30 lb","gwp_source":"40 CFR 98 table A-1")";
    auto const a = answered("emissions.balance", year + R"(,"gwp":"23500"})");
    CHECK(value_of(a, "user_emissions_lb") == Approx(85.0));
    CHECK(value_of(a, "user_emissions") == Approx(85.0 * 0.45359237));
    CHECK(value_of(a, "co2e") == Approx(906.1).epsilon(0).margin(0.05));
    CHECK(value_of(answered("emissions.balance", year + R"(,"gwp":"22800"})"), "co2e") ==
          Approx(879.1).epsilon(0).margin(0.05));
    CHECK(value_of(a, "decrease_in_inventory") + value_of(a, "acquisitions") - value_of(a, "disbursements") -
              value_of(a, "net_nameplate_increase") ==
          Approx(value_of(a, "user_emissions")));
    auto const b = answered("emissions.balance",
                            R"({"inventory_start":"500 lb","inventory_end":"610 lb","bought_bulk":"230 lb",
        "bought_in_equipment":"45 lb","sent_for_recycling":"60 lb","new_nameplate":"45 lb"})");
    CHECK(value_of(b, "user_emissions_lb") == Approx(60.0));
}

TEST_CASE("gas sold inside a breaker leaves with it, and each check of the rule is named",
          "[calc][emissions]")
{
    // 40 CFR 98.303: disbursements hold what was sold or delivered in equipment too (structure read, wording
    // from memory). 100 - 80 + 50 - (10 + 45) = 15 lb, by hand.
    auto const a =
        answered("emissions.balance",
                 R"({"inventory_start":"100 lb","inventory_end":"80 lb","bought_bulk":"50 lb","sold":"10 lb",
        "sold_in_equipment":"45 lb","bought_in_equipment":"0 lb","previous_inventory_end":"100 lb"})");
    CHECK(value_of(a, "user_emissions_lb") == Approx(15.0));
    CHECK(value_of(a, "disbursements") == Approx(55.0 * 0.45359237));
    // 98.304(b), one by one.
    for (char const* name :
         {"figures", "inventory_follows_on", "acquisitions_complete", "emissions_not_negative"})
        CHECK(check_of(a, name).verdict == calc::Verdict::pass);
    auto const first = answered("emissions.balance", R"({"inventory_start":"10 lb","inventory_end":"5 lb"})");
    CHECK(check_of(first, "inventory_follows_on").verdict ==
          calc::Verdict::none); // not compared, and it says so
    CHECK(refused("emissions.balance",
                  R"({"inventory_start":"10 lb","inventory_end":"5 lb","sold_in_equipment":"-1 lb"})")
              .where == "inputs.sold_in_equipment");
}

TEST_CASE("inventories that are negative or do not follow on are refused", "[calc][emissions]")
{
    CHECK(refused("emissions.balance", R"({"inventory_start":"-1 lb","inventory_end":"80 lb"})").where ==
          "inputs.inventory_start");
    CHECK(refused("emissions.balance", R"({"inventory_start":"100 lb","inventory_end":"180 lb"})").code ==
          Error::Code::out_of_range);
    CHECK(says(
        refused("emissions.balance",
                R"({"inventory_start":"100 lb","inventory_end":"80 lb","previous_inventory_end":"99 lb"})")
            .detail,
        "last year"));
    CHECK(refused("emissions.balance", R"({"inventory_end":"80 lb"})").code == Error::Code::missing_input);
    CHECK(
        refused("emissions.balance", R"({"inventory_start":"100 lb","inventory_end":"80 lb","gwp":"23500"})")
            .where == "inputs.gwp_source");
    CHECK(refused("emissions.balance",
                  R"({"inventory_start":"100 lb","inventory_end":"80 lb","gwp":"0","gwp_source":"x"})")
              .where == "inputs.gwp");
    // A decrease in inventory may be negative, a net nameplate increase too.
    CHECK(answered("emissions.balance",
                   R"({"inventory_start":"10 lb","inventory_end":"20 lb","bought_bulk":"30 lb",
        "retired_nameplate":"5 lb"})")
              .find("user_emissions"));
}

TEST_CASE("a ledger keeps every kilogram and the air gets only what is emitted", "[calc][emissions]")
{
    auto const a = answered(
        "emissions.ledger",
        R"({"stock":{"cylinder 7":"50 kg","Q07":"11 kg"},"gwp":"24300","gwp_source":"EU 2024/573 annex I",
        "entries":[{"from":"cylinder 7","to":"Q07","mass":"0.72 kg","what":"fill"},
                   {"from":"cylinder 7","to":"air","mass":"0.02 kg","what":"handling_loss"},
                   {"from":"Q07","to":"air","mass":"0.05 kg","what":"leakage"}]})");
    CHECK(value_of(a, "emitted") == Approx(0.07));
    CHECK(value_of(a, "handling_loss") == Approx(0.02));
    CHECK(value_of(a, "leakage") == Approx(0.05));
    CHECK(value_of(a, "co2e") == Approx(0.07 * 24.3));
    double held = 0.0;
    for (auto const& row : a.facts.at("places"))
        held += row.at("holds_kg").get<double>();
    CHECK(held + value_of(a, "emitted") == Approx(61.0));
}

TEST_CASE("a ledger refuses gas out of nothing", "[calc][emissions]")
{
    auto const entry = [](std::string const& text) {
        return refused("emissions.ledger", R"({"stock":{"c":"1 kg"},"entries":[)" + text + "]}");
    };
    CHECK(says(entry(R"({"from":"c","to":"b","mass":"2 kg"})").detail, "did not have that much"));
    CHECK(entry(R"({"from":"x","to":"b","mass":"1 kg"})").where == "inputs.entries[0].from");
    CHECK(entry(R"({"from":"air","to":"b","mass":"1 kg"})").where == "inputs.entries[0].from");
    CHECK(entry(R"({"from":"c","to":"c","mass":"1 kg"})").where == "inputs.entries[0].to");
    CHECK(entry(R"({"from":"c","to":"b","mass":"0 kg"})").where == "inputs.entries[0].mass");
    CHECK(entry(R"({"from":"c","to":"b","mass":"1 kg","what":"gift"})").where == "inputs.entries[0].what");
    CHECK(refused("emissions.ledger", R"({"entries":[]})").where == "inputs.entries");
}

TEST_CASE("gas sold inside equipment that is not retired is refused with what to enter first",
          "[calc][emissions]")
{
    // 40 CFR 98.303: (10 - 10) + 0 - 8 - (0 - 0) = -8 kg; with the nameplate retired the year has none.
    std::string const year =
        R"({"inventory_start":"10 kg","inventory_end":"10 kg","sold_in_equipment":"8 kg")";
    Error const bare = refused("emissions.balance", year + "}");
    CHECK(bare.where == "inputs.retired_nameplate");
    CHECK(bare.detail.find("as retired first") != std::string::npos);
    auto const mended = answered("emissions.balance", year + R"(,"retired_nameplate":"8 kg"})");
    CHECK(value_of(mended, "user_emissions") == Approx(0.0).margin(1e-9));
}
