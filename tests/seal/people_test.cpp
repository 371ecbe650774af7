#include "seal/moment.h"
#include "seal/people.h"
#include "seal/pin.h"
#include "support/temporary_folder.h"
#include <catch2/catch.hpp>

using namespace isochore;
using isochore::seal::People;
using isochore::seal::Role;
using isochore::test::TemporaryFolder;

namespace {
constexpr std::int64_t noon = 1'764'072'000'000; // 2025-11-25T12:00:00Z
constexpr std::int64_t second = 1000;

struct Tablet {
    TemporaryFolder folder;
    std::unique_ptr<journal::Journal> store = std::move(*journal::open_journal(folder.path()));
    std::optional<People> list{std::in_place, *store};
    People& people = *list;
    void reopen()
    {
        store.reset();
        store = std::move(*journal::open_journal(folder.path()));
        list.emplace(*store);
    }
};
} // namespace

TEST_CASE("the first person must be able to look after the others, who are then added by such a person")
{
    Tablet tablet;
    CHECK(tablet.people.add("Ada", Role::crew, "271828", "", noon).error().code == Error::Code::denied);
    auto const ada = tablet.people.add("Ada", Role::supervisor, "271828", "", noon);
    REQUIRE(ada);
    auto const ben = tablet.people.add("Ben", Role::crew, "314159", ada->id, noon);
    REQUIRE(ben);
    CHECK(tablet.people.add("Cy", Role::crew, "161803", ben->id, noon).error().code == Error::Code::denied);
    CHECK(tablet.people.add("Cy", Role::crew, "161803", "", noon).error().code == Error::Code::denied);
    CHECK(tablet.people.add("Ben", Role::crew, "161803", ada->id, noon).error().code ==
          Error::Code::invalid_input);
    CHECK_FALSE(tablet.people.add("", Role::crew, "161803", ada->id, noon));
    tablet.reopen();
    auto const all = tablet.people.all();
    REQUIRE(all->size() == 2);
    CHECK(all->at(1).name == "Ben");
    CHECK(all->at(1).role == Role::crew);
    CHECK(tablet.store->verify("@people"));
}

TEST_CASE("a PIN is never stored, only its Argon2id hash with the parameters meant")
{
    Tablet tablet;
    REQUIRE(tablet.people.add("Ada", Role::engineer, "271828", "", noon));
    std::string const body = tablet.store->entries("@people")->at(0).body;
    CHECK(body.find("271828") == std::string::npos);
    // OWASP Password Storage Cheat Sheet: Argon2id, 19 MiB, 2 iterations, 1 lane.
    CHECK(body.find("$argon2id$v=19$m=19456,t=2,p=1$") != std::string::npos);
}

TEST_CASE("easy PINs are refused and the reason never repeats the PIN")
{
    for (char const* pin :
         {"000000", "111111", "123456", "654321", "012345", "890123", "210987", "121212", "123123", "112233",
          "332211", "696969", "112211", "12345", "1234567890", "12345a", "", "١٢٣٤٥٦", "12345678901234567"}) {
        auto const refused = seal::check_pin_rules(pin);
        CAPTURE(pin);
        REQUIRE_FALSE(refused);
        if (*pin)
            CHECK(refused.error().detail.find(pin) == std::string::npos);
    }
    for (char const* pin : {"271828", "314159", "902714", "1357902468"})
        CHECK(seal::check_pin_rules(pin));
}

TEST_CASE("after three wrong tries the next must wait, longer each time, also after a restart")
{
    Tablet tablet;
    std::string const ada = tablet.people.add("Ada", Role::engineer, "271828", "", noon)->id;
    std::int64_t now = noon;
    for (int i = 0; i < 3; ++i) {
        CHECK(tablet.people.wait_ms(ada, now) == 0);
        CHECK(tablet.people.check_pin(ada, "271829", now).error().code == Error::Code::denied);
    }
    CHECK(tablet.people.wait_ms(ada, now) == 30 * second);
    tablet.reopen();
    // The right PIN is not even tried while it must wait, and the refusal is not one more wrong try.
    auto const early = tablet.people.check_pin(ada, "271828", now + 29 * second);
    REQUIRE_FALSE(early);
    CHECK(early.error().detail.find("1 s") != std::string::npos);
    CHECK(tablet.store->entries("@people")->size() == 4);
    now += 30 * second;
    CHECK_FALSE(tablet.people.check_pin(ada, "271829", now));
    CHECK(tablet.people.wait_ms(ada, now) == 60 * second);
    now += 60 * second;
    CHECK(tablet.people.check_pin(ada, "271828", now));
    CHECK(tablet.people.wait_ms(ada, now) == 0);
    CHECK_FALSE(tablet.people.check_pin(ada, "271829", now));
    CHECK(tablet.people.wait_ms(ada, now) == 0); // the count began anew
}

