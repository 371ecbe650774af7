#include "json/read.h"
#include <bit>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>

using namespace isochore;

namespace {
std::string canonical(std::string_view text)
{
    auto const value = read_json(text, "test");
    REQUIRE(value);
    auto const out = canonical_json(*value);
    REQUIRE(out);
    return *out;
}
} // namespace

TEST_CASE("numbers are written as in RFC 8785 appendix B")
{
    struct Row {
        std::uint64_t bits;
        char const* text;
    };
    // RFC 8785, appendix B: IEEE 754 bits and their JSON form.
    static Row const rows[] = {
        {0x0000000000000000, "0"},
        {0x8000000000000000, "0"},
        {0x0000000000000001, "5e-324"},
        {0x8000000000000001, "-5e-324"},
        {0x7fefffffffffffff, "1.7976931348623157e+308"},
        {0xffefffffffffffff, "-1.7976931348623157e+308"},
        {0x4340000000000000, "9007199254740992"},
        {0xc340000000000000, "-9007199254740992"},
        {0x4430000000000000, "295147905179352830000"},
        {0x44b52d02c7e14af5, "9.999999999999997e+22"},
        {0x44b52d02c7e14af6, "1e+23"},
        {0x44b52d02c7e14af7, "1.0000000000000001e+23"},
        {0x444b1ae4d6e2ef4e, "999999999999999700000"},
        {0x444b1ae4d6e2ef4f, "999999999999999900000"},
        {0x444b1ae4d6e2ef50, "1e+21"},
        {0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7"},
        {0x3eb0c6f7a0b5ed8d, "0.000001"},
        {0x41b3de4355555553, "333333333.3333332"},
        {0x41b3de4355555554, "333333333.33333325"},
        {0x41b3de4355555555, "333333333.3333333"},
        {0x41b3de4355555556, "333333333.3333334"},
        {0x41b3de4355555557, "333333333.33333343"},
        {0xbecbf647612f3696, "-0.0000033333333333333333"},
        {0x43143ff3c1cb0959, "1424953923781206.2"},
    };
    for (Row const& row : rows) {
        auto const out = canonical_json(Json(std::bit_cast<double>(row.bits)));
        REQUIRE(out);
        CHECK(*out == row.text);
    }
}

TEST_CASE("numbers that JSON cannot hold are refused, RFC 8785 section 3.2.2.3")
{
    for (double const bad :
         {std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity(),
          std::numeric_limits<double>::quiet_NaN()}) {
        auto const out = canonical_json(Json{{"a", Json::array({bad})}});
        REQUIRE_FALSE(out);
        CHECK(out.error().code == Error::Code::invalid_input);
    }
}

TEST_CASE("whole numbers that a double cannot hold are refused rather than rounded")
{
    CHECK(canonical("9007199254740994") == "9007199254740994");
    CHECK(canonical("9007199254740992") == "9007199254740992");
    CHECK(canonical("-9007199254740992") == "-9007199254740992");
    for (char const* text :
         {"9007199254740993", "-9007199254740993", "18446744073709551615", "9223372036854775808"}) {
        auto const value = read_json(text, "test");
        REQUIRE(value);
        auto const out = canonical_json(*value);
        REQUIRE_FALSE(out);
        CHECK(out.error().detail.find(text) != std::string::npos);
    }
}

TEST_CASE("the sample of RFC 8785 section 3.2.2 comes out as printed there")
{
    CHECK(canonical(R"({
        "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
        "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
        "literals": [null, true, false]
    })") == "{\"literals\":[null,true,false],\"numbers\":[333333333.3333333,1e+30,4.5,0.002,1e-27],"
            "\"string\":\"\xE2\x82\xAC$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}");
}

TEST_CASE("members are sorted by UTF-16 code units as in RFC 8785 section 3.2.3")
{
    CHECK(
        canonical(R"({"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh",
        "1":"One","\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control",
        "\u00f6":"Latin Small Letter O With Diaeresis"})") ==
        "{\"\\r\":\"Carriage Return\",\"1\":\"One\",\"\xC2\x80\":\"Control\","
        "\"\xC3\xB6\":\"Latin Small Letter O With Diaeresis\",\"\xE2\x82\xAC\":\"Euro Sign\","
        "\"\xF0\x9F\x98\x80\":\"Emoji: Grinning Face\","
        "\"\xEF\xAC\xB3\":\"Hebrew Letter Dalet With Dagesh\"}");
}

TEST_CASE("a shorter name sorts before a longer one that begins with it")
{
    CHECK(canonical(R"({"ab":1,"a":2,"":3,"a b":4})") == R"({"":3,"a":2,"a b":4,"ab":1})");
}

TEST_CASE("text that is not UTF-8 has no canonical form")
{
    for (char const* bad : {"\xFF", "\xC0\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "a\xE2\x82"}) {
        CHECK_FALSE(canonical_json(Json(bad)));
        CHECK_FALSE(canonical_json(Json{{bad, 1}}));
    }
}

TEST_CASE("every control character is escaped as RFC 8785 section 3.2.2.2 says")
{
    std::string all;
    for (char c = 0; c < 0x20; ++c)
        all += c;
    auto const out = canonical_json(Json(all + "\x7f"));
    REQUIRE(out);
    CHECK(*out == "\"\\u0000\\u0001\\u0002\\u0003\\u0004\\u0005\\u0006\\u0007\\b\\t\\n\\u000b\\f\\r\\u000e"
                  "\\u000f\\u0010\\u0011\\u0012\\u0013\\u0014\\u0015\\u0016\\u0017\\u0018\\u0019\\u001a"
                  "\\u001b\\u001c\\u001d\\u001e\\u001f\x7f\"");
}

TEST_CASE("any double reads back as itself from its canonical form, and writing it again changes nothing")
{
    std::mt19937_64 random(20240501);
    for (int i = 0; i < 200000; ++i) {
        double const value = std::bit_cast<double>(random());
        if (!std::isfinite(value))
            continue;
        auto const out = canonical_json(Json(value));
        REQUIRE(out);
        auto const back = read_json(*out, "test");
        REQUIRE(back);
        // A whole number below 2^64 comes back as an integer; its value is the same or it would not be here.
        if (back->get<double>() != value)
            FAIL(*out);
    }
}
