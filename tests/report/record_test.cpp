#include "../drawing/label_checks.h"
#include "report/qr.h"
#include "report/record_pdf.h"
#include "report/type.h"
#include "sample_document.h"
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <set>
#include <unistd.h>

using namespace isochore;
using namespace isochore::report;
using namespace isochore::tests;
using drawing::Label;
using drawing::Mark;
using drawing::Polyline;

namespace {

constexpr double least_print = 2.0; // mm em, the names of the title block's cells

std::string without_blanks(std::string text)
{
    text.erase(std::remove_if(text.begin(), text.end(), [](char c) { return c == ' ' || c == '\n'; }),
               text.end());
    return text;
}

/// Every label of all sheets, run together without blanks.
std::string all_text(std::vector<Sheet> const& sheets)
{
    std::string text;
    for (auto const& sheet : sheets)
        for (auto const& item : sheet.picture.items)
            if (auto const* label = std::get_if<Label>(&item))
                text += label->text;
    return without_blanks(text);
}

std::vector<std::string> texts_of(Sheet const& sheet)
{
    std::vector<std::string> texts;
    for (auto const& item : sheet.picture.items)
        if (auto const* label = std::get_if<Label>(&item))
            texts.push_back(label->text);
    return texts;
}

long count_of(Sheet const& sheet, std::string const& text)
{
    auto const texts = texts_of(sheet);
    return std::count(texts.begin(), texts.end(), text);
}

void check_sheets(RecordDocument const& document)
{
    Type type;
    auto const measure = type.measure();
    for (auto const& sheet : record_sheets(document, measure)) {
        CHECK(label_faults(sheet.picture, measure, least_print) == "");
        CHECK(stroke_faults(sheet.picture) == "");
    }
}

RecordDocument small_document()
{
    RecordDocument d;
    d.created = "2026-11-25T14:55:00Z";
    return d;
}

RecordDocument document_with_table(int rows)
{
    auto d = small_document();
    RecordTable table;
    table.title = "Ledger";
    table.heads = {"Head one", "Head two"};
    for (int i = 0; i < rows; ++i)
        table.rows.push_back({"row", std::to_string(i)});
    d.ledgers.push_back(table);
    return d;
}

} // namespace

TEST_CASE("the sheets of a record have no text outside, too small or over another", "[report]")
{
    for (Paper const paper : {Paper::a4, Paper::letter})
        for (int const copies : {1, 2}) {
            auto document = sample_document(copies);
            document.paper = paper;
            document.draft = copies == 2;
            check_sheets(document);
        }
}

TEST_CASE("everything that was put into a record is printed", "[report]")
{
    auto const document = sample_document();
    Type type;
    std::string const text = all_text(record_sheets(document, type.measure()));
    auto const printed = [&](std::string const& what) {
        INFO(what);
        CHECK(text.find(without_blanks(what)) != std::string::npos);
    };
    // A cell's lines follow each other, so a text is found whole however it was broken.
    for (auto const& fact : document.facts) {
        printed(fact.label);
        printed(fact.value);
    }
    for (auto const& d : document.deviations) {
        printed(d.step);
        printed(d.why);
        printed(d.who);
        printed(d.owner);
    }
    for (auto const& s : document.signatures) {
        printed(s.name);
        printed(s.role);
        printed(s.when);
        printed(s.meaning);
    }
    for (auto const& stage : document.stages)
        for (auto const& step : stage.steps) {
            printed(step.number + step.title);
            printed(step.value);
            printed(step.expected);
            printed(step.limit + step.limit_source);
            printed(step.reason);
            printed(step.instrument);
            for (auto const& note : step.notes)
                printed(note);
            for (auto const& c : step.corrections) {
                printed(c.old_value);
                printed(c.why);
            }
            for (auto const& w : step.working) {
                printed(w.formula);
                printed(w.numbers);
                printed(w.source);
            }
            for (auto const& b : step.budget)
                printed(b.input + ": " + b.text);
        }
    for (auto const& ledger : document.ledgers)
        for (auto const& row : ledger.rows)
            for (auto const& cell : row)
                printed(cell);
    printed(document.footer);
    printed(document.hash);
}

TEST_CASE("the summary is printed worst first whatever order it came in", "[report]")
{
    auto document = small_document();
    document.summary = {{Mark::pass, "result-pass", "", "", ""},
                        {Mark::deferred, "result-deferred", "", "", ""},
                        {Mark::fail, "result-fail", "", "", ""},
                        {Mark::overridden, "result-overridden", "", "", ""},
                        {Mark::undecided, "result-undecided", "", "", ""}};
    Type type;
    std::string const text = all_text(record_sheets(document, type.measure()));
    std::vector<std::size_t> at;
    for (char const* const what :
         {"result-fail", "result-undecided", "result-overridden", "result-deferred", "result-pass"})
        at.push_back(text.find(what));
    CHECK(std::is_sorted(at.begin(), at.end()));
    CHECK(at.back() != std::string::npos);
}

