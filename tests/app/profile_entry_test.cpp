#include "app/entry.h"
#include "app/profile_entry.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::app;

TEST_CASE("every amount of a profile has units of its own dimension, and every pressure says abs or g")
{
    for (auto const& field : model::profile_fields()) {
        if (field.kind != model::ProfileField::Kind::amount)
            continue;
        CAPTURE(field.path);
        auto const units = units_for(field);
        CHECK_FALSE(units.empty());
        for (auto const& unit : units) {
            CAPTURE(unit);
            auto const amount = parse_amount("300 " + unit, field.dimension, field.path);
            REQUIRE(amount);
            if (field.dimension == Dimension::pressure)
                CHECK(amount->reference != PressureReference::none);
        }
    }
}

TEST_CASE("a pressure says its density and cycles their milliseconds while they are typed")
{
    model::Profile p;
    p.values["gas.species"].value = "SF6";
    p.values["rating.frequency"].value = "50 Hz";
    p.values["gas.nominal"].value = "0.616 MPa abs";
    p.values["rating.interrupting_cycles"].value = "3 cycles";
    // 3 cycles of 20 ms. The density is held against the equation of state in tests/gas.
    CHECK(value_echo(p, *model::profile_field("rating.interrupting_cycles")) == "60.00 ms");
    CHECK(value_echo(p, *model::profile_field("gas.nominal")).find("39.98 kg/m³") == 0);
    CHECK(value_echo(p, *model::profile_field("gas.leak_limit")).empty());
    p.values["gas.nominal"].value = "0.616 MPa";
    CHECK(value_echo(p, *model::profile_field("gas.nominal")).empty());
}

TEST_CASE("a search is told of every key and may be emptied, which a value may not")
{
    Entry entry;
    std::vector<std::string> told;
    std::string result = "before";
    EntryRequest r;
    r.text = true;
    r.typed = "a";
    r.may_be_empty = true;
    r.changed = [&](std::string const& typed) { told.push_back(typed); };
    r.done = [&](std::string const& typed, std::string const&) { result = typed; };
    entry.open(r);
    auto const key = [&](char const* text) {
        screens::Intent intent;
        intent.kind = screens::Intent::Kind::key;
        intent.text = text;
        entry.act(intent);
    };
    key("b");
    key("clear");
    CHECK(told == std::vector<std::string>{"ab", ""});
    CHECK(entry.view().can_enter);
    key("enter");
    CHECK_FALSE(entry.is_open());
    CHECK(result.empty());

    r.may_be_empty = false;
    result = "before";
    entry.open(r);
    key("clear");
    CHECK_FALSE(entry.view().can_enter);
    key("enter");
    CHECK(entry.is_open());
    CHECK(result == "before");
}