TEST_CASE("delays double from half a minute to an hour")
{
    CHECK(seal::pin_delay_ms(2) == 0);
    CHECK(seal::pin_delay_ms(3) == 30 * second);
    CHECK(seal::pin_delay_ms(5) == 120 * second);
    CHECK(seal::pin_delay_ms(9) == 1920 * second);
    CHECK(seal::pin_delay_ms(10) == 3600 * second);
    CHECK(seal::pin_delay_ms(1000000) == 3600 * second);
}

TEST_CASE("setting the clock back or forward does not shorten a wait to nothing nor make it endless")
{
    Tablet tablet;
    std::string const ada = tablet.people.add("Ada", Role::engineer, "271828", "", noon)->id;
    for (int i = 0; i < 3; ++i)
        CHECK_FALSE(tablet.people.check_pin(ada, "271829", noon));
    std::int64_t const yesterday = noon - 86'400 * second;
    CHECK_FALSE(tablet.people.check_pin(ada, "271828", yesterday));
    CHECK(tablet.people.wait_ms(ada, yesterday) == 30 * second); // begun again by the new clock
    CHECK_FALSE(tablet.people.check_pin(ada, "271828", yesterday + 29 * second));
    CHECK(tablet.people.check_pin(ada, "271828", yesterday + 30 * second));
}

TEST_CASE("a new PIN and a withdrawal are entries, and the old PIN no longer counts")
{
    Tablet tablet;
    std::string const ada = tablet.people.add("Ada", Role::supervisor, "271828", "", noon)->id;
    std::string const ben = tablet.people.add("Ben", Role::crew, "314159", ada, noon)->id;
    REQUIRE(tablet.people.set_pin(ben, "902714", ben, noon));
    CHECK_FALSE(tablet.people.check_pin(ben, "314159", noon));
    CHECK(tablet.people.check_pin(ben, "902714", noon)->name == "Ben");
    CHECK(tablet.people.set_pin(ada, "141421", ben, noon).error().code == Error::Code::denied);
    CHECK(tablet.people.set_pin(ben, "123456", ada, noon).error().code == Error::Code::invalid_input);
    REQUIRE(tablet.people.set_pin(ben, "141421", ada, noon)); // forgotten: the supervisor gives a new one
    CHECK(tablet.people.check_pin(ben, "141421", noon));

    CHECK(tablet.people.withdraw(ada, "left", ben, noon).error().code == Error::Code::denied);
    CHECK(tablet.people.withdraw(ada, "left", ada, noon).error().code == Error::Code::denied); // the last one
    REQUIRE(tablet.people.withdraw(ben, "left the company", ada, noon));
    CHECK(tablet.people.check_pin(ben, "141421", noon).error().code == Error::Code::denied);
    CHECK(tablet.people.find(ben)->withdrawn);
    CHECK_FALSE(tablet.people.set_pin(ben, "902714", ada, noon));
    CHECK_FALSE(tablet.people.withdraw(ben, "again", ada, noon));
    CHECK(tablet.people.add("Ben", Role::crew, "902714", ada, noon)->id ==
          "p3"); // a new Ben is somebody else
    CHECK(tablet.people.check_pin("p9", "902714", noon).error().code == Error::Code::not_found);
}

TEST_CASE("entries about people that make no sense are corrupt, not passed over")
{
    Tablet tablet;
    REQUIRE(tablet.store->append("@people", {{"kind", "person.withdrawn"}, {"person", "p7"}, {"at", "x"}}));
    CHECK(tablet.people.all().error().code == Error::Code::corrupt);
}

TEST_CASE("moments have one text form and come back from it")
{
    CHECK(seal::moment_text(noon) == "2025-11-25T12:00:00.000Z");
    CHECK(seal::moment_text(951'782'399'999) == "2000-02-28T23:59:59.999Z");
    CHECK(seal::moment_text(-1) == "1969-12-31T23:59:59.999Z");
    for (std::int64_t const ms : {noon, std::int64_t{-1}, std::int64_t{951'868'800'001}})
        CHECK(seal::moment_ms(seal::moment_text(ms)) == ms);
    for (char const* text :
         {"", "2025-11-25", "2025-02-29T00:00:00.000Z", "2025-11-25T24:00:00.000Z", "2025-11-25T12:00:00Z",
          "2025-11-25T12:00:00.000+01:00", "2025-11-25T12:00:00.000Z "})
        CHECK_FALSE(seal::moment_ms(text));
}
