#include "language/phrase_book.h"
#include "quantity/unit.h"
#include <algorithm>
#include <cctype>

namespace isochore::language {
namespace {

constexpr int deepest = 3;
constexpr std::size_t longest_sentence = 400;
constexpr int most_tries = 20000; ///< no text of the program needs a hundredth of it

constexpr std::string_view place_mark = "{}", own_mark = "{own}";

/// The pieces between the places; `own` tells which places are somebody's own text.
std::vector<std::string> cut_at_places(std::string_view text, std::vector<bool>& own)
{
    std::vector<std::string> pieces;
    for (;;) {
        auto const any = text.find(place_mark), named = text.find(own_mark);
        auto const at = std::min(any, named);
        pieces.emplace_back(text.substr(0, at));
        if (at == std::string_view::npos)
            return pieces;
        own.push_back(named < any);
        text.remove_prefix(at + (named < any ? own_mark : place_mark).size());
    }
}

std::string with_plain_places(std::string text)
{
    for (auto at = text.find(own_mark); at != std::string::npos; at = text.find(own_mark, at))
        text.replace(at, own_mark.size(), place_mark);
    return text;
}

/// "no. 3", "cl. 4.2": the stop of a short form ends no sentence.
bool is_short_form(std::string_view before)
{
    auto const word = before.substr(before.find_last_of(" (") + 1);
    for (char const* form : {"no", "No", "cl", "ed", "p", "pp", "fig", "sec", "vol", "approx"})
        if (word == form)
            return true;
    return false;
}

/// Up to and with the stop that ends the first sentence: one before a blank and a capital or a figure.
std::size_t sentence_length(std::string_view text)
{
    for (std::size_t at = 0; at + 2 < text.size(); ++at) {
        auto const next = static_cast<unsigned char>(text[at + 2]);
        if ((text[at] == '.' || text[at] == '?') && text[at + 1] == ' ' &&
            (std::isupper(next) || (std::isdigit(next) && !is_short_form(text.substr(0, at)))))
            return at + 1;
    }
    return text.size();
}

bool is_unit(std::string_view word)
{
    for (char const* part : {"abs", "vol", "dc", "ac"})
        if (word == part)
            return true;
    auto const& units = all_units();
    return std::any_of(std::begin(units), std::end(units), [&](Unit const& u) { return u.name == word; });
}

/// "9677 bbaf 5568 eb51": a group of it may look like a word.
bool is_fingerprint(std::string_view text)
{
    if (text.size() < 9 || text.size() % 5 != 4)
        return false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        bool const hex = (text[i] >= '0' && text[i] <= '9') || (text[i] >= 'a' && text[i] <= 'f');
        if (i % 5 == 4 ? text[i] != ' ' : !hex)
            return false;
    }
    return true;
}

/// Figures, units and signs, but no words: the same in every language.
bool speaks_no_language(std::string_view text)
{
    if (is_fingerprint(text))
        return true;
    while (!text.empty()) {
        auto const end = std::min(text.find_first_of(" ,;:()"), text.size());
        auto const word = text.substr(0, end);
        auto const small =
            std::count_if(word.begin(), word.end(), [](char c) { return c >= 'a' && c <= 'z'; });
        bool const letters = std::all_of(word.begin(), word.end(), [](char c) {
            return std::isalpha(static_cast<unsigned char>(c)) || c == '-' || c == '\'';
        });
        if (letters && small >= 2 && !is_unit(word))
            return false;
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return true;
}

std::size_t size_of(std::vector<std::string> const& pieces)
{
    std::size_t n = 0;
    for (auto const& piece : pieces)
        n += piece.size();
    return n;
}

} // namespace

PhraseBook::PhraseBook(TextTable const& texts) : m_whole(texts)
{
    for (auto const& [english, other] : texts) {
        Pattern pattern;
        pattern.pieces = cut_at_places(english, pattern.own);
        pattern.other = with_plain_places(other);
        // A text of places and blanks alone would take any sentence for its own.
        if (pattern.pieces.size() > 1 && size_of(pattern.pieces) >= 2)
            m_patterns.push_back(std::move(pattern));
    }
    std::stable_sort(m_patterns.begin(), m_patterns.end(), [](Pattern const& a, Pattern const& b) {
        std::size_t const x = size_of(a.pieces), y = size_of(b.pieces);
        // What is known by name comes before what anything may stand for.
        return x != y ? x > y
                      : std::count(a.own.begin(), a.own.end(), true) <
                            std::count(b.own.begin(), b.own.end(), true);
    });
}

void PhraseBook::add(std::string const& english, std::string const& other)
{
    m_whole.emplace(english, other);
}

std::optional<std::string> PhraseBook::find(std::string_view english) const
{
    auto const it = m_whole.find(english);
    return it == m_whole.end() ? std::nullopt : std::optional(it->second);
}

std::optional<std::string> PhraseBook::listed(std::string_view english, Effort effort) const
{
    // Whole clauses stand apart by semicolons, single words by commas.
    bool const clauses = english.find("; ") != std::string_view::npos;
    std::string_view const between = clauses ? "; " : ", ";
    if (english.find(between) == std::string_view::npos)
        return std::nullopt;
    std::string text;
    for (;;) {
        auto const end = std::min(english.find(between), english.size());
        auto const item = clauses ? value(english.substr(0, end), effort) : find(english.substr(0, end));
        if (!item)
            return std::nullopt;
        text += (text.empty() ? std::string_view() : between);
        text += *item;
        if (end == english.size())
            return text;
        english.remove_prefix(end + between.size());
    }
}

std::string PhraseBook::figures(std::string_view english) const
{
    std::string text(english);
    if (!speaks_no_language(english))
        return text;
    for (Unit const& unit : all_units()) {
        // What is counted has a word for its unit; all others have signs.
        if (unit.dimension != Dimension::count && unit.dimension != Dimension::cycles)
            continue;
        std::string const word = " " + std::string(unit.name);
        auto const own = find("{}" + word), bare = find(unit.name);
        if (!own && !bare)
            continue;
        std::string const said = own ? own->substr(std::min<std::size_t>(2, own->size())) : " " + *bare;
        for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + said.size())) {
            std::size_t const end = at + word.size();
            bool const whole = end == text.size() || !std::isalpha(static_cast<unsigned char>(text[end]));
            if (whole && at > 0 && std::isdigit(static_cast<unsigned char>(text[at - 1])))
                text.replace(at, word.size(), said);
        }
    }
    return text;
}

