#pragma once
#include "screens/views.h"
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace isochore::app {

/// What the keypad says of a value while it is typed.
struct EntryJudgement {
    std::string echo, problem, question;
    std::optional<screens::VerdictView> foreseen{}; ///< what hangs on it, worked out anew with each key
};

/// What is asked for: a number with a unit, a text, or a PIN.
struct EntryRequest {
    std::string label, context;
    std::string typed, unit; ///< what is there already
    std::vector<std::string> units;
    bool text = false, secret = false;
    bool may_be_empty = false; ///< entering nothing takes away what was there
    std::vector<std::string> suggestions;
    /// Told of every change while it is typed: a search narrows at once. May be empty.
    std::function<void(std::string const& typed)> changed;
    /// Judges "4.61 bar g" (or the text); may be empty.
    std::function<EntryJudgement(std::string const& whole)> judge;
    /// Takes the whole value when Enter is pressed and nothing blocks it.
    std::function<void(std::string const& typed, std::string const& unit)> done;
};

/// The keypad and keyboard: holds what is typed until it is entered or cancelled. Sign and point rules are
/// here, so that no impossible number can be typed.
class Entry {
public:
    void open(EntryRequest request);
    void close() { m_request.reset(); }
    [[nodiscard]] bool is_open() const { return m_request.has_value(); }
    [[nodiscard]] screens::EntryView view() const;
    /// Takes keys, unit chips and suggestions.
    void act(screens::Intent const& intent);
    /// The number and unit as one text, as parse_amount reads it.
    [[nodiscard]] std::string whole() const;

private:
    void key(std::string const& key);
    void number_key(std::string const& key);
    void enter();

    std::optional<EntryRequest> m_request;
    std::string m_typed, m_unit, m_refused; ///< m_refused: why the last key was not taken
};

} // namespace isochore::app
