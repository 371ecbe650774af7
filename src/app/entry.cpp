#include "app/entry.h"
#include "app/words.h"

namespace isochore::app {
namespace {

/// Longer numbers are not readings; longer texts do not fit the record's columns.
constexpr std::size_t longest_number = 12, longest_text = 120;

void remove_last_character(std::string& text)
{
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0u) == 0x80u)
        text.pop_back();
    if (!text.empty())
        text.pop_back();
}

std::size_t characters(std::string const& text)
{
    std::size_t n = 0;
    for (char c : text)
        n += (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
    return n;
}

} // namespace

void Entry::open(EntryRequest request)
{
    m_typed = request.typed;
    m_unit = request.unit;
    if (m_unit.empty() && !request.units.empty())
        m_unit = request.units.front();
    m_refused.clear();
    m_request = std::move(request);
}

std::string Entry::whole() const
{
    if (!m_request || m_request->text || m_request->secret || m_unit.empty() || m_typed.empty())
        return m_typed;
    return m_typed + " " + m_unit;
}

screens::EntryView Entry::view() const
{
    screens::EntryView v;
    if (!m_request)
        return v;
    v.label = m_request->label;
    v.context = m_request->context;
    v.typed = m_typed;
    v.unit = m_unit;
    v.units = m_request->units;
    v.text = m_request->text;
    v.secret = m_request->secret;
    v.suggestions = m_request->suggestions;
    v.can_enter = !m_typed.empty() || m_request->may_be_empty;
    if (!m_typed.empty() && m_request->judge) {
        EntryJudgement const j = m_request->judge(whole());
        v.echo = j.echo;
        v.problem = j.problem;
        v.question = j.question;
        v.foreseen = j.foreseen;
        v.can_enter = j.problem.empty();
    }
    if (!m_refused.empty())
        v.problem = m_refused;
    return v;
}

void Entry::act(screens::Intent const& intent)
{
    using Kind = screens::Intent::Kind;
    if (!m_request)
        return;
    std::string const before = m_typed;
    if (intent.kind == Kind::key)
        key(intent.text);
    else if (intent.kind == Kind::unit)
        m_unit = intent.text;
    else if (intent.kind == Kind::suggestion)
        m_typed = intent.text;
    if (m_request && m_request->changed && m_typed != before)
        m_request->changed(m_typed);
}

void Entry::key(std::string const& key)
{
    m_refused.clear();
    if (key == "cancel")
        close();
    else if (key == "enter")
        enter();
    else if (key == "backspace")
        remove_last_character(m_typed);
    else if (key == "clear")
        m_typed.clear();
    else if (m_request->text) {
        std::string const added = key == "space" ? " " : key;
        if (characters(m_typed) < longest_text)
            m_typed += added;
        else
            m_refused = said("That is as long as this text can be.");
    } else
        number_key(key);
}

void Entry::number_key(std::string const& key)
{
    if (key == "sign" || key == "-") {
        if (m_request->secret)
            return;
        if (m_typed.starts_with('-'))
            m_typed.erase(0, 1);
        else
            m_typed.insert(0, 1, '-');
        return;
    }
    if (m_typed.size() >= longest_number) {
        m_refused = said("No reading has that many digits.");
        return;
    }
    if (key == "." || key == ",") {
        if (m_request->secret)
            return;
        if (m_typed.find('.') != std::string::npos) {
            m_refused = said("There is a decimal point already.");
            return;
        }
        // A point alone is written out, so that ".5" cannot be read as 5.
        m_typed += m_typed.empty() || m_typed == "-" ? "0." : ".";
        return;
    }
    if (key.size() == 1 && key[0] >= '0' && key[0] <= '9')
        m_typed += key;
    else
        m_refused = said("Only digits, the point and the sign are taken here.");
}

void Entry::enter()
{
    if (m_typed.empty() && !m_request->may_be_empty)
        return;
    if (!m_typed.empty() && m_request->judge && !m_request->judge(whole()).problem.empty())
        return;
    auto const done = m_request->done;
    std::string const typed = m_typed, unit = m_unit;
    close();
    if (done)
        done(typed, unit);
}

} // namespace isochore::app
