#include "json/number.h"
#include "json/read.h"
#include "json/utf8.h"
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>

namespace isochore {
namespace {

class Writer {
public:
    bool write(Json const& value)
    {
        switch (value.type()) {
        case Json::value_t::null:
            m_out += "null";
            return true;
        case Json::value_t::boolean:
            m_out += value.get<bool>() ? "true" : "false";
            return true;
        case Json::value_t::number_integer:
            return write_whole(value.get<std::int64_t>());
        case Json::value_t::number_unsigned:
            return write_whole(value.get<std::uint64_t>());
        case Json::value_t::number_float:
            return write_double(value.get<double>());
        case Json::value_t::string:
            return write_string(value.get_ref<std::string const&>());
        case Json::value_t::array:
            return write_array(value);
        case Json::value_t::object:
            return write_object(value);
        case Json::value_t::binary:
        case Json::value_t::discarded:
            break;
        }
        return refuse("a binary value has no JSON form");
    }

    std::string m_out;
    std::string m_fault;

private:
    bool refuse(std::string why)
    {
        m_fault = std::move(why);
        return false;
    }

    // JSON numbers are doubles here (RFC 8785, 3.2.2.3): a whole number is written if none of its digits
    // gets lost that way.
    template <class Whole> bool write_whole(Whole value)
    {
        std::string const digits = std::to_string(value);
        std::size_t const before = m_out.size();
        append_ecmascript_number(m_out, static_cast<double>(value));
        if (std::string_view(m_out).substr(before) == digits)
            return true;
        return refuse("the whole number " + digits + " would lose digits: write it as text");
    }

    bool write_double(double value)
    {
        if (!std::isfinite(value))
            return refuse("a number that is infinite or not a number has no JSON form");
        append_ecmascript_number(m_out, value);
        return true;
    }

    bool write_string(std::string const& text)
    {
        if (std::size_t const bad = find_not_utf8(text); bad != std::string::npos)
            return refuse("a text is not UTF-8 at its byte " + std::to_string(bad));
        m_out += '"';
        for (char const c : text)
            append_escaped(c);
        m_out += '"';
        return true;
    }

    void append_escaped(char c)
    {
        static constexpr char hex[] = "0123456789abcdef";
        switch (c) {
        case '"':
            m_out += "\\\"";
            return;
        case '\\':
            m_out += "\\\\";
            return;
        case '\b':
            m_out += "\\b";
            return;
        case '\t':
            m_out += "\\t";
            return;
        case '\n':
            m_out += "\\n";
            return;
        case '\f':
            m_out += "\\f";
            return;
        case '\r':
            m_out += "\\r";
            return;
        default:
            break;
        }
        auto const byte = static_cast<unsigned char>(c);
        if (byte >= 0x20) {
            m_out += c;
            return;
        }
        m_out += "\\u00";
        m_out += hex[byte >> 4];
        m_out += hex[byte & 15];
    }

    bool write_array(Json const& value)
    {
        m_out += '[';
        char const* comma = "";
        for (Json const& item : value) {
            m_out += comma;
            comma = ",";
            if (!write(item))
                return false;
        }
        m_out += ']';
        return true;
    }

    bool write_object(Json const& value)
    {
        auto const& members = value.get_ref<Json::object_t const&>();
        std::vector<Json::object_t::value_type const*> sorted;
        sorted.reserve(members.size());
        for (auto const& member : members)
            sorted.push_back(&member);
        std::sort(sorted.begin(), sorted.end(),
                  [](auto const* a, auto const* b) { return utf16_order(a->first, b->first) < 0; });
        m_out += '{';
        for (std::size_t i = 0; i < sorted.size(); ++i) {
            if (i > 0)
                m_out += ',';
            if (i > 0 && sorted[i]->first == sorted[i - 1]->first)
                return refuse("the member \"" + sorted[i]->first + "\" stands twice in one object");
            if (!write_string(sorted[i]->first))
                return false;
            m_out += ':';
            if (!write(sorted[i]->second))
                return false;
        }
        m_out += '}';
        return true;
    }
};

} // namespace

Result<std::string> canonical_json(Json const& value)
{
    Writer writer;
    if (!writer.write(value))
        return fail(Error::Code::invalid_input, "canonical form", std::move(writer.m_fault));
    return std::move(writer.m_out);
}

} // namespace isochore
