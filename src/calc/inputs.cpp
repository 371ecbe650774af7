#include "calc/inputs.h"
#include "gas/atmosphere.h"
#include <charconv>
#include <fmt/format.h>

namespace isochore::calc {

using Code = Error::Code;

Inputs::Inputs(Json const& object, std::string place) : m_object(object), m_place(std::move(place))
{
    if (!m_object.is_object()) {
        m_error = Error{Code::invalid_input, m_place, "must be an object of named inputs"};
        m_object = Json::object();
    }
}

std::string Inputs::place(std::string_view name) const
{
    return m_place + "." + std::string(name);
}

void Inputs::refuse(Code code, std::string_view name, std::string detail)
{
    if (!m_error)
        m_error = Error{code, name.empty() ? m_place : place(name), std::move(detail)};
}

void Inputs::note(std::string text)
{
    for (auto const& n : m_notes)
        if (n == text)
            return;
    m_notes.push_back(std::move(text));
}

bool Inputs::has(std::string_view name) const
{
    auto const it = m_object.find(std::string(name));
    return it != m_object.end() && !it->is_null();
}

Json const& Inputs::raw(std::string_view name)
{
    static Json const null;
    m_read.emplace(name);
    auto const it = m_object.find(std::string(name));
    return it == m_object.end() ? null : *it;
}

std::string Inputs::text(std::string_view name)
{
    Json const& j = raw(name);
    if (j.is_null()) {
        refuse(Code::missing_input, name, "is required");
        return {};
    }
    if (!j.is_string()) {
        refuse(Code::invalid_input, name,
               j.is_number() ? fmt::format("a bare number is refused: write \"{} unit\" in quotes", j.dump())
                             : "must be text in quotes");
        return {};
    }
    return j.get<std::string>();
}

std::string Inputs::text_or(std::string_view name, std::string otherwise)
{
    m_read.emplace(name);
    return has(name) ? text(name) : otherwise;
}

double Inputs::quantity(std::string_view name, Dimension dimension)
{
    std::string const typed = text(name);
    if (m_error)
        return 1.0;
    auto const amount = parse_amount(typed, dimension, place(name));
    if (!amount) {
        m_error = amount.error();
        return 1.0;
    }
    return amount->si;
}

std::optional<double> Inputs::optional_quantity(std::string_view name, Dimension dimension)
{
    m_read.emplace(name);
    if (!has(name))
        return std::nullopt;
    return quantity(name, dimension);
}

double Inputs::quantity_or(std::string_view name, Dimension dimension, double otherwise_si)
{
    return optional_quantity(name, dimension).value_or(otherwise_si);
}

double Inputs::barometer()
{
    m_read.emplace("altitude");
    if (has("baro")) {
        std::string const typed = text("baro");
        if (m_error)
            return gas::standard_pressure_pa;
        // A barometer reads absolute; people leave the word out, so it is supplied.
        bool const said = typed.ends_with("abs") || typed.ends_with(" a");
        auto const amount = parse_amount(said ? typed : typed + " abs", Dimension::pressure, place("baro"));
        if (!amount) {
            m_error = amount.error();
            return gas::standard_pressure_pa;
        }
        if (amount->si < 30000.0 || amount->si > 110000.0)
            refuse(Code::out_of_range, "baro",
                   fmt::format("\"{}\" is no barometric pressure on land", typed));
        return amount->si;
    }
    m_read.emplace("baro");
    if (has("altitude")) {
        double const h = quantity("altitude", Dimension::length);
        if (m_error)
            return gas::standard_pressure_pa;
        auto const p = gas::standard_atmosphere_pressure(h);
        if (!p) {
            refuse(p.error().code, "altitude", p.error().detail);
            return gas::standard_pressure_pa;
        }
        note(fmt::format(
            "barometer taken as {:.2f} kPa from the altitude (ISO 2533); weather moves it by about 3 kPa",
            *p / 1e3));
        return *p;
    }
    note("barometer not given: gauge readings are taken against the standard 101.325 kPa");
    return gas::standard_pressure_pa;
}

double Inputs::absolute_pressure(std::string_view name)
{
    std::string const typed = text(name);
    if (m_error)
        return gas::standard_pressure_pa;
    auto const amount = parse_amount(typed, Dimension::pressure, place(name));
    if (!amount) {
        m_error = amount.error();
        return gas::standard_pressure_pa;
    }
    if (amount->reference == PressureReference::absolute)
        return amount->si;
    double const absolute = amount->si + barometer();
    if (!m_error && absolute < 0.0)
        refuse(Code::out_of_range, name,
               fmt::format("\"{}\" is below vacuum at this barometric pressure", typed));
    return absolute;
}

std::optional<double> Inputs::optional_absolute_pressure(std::string_view name)
{
    m_read.emplace(name);
    if (!has(name))
        return std::nullopt;
    return absolute_pressure(name);
}

std::string Inputs::one_of(std::string_view name, std::vector<std::string> const& words,
                           std::optional<std::string> otherwise)
{
    if (!has(name) && otherwise) {
        m_read.emplace(name);
        return *otherwise;
    }
    std::string const given = text(name);
    if (m_error)
        return words.front();
    for (auto const& w : words)
        if (w == given)
            return given;
    std::string list;
    for (auto const& w : words)
        list += (list.empty() ? "" : ", ") + w;
    refuse(Code::unknown, name, fmt::format("\"{}\" is not one of: {}", given, list));
    return words.front();
}

bool Inputs::flag_or(std::string_view name, bool otherwise)
{
    Json const& j = raw(name);
    if (j.is_null())
        return otherwise;
    if (j.is_boolean())
        return j.get<bool>();
    if (j.is_string() && (j == "true" || j == "yes"))
        return true;
    if (j.is_string() && (j == "false" || j == "no"))
        return false;
    refuse(Code::invalid_input, name, "must be true or false");
    return otherwise;
}

int Inputs::whole(std::string_view name, int least, int most)
{
    Json const& j = raw(name);
    long long value = 0;
    if (j.is_null()) {
        refuse(Code::missing_input, name, "is required");
        return least;
    }
    if (j.is_number_integer()) {
        value = j.is_number_unsigned() && j.get<unsigned long long>() > 1000000000ull ? 1000000000ll
                                                                                      : j.get<long long>();
    } else if (j.is_string()) {
        std::string t = j.get<std::string>();
        if (t.ends_with(" pcs")) // as a counting step of a checklist records it
            t.resize(t.size() - 4);
        auto const [end, problem] = std::from_chars(t.data(), t.data() + t.size(), value);
        if (problem != std::errc{} || end != t.data() + t.size()) {
            refuse(Code::invalid_input, name, fmt::format("\"{}\" is not a whole number", t));
            return least;
        }
    } else {
        refuse(Code::invalid_input, name, "must be a whole number");
        return least;
    }
    if (value < least || value > most) {
        refuse(Code::out_of_range, name, fmt::format("{} is outside {} to {}", value, least, most));
        return least;
    }
    return static_cast<int>(value);
}

int Inputs::whole_or(std::string_view name, int least, int most, int otherwise)
{
    m_read.emplace(name);
    return has(name) ? whole(name, least, most) : otherwise;
}

std::vector<Inputs> Inputs::list(std::string_view name)
{
    std::vector<Inputs> items;
    Json const& j = raw(name);
    if (j.is_null())
        return items;
    if (!j.is_array()) {
        refuse(Code::invalid_input, name, "must be a list");
        return items;
    }
    for (std::size_t i = 0; i < j.size(); ++i)
        items.emplace_back(j[i], fmt::format("{}[{}]", place(name), i));
    return items;
}

Inputs Inputs::object(std::string_view name)
{
    Json const& j = raw(name);
    return Inputs(j.is_null() ? Json::object() : j, place(name));
}

void Inputs::absorb(Inputs const& nested)
{
    if (!m_error)
        m_error = nested.m_error;
    for (auto const& n : nested.m_notes)
        note(n);
}

void Inputs::refuse_unread()
{
    for (auto const& [name, value] : m_object.items())
        if (!m_read.contains(name))
            refuse(Code::unknown, name, "this calculation has no such input");
}

} // namespace isochore::calc
