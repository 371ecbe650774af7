#include "cli/ledger_commands.h"
#include "demo_outage.h"
#include <catch2/catch.hpp>

using namespace cli_test;
using cli::LedgerOptions;

namespace {

LedgerOptions by_quill()
{
    LedgerOptions o;
    o.who = "N. Quill";
    o.json = true;
    return o;
}

LedgerOptions bought(std::string const& mass, std::string const& day = "2026-01-10")
{
    auto o = by_quill();
    o.typed = {"bought", day, "Supplier", "C 104", mass, {}};
    return o;
}

Json place(Said const& said, std::string const& name)
{
    for (auto const& row : said.json().value("places", Json::array()))
        if (row["name"] == name)
            return row;
    return Json();
}

} // namespace

TEST_CASE("a ledger is booked, corrected, withdrawn and summed from the command line", "[ledger]")
{
    Tablet tablet;
    auto const list = [&] { return tablet.run(cli::ledger_list_command, by_quill()); };
    CHECK(list().code == 0);
    REQUIRE(tablet.run(cli::ledger_book_command, bought("115 lb")).code == 0);
    // NIST SP 811, appendix B.8: 1 lb = 0.45359237 kg.
    CHECK(place(list(), "C 104")["holds_kg"].get<double>() == Approx(52.16312255).epsilon(0).margin(1e-9));

    auto sold = by_quill();
    sold.typed = {"sold", "2026-02-01", "C 104", "Buyer", "12 kg", {}};
    REQUIRE(tablet.run(cli::ledger_book_command, sold).code == 0);
    CHECK(place(list(), "C 104")["out_kg"] == 12.0);

    auto const entries = tablet.run(cli::ledger_entries_command, by_quill()).json()["entries"];
    REQUIRE(entries.size() == 2);
    auto correct = by_quill();
    correct.entry = entries[1]["entry"];
    correct.reason = "wrong mass";
    correct.typed.mass = "2 kg"; // the rest stays as it was
    REQUIRE(tablet.run(cli::ledger_correct_command, correct).code == 0);
    CHECK(place(list(), "C 104")["out_kg"] == 2.0);

    auto const year = tablet.run(cli::ledger_year_command, by_quill());
    CHECK(year.code == 0);
    CHECK(year.json()["terms_kg"]["sold"] == 2.0);
    CHECK(year.json()["terms_kg"]["bought_bulk"].get<double>() ==
          Approx(52.16312255).epsilon(0).margin(1e-9));

    auto const text = tablet.run(cli::ledger_year_command, LedgerOptions{}).text;
    CHECK(text.find("not compared  the end of the last year is not given") != std::string::npos); // 98.304(b)
    CHECK(text.find("met           user emissions of") != std::string::npos);

    auto withdraw = by_quill();
    withdraw.entry = tablet.run(cli::ledger_entries_command, by_quill()).json()["entries"].back()["entry"];
    withdraw.reason = "typed twice";
    REQUIRE(tablet.run(cli::ledger_withdraw_command, withdraw).code == 0);
    CHECK(place(list(), "C 104")["out_kg"] == 0.0);
    CHECK(tablet.run(cli::ledger_withdraw_command, withdraw).code == 2);
}

TEST_CASE("a correction that is refused withdraws nothing", "[ledger]")
{
    Tablet tablet;
    REQUIRE(tablet.run(cli::ledger_book_command, bought("50 kg")).code == 0);
    auto const before = tablet.run(cli::ledger_entries_command, by_quill());
    auto correct = by_quill();
    correct.entry = before.json()["entries"][0]["entry"];
    correct.reason = "wrong mass";
    for (char const* mass : {"-3 kg", "5 degC", "0 kg", "1e9 kg"}) {
        correct.typed.mass = mass;
        CHECK(tablet.run(cli::ledger_correct_command, correct).code == 2);
    }
    correct.typed.mass = "40 kg";
    correct.reason = " ";
    CHECK(tablet.run(cli::ledger_correct_command, correct).code == 2);
    CHECK(tablet.run(cli::ledger_entries_command, by_quill()).text == before.text);
}

TEST_CASE("what cannot be entered is refused with its place, what does not add up ends with 1", "[ledger]")
{
    Tablet tablet;
    auto const error = [&](LedgerOptions const& o) {
        auto const said = tablet.run(cli::ledger_book_command, o);
        CHECK(said.code == 2);
        return said.json()["error"]["where"].get<std::string>();
    };
    auto o = bought("50 kg");
    o.typed.kind = "borrowed";
    CHECK(error(o) == "kind");
    CHECK(error(bought("50 kg", "2026-02-30")) == "day");
    CHECK(error(bought("fifty")) == "mass");
    o = bought("50 kg");
    o.typed.to.clear();
    CHECK(error(o) == "to");
    o = bought("50 kg");
    o.who.clear();
    CHECK(error(o) == "who");

    // A container weighed for the first time within the year held that before too: 98.304(b).
    o = by_quill();
    o.typed = {"counted", "2026-03-01", {}, "C 7", "10 kg", {}};
    REQUIRE(tablet.run(cli::ledger_book_command, o).code == 0);
    auto const year = tablet.run(cli::ledger_year_command, by_quill());
    CHECK(year.code == 1);
    CHECK(year.json()["refused"]["detail"].get<std::string>().find("C 7") != std::string::npos);
}

TEST_CASE("the ledger is written as CSV and PDF and the source of the GWP is chosen", "[ledger]")
{
    Tablet tablet;
    REQUIRE(tablet.run(cli::ledger_book_command, bought("50 kg")).code == 0);
    auto gwp = by_quill();
    gwp.gwp = "eu_2024_573";
    auto const chosen = tablet.run(cli::ledger_gwp_command, gwp);
    REQUIRE(chosen.code == 0);
    int in_use = 0;
    for (auto const& source : chosen.json())
        in_use += source["in_use"] == (source["id"] == "eu_2024_573") ? 0 : 1;
    CHECK(in_use == 0);
    gwp.gwp = "guessed";
    CHECK(tablet.run(cli::ledger_gwp_command, gwp).code == 2);

    auto save = by_quill();
    save.folder = (tablet.folder / "out").string();
    CHECK(tablet.run(cli::ledger_export_command, save).code == 2); // the folder is not there
    std::filesystem::create_directories(save.folder);
    auto const written = tablet.run(cli::ledger_export_command, save);
    INFO(written.text);
    REQUIRE(written.code == 0);
    CHECK(text_of(written.json()["csv"].get<std::string>()).find("C 104") != std::string::npos);
    CHECK(text_of(written.json()["pdf"].get<std::string>()).starts_with("%PDF"));
    auto close = by_quill();
    close.year = 2099;
    CHECK(tablet.run(cli::ledger_close_command, close).code == 2);
}
