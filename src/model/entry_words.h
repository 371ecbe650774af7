#pragma once
#include "model/checklist.h"
#include <initializer_list>
#include <string>
#include <string_view>

namespace isochore::model {

/// A text with each {} replaced by the next value; values left over are dropped.
[[nodiscard]] std::string fill_places(std::string text, std::initializer_list<std::string> values);

/// How entries, locks and deviations are said to people: in English as it stands, or in the words of another
/// language. What a person typed is never changed.
class EntryWords {
public:
    virtual ~EntryWords() = default;
    /// A text of the program, each {} replaced by the next value.
    [[nodiscard]] virtual std::string said(std::string_view english,
                                           std::initializer_list<std::string> values) const;
    [[nodiscard]] virtual std::string title(Step const& step) const { return step.title; }
    [[nodiscard]] virtual std::string answer(Step const&, StepAnswer const& a) const { return a.label; }
    /// A reason as the journal holds it, in English: what an answer leads to, or a calculation's sentence.
    [[nodiscard]] virtual std::string reason(Step const&, std::string const& english) const
    {
        return english;
    }
    /// Sentences that were made before and are in the journal in English.
    [[nodiscard]] virtual std::string sentence(std::string_view english) const
    {
        return std::string(english);
    }
};

/// English.
[[nodiscard]] EntryWords const& plain_words();

} // namespace isochore::model
