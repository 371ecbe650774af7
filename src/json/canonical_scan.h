#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace isochore {

/// Checks in one pass, without building a value, that a text is in RFC 8785 canonical form: no spaces, names
/// sorted and single, shortest numbers and escapes, UTF-8. Made for records of many entries, whose hashes
/// are of the text itself.
class CanonicalScan {
public:
    /// A member of the outermost object, as it stands in the text (the name without its quotes).
    struct Member {
        std::string_view name, value;
    };

    explicit CanonicalScan(std::string_view text) : m_text(text) {}

    /// Takes exactly `expected`; false where something else stands.
    bool take(std::string_view expected);
    /// Takes one value of any kind.
    bool value();
    /// Takes one object and gives its members.
    bool object(std::vector<Member>& members);
    /// Takes the members up to and with the closing brace: object() without the opening one.
    bool members(std::vector<Member>& members);

    [[nodiscard]] std::size_t at() const { return m_at; } ///< on failure: where it stopped
    [[nodiscard]] bool finished() const { return m_at == m_text.size(); }

private:
    bool string(std::string_view& inside);
    bool escape();
    bool number();
    bool array();
    bool nested_object();
    template <class Note> bool members_until_brace(Note note);
    bool in_order(std::string_view before, std::string_view after);
    [[nodiscard]] char now() const { return m_at < m_text.size() ? m_text[m_at] : '\0'; }

    std::string_view m_text;
    std::size_t m_at = 0;
    int m_depth = 0;
    std::string m_plain_before, m_plain_after, m_number; ///< reused
};

} // namespace isochore
