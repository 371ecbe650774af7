#include "session/gas_files.h"
#include "session_support.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::session;

namespace {

GasBook book_of(GasLedger& ledger)
{
    auto book = ledger.book();
    REQUIRE(book);
    return std::move(*book);
}

/// The ledger as its sheet sees it: after what the outages did.
GasBook taken_over(Workspace& workspace)
{
    GasLedger ledger(workspace);
    std::vector<std::string> problems;
    auto const added = ledger.take_over(problems);
    REQUIRE(added);
    CHECK(problems.empty());
    return book_of(ledger);
}

double holds(GasBook const& book, std::string const& place)
{
    for (auto const& b : balances(book))
        if (b.place == place)
            return b.holds_kg;
    return std::nan("");
}

/// An outage whose gas account is as given. The step is recorded as the session records it; its own rules of
/// order are tested elsewhere.
void record_account(Outage& outage, double taken, double gained, double loss)
{
    Json const results{{"mass_from_cylinder", {{"value", taken}, {"unit", "kg"}, {"u", 0.02}}},
                       {"mass_into_breaker", {{"value", gained}, {"unit", "kg"}, {"u", 0.1}}},
                       {"mass_in_hoses", {{"value", 0.0}, {"unit", "kg"}}},
                       {"handling_loss", {{"value", loss}, {"unit", "kg"}, {"u", 0.1}}}};
    auto const noted = outage.note({{"type", "recorded"},
                                    {"step", "fill.account"},
                                    {"verdict", "pass"},
                                    {"calc", "fill.account"},
                                    {"inputs", {{"cylinder", "C-104"}}},
                                    {"result", {{"results", results}}}});
    REQUIRE(noted);
}

} // namespace

TEST_CASE("a fill of an outage is booked once, however often the ledger is opened", "[ledger]")
{
    Bench bench;
    auto outage = bench.begin();
    record_account(*outage, 0.9, 0.85, 0.05);
    GasBook const first = taken_over(*bench.workspace);
    REQUIRE(first.movements.size() == 2);
    CHECK(first.movements[0].kind == "fill");
    CHECK(first.movements[0].from == "C-104");
    CHECK(first.movements[0].to == "41-0387 (Alder Ferry Q07)");
    CHECK(first.movements[1].kind == "handling");
    CHECK(holds(first, "air") == Approx(0.05).epsilon(0).margin(1e-12));
    for (int i = 0; i < 3; ++i) {
        outage.reset();
        bench.reopen();
        CHECK(taken_over(*bench.workspace).movements.size() == 2);
    }
}

TEST_CASE("looking into the outages in slices books the same as at one go, and a cancelled look is gone on with",
          "[ledger]")
{
    Bench bench;
    for (auto const* job : {"T 1", "T 2", "T 3"}) {
        auto outage = bench.begin(job);
        record_account(*outage, 0.9, 0.85, 0.05);
    }
    GasLedger ledger(*bench.workspace);
    LookIntoOutages cancelled;
    REQUIRE(ledger.take_over(cancelled, std::chrono::milliseconds(0)));
    CHECK_FALSE(cancelled.finished);
    CHECK(cancelled.seen.size() == 1);
    LookIntoOutages at;
    int slices = 0;
    for (; !at.finished; ++slices)
        REQUIRE(ledger.take_over(at, std::chrono::milliseconds(0)));
    CHECK(slices >= 3);
    CHECK(at.problems.empty());
    CHECK(cancelled.added + at.added == 3);
    CHECK(book_of(ledger).movements.size() == 6);
    CHECK(taken_over(*bench.workspace).movements.size() == 6);
}

