#pragma once
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::language {

using TextTable = std::map<std::string, std::string, std::less<>>;

/// Turns whole sentences of the lower layers, which speak English, into another language by a table of texts
/// with places: "{} is below vacuum". What stands in a place is looked up too; a sentence is turned as a
/// whole or not at all, so that no line mixes two languages. Numbers and units pass as they are, and so does
/// whatever stands in a place written {own}: a name or a path is of no language.
class PhraseBook {
public:
    PhraseBook() = default;
    explicit PhraseBook(TextTable const& texts);

    /// One or several sentences, each turned for itself; what is not known stays as it is.
    [[nodiscard]] std::string turned(std::string_view english) const;
    /// Figures with the units among them that are words ("6 pcs"); any other text stays.
    [[nodiscard]] std::string figures(std::string_view english) const;
    /// The other text of exactly this one, if there is one.
    [[nodiscard]] std::optional<std::string> find(std::string_view english) const;
    /// One text more, without places; what is known already stays.
    void add(std::string const& english, std::string const& other);

private:
    /// A text cut at its places.
    struct Pattern {
        std::vector<std::string> pieces;
        std::vector<bool> own; ///< by place: taken as it is
        std::string other;     ///< with {} for each place
    };
    /// How deep places are still looked into, and how many texts are still tried in all.
    struct Effort {
        int depth;
        int& tries;
        [[nodiscard]] Effort deeper() const { return {depth - 1, tries}; }
    };
    [[nodiscard]] std::optional<std::string> with_place(std::string_view english, int& tries) const;
    [[nodiscard]] std::optional<std::string> one(std::string_view english, Effort effort) const;
    /// What stands in a place: turned, or as it is where it speaks no language.
    [[nodiscard]] std::optional<std::string> value(std::string_view english, Effort effort) const;
    /// "temperature, pressure": each for itself, and all of them or none.
    [[nodiscard]] std::optional<std::string> listed(std::string_view english, Effort effort) const;
    /// Finds the values from the place on in what is left of the sentence.
    [[nodiscard]] bool fill(Pattern const& pattern, std::size_t place, std::string_view rest, Effort effort,
                            std::vector<std::string>& values) const;
    [[nodiscard]] std::optional<std::string> filled(Pattern const& pattern, std::string_view english,
                                                    Effort effort) const;
    TextTable m_whole;
    std::vector<Pattern> m_patterns; ///< those that say most first
};

} // namespace isochore::language