TEST_CASE("an old value is struck through and the new one is not", "[report]")
{
    auto document = small_document();
    StepRow step;
    step.value = "4.61 bar g";
    step.corrections = {{"46.1 bar g", "R. Dahl", "13:41", "point left out"}};
    document.stages.push_back({"8", "Fill", "", {step}, {}, {}});
    Type type;
    auto const sheets = record_sheets(document, type.measure());
    auto const struck = [&](std::string const& text) {
        for (auto const& item : sheets.front().picture.items)
            if (auto const* label = std::get_if<Label>(&item); label != nullptr && label->text == text)
                for (auto const& other : sheets.front().picture.items)
                    if (auto const* line = std::get_if<Polyline>(&other);
                        line != nullptr && line->ink == drawing::Ink::fail && line->points.size() == 2 &&
                        line->points[0].y < label->at.y && line->points[0].y > label->at.y - label->size &&
                        line->points[0].x < label->at.x && line->points[1].x > label->at.x)
                        return true;
        return false;
    };
    CHECK(struck("46.1 bar g"));
    CHECK_FALSE(struck("4.61 bar g"));
}

TEST_CASE("a limit that is not confirmed says so", "[report]")
{
    auto document = small_document();
    StepRow step;
    step.limit = "4 bar";
    step.limit_confirmed = false;
    document.stages.push_back({"8", "Fill", "", {step}, {}, {}});
    Type type;
    CHECK(count_of(record_sheets(document, type.measure()).front(), "not confirmed") == 1);
    document.stages[0].steps[0].limit_confirmed = true;
    CHECK(count_of(record_sheets(document, type.measure()).front(), "not confirmed") == 0);
}

TEST_CASE("every sheet carries the title block with its number and the state of the record", "[report]")
{
    auto document = sample_document();
    document.draft = true;
    Type type;
    auto const sheets = record_sheets(document, type.measure());
    REQUIRE(sheets.size() > 5);
    for (std::size_t i = 0; i < sheets.size(); ++i) {
        CHECK(count_of(sheets[i], std::to_string(i + 1) + " of " + std::to_string(sheets.size())) == 1);
        CHECK(count_of(sheets[i], "Alder Ferry") == 1);
        CHECK(count_of(sheets[i], "AF-Q07-112") == 1);
        CHECK(count_of(sheets[i], "DRAFT: not sealed, DEMO DATA: invented breaker model") == 1);
    }
}

TEST_CASE("a table's head stands on every sheet it runs over and no row stands alone", "[report]")
{
    Type type;
    for (int rows = 1; rows <= 130; ++rows) {
        auto const sheets = record_sheets(document_with_table(rows), type.measure());
        long sum = 0;
        for (auto const& sheet : sheets) {
            long const here = count_of(sheet, "row");
            sum += here;
            CAPTURE(rows, here, sheets.size());
            CHECK(count_of(sheet, "Head one") == (here > 0 ? 1 : 0));
            if (rows > 1)
                CHECK(here != 1);
        }
        CHECK(sum == rows);
    }
}

TEST_CASE("a heading never stands at the foot of a sheet without its table", "[report]")
{
    Type type;
    for (int rows = 30; rows <= 90; ++rows) {
        auto document = document_with_table(rows);
        auto second = document.ledgers.front();
        second.title = "Second ledger";
        document.ledgers.push_back(second);
        for (auto const& sheet : record_sheets(document, type.measure()))
            if (count_of(sheet, "Second ledger") > 0) {
                auto const texts = texts_of(sheet);
                auto const heading = std::find(texts.begin(), texts.end(), "Second ledger");
                CAPTURE(rows);
                CHECK(std::count(heading, texts.end(), "row") >= 2);
            }
    }
}

TEST_CASE("a cell longer than a sheet goes on over the next ones with nothing lost", "[report]")
{
    auto document = small_document();
    std::string text;
    for (int i = 0; i < 3000; ++i)
        text += "word" + std::to_string(i) + " ";
    StepRow step;
    step.title = "A step with a very long reason";
    step.value = text;
    step.reason = text;
    document.stages.push_back({"1", "Stage", "", {step, step}, {}, {}});
    Type type;
    auto const sheets = record_sheets(document, type.measure());
    CHECK(sheets.size() > 4);
    CHECK(sheets.size() < 120);
    std::string const printed = all_text(sheets);
    std::size_t found = 0;
    for (int i = 0; i < 3000; ++i)
        found += printed.find("word" + std::to_string(i)) != std::string::npos ? 1 : 0;
    CHECK(found == 3000);
    check_sheets(document);
}