std::optional<std::string> PhraseBook::value(std::string_view english, Effort effort) const
{
    if (auto const it = m_whole.find(english); it != m_whole.end())
        return it->second;
    if (speaks_no_language(english)) // no need to look for a sentence that fits
        return figures(english);
    if (auto list = listed(english, effort))
        return list;
    return effort.depth > 0 ? one(english, effort.deeper()) : std::nullopt;
}

bool PhraseBook::fill(Pattern const& pattern, std::size_t place, std::string_view rest, Effort effort,
                      std::vector<std::string>& values) const
{
    auto const& pieces = pattern.pieces;
    std::string const& next = pieces[place + 1];
    // What stands in quotation marks is somebody's own text and stays.
    bool const kept = pattern.own[place] || (pieces[place].ends_with('"') && next.starts_with('"'));
    auto const in_place = [&](std::string_view text) {
        return kept ? std::optional(std::string(text)) : value(text, effort);
    };
    if (place + 2 == pieces.size()) {
        if (rest.size() <= next.size() || !rest.ends_with(next))
            return false;
        auto last = in_place(rest.substr(0, rest.size() - next.size()));
        if (last)
            values.push_back(std::move(*last));
        return last.has_value();
    }
    // The piece may also stand inside a value: "Reducer A to B to Pipe".
    for (auto end = rest.find(next, 1); end != std::string_view::npos; end = rest.find(next, end + 1)) {
        auto here = in_place(rest.substr(0, end));
        if (!here)
            continue;
        values.push_back(std::move(*here));
        if (fill(pattern, place + 1, rest.substr(end + next.size()), effort, values))
            return true;
        values.pop_back();
    }
    return false;
}

