#include "quantity/error_words.h"
#include "quantity/near_names.h"
#include <catch2/catch.hpp>

using namespace isochore;

TEST_CASE("a sentence that names its place is not preceded by it, one that does not is")
{
    using Code = Error::Code;
    auto const file = "/media/one/a.json";
    CHECK(place_and_detail({Code::io, file, "cannot read /media/one/a.json: the disk is full"}) ==
          "cannot read /media/one/a.json: the disk is full");
    CHECK(place_and_detail({Code::not_found, "kd-9", "there is no such profile; near it: kd-41"}) ==
          "kd-9: there is no such profile; near it: kd-41");
    // A longer name is another name.
    CHECK(place_and_detail({Code::not_found, "kd-4", "there is no such profile; near it: kd-41"}) ==
          "kd-4: there is no such profile; near it: kd-41");
    CHECK(place_and_detail({Code::io, "/media/one", "cannot list /media/one/a"}) ==
          "/media/one: cannot list /media/one/a");
    CHECK(place_and_detail({Code::denied, {}, "the store is locked"}) == "the store is locked");
    CHECK(place_and_detail({Code::corrupt, "S0000002", "S0000002 was copied"}) == "S0000002 was copied");
    CHECK(place_and_detail({Code::corrupt, "date", "no date is given; an update changes nothing"}) ==
          "no date is given; an update changes nothing");
    CHECK(place_and_detail({Code::corrupt, "date", "an update changes nothing"}) ==
          "date: an update changes nothing");
}

TEST_CASE("near names are those a slip of the hand leads from, nearest first")
{
    std::vector<std::string> const models = {"kd-41", "kd-12", "qv-27", "ut-52", "nq-36", "al-41"};
    CHECK(near_names("kd-14", models) == "kd-41, kd-12");
    CHECK(near_names("KD-41", models) == "kd-41");
    CHECK(near_names("kd", models) == "kd-41, kd-12");
    CHECK(near_names("somethingelse", models).empty());
    CHECK(near_names("", models).empty());
    CHECK(near_names("unit.serail", {"unit.serial", "sensor.serial", "ct.ratio"}) == "unit.serial");
    // Where there are few, all of them help.
    CHECK(near_names("x", {"S0000001", "S0000002"}) == "S0000001, S0000002");
    CHECK(near_names("x", {"S0000001", "S0000002"}, 5, false).empty());
    // Said once, and never more than asked for.
    CHECK(near_names("a1", {"a1", "a1", "a2", "a3"}, 2) == "a1, a2");
    CHECK(near_names("x", {}).empty());
    CHECK(near_it("kd-42", {"kd-41"}) == "; near it: kd-41");
    CHECK(near_it("zzzzzzz", models).empty());
}
