#include "json/read.h"
#include <algorithm>
#include <iterator>
#include <string>
#include <unordered_set>
#include <vector>

namespace isochore {
namespace {

// The parser gives no place to its handler, so the characters are counted as it takes them.
class CountingCharacter {
public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = char const*;
    using reference = char const&;

    CountingCharacter(char const* at, char const** reached) : m_at(at), m_reached(reached) {}
    reference operator*() const { return *m_at; }
    CountingCharacter& operator++()
    {
        *m_reached = ++m_at;
        return *this;
    }
    CountingCharacter operator++(int)
    {
        CountingCharacter before = *this;
        ++*this;
        return before;
    }
    bool operator==(CountingCharacter const& other) const { return m_at == other.m_at; }

private:
    char const* m_at;
    char const** m_reached;
};

// Builds the document and refuses what plain JSON allows: a name given twice, nesting without end.
class Builder {
public:
    explicit Builder(int depth) : m_depth(depth) {}

    bool null() { return add(Json(nullptr)); }
    bool boolean(bool value) { return add(Json(value)); }
    bool number_integer(Json::number_integer_t value) { return add(Json(value)); }
    bool number_unsigned(Json::number_unsigned_t value) { return add(Json(value)); }
    bool number_float(Json::number_float_t value, std::string const&) { return add(Json(value)); }
    bool string(std::string& value) { return add(Json(std::move(value))); }
    bool binary(Json::binary_t&) { return false; } // cannot come from text
    bool start_object(std::size_t) { return open(Json::object()); }
    bool start_array(std::size_t) { return open(Json::array()); }
    bool end_object() { return close(); }
    bool end_array() { return close(); }

    bool key(std::string& name)
    {
        Level& level = m_levels.back();
        if (!level.names.insert(name).second)
            return refuse("the member \"" + name + "\" stands twice in one object");
        level.key = std::move(name);
        return true;
    }

    bool parse_error(std::size_t position, std::string const&, Json::exception const& error)
    {
        m_position = position;
        m_fault = plain(error.what());
        return false;
    }

    Json document;
    std::string m_fault;
    std::size_t m_position = 0; ///< characters read at the fault; 0 where the fault is ours

private:
    struct Level {
        Json* container;
        std::string key;
        std::unordered_set<std::string> names;
    };

    bool refuse(std::string why)
    {
        m_fault = std::move(why);
        return false;
    }

    Json* place(Json&& value)
    {
        if (m_levels.empty()) {
            document = std::move(value);
            return &document;
        }
        Level& level = m_levels.back();
        if (level.container->is_array()) {
            auto& items = level.container->get_ref<Json::array_t&>();
            items.push_back(std::move(value));
            return &items.back();
        }
        // The vector below the ordered map: its own insertion would search all members each time.
        auto& members = level.container->get_ref<Json::object_t&>();
        members.emplace_back(level.key, std::move(value));
        return &members.back().second;
    }

    bool add(Json&& value)
    {
        place(std::move(value));
        return true;
    }

    bool open(Json&& container)
    {
        if (m_levels.size() >= static_cast<std::size_t>(m_depth))
            return refuse("nested deeper than " + std::to_string(m_depth) + " levels");
        Json* const placed = place(std::move(container));
        m_levels.push_back({placed, {}, {}});
        return true;
    }

    bool close()
    {
        m_levels.pop_back();
        return true;
    }

    // "[json.exception.parse_error.101] parse error at line 1, column 2: syntax error ... - invalid literal;
    // last read: 'nul,'; expected ...": only the reason, without the place, which is reported on its own, and
    // without the bytes read, which may be long, not even text, or made to look like the rest of the reason.
    static std::string plain(std::string text)
    {
        if (std::size_t const column = text.find(", column "); column != std::string::npos)
            text.erase(0, std::min(text.size(), text.find(": ", column) + 2));
        else if (std::size_t const bracket = text.find("] "); bracket != std::string::npos)
            text.erase(0, bracket + 2);
        text.resize(std::min(text.size(), text.find("; last read: '")));
        if (text.find("unexpected end of input") != std::string::npos)
            return "the text ends before all that was opened in it is closed";
        if (text.size() > longest_reason)
            text.resize(longest_reason);
        return "this is no JSON: a sign is missing or out of place (" + text + ")";
    }

    static constexpr std::size_t longest_reason = 130;
    int m_depth;
    std::vector<Level> m_levels;
};

// "name:line:column", counted from 1, columns in characters.
std::string place_name(std::string_view text, std::size_t position, std::string_view name)
{
    std::size_t line = 1, column = 1;
    for (std::size_t i = 0; i + 1 < position && i + 1 < text.size(); ++i) {
        if (text[i] == '\n') {
            ++line;
            column = 1;
        } else if ((static_cast<unsigned char>(text[i + 1]) & 0xC0u) != 0x80u) {
            ++column;
        }
    }
    return std::string(name) + ":" + std::to_string(line) + ":" + std::to_string(column);
}

} // namespace

Result<Json> read_json(std::string_view text, std::string_view name, JsonLimits limits)
{
    if (text.size() > limits.bytes)
        return fail(Error::Code::corrupt, place_name(text, 0, name),
                    "the text has " + std::to_string(text.size()) + " bytes, more than the " +
                        std::to_string(limits.bytes) + " allowed");
    if (text.starts_with("\xEF\xBB\xBF"))
        return fail(Error::Code::corrupt, place_name(text, 0, name),
                    "the text begins with a byte order mark: save it as plain UTF-8");
    // The parser takes a NUL for the end of its input and would let pass whatever follows it.
    if (std::size_t const nul = text.find('\0'); nul != std::string_view::npos)
        return fail(Error::Code::corrupt, place_name(text, nul + 1, name), "the text holds a zero byte");
    char const* reached = text.data();
    CountingCharacter const first(text.data(), &reached), last(text.data() + text.size(), &reached);
    Builder builder(limits.depth);
    if (!Json::sax_parse(first, last, &builder)) {
        std::size_t const ours = static_cast<std::size_t>(reached - text.data());
        std::size_t const position = builder.m_position > 0 ? builder.m_position : ours;
        return fail(Error::Code::corrupt, place_name(text, position, name), std::move(builder.m_fault));
    }
    return std::move(builder.document);
}

} // namespace isochore