TEST_CASE("a corrected outage corrects the ledger, and the old booking stays to be seen", "[ledger]")
{
    Bench bench;
    auto outage = bench.begin();
    record_account(*outage, 0.9, 0.85, 0.05);
    CHECK(taken_over(*bench.workspace).movements.size() == 2);
    record_account(*outage, 9.0, 8.9, 0.1);
    GasBook const book = taken_over(*bench.workspace);
    REQUIRE(book.movements.size() == 4);
    CHECK(std::count_if(book.movements.begin(), book.movements.end(),
                        [](auto const& m) { return m.in_force(); }) == 2);
    CHECK(holds(book, "41-0387 (Alder Ferry Q07)") == Approx(8.9).epsilon(0).margin(1e-12));
    CHECK(holds(book, "C-104") == Approx(-9.0).epsilon(0).margin(1e-12));

    SECTION("taking the account back in the outage takes it out of the ledger")
    {
        REQUIRE(outage->undo());
        REQUIRE(outage->undo());
        GasBook const empty = taken_over(*bench.workspace);
        CHECK(std::none_of(empty.movements.begin(), empty.movements.end(),
                           [](auto const& m) { return m.in_force(); }));
    }
}

TEST_CASE("a negative handling loss is a difference of two instruments and never an emission", "[ledger]")
{
    Bench bench;
    auto outage = bench.begin();
    record_account(*outage, 0.9, 1.0, -0.1);
    GasBook const book = taken_over(*bench.workspace);
    CHECK(holds(book, "C-104") == Approx(-0.9).epsilon(0).margin(1e-12));
    CHECK(holds(book, "41-0387 (Alder Ferry Q07)") == Approx(0.9).epsilon(0).margin(1e-12));
    CHECK(std::isnan(holds(book, "air")));
    CHECK(book.movements.back().kind == "difference");
}

TEST_CASE("what is typed at a desk is kept as typed and refused in words where it cannot be", "[ledger]")
{
    Bench bench;
    GasLedger ledger(*bench.workspace);
    REQUIRE(ledger.add({"bought", "2026-02-01", "Gas supplier", "C-104", "115 lb", ""}, "N. Quill"));
    GasBook const book = book_of(ledger);
    REQUIRE(book.movements.size() == 1);
    CHECK(book.movements[0].typed == "115 lb");
    // NIST SP 811, appendix B.8: 1 lb = 0.45359237 kg.
    CHECK(book.movements[0].mass_kg == Approx(52.16312255).epsilon(0).margin(1e-9));

    auto const refused = [&](DeskMovement const& m) {
        auto const added = ledger.add(m, "N. Quill");
        REQUIRE_FALSE(added);
        CHECK(added.error().detail.size() > 10);
        return added.error().where;
    };
    CHECK(refused({"bought", "2026-02-30", "S", "C-1", "1 kg", ""}) == "day");
    CHECK(refused({"bought", "2027-01-01", "S", "C-1", "1 kg", ""}) == "day");
    CHECK(refused({"bought", "2026-02-01", "S", "", "1 kg", ""}) == "to");
    CHECK(refused({"bought", "2026-02-01", "S", "C-1", "1", ""}) == "mass");
    CHECK(refused({"bought", "2026-02-01", "S", "C-1", "-1 kg", ""}) == "mass");
    CHECK(refused({"bought", "2026-02-01", "S", "C-1", "0 kg", ""}) == "mass");
    CHECK(refused({"bought", "2026-02-01", "S", "C-1", "1 bar g", ""}) == "mass");
    CHECK(refused({"moved", "2026-02-01", "C-104", "C-104", "1 kg", ""}) == "to");
    CHECK(refused({"moved", "2026-02-02", "C-104", "C-9", "53 kg", ""}) == "mass");
    CHECK(refused({"lost", "2026-01-31", "C-104", "", "1 kg", ""}) == "mass");  // before it was bought
    CHECK(refused({"fill", "2026-02-02", "C-104", "B", "1 kg", ""}) == "kind"); // only an outage books that
    CHECK(book_of(ledger).movements.size() == 1);
}

TEST_CASE("an entry of the desk is withdrawn with a reason, unless others live on its gas", "[ledger]")
{
    Bench bench;
    GasLedger ledger(*bench.workspace);
    REQUIRE(ledger.add({"bought", "2026-02-01", "Gas supplier", "C-104", "50 kg", ""}, "N. Quill"));
    REQUIRE(ledger.add({"moved", "2026-02-02", "C-104", "Cart 2", "20 kg", ""}, "N. Quill"));
    GasBook const before = book_of(ledger);
    auto const bought = before.movements[0].entry, moved = before.movements[1].entry;
    CHECK_FALSE(ledger.withdraw(bought, "typed twice", "N. Quill"));
    CHECK_FALSE(ledger.withdraw(moved, " ", "N. Quill"));
    REQUIRE(ledger.withdraw(moved, "went into cart 3", "N. Quill"));
    CHECK_FALSE(ledger.withdraw(moved, "again", "N. Quill"));
    GasBook const book = book_of(ledger);
    CHECK(book.movements[1].withdrawn == "went into cart 3");
    CHECK(holds(book, "C-104") == 50.0);
    REQUIRE(ledger.withdraw(bought, "typed twice", "N. Quill"));
}

