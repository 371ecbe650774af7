#include "app/phrase_book.h"
#include <algorithm>
#include <cctype>

namespace isochore::app {
namespace {

constexpr int deepest = 3;

std::vector<std::string> cut_at_places(std::string_view text)
{
    std::vector<std::string> pieces;
    for (auto at = text.find("{}"); at != std::string_view::npos; at = text.find("{}")) {
        pieces.emplace_back(text.substr(0, at));
        text.remove_prefix(at + 2);
    }
    pieces.emplace_back(text);
    return pieces;
}

/// What stands in the places of a text cut there; nullopt where the text is another one.
std::optional<std::vector<std::string_view>> values_between(std::string_view text,
                                                            std::vector<std::string> const& pieces)
{
    if (!text.starts_with(pieces.front()))
        return std::nullopt;
    text.remove_prefix(pieces.front().size());
    if (!text.ends_with(pieces.back()))
        return std::nullopt;
    text.remove_suffix(pieces.back().size());
    std::vector<std::string_view> values;
    for (std::size_t i = 1; i + 1 < pieces.size(); ++i) {
        auto const end = text.find(pieces[i], 1);
        if (end == std::string_view::npos)
            return std::nullopt;
        values.push_back(text.substr(0, end));
        text.remove_prefix(end + pieces[i].size());
    }
    if (text.empty())
        return std::nullopt;
    values.push_back(text);
    return values;
}

/// Up to and with the stop that ends the first sentence: one before a blank and a capital.
std::size_t sentence_length(std::string_view text)
{
    for (std::size_t at = 0; at + 2 < text.size(); ++at)
        if ((text[at] == '.' || text[at] == '?') && text[at + 1] == ' ' &&
            std::isupper(static_cast<unsigned char>(text[at + 2])))
            return at + 1;
    return text.size();
}

/// Figures, units and signs, but no words: the same in every language.
bool speaks_no_language(std::string_view text)
{
    int letters = 0;
    for (char const c : text) {
        letters = c >= 'a' && c <= 'z' ? letters + 1 : 0;
        if (letters > 4)
            return false;
    }
    return text.size() < 40;
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
        Pattern pattern{cut_at_places(english), other};
        // A text of places and blanks alone would take any sentence for its own.
        if (pattern.pieces.size() > 1 && size_of(pattern.pieces) >= 2)
            m_patterns.push_back(std::move(pattern));
    }
    std::stable_sort(m_patterns.begin(), m_patterns.end(), [](Pattern const& a, Pattern const& b) {
        return size_of(a.pieces) > size_of(b.pieces);
    });
}

std::optional<std::string> PhraseBook::filled(Pattern const& pattern, std::string_view english,
                                              int depth) const
{
    auto const values = values_between(english, pattern.pieces);
    if (!values)
        return std::nullopt;
    std::string text = pattern.other;
    std::size_t at = 0;
    for (auto const value : *values) {
        auto other = depth > 0 ? one(value, depth - 1) : std::nullopt;
        if (!other && !speaks_no_language(value))
            return std::nullopt;
        at = text.find("{}", at);
        if (at == std::string::npos)
            return std::nullopt;
        std::string const said = other ? *other : std::string(value);
        text.replace(at, 2, said);
        at += said.size();
    }
    return text;
}

std::optional<std::string> PhraseBook::one(std::string_view english, int depth) const
{
    if (auto const it = m_whole.find(english); it != m_whole.end())
        return it->second;
    for (auto const& pattern : m_patterns)
        if (auto text = filled(pattern, english, depth))
            return text;
    // A clause made a sentence: "{} mates" as "G 3/8 mates.", "pull of {}" as "Pull of 3 N".
    if (english.size() < 2 || depth == 0)
        return std::nullopt;
    std::string clause(english);
    bool const stop = clause.ends_with('.'), capital = std::isupper(static_cast<unsigned char>(clause[0]));
    if (stop)
        clause.pop_back();
    if (capital)
        clause[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(clause[0])));
    auto text = stop || capital ? one(clause, 0) : std::nullopt;
    if (!text && stop)
        text = one(english.substr(0, english.size() - 1), 0);
    if (!text)
        return std::nullopt;
    if (capital)
        (*text)[0] = static_cast<char>(std::toupper(static_cast<unsigned char>((*text)[0])));
    return stop ? *text + "." : *text;
}

std::string PhraseBook::turned(std::string_view english) const
{
    if (auto whole = one(english, deepest))
        return *whole;
    std::string text;
    while (!english.empty()) {
        std::size_t const end = sentence_length(english);
        auto const sentence = english.substr(0, end);
        text += one(sentence, deepest).value_or(std::string(sentence));
        if (end < english.size())
            text += ' ';
        english.remove_prefix(std::min(end + 1, english.size()));
    }
    return text;
}

} // namespace isochore::app
