#include "app/entry.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::app;

namespace {

void press(Entry& entry, std::string const& keys)
{
    for (char c : keys)
        entry.act({screens::Intent::Kind::key, {}, std::string(1, c), {}});
}

void press_named(Entry& entry, char const* key)
{
    entry.act({screens::Intent::Kind::key, {}, key, {}});
}

EntryRequest number_request()
{
    EntryRequest r;
    r.label = "Gauge";
    r.units = {"bar g", "psi g"};
    return r;
}

} // namespace

TEST_CASE("a second point is refused on press and says so")
{
    Entry entry;
    entry.open(number_request());
    press(entry, "4.6.1");
    CHECK(entry.view().typed == "4.61");
    press(entry, ".");
    CHECK(entry.view().typed == "4.61");
    CHECK_FALSE(entry.view().problem.empty());
}

TEST_CASE("a leading point is written out so that it cannot be overlooked")
{
    Entry entry;
    entry.open(number_request());
    press(entry, ".5");
    CHECK(entry.view().typed == "0.5");
    press_named(entry, "sign");
    CHECK(entry.view().typed == "-0.5");
    press_named(entry, "sign");
    CHECK(entry.view().typed == "0.5");
}

TEST_CASE("letters and operators never get into a number")
{
    Entry entry;
    entry.open(number_request());
    press(entry, "4x+*6e1");
    CHECK(entry.view().typed == "461");
}

TEST_CASE("a comma typed on a keyboard is the decimal point")
{
    Entry entry;
    entry.open(number_request());
    press(entry, "6,02");
    CHECK(entry.view().typed == "6.02");
}

TEST_CASE("changing the unit keeps what was typed")
{
    Entry entry;
    entry.open(number_request());
    press(entry, "4.61");
    CHECK(entry.whole() == "4.61 bar g");
    entry.act({screens::Intent::Kind::unit, {}, "psi g", {}});
    CHECK(entry.whole() == "4.61 psi g");
}

TEST_CASE("a value that is blocked cannot be entered and stays on the pad")
{
    Entry entry;
    auto r = number_request();
    bool done = false;
    r.judge = [](std::string const&) { return EntryJudgement{{}, "not possible", {}}; };
    r.done = [&done](auto const&, auto const&) { done = true; };
    entry.open(std::move(r));
    press(entry, "99");
    press_named(entry, "enter");
    CHECK_FALSE(done);
    CHECK(entry.is_open());
    CHECK(entry.view().typed == "99");
    CHECK_FALSE(entry.view().can_enter);
}

TEST_CASE("backspace takes one character off, also one of several bytes")
{
    Entry entry;
    EntryRequest r;
    r.text = true;
    entry.open(std::move(r));
    entry.act({screens::Intent::Kind::key, {}, "A", {}});
    entry.act({screens::Intent::Kind::key, {}, "Ü", {}});
    press_named(entry, "backspace");
    CHECK(entry.view().typed == "A");
}

TEST_CASE("a PIN takes digits only")
{
    Entry entry;
    EntryRequest r;
    r.secret = true;
    entry.open(std::move(r));
    press(entry, "27-4.1x");
    CHECK(entry.view().typed == "2741");
    CHECK(entry.view().secret);
}

TEST_CASE("cancel closes the pad and enters nothing")
{
    Entry entry;
    auto r = number_request();
    bool done = false;
    r.done = [&done](auto const&, auto const&) { done = true; };
    entry.open(std::move(r));
    press(entry, "4");
    press_named(entry, "cancel");
    CHECK_FALSE(entry.is_open());
    CHECK_FALSE(done);
}