TEST_CASE("what an outage booked is corrected in the outage only", "[ledger]")
{
    Bench bench;
    auto outage = bench.begin();
    record_account(*outage, 0.9, 0.85, 0.05);
    GasBook const book = taken_over(*bench.workspace);
    GasLedger ledger(*bench.workspace);
    auto const done = ledger.withdraw(book.movements[0].entry, "wrong", "N. Quill");
    REQUIRE_FALSE(done);
    CHECK(done.error().detail.find("T-1") != std::string::npos);
}

TEST_CASE("the year's balance has every term of 40 CFR 98.303 and refuses gas from nowhere", "[ledger]")
{
    Bench bench; // 2026-03-02
    GasLedger ledger(*bench.workspace);
    // An invented year: 100 kg at the start, 115 bought, 20 returned, 60 new nameplate filled from stock, 30
    // retired and recovered, 85 left: emissions are (100 - 85) + 115 - 20 - (60 - 30) = 80 kg.
    REQUIRE(ledger.add({"counted", "2024-12-31", "", "C-1", "100 kg", ""}, "N. Quill"));
    REQUIRE(ledger.add({"bought", "2025-02-01", "Supplier", "C-2", "115 kg", ""}, "N. Quill"));
    REQUIRE(ledger.add({"returned", "2025-03-01", "C-1", "Supplier", "20 kg", ""}, "N. Quill"));
    REQUIRE(ledger.add({"nameplate", "2025-04-01", "", "41-0387", "60 kg", ""}, "N. Quill"));
    REQUIRE(ledger.add({"filled", "2025-04-01", "C-1", "41-0387", "60 kg", ""}, "N. Quill"));
    REQUIRE(ledger.add({"retired", "2025-05-01", "33-0001", "", "30 kg", ""}, "N. Quill"));
    REQUIRE(ledger.add({"recovered", "2025-05-01", "33-0001", "Cart 1", "10 kg", ""}, "N. Quill"));
    REQUIRE(ledger.add({"counted", "2025-12-31", "", "C-2", "55 kg", ""}, "N. Quill"));
    YearBalance const year = balance_of_year(book_of(ledger), 2025, "2026-03-02");
    if (!year.answer)
        FAIL(year.answer.error().detail);
    auto const* emitted = year.answer->find("user_emissions");
    REQUIRE(emitted);
    CHECK(emitted->value == Approx(80.0).epsilon(0).margin(1e-6));
    // 40 CFR 98 table A-1 as amended for 2025 (from memory): 23 500.
    CHECK(year.answer->find("co2e")->value == Approx(80.0 * 23.5).epsilon(0).margin(1e-6));

    SECTION(
        "a breaker sold with its gas is a disbursement of its own kind, and takes nothing from a container")
    {
        // 40 CFR 98.303, sold or delivered inside equipment: 80 - 8 = 72 kg.
        REQUIRE(ledger.add({"equipment_sold", "2025-06-01", "41-0387", "Buyer", "8 kg", ""}, "N. Quill"));
        YearBalance const sold = balance_of_year(book_of(ledger), 2025, "2026-03-02");
        REQUIRE(sold.answer);
        CHECK(sold.answer->find("user_emissions")->value == Approx(72.0).epsilon(0).margin(1e-6));
        CHECK(holds(book_of(ledger), "41-0387") == Approx(52.0));
        for (auto const& [term, kg] : sold.terms)
            if (term == "sold_in_equipment")
                CHECK(kg == 8.0);
    }
    SECTION(
        "a breaker sold without its nameplate retired is named with what to book first, and that mends it")
    {
        // 40 CFR 98.303: 80 - 90 = -10 kg is refused; retired as well, 80 - 90 + 60 = 50 kg.
        REQUIRE(ledger.add({"equipment_sold", "2025-06-01", "41-0387", "Buyer", "90 kg", ""}, "N. Quill"));
        YearBalance const sold = balance_of_year(book_of(ledger), 2025, "2026-03-02");
        REQUIRE_FALSE(sold.answer);
        CHECK(sold.answer.error().detail.find("\"41-0387\" was sold with its gas on 2025-06-01") == 0);
        CHECK(sold.answer.error().detail.find("book that first") != std::string::npos);
        REQUIRE(ledger.add({"retired", "2025-06-01", "41-0387", "", "60 kg", ""}, "N. Quill"));
        YearBalance const again = balance_of_year(book_of(ledger), 2025, "2026-03-02");
        REQUIRE(again.answer);
        CHECK(again.answer->find("user_emissions")->value == Approx(50.0).epsilon(0).margin(1e-6));
    }
    SECTION("another source of the GWP changes t CO2e and is named")
    {
        REQUIRE(ledger.choose_gwp("eu_2024_573", "N. Quill"));
        YearBalance const again = balance_of_year(book_of(ledger), 2025, "2026-03-02");
        REQUIRE(again.answer);
        CHECK(again.answer->find("co2e")->value == Approx(80.0 * 24.3).epsilon(0).margin(1e-6));
        CHECK(again.answer->notes.front().find("EU 2024/573") != std::string::npos);
        CHECK_FALSE(ledger.choose_gwp("guess", "N. Quill"));
        auto outage = bench.begin();
        CHECK(outage->state().facts.at("gwp") == "24300");
        CHECK(outage->state().facts.at("gwp_source") == "EU 2024/573 annex I");
    }
    SECTION("a closed year takes no more entries, and the next begins with its stock")
    {
        REQUIRE(ledger.close_year(2025, "N. Quill"));
        CHECK_FALSE(ledger.close_year(2025, "N. Quill"));
        CHECK_FALSE(ledger.close_year(2026, "N. Quill"));
        auto const late = ledger.add({"lost", "2025-12-01", "C-1", "", "1 kg", ""}, "N. Quill");
        REQUIRE_FALSE(late);
        CHECK(late.error().detail.find("2025 is closed") != std::string::npos);
        CHECK(balance_of_year(book_of(ledger), 2026, "2026-03-02").answer);
    }
    SECTION("more gas at the end than there was and came is refused")
    {
        REQUIRE(ledger.add({"counted", "2025-12-31", "", "C-1", "500 kg", ""}, "N. Quill"));
        YearBalance const wrong = balance_of_year(book_of(ledger), 2025, "2026-03-02");
        REQUIRE_FALSE(wrong.answer);
        CHECK(wrong.answer.error().detail.find("not negative") != std::string::npos);
    }
    SECTION("a cylinder weighed for the first time within the year is refused")
    {
        REQUIRE(ledger.add({"counted", "2025-06-01", "", "C-9", "5 kg", ""}, "N. Quill"));
        YearBalance const wrong = balance_of_year(book_of(ledger), 2025, "2026-03-02");
        REQUIRE_FALSE(wrong.answer);
        CHECK(wrong.answer.error().detail.find("C-9") != std::string::npos);
    }
}

