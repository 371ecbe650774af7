#include "language/phrase_book.h"
#include <catch2/catch.hpp>

using isochore::language::PhraseBook;

namespace {

PhraseBook book()
{
    return PhraseBook({{"{} is {} ({}).", "{} liegt {} ({})."},
                       {"{} is not {} ({}).", "{} liegt nicht {} ({})."},
                       {"between {} and {}", "zwischen {} und {}"},
                       {"As predicted: {}.", "Wie vorhergesagt: {}."},
                       {"{} (95 %: {} to {})", "{} (95 %: {} bis {})"},
                       {"confirmed", "bestätigt"},
                       {"{}: {}", "{}: {}"},
                       {"pull of {}", "Zug {}"},
                       {"liquid at {} degC", "flüssig bei {} degC"},
                       {"\"{}\" is not a unit of {}", "\"{}\" ist keine Einheit für {}"},
                       {"pressure", "Druck"},
                       {"{} to {}: {}", "{} an {}: {}"},
                       {"Reducer {} to {}", "Reduktion {} auf {}"},
                       {"Pipe run", "Leitung"},
                       {"{} mates", "{} passt"},
                       {"{} {}", "{} {}"}});
}

} // namespace

TEST_CASE("a sentence with values is turned and its values stay as they are", "[words]")
{
    CHECK(book().turned("27.4 ms is between 22 ms and 32 ms (confirmed).") ==
          "27.4 ms liegt zwischen 22 ms und 32 ms (bestätigt).");
}

TEST_CASE("the text that says more is taken before the one that says less", "[words]")
{
    CHECK(book().turned("40 ms is not between 22 ms and 32 ms (confirmed).") ==
          "40 ms liegt nicht zwischen 22 ms und 32 ms (bestätigt).");
}

TEST_CASE("each of several sentences is turned for itself, points in numbers end none", "[words]")
{
    CHECK(book().turned("5.03 bar g is between 1 bar g and 7 bar g (confirmed). As predicted: 5.034 bar g "
                        "(95 %: 5.020 to 5.049).") ==
          "5.03 bar g liegt zwischen 1 bar g und 7 bar g (bestätigt). Wie vorhergesagt: 5.034 bar g "
          "(95 %: 5.020 bis 5.049).");
    CHECK(book().turned("Nobody knows this. As predicted: 3 V.") ==
          "Nobody knows this. Wie vorhergesagt: 3 V.");
}

TEST_CASE("a sentence that begins with a figure is one by itself, after a short form it is none", "[words]")
{
    PhraseBook const book({{"{} readings agree.", "{} Ablesungen stimmen überein."},
                           {"The gas is warm.", "Das Gas ist warm."},
                           {"Take part no. {}.", "Teil Nr. {} nehmen."}});
    CHECK(book.turned("The gas is warm. 3 readings agree.") == "Das Gas ist warm. 3 Ablesungen stimmen überein.");
    CHECK(book.turned("4 readings agree. 3 readings agree. The gas is warm.") ==
          "4 Ablesungen stimmen überein. 3 Ablesungen stimmen überein. Das Gas ist warm.");
    CHECK(book.turned("The gas is warm. Take part no. 3.") == "Das Gas ist warm. Teil Nr. 3 nehmen.");
}

TEST_CASE("a sentence is turned whole or not at all", "[words]")
{
    std::string const half = "27.4 ms is between 22 ms and 32 ms (somebody's guess).";
    CHECK(book().turned(half) == half);
    std::string const name = "Operator: everything as before";
    CHECK(book().turned(name) == name);
}

TEST_CASE("short words are words too", "[words]")
{
    std::string const two = "liquid at -30 degC; the gas is at 14 degC";
    CHECK(book().turned(two) == two);
    CHECK(book().turned("liquid at -30 degC") == "flüssig bei -30 degC");
}

TEST_CASE("what stands in quotation marks is left alone", "[words]")
{
    CHECK(book().turned("\"pressure\" is not a unit of pressure") ==
          "\"pressure\" ist keine Einheit für Druck");
}

TEST_CASE("a clause is found again as a sentence with capital and stop", "[words]")
{
    CHECK(book().turned("Pull of 317.7 N.") == "Zug 317.7 N.");
    CHECK(book().turned("Confirmed") == "Bestätigt");
}

TEST_CASE("a word of the text may stand inside a value too", "[words]")
{
    CHECK(book().turned("Reducer G 1/2 to G 3/8 to Pipe run: G 3/8 mates") ==
          "Reduktion G 1/2 auf G 3/8 an Leitung: G 3/8 passt");
}