namespace {

/// Whether the fixed pieces all stand in the text, one after the other: most sentences fail here at once.
bool may_fit(std::vector<std::string> const& pieces, std::string_view text)
{
    if (!text.starts_with(pieces.front()) || !text.ends_with(pieces.back()))
        return false;
    std::size_t at = pieces.front().size();
    for (std::size_t i = 1; i < pieces.size(); ++i) {
        at = text.find(pieces[i], at + 1);
        if (at == std::string_view::npos)
            return false;
        at += pieces[i].size();
    }
    return true;
}

} // namespace

std::optional<std::string> PhraseBook::filled(Pattern const& pattern, std::string_view english,
                                              Effort effort) const
{
    std::vector<std::string> values;
    if (english.size() > longest_sentence || !may_fit(pattern.pieces, english) ||
        !fill(pattern, 0, english.substr(pattern.pieces.front().size()), effort, values))
        return std::nullopt;
    std::string text;
    std::string_view rest = pattern.other;
    for (auto const& said : values) {
        auto const at = rest.find("{}");
        if (at == std::string_view::npos)
            return std::nullopt;
        text += std::string(rest.substr(0, at)) + said;
        rest.remove_prefix(at + 2);
    }
    return text + std::string(rest);
}

std::optional<std::string> PhraseBook::one(std::string_view english, Effort effort) const
{
    if (auto const it = m_whole.find(english); it != m_whole.end())
        return it->second;
    if (--effort.tries < 0 || english.empty())
        return std::nullopt;
    // A clause made a sentence: "{} mates" as "G 3/8 mates.", "pull of {}" as "Pull of 3 N". Each sentence is
    // held against all ways of writing it before a more general one gets its turn.
    std::string clause(english);
    bool const stop = english.size() > 1 && clause.ends_with('.');
    bool const capital = english.size() > 1 && std::isupper(static_cast<unsigned char>(clause[0]));
    std::string_view const bare = english.substr(0, english.size() - (stop ? 1 : 0));
    clause.resize(bare.size());
    clause[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(clause[0])));
    auto const finished = [&](std::string text, bool raise) {
        if (raise && !text.empty())
            text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
        return stop ? text + "." : text;
    };
    if (auto const it = m_whole.find(clause); capital && it != m_whole.end())
        return finished(it->second, true);
    if (auto const it = m_whole.find(bare); stop && it != m_whole.end())
        return finished(it->second, false);
    for (auto const& pattern : m_patterns) {
        if (auto text = filled(pattern, english, effort))
            return text;
        if (auto text = stop ? filled(pattern, bare, effort) : std::nullopt)
            return finished(std::move(*text), false);
        if (auto text = capital ? filled(pattern, clause, effort) : std::nullopt)
            return finished(std::move(*text), true);
    }
    return std::nullopt;
}

/// A refusal with the input it is about, "… look swapped (Secondary)": both are turned, or neither.
std::optional<std::string> PhraseBook::with_place(std::string_view english, int& tries) const
{
    std::size_t const open = english.rfind(" (");
    if (open == std::string_view::npos || !english.ends_with(')'))
        return std::nullopt;
    auto const what = one(english.substr(0, open), {deepest, tries});
    auto const where = one(english.substr(open + 2, english.size() - open - 3), {deepest, tries});
    return what && where ? std::optional(*what + " (" + *where + ")") : std::nullopt;
}

std::string PhraseBook::turned(std::string_view english) const
{
    int tries = most_tries;
    if (auto whole = one(english, {deepest, tries}))
        return *whole;
    if (auto placed = with_place(english, tries))
        return *placed;
    if (auto list = listed(english, {deepest, tries}))
        return *list;
    std::string text;
    while (!english.empty()) {
        std::size_t const end = sentence_length(english);
        auto const sentence = english.substr(0, end);
        auto said = one(sentence, {deepest, tries});
        text += said ? *said : figures(sentence);
        if (end < english.size())
            text += ' ';
        english.remove_prefix(std::min(end + 1, english.size()));
    }
    return text;
}

} // namespace isochore::language
