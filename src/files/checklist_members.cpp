#include "files/checklist_members.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::files {
namespace {

using Code = Error::Code;

Json const& empty_object()
{
    static Json const object = Json::object();
    return object;
}

bool has_control_character(std::string_view text)
{
    return std::ranges::any_of(text, [](char c) {
        auto const byte = static_cast<unsigned char>(c);
        return byte < 0x20 || byte == 0x7f;
    });
}

bool is_id_part(std::string_view part)
{
    auto const is_letter = [](char c) { return c >= 'a' && c <= 'z'; };
    auto const is_allowed = [&](char c) { return is_letter(c) || (c >= '0' && c <= '9') || c == '_'; };
    return !part.empty() && part.size() <= 40 && is_letter(part.front()) &&
           std::ranges::all_of(part, is_allowed);
}

bool is_id(std::string_view id, bool dotted)
{
    if (!dotted)
        return is_id_part(id);
    auto const dot = id.find('.');
    return dot != std::string_view::npos && is_id_part(id.substr(0, dot)) && is_id_part(id.substr(dot + 1));
}

} // namespace

void add_fault(FileReport& report, Error error)
{
    constexpr std::size_t most_faults = 1000;
    if (report.errors.size() < most_faults)
        report.errors.push_back(std::move(error));
}

std::string item_place(std::string const& place, std::size_t index)
{
    return fmt::format("{}[{}]", place, index);
}

std::size_t character_count(std::string_view utf8)
{
    return static_cast<std::size_t>(
        std::ranges::count_if(utf8, [](char c) { return (static_cast<unsigned char>(c) & 0xc0) != 0x80; }));
}

Members::Members(Json const& object, std::string place, FileReport& report)
    : m_object(object.is_object() ? object : empty_object()), m_place(std::move(place)), m_report(report)
{
    if (!object.is_object())
        refuse(Code::corrupt, {}, "must be an object with named members");
}

std::string Members::place(std::string_view name) const
{
    if (name.empty())
        return m_place;
    return m_place + (m_place.ends_with(": ") ? "" : ".") + std::string(name);
}

void Members::refuse(Code code, std::string_view name, std::string detail)
{
    add_fault(m_report, {code, place(name), std::move(detail)});
}

bool Members::has(std::string_view name) const
{
    return m_object.find(std::string(name)) != m_object.end();
}

Json const& Members::raw(std::string_view name)
{
    static Json const null;
    m_read.emplace(name);
    auto const it = m_object.find(std::string(name));
    return it == m_object.end() ? null : *it;
}

Json const& Members::array(std::string_view name, std::size_t longest)
{
    static Json const empty = Json::array();
    Json const& value = raw(name);
    if (value.is_array() && value.size() <= longest)
        return value;
    if (value.is_array())
        refuse(Code::out_of_range, name,
               fmt::format("has {} items, more than the {} a checklist may have", value.size(), longest));
    else if (has(name))
        refuse(Code::corrupt, name, "must be a list in square brackets");
    return empty;
}

std::string Members::checked(std::string_view name, Json const& value, bool may_be_empty)
{
    if (!value.is_string()) {
        refuse(Code::corrupt, name, "must be text in quotes");
        return {};
    }
    auto text = value.get<std::string>();
    if (has_control_character(text)) {
        refuse(Code::invalid_input, name, "holds a control character; write one plain line of text");
        return {};
    }
    if (!may_be_empty && text.empty())
        refuse(Code::missing_input, name, "must not be empty");
    return text;
}

std::string Members::text(std::string_view name)
{
    Json const& value = raw(name);
    if (!has(name)) {
        refuse(Code::missing_input, name, "is required");
        return {};
    }
    return checked(name, value, false);
}

std::string Members::text_or(std::string_view name, std::string otherwise)
{
    Json const& value = raw(name);
    return has(name) ? checked(name, value, true) : otherwise;
}

std::string Members::id(std::string_view name, bool dotted)
{
    auto id = text(name);
    if (!id.empty() && !is_id(id, dotted))
        refuse(Code::invalid_input, name,
               fmt::format("\"{}\" is not an id: {} a-z, 0-9 and _, at most 40 of them, a letter first", id,
                           dotted ? "write stage.name, each of" : "use"));
    return id;
}

std::vector<std::string> Members::texts(std::string_view name)
{
    std::vector<std::string> list;
    Json const& items = array(name);
    for (std::size_t i = 0; i < items.size(); ++i) {
        auto text = checked(item_place(std::string(name), i), items[i], false);
        if (std::ranges::find(list, text) != list.end())
            refuse(Code::invalid_input, item_place(std::string(name), i),
                   fmt::format("\"{}\" is listed twice", text));
        else if (!text.empty())
            list.push_back(std::move(text));
    }
    return list;
}

bool Members::flag_or(std::string_view name, bool otherwise)
{
    Json const& value = raw(name);
    if (!has(name))
        return otherwise;
    if (value.is_boolean())
        return value.get<bool>();
    refuse(Code::corrupt, name, "must be true or false");
    return otherwise;
}

int Members::whole(std::string_view name, int least, int most)
{
    Json const& value = raw(name);
    if (!has(name)) {
        refuse(Code::missing_input, name, "is required");
        return least;
    }
    if (!value.is_number_integer()) {
        refuse(Code::corrupt, name, "must be a whole number");
        return least;
    }
    // A number beyond int64 is stored unsigned by the parser; both are compared as doubles.
    double const number = value.get<double>();
    if (number < least || number > most) {
        refuse(Code::out_of_range, name, fmt::format("{} is outside {} to {}", value.dump(), least, most));
        return least;
    }
    return value.get<int>();
}

double Members::number_or(std::string_view name, double least, double most, double otherwise)
{
    Json const& value = raw(name);
    if (!has(name))
        return otherwise;
    if (!value.is_number()) {
        refuse(Code::corrupt, name, "must be a number");
        return otherwise;
    }
    double const number = value.get<double>();
    if (!(number >= least && number <= most)) {
        refuse(Code::out_of_range, name, fmt::format("{} is outside {} to {}", value.dump(), least, most));
        return otherwise;
    }
    return number;
}

std::optional<std::size_t> Members::word(std::string_view name, std::vector<std::string_view> const& words)
{
    std::size_t const before = m_report.errors.size();
    auto const given = text(name);
    if (m_report.errors.size() != before)
        return std::nullopt;
    auto const it = std::ranges::find(words, given);
    if (it != words.end())
        return static_cast<std::size_t>(it - words.begin());
    refuse(Code::unknown, name, fmt::format("\"{}\" is not one of: {}", given, fmt::join(words, ", ")));
    return std::nullopt;
}

void Members::refuse_rest()
{
    for (auto const& [name, value] : m_object.items())
        if (!m_read.contains(name))
            refuse(Code::unknown, {}, fmt::format("has a member \"{}\" that means nothing here", name));
}

} // namespace isochore::files
