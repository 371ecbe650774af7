#include "json/read.h"
#include <catch2/catch.hpp>

using namespace isochore;

namespace {
Error refused(std::string_view text, JsonLimits limits = {})
{
    auto const value = read_json(text, "file.json", limits);
    CAPTURE(text.substr(0, 80));
    REQUIRE_FALSE(value);
    CHECK(value.error().code == Error::Code::corrupt);
    return value.error();
}
} // namespace

TEST_CASE("a document keeps its members in the order written")
{
    auto const value = read_json(R"({"z":1,"a":[true,null,-2.5,"x"],"m":{}})", "t");
    REQUIRE(value);
    CHECK(value->dump() == R"({"z":1,"a":[true,null,-2.5,"x"],"m":{}})");
}

TEST_CASE("a name given twice in one object is refused where the second stands")
{
    CHECK(refused(R"({"a":1,"a":2})").where == "file.json:1:10");
    CHECK(refused(R"({"a":1,"\u0061":2})").detail.find("\"a\"") != std::string::npos);
    CHECK(refused("{\"x\":{\n  \"b\":1,\n  \"b\":1}}").where == "file.json:3:5");
    CHECK(read_json(R"([{"a":1},{"a":2},{"b":{"a":3},"a":4}])", "t"));
}

TEST_CASE("faults name their line and column, columns counted in characters")
{
    CHECK(refused("[1,\n 2,\n x]").where == "file.json:3:2");
    CHECK(refused("[\"\xC3\xA4\xC3\xA4\", x]").where == "file.json:1:8");
    CHECK(refused("[1,2").detail == "the text ends before all that was opened in it is closed");
    CHECK(refused("[1 2]").detail.starts_with(
        "this is no JSON: a sign is missing or out of place (syntax error"));
}

TEST_CASE("anything after the document is refused")
{
    refused("{} x");
    refused("1 2");
    refused("[],");
    refused(std::string_view("1\0", 2));
    CHECK(read_json(" {} \r\n\t", "t"));
}

TEST_CASE("what is nearly JSON is refused")
{
    for (char const* text : {"",
                             " ",
                             "nul",
                             "True",
                             "NaN",
                             "Infinity",
                             "-",
                             "+1",
                             "01",
                             "1.",
                             ".5",
                             "1e",
                             "0x10",
                             "'a'",
                             "{a:1}",
                             "[1,]",
                             "{\"a\":1,}",
                             "[1 2]",
                             "// c\n1",
                             "/* c */1",
                             "\"a",
                             "\"\t\"",
                             "\"\\x41\"",
                             "\"\\u12\"",
                             "\"\\ud800\"",
                             "\"\\udc00\"",
                             "\"\\ud800\\u0041\""})
        refused(text);
}

TEST_CASE("text that is not UTF-8, or has a byte order mark, is refused")
{
    for (char const* text : {"\"\xFF\"", "\"\xC0\xAF\"", "\"\xED\xA0\x80\"", "\"\xF4\x90\x80\x80\"",
                             "\"\xE2\x82\"", "\xFF\xFE[]", "{\"\x80\":1}"})
        refused(text);
    CHECK(refused("\xEF\xBB\xBF{}").detail.find("byte order mark") != std::string::npos);
}

TEST_CASE("a number too large for a double is refused, not made infinite")
{
    refused("1e999");
    refused("[-1e400]");
    CHECK(read_json("1.7976931348623157e308", "t"));
}

TEST_CASE("depth is bounded and deep nesting costs no stack")
{
    JsonLimits const limits{.bytes = 1u << 26, .depth = 3};
    CHECK(read_json("[[[1]]]", "t", limits));
    CHECK(refused("[[[[1]]]]", limits).detail.find("3 levels") != std::string::npos);
    CHECK(refused("[{\"a\":[{}]}]", limits).where == "file.json:1:8");
    refused(std::string(5000000, '['), limits);
    refused(std::string(100000, '['), {.bytes = 1u << 26, .depth = 1 << 20}); // never closed
}

TEST_CASE("size is bounded before anything is read")
{
    CHECK(read_json("[1234567]", "t", {.bytes = 9, .depth = 4}));
    CHECK(refused("[12345678]", {.bytes = 9, .depth = 4}).detail.find("10 bytes") != std::string::npos);
}

TEST_CASE("the reason of a refusal is short and is text, whatever was read")
{
    Error const error = refused("\"" + std::string(100000, 'a') + "\xFF\"");
    CHECK(error.detail.size() <= 200);
    CHECK(canonical_json(Json(error.detail)));
    CHECK(refused(std::string(5000, '9') + "e999").detail.size() <= 200);
}

TEST_CASE("an object of very many members is read in time that grows with its size only")
{
    std::string text = "{";
    for (int i = 0; i < 200000; ++i)
        text.append(i ? ",\"" : "\"").append(std::to_string(i)).append("\":0");
    text += "}";
    auto const value = read_json(text, "t"); // with a search of all members each time: minutes
    REQUIRE(value);
    CHECK(value->size() == 200000);
}

TEST_CASE("SHA-256 gives the digests of FIPS 180-4's published examples")
{
    // NIST, "Secure Hash Standard" example values for "abc" and the two-block message; and the empty text.
    CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}