TEST_CASE("odd input does no harm", "[words]")
{
    CHECK(book().turned("").empty());
    CHECK(book().turned(".") == ".");
    CHECK(book().turned("As predicted: .") == "As predicted: .");
    CHECK(PhraseBook().turned("As predicted: 3 V.") == "As predicted: 3 V.");
    std::string const braces = "As predicted: {}.";
    CHECK(book().turned(braces) == "Wie vorhergesagt: {}.");
    CHECK(book().turned(std::string(100000, ':')).size() == 100000);
    std::string tangle;
    while (tangle.size() < 380)
        tangle += "x is y to z: pull of (a) ";
    CHECK(book().turned(tangle) == tangle); // and soon
}

TEST_CASE("a refusal is turned with the input it names behind it, or stays as it is", "[words]")
{
    PhraseBook const with_place({{"{} is below {}", "{} liegt unter {}"}, {"secondary", "Sekundärstrom"}});
    CHECK(with_place.turned("5 is below 7 (Secondary)") == "5 liegt unter 7 (Sekundärstrom)");
    CHECK(with_place.turned("5 is below 7 (Somewhere)") == "5 is below 7 (Somewhere)");
}

TEST_CASE("a fingerprint passes as it is, also where a group of it could be a word", "[words]")
{
    isochore::language::TextTable const texts{{"signed with {}; ask", "signiert mit {}; fragen"}};
    PhraseBook const book(texts);
    CHECK(book.turned("signed with 9677 bbaf 5568 eb51; ask") == "signiert mit 9677 bbaf 5568 eb51; fragen");
    CHECK(book.turned("signed with a bead; ask") == "signed with a bead; ask");
}

TEST_CASE("a name or a path passes through its place whatever it says", "[words]")
{
    PhraseBook const book({{"cannot read {own}: {}", "{own} ist nicht lesbar: {}"},
                           {"the disk is full", "der Datenträger ist voll"}});
    CHECK(book.turned("cannot read /home/My Outages/the journal.db: the disk is full") ==
          "/home/My Outages/the journal.db ist nicht lesbar: der Datenträger ist voll");
    CHECK(book.turned("cannot read a.json: somebody's guess") == "cannot read a.json: somebody's guess");
}

TEST_CASE("a text added later is known inside sentences, and changes none that was there", "[words]")
{
    PhraseBook book({{"It used “{}”.", "Er benutzte „{}“."}, {"Weigh the cylinder", "Flasche wiegen"}});
    CHECK(book.turned("It used “Read the gauge”.") == "It used “Read the gauge”.");
    book.add("Read the gauge", "Manometer ablesen");
    book.add("Weigh the cylinder", "something else");
    CHECK(book.turned("It used “Read the gauge”.") == "Er benutzte „Manometer ablesen“.");
    CHECK(book.turned("It used “Weigh the cylinder”.") == "Er benutzte „Flasche wiegen“.");
}

TEST_CASE("a unit that is a word is said in the language, one that is a sign is not", "[words]")
{
    PhraseBook const book({{"pcs", "Stk"},
                           {"turns", "Durchgänge"},
                           {"cycles", "Zyklen"},
                           {"{} cycles", "{} Perioden"},
                           {"{} is exactly {}", "{} ist genau {}"},
                           {"bar", "Kneipe"}});
    CHECK(book.turned("6 pcs") == "6 Stk");
    CHECK(book.turned("1 pcs to 6 pcs") == "1 pcs to 6 pcs"); // "to" is a word that nothing says
    CHECK(book.turned("6 pcs is exactly 6 pcs.") == "6 Stk ist genau 6 Stk.");
    CHECK(book.figures("2 turns") == "2 Durchgänge");
    CHECK(book.figures("5 cycles, 60 Hz") == "5 Perioden, 60 Hz"); // with its figure it is a period
    CHECK(book.turned("cycles") == "Zyklen");
    CHECK(book.figures("4.2 bar g") == "4.2 bar g");
    CHECK(book.figures("some turns") == "some turns");
    CHECK(PhraseBook().figures("6 pcs") == "6 pcs");
}

TEST_CASE("clauses apart by semicolons are turned each, all or none", "[words]")
{
    PhraseBook const book({{"Tell them apart: {}.", "Unterscheiden: {}."},
                           {"{}: {} against {}", "{}: {} gegen {}"},
                           {"calliper", "Messschieber"},
                           {"flank gauge", "Flankenlehre"}});
    CHECK(book.turned("Tell them apart: calliper: 21.34 mm against 20.95 mm; flank gauge: 60° against 55°; "
                      "calliper: 1 mm against 2 mm; flank gauge: 1° against 2°.") ==
          "Unterscheiden: Messschieber: 21.34 mm gegen 20.95 mm; Flankenlehre: 60° gegen 55°; "
          "Messschieber: 1 mm gegen 2 mm; Flankenlehre: 1° gegen 2°.");
    std::string const half =
        "Tell them apart: calliper: 21.34 mm against 20.95 mm; by eye: red against blue.";
    CHECK(book.turned(half) == half);
}