TEST_CASE("a cylinder that gave gas nobody knows of stops the year's balance by name", "[ledger]")
{
    Bench bench;
    auto outage = bench.begin();
    record_account(*outage, 0.9, 0.85, 0.05);
    YearBalance const year = balance_of_year(taken_over(*bench.workspace), 2026, "2026-03-02");
    REQUIRE_FALSE(year.answer);
    CHECK((year.answer.error().where + year.answer.error().detail).find("inventory") != std::string::npos);
}

TEST_CASE("a cylinder bought on the day of the fill may be typed in after it", "[ledger]")
{
    Bench bench;
    auto outage = bench.begin();
    record_account(*outage, 0.9, 0.85, 0.05);
    (void)taken_over(*bench.workspace);
    GasLedger ledger(*bench.workspace);
    REQUIRE(ledger.add({"bought", "2026-03-02", "Supplier", "C-104", "20 kg", ""}, "N. Quill"));
    GasBook const book = book_of(ledger);
    CHECK(holds(book, "C-104") == Approx(19.1).epsilon(0).margin(1e-12));
    // A top-up replaces what had leaked, so all of it is an emission of the year (40 CFR 98.303).
    YearBalance const year = balance_of_year(book, 2026, "2026-03-02");
    REQUIRE(year.answer);
    CHECK(year.answer->find("user_emissions")->value == Approx(0.9).epsilon(0).margin(1e-6));
}