TEST_CASE("words without a blank, wrong bytes and control characters are printed without a fault", "[report]")
{
    std::string const nasty[] = {std::string(5000, 'W'),
                                 "\xff\xfe\x80 broken",
                                 std::string("nul\0inside", 10),
                                 "tab\tnew\nline\r",
                                 "🙂 اختبار 试验 ąęß",
                                 "<b>&amp;</b> (paren) \\ /Type"};
    for (auto const& text : nasty) {
        auto document = sample_document();
        document.title = document.subtitle = document.footer = text;
        document.author = text;
        document.block = {text, text, text, text, text, text, text};
        document.stages.resize(2);
        for (auto& step : document.stages[0].steps)
            step.title = step.value = step.expected = step.limit = step.reason = step.who = step.when = text;
        document.stages[1].title = document.stages[1].state = text;
        document.facts = {{text, text}};
        document.deviations = {{Mark::fail, text, text, text, text, text, text}};
        document.signatures = {{text, text, text, text, text, {}}};
        document.ledgers[0].rows.push_back({text, text, text, text, text, text});
        auto const pdf = record_pdf(document);
        REQUIRE(pdf);
        CHECK(pdf->starts_with("%PDF-"));
    }
}

TEST_CASE("an empty record is a valid file of one sheet", "[report]")
{
    auto const pdf = record_pdf(small_document());
    REQUIRE(pdf);
    CHECK(pdf->starts_with("%PDF-"));
    CHECK(pdf->find("%%EOF") != std::string::npos);
    Type type;
    CHECK(record_sheets(small_document(), type.measure()).size() == 1);
}

TEST_CASE("equal records give equal bytes and another date gives other ones", "[report]")
{
    auto const first = record_pdf(sample_document());
    REQUIRE(first);
    CHECK(*first == *record_pdf(sample_document()));
    auto later = sample_document();
    later.created = "2026-11-25T14:55:01+01:00";
    CHECK(*first != *record_pdf(later));
}

TEST_CASE("a creation date that is not RFC 3339 is refused by name", "[report]")
{
    for (char const* const text : {"", "2026-11-25", "2026-11-25 14:55:00Z", "2026-11-25T14:55:00",
                                   "2026-11-25T14:55:00+1", "25.11.2026", "2026-11-25T14:55:00.5Z"}) {
        auto document = small_document();
        document.created = text;
        auto const pdf = record_pdf(document);
        CAPTURE(text);
        REQUIRE_FALSE(pdf);
        CHECK(pdf.error().code == Error::Code::invalid_input);
        CHECK(pdf.error().detail.find(text) != std::string::npos);
    }
}

TEST_CASE("pdftotext reads the record", "[report]")
{
    if (std::system("pdftotext -v > /dev/null 2>&1") != 0) {
        WARN("skipped: pdftotext is not installed");
        return;
    }
    auto const folder =
        std::filesystem::temp_directory_path() / ("isochore-report-" + std::to_string(::getpid()));
    std::filesystem::create_directories(folder);
    auto const pdf = record_pdf(sample_document());
    REQUIRE(pdf);
    std::ofstream(folder / "record.pdf", std::ios::binary) << *pdf;
    std::string const command =
        "pdftotext -layout " + (folder / "record.pdf").string() + " " + (folder / "record.txt").string();
    REQUIRE(std::system(command.c_str()) == 0);
    std::ifstream file(folder / "record.txt");
    std::string const text{std::istreambuf_iterator<char>(file), {}};
    std::filesystem::remove_all(folder);
    for (char const* const what :
         {"Commissioning record", "Results, worst first", "0.15 ± 0.41 % a year", "≥ 98.5 %", "M. Okafor",
          "18 kΩ", "9f86d081 884c7d65 9a2feaa0 c55ad015", "46.1 bar g", "not confirmed", "Ledger of gas",
          "0.742", "filling 40 kg/m³", "plateau 99.1 ± 0.2 %", "I did this work and entered these values."}) {
        INFO(what);
        CHECK(text.find(what) != std::string::npos);
    }
}

TEST_CASE("a QR code has the finder patterns of ISO/IEC 18004 and grows with its text", "[report]")
{
    auto const small = qr_modules("isochore:9f86d081884c7d65");
    REQUIRE(small);
    std::size_t const n = small->size();
    CHECK((n - 17) % 4 == 0);
    for (auto const& [left, top] :
         std::vector<std::pair<std::size_t, std::size_t>>{{0, 0}, {n - 7, 0}, {0, n - 7}})
        for (std::size_t y = 0; y < 7; ++y)
            for (std::size_t x = 0; x < 7; ++x) {
                bool const ring = x == 0 || x == 6 || y == 0 || y == 6;
                bool const core = x >= 2 && x <= 4 && y >= 2 && y <= 4;
                CHECK((*small)[top + y][left + x] == (ring || core));
            }
    auto const large = qr_modules(std::string(500, 'a'));
    REQUIRE(large);
    CHECK(large->size() > n);
    CHECK(qr_modules(std::string(2331, 'a')));
    REQUIRE_FALSE(qr_modules(std::string(2332, 'a')));
    CHECK(qr_modules(std::string(2332, 'a')).error().code == Error::Code::out_of_range);
    CHECK(qr_modules("").error().code == Error::Code::invalid_input);
}
