#include "json/utf8.h"
#include <algorithm>

namespace isochore {
namespace {

unsigned byte_at(std::string_view text, std::size_t at)
{
    return static_cast<unsigned char>(text[at]);
}

bool continues(std::string_view text, std::size_t at)
{
    return (byte_at(text, at) & 0xC0u) == 0x80u;
}

// Surrogate pairs (lead bytes F0 to F4) sort after U+D7FF (lead ED) and before U+E000 (lead EE).
unsigned rank(unsigned byte)
{
    return byte >= 0xF0u ? 0xEDu * 8u + 1u + (byte - 0xF0u) : byte * 8u;
}

} // namespace

std::size_t utf8_length(std::string_view text, std::size_t at)
{
    unsigned const lead = byte_at(text, at);
    std::size_t const left = text.size() - at;
    if (lead < 0x80u)
        return 1;
    if (lead >= 0xC2u && lead <= 0xDFu)
        return left >= 2 && continues(text, at + 1) ? 2 : 0;
    if (lead >= 0xE0u && lead <= 0xEFu) {
        if (left < 3 || !continues(text, at + 1) || !continues(text, at + 2))
            return 0;
        unsigned const next = byte_at(text, at + 1);
        bool const overlong = lead == 0xE0u && next < 0xA0u;
        bool const surrogate = lead == 0xEDu && next > 0x9Fu;
        return overlong || surrogate ? 0 : 3;
    }
    if (lead >= 0xF0u && lead <= 0xF4u) {
        if (left < 4 || !continues(text, at + 1) || !continues(text, at + 2) || !continues(text, at + 3))
            return 0;
        unsigned const next = byte_at(text, at + 1);
        bool const overlong = lead == 0xF0u && next < 0x90u;
        bool const too_high = lead == 0xF4u && next > 0x8Fu;
        return overlong || too_high ? 0 : 4;
    }
    return 0;
}

std::size_t find_not_utf8(std::string_view text)
{
    for (std::size_t at = 0; at < text.size();) {
        std::size_t const length = utf8_length(text, at);
        if (length == 0)
            return at;
        at += length;
    }
    return std::string_view::npos;
}

std::strong_ordering utf16_order(std::string_view a, std::string_view b)
{
    auto const [in_a, in_b] = std::mismatch(a.begin(), a.end(), b.begin(), b.end());
    if (in_a == a.end() || in_b == b.end())
        return a.size() <=> b.size();
    return rank(static_cast<unsigned char>(*in_a)) <=> rank(static_cast<unsigned char>(*in_b));
}

} // namespace isochore
