#include "json/canonical_scan.h"
#include "json/number.h"
#include "json/utf8.h"
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>

namespace isochore {
namespace {

constexpr int deepest = 64;

bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

// Whether one of eight bytes ends the plain run of a string: a control, a quote, a backslash or a byte
// beyond ASCII. The usual exact tests on a word; a false alarm only costs the slow path.
bool eight_plain(char const* at)
{
    std::uint64_t word = 0;
    std::memcpy(&word, at, sizeof word);
    constexpr std::uint64_t ones = 0x0101010101010101u, highs = 0x8080808080808080u;
    auto const has_zero = [](std::uint64_t w) { return (w - ones) & ~w & highs; };
    std::uint64_t const control = (word - ones * 0x20u) & ~word & highs;
    return ((word & highs) | control | has_zero(word ^ (ones * '"')) | has_zero(word ^ (ones * '\\'))) == 0;
}

void unescape(std::string_view raw, std::string& out)
{
    out.clear();
    for (std::size_t i = 0; i < raw.size(); ++i) {
        if (raw[i] != '\\') {
            out += raw[i];
            continue;
        }
        switch (raw[++i]) {
        case 'b':
            out += '\b';
            break;
        case 't':
            out += '\t';
            break;
        case 'n':
            out += '\n';
            break;
        case 'f':
            out += '\f';
            break;
        case 'r':
            out += '\r';
            break;
        case 'u': { // canonical: only \u00xx of a control
            int code = 0;
            std::from_chars(raw.data() + i + 1, raw.data() + i + 5, code, 16);
            out += static_cast<char>(code);
            i += 4;
            break;
        }
        default:
            out += raw[i];
        }
    }
}

} // namespace

bool CanonicalScan::take(std::string_view expected)
{
    if (!m_text.substr(m_at).starts_with(expected))
        return false;
    m_at += expected.size();
    return true;
}

bool CanonicalScan::value()
{
    std::string_view ignored;
    switch (now()) {
    case '"':
        return string(ignored);
    case '{':
        return nested_object();
    case '[':
        return array();
    case 't':
        return take("true");
    case 'f':
        return take("false");
    case 'n':
        return take("null");
    default:
        return number();
    }
}

bool CanonicalScan::object(std::vector<Member>& members)
{
    return take("{") && this->members(members);
}

bool CanonicalScan::members(std::vector<Member>& members)
{
    members.clear();
    return members_until_brace([&](Member const& member) { members.push_back(member); });
}

bool CanonicalScan::nested_object()
{
    return take("{") && members_until_brace([](Member const&) {});
}

template <class Note> bool CanonicalScan::members_until_brace(Note note)
{
    if (++m_depth > deepest)
        return false;
    bool first = true;
    std::string_view before;
    while (!take("}")) {
        if (!first && !take(","))
            return false;
        Member member;
        if (!string(member.name) || !take(":"))
            return false;
        if (!first && !in_order(before, member.name))
            return false;
        std::size_t const start = m_at;
        if (!value())
            return false;
        member.value = m_text.substr(start, m_at - start);
        note(member);
        before = member.name;
        first = false;
    }
    --m_depth;
    return true;
}

bool CanonicalScan::array()
{
    if (!take("[") || ++m_depth > deepest)
        return false;
    for (bool first = true; !take("]"); first = false)
        if ((!first && !take(",")) || !value())
            return false;
    --m_depth;
    return true;
}

bool CanonicalScan::string(std::string_view& inside)
{
    if (!take("\""))
        return false;
    std::size_t const start = m_at;
    while (m_at < m_text.size()) {
        while (m_at + 8 <= m_text.size() && eight_plain(m_text.data() + m_at))
            m_at += 8;
        if (m_at == m_text.size())
            return false;
        auto const byte = static_cast<unsigned char>(m_text[m_at]);
        if (byte == '"') {
            inside = m_text.substr(start, m_at - start);
            ++m_at;
            return true;
        }
        if (byte < 0x20)
            return false;
        if (byte == '\\') {
            if (!escape())
                return false;
            continue;
        }
        std::size_t const length = utf8_length(m_text, m_at);
        if (length == 0)
            return false;
        m_at += length;
    }
    return false;
}

// Only the shortest escapes, and \u00xx only for a control that has no short one, in lower case.
bool CanonicalScan::escape()
{
    ++m_at;
    char const kind = now();
    if (kind != 'u') {
        if (kind == '\0' || !std::strchr("\"\\btnfr", kind))
            return false;
        ++m_at;
        return true;
    }
    if (!take("u00"))
        return false;
    char const high = now();
    if (high != '0' && high != '1')
        return false;
    ++m_at;
    char const low = now();
    bool const hex = is_digit(low) || (low >= 'a' && low <= 'f');
    bool const has_short = high == '0' && low != '\0' && std::strchr("89acd", low);
    if (!hex || has_short)
        return false;
    ++m_at;
    return true;
}

bool CanonicalScan::number()
{
    std::size_t const start = m_at;
    bool whole = true;
    while (m_at < m_text.size() && (is_digit(now()) || std::strchr("+-.e", now()) != nullptr)) {
        whole = whole && (is_digit(now()) || (now() == '-' && m_at == start));
        ++m_at;
    }
    std::string_view const token = m_text.substr(start, m_at - start);
    std::string_view const digits = token.starts_with('-') ? token.substr(1) : token;
    if (digits.empty())
        return false;
    if (whole && digits.size() <= 15) // exact as a double, so the digits are the form
        return digits.front() != '0' || token == "0";
    double parsed = 0.0;
    auto const end = std::from_chars(token.data(), token.data() + token.size(), parsed);
    if (end.ec != std::errc() || end.ptr != token.data() + token.size() || !std::isfinite(parsed))
        return false;
    m_number.clear();
    append_ecmascript_number(m_number, parsed);
    return m_number == token;
}

bool CanonicalScan::in_order(std::string_view before, std::string_view after)
{
    bool const plain = before.find('\\') == before.npos && after.find('\\') == after.npos;
    if (plain)
        return utf16_order(before, after) < 0;
    unescape(before, m_plain_before);
    unescape(after, m_plain_after);
    return utf16_order(m_plain_before, m_plain_after) < 0;
}

} // namespace isochore
