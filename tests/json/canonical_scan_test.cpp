#include "json/canonical_scan.h"
#include "json/read.h"
#include <catch2/catch.hpp>

using namespace isochore;

namespace {
bool is_canonical(std::string_view text)
{
    CanonicalScan scan(text);
    return scan.value() && scan.finished();
}
} // namespace

TEST_CASE("the scan accepts exactly what the writer would write")
{
    for (char const* text : {"null", "true", "false", "0", "-1", "1e+30", "4.5", "0.000001", "1e-7", "\"\"",
                             "[]", "{}", "[1,2,[{}]]", R"({"":3,"a":2,"a b":4,"ab":1})", R"("\u000f\n\"\\")",
                             "\"\xE2\x82\xAC\xF0\x9F\x98\x80 and more than eight bytes\"",
                             R"({"\r":1,"1":2,"\\":3,"z":4})", "9007199254740992", "123456789012345"})
        CHECK(is_canonical(text));
    for (char const* text : {"",
                             " 1",
                             "1 ",
                             "1.0",
                             "1e30",
                             "1E+30",
                             "-0",
                             "01",
                             "+1",
                             "1.",
                             ".5",
                             "-",
                             "10e-1",
                             "0.0000001",
                             "1e+20",
                             "[1, 2]",
                             "[1,]",
                             "[,1]",
                             "{\"a\":1,}",
                             "{\"b\":1,\"a\":2}",
                             "{\"a\":1,\"a\":2}",
                             "{ }",
                             "{\"a\" :1}",
                             R"("\/")",
                             R"("\u0041")",
                             R"("\u000F")",
                             R"("\u000a")",
                             R"("\u0008")",
                             "\"\x01\"",
                             "\"\xFF\"",
                             "\"\xED\xA0\x80\"",
                             "\"a",
                             "\"a\\",
                             "nul",
                             "tru",
                             "[",
                             "{",
                             "{\"a\"",
                             "{\"a\":",
                             "9007199254740993",
                             "1e400",
                             "12345678901234567890",
                             R"({"\\":1,"1":2})"})
        CHECK_FALSE(is_canonical(text));
}

TEST_CASE("the scan gives the members of the outer object as they stand")
{
    std::vector<CanonicalScan::Member> members;
    CanonicalScan scan(R"({"a":"x","b":{"c":[1]},"n":12})");
    REQUIRE(scan.object(members));
    REQUIRE(members.size() == 3);
    CHECK(members[0].value == "\"x\"");
    CHECK(members[1].value == R"({"c":[1]})");
    CHECK(members[2].name == "n");
}

TEST_CASE("nesting is bounded in the scan too")
{
    CHECK(is_canonical(std::string(64, '[') + std::string(64, ']')));
    CHECK_FALSE(is_canonical(std::string(65, '[') + std::string(65, ']')));
    CHECK_FALSE(is_canonical(std::string(1000000, '[')));
}

TEST_CASE("changing any byte of a canonical text leaves the scan and the writer of one mind")
{
    std::string const text =
        "{\"a\":[1,2.5,-3e-9,true,null],\"b \xC3\xA4\":\"x\\n\\u0001\\\"y\",\"c\":{\"d\":\"0.62 MPa\"}}";
    REQUIRE(is_canonical(text));
    for (std::size_t i = 0; i < text.size(); ++i)
        for (int byte = 0; byte < 256; ++byte) {
            std::string changed = text;
            changed[i] = static_cast<char>(byte);
            auto const value = read_json(changed, "t");
            auto const written = value ? canonical_json(*value) : Result<std::string>(std::string());
            bool const expected = value && written && *written == changed;
            if (is_canonical(changed) != expected)
                FAIL(changed);
        }
}