TEST_CASE(
    "the files of the ledger carry every movement, also the withdrawn, and are the same when written again",
    "[ledger]")
{
    Bench bench;
    GasLedger ledger(*bench.workspace);
    REQUIRE(ledger.add({"bought", "2026-03-01", "=Supplier", "C-104", "20 kg", ""}, "N. Quill"));
    REQUIRE(ledger.withdraw(1, "typed twice", "N. Quill"));
    GasBook const book = book_of(ledger);
    auto const csv = gas_csv(book);
    REQUIRE(csv);
    CHECK(csv->find("'=Supplier") != std::string::npos); // no formula for a spreadsheet
    CHECK(csv->find("withdrawn: typed twice") != std::string::npos);
    auto const first = write_gas_files(*bench.workspace, book, 2026);
    REQUIRE(first);
    REQUIRE(write_gas_files(*bench.workspace, book, 2026));
    auto const pdf = bench.disk->read(first->pdf, 1u << 22);
    REQUIRE(pdf);
    CHECK(pdf->starts_with("%PDF"));
}

TEST_CASE("days are those of the calendar", "[ledger]")
{
    CHECK(is_day("2024-02-29"));
    CHECK(is_day("2000-02-29"));
    for (char const* wrong : {"2026-02-29", "1900-02-29", "2026-13-01", "2026-00-10", "2026-1-1", "26-01-01",
                              "2026-01-32", "2026/01/01", "2026-01-0x", ""})
        CHECK_FALSE(is_day(wrong));
}

TEST_CASE("opening the ledger again looks only into outages that went on since", "[ledger]")
{
    Bench bench;
    auto outage = bench.begin();
    record_account(*outage, 0.9, 0.85, 0.05);
    auto const entries = [&] { return bench.workspace->journal().entries("@ledger")->size(); };
    CHECK(taken_over(*bench.workspace).entries == 1);
    CHECK(entries() == 1);
    REQUIRE(outage->record_value("joint.temperature", "14.2 degC"));
    // The outage went on and nothing is to be booked: that is noted once, and is no entry of gas.
    for (int i = 0; i < 3; ++i) {
        GasBook const book = taken_over(*bench.workspace);
        CHECK(book.entries == 1);
        CHECK(book.movements.size() == 2);
    }
    CHECK(entries() == 2);
    record_account(*outage, 1.9, 1.85, 0.05);
    CHECK(taken_over(*bench.workspace).entries == 2);
}

TEST_CASE("an entry and the one in its place are one entry of the journal", "[ledger]")
{
    Bench bench;
    GasLedger ledger(*bench.workspace);
    REQUIRE(ledger.add({"bought", "2026-02-01", "Gas supplier", "C-104", "52 kg", ""}, "N. Quill"));
    REQUIRE(ledger.add({"sold", "2026-02-02", "C-104", "Buyer", "50 kg", ""}, "N. Quill"));
    auto const first = book_of(ledger).movements.front().entry;
    auto const refused = ledger.correct(first, {"bought", "2026-02-01", "Gas supplier", "C-104", "40 kg", ""},
                                        "slip", "N. Quill");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().detail.find("Other entries live on this gas.") == 0);
    CHECK(book_of(ledger).entries == 2);
    REQUIRE(ledger.correct(first, {"bought", "2026-02-01", "Gas supplier", "C-104", "60 kg", ""}, "slip",
                           "N. Quill"));
    GasBook const book = book_of(ledger);
    CHECK(book.entries == 3);
    CHECK(holds(book, "C-104") == Approx(10.0).epsilon(0).margin(1e-12));
}
