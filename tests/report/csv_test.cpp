#include "report/csv.h"
#include <catch2/catch.hpp>
#include <random>

using namespace isochore;
using namespace isochore::report;

namespace {

/// A reader of RFC 4180, written from the standard.
std::vector<std::vector<std::string>> read_csv(std::string const& text)
{
    std::vector<std::vector<std::string>> rows{{""}};
    bool inside = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        char const c = text[i];
        if (inside) {
            if (c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
                rows.back().back() += '"';
                ++i;
            } else if (c == '"') {
                inside = false;
            } else {
                rows.back().back() += c;
            }
        } else if (c == '"') {
            inside = true;
        } else if (c == ',') {
            rows.back().emplace_back();
        } else if (c == '\r' && i + 1 < text.size() && text[i + 1] == '\n') {
            rows.emplace_back(1);
            ++i;
        } else {
            rows.back().back() += c;
        }
    }
    rows.pop_back();
    return rows;
}

std::string one(std::string text, bool number = false)
{
    return *csv_text({{{std::move(text), number}}});
}

} // namespace

TEST_CASE("texts that a spreadsheet could run are made harmless", "[report]")
{
    // OWASP ASVS 1.2.10 and CWE-1236.
    for (std::string const& text :
         {std::string("=1+1"), std::string("+cmd"), std::string("-1+2"), std::string("@SUM(A1)"),
          std::string("\t=1"), std::string("\r=1"), std::string("\n=1"), std::string("  =1"),
          std::string("\0=1", 3), std::string("＝1+1"), std::string("＠a")}) {
        CAPTURE(text);
        auto const rows = read_csv(one(text));
        REQUIRE(rows.size() == 1);
        CHECK(rows[0][0] == "'" + text);
    }
    for (char const* const text : {"filling 40 kg/m³", "4.61 bar g", "", "a=b", "1-2", "±0.3"})
        CHECK(read_csv(one(text))[0][0] == text);
}

TEST_CASE("negative readings stay numbers", "[report]")
{
    CHECK(one("-0.25", true) == "-0.25\r\n");
    CHECK(one("1e-9", true) == "1e-9\r\n");
    CHECK(one("-0.25", false) == "'-0.25\r\n");
}

TEST_CASE("a number field that is not a plain number is refused with its place", "[report]")
{
    for (char const* const text :
         {"", "abc", "1,5", "0x10", "1e", "--1", "=1", "1 ", "nan", "inf", "1.2.3", "."}) {
        auto const csv = csv_text({{{"a", false}}, {{text, true}}});
        CAPTURE(text);
        REQUIRE_FALSE(csv);
        CHECK(csv.error().where == "row 2, field 1");
    }
    for (char const* const text : {"0", "-1", "+1.5", ".5", "5.", "1E+10", "00.100"})
        CHECK(is_plain_number(text));
}

TEST_CASE("rows of different lengths are refused", "[report]")
{
    CHECK_FALSE(csv_text({{{"a"}, {"b"}}, {{"c"}}}));
    CHECK(*csv_text({}) == "");
}

TEST_CASE("what is written is read back the same, apart from the apostrophe", "[report]")
{
    std::mt19937 random(20261125);
    std::string const alphabet = "ab,\"\r\n ;=+-@\t'\xc3\xa9";
    for (int n = 0; n < 2000; ++n) {
        std::vector<std::vector<CsvField>> rows(1 + random() % 4, std::vector<CsvField>(1 + random() % 4));
        for (auto& row : rows) {
            row.resize(rows.front().size());
            for (auto& field : row)
                for (std::size_t k = random() % 8; k > 0; --k)
                    field.text += alphabet[random() % alphabet.size()];
        }
        auto const csv = csv_text(rows);
        REQUIRE(csv);
        auto const back = read_csv(*csv);
        REQUIRE(back.size() == rows.size());
        for (std::size_t r = 0; r < rows.size(); ++r)
            for (std::size_t c = 0; c < rows[r].size(); ++c)
                REQUIRE((back[r][c] == rows[r][c].text || back[r][c] == "'" + rows[r][c].text));
    }
}
