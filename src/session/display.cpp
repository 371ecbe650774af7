#include "session/display.h"
#include "quantity/amount.h"
#include "json/member.h"
#include <algorithm>
#include <cctype>
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {
namespace {

struct Shown {
    Unit const* unit = nullptr;
    PressureReference reference = PressureReference::none;
};

Unit const* scaled(Dimension dimension, double si,
                   std::initializer_list<std::pair<double, char const*>> steps)
{
    char const* name = steps.begin()->second;
    for (auto const& [from, unit] : steps)
        if (std::fabs(si) >= from)
            name = unit;
    return find_unit(name, dimension);
}

/// A unit name can belong to several dimensions ("K", "Pa", "g"); the name of the figure tells which.
Dimension dimension_of(std::string_view name, std::string_view unit)
{
    auto const has = [&](char const* part) { return name.find(part) != std::string_view::npos; };
    if (find_unit(unit, Dimension::pressure))
        return has("difference") || has("drop") ? Dimension::pressure_difference
               : has("stress")                  ? Dimension::stress
                                                : Dimension::pressure;
    for (Unit const& u : all_units())
        if (u.name == unit)
            return u.dimension;
    return Dimension::count;
}

bool is_share(std::string_view name)
{
    return name.find("alike") != std::string_view::npos || name.find("chance") != std::string_view::npos ||
           name.find("probability") != std::string_view::npos;
}

Shown shown_unit(calc::Figure const& figure, UnitTaste const& taste)
{
    Dimension const dimension = dimension_of(figure.name, figure.unit);
    Unit const* own = find_unit(figure.unit, dimension);
    if (!own)
        return {};
    double const si = own->to_si(figure.value);
    Shown s{own, PressureReference::none};
    switch (dimension) {
    case Dimension::pressure:
        s.unit = find_unit(std::fabs(si) < 2000.0 ? "Pa" : taste.pressure, dimension);
        s.reference = figure.name.find("gauge") != std::string::npos ? PressureReference::gauge
                                                                     : PressureReference::absolute;
        if (figure.name.find("vapour") != std::string::npos)
            s.reference = PressureReference::none;
        break;
    case Dimension::temperature:
        s.unit = find_unit(taste.temperature, dimension);
        break;
    case Dimension::mass:
        s.unit = taste.mass == "lb" ? find_unit("lb", dimension)
                                    : scaled(dimension, si, {{0.0, "g"}, {0.0995, "kg"}});
        break;
    case Dimension::resistance:
        s.unit = scaled(dimension, si, {{0.0, "ohm"}, {1e3, "kohm"}, {1e6, "Mohm"}});
        break;
    case Dimension::current:
        s.unit = scaled(dimension, si, {{0.0, "mA"}, {0.5, "A"}, {5e3, "kA"}});
        break;
    case Dimension::volume:
        s.unit = scaled(dimension, si, {{0.0, "ml"}, {1e-3, "l"}, {10.0, "m3"}});
        break;
    case Dimension::length:
        s.unit = scaled(dimension, si, {{0.0, "mm"}, {2.0, "m"}});
        break;
    case Dimension::mass_flow:
        s.unit = scaled(dimension, si, {{0.0, "g/yr"}, {1e-3, "g/s"}});
        break;
    case Dimension::time:
        s.unit = scaled(dimension, si,
                        {{0.0, "ms"}, {1.0, "s"}, {120.0, "min"}, {7200.0, "h"}, {2e5, "d"}, {6e7, "yr"}});
        break;
    case Dimension::fraction:
        // A certain thing is 100 %, but a ratio of one is 1.
        if (figure.unit == "1" && (std::fabs(si) < 1.0 || (si == 1.0 && is_share(figure.name))))
            s.unit = scaled(dimension, si, {{0.0, "ppmv"}, {1e-3, "%"}});
        break;
    case Dimension::fraction_rate:
        s.unit = find_unit("%/yr", dimension);
        break;
    case Dimension::voltage:
        s.unit = scaled(dimension, si, {{0.0, "V"}, {5e3, "kV"}});
        break;
    case Dimension::co2e:
        s.unit = find_unit("t CO2e", dimension);
        break;
    default:
        break;
    }
    return s;
}

std::string with_unit(std::string number, Shown const& s)
{
    // What the figure is called says what is counted: "Cylinders 1".
    if (s.unit && s.unit->name != "1" && s.unit->name != "pcs")
        number += " " + std::string(s.unit->label());
    if (s.reference == PressureReference::absolute)
        number += " abs";
    if (s.reference == PressureReference::gauge)
        number += " g";
    return number;
}

/// Decimals for a value beside the half-width of its 95 % interval: one figure of the half-width, two when it
/// begins with 1 or 2, where one would round too hard.
int decimals_beside(double half)
{
    int const magnitude = static_cast<int>(std::floor(std::log10(half)));
    double const lead = half / std::pow(10.0, magnitude);
    return std::clamp((lead < 2.95 ? 1 : 0) - magnitude, 0, 6);
}

} // namespace

std::string label_of(std::string_view name)
{
    std::string text(name);
    for (char& c : text)
        if (c == '_')
            c = ' ';
    for (auto const& [from, to] :
         {std::pair<char const*, char const*>{"at 20C", "at 20 °C"}, {"co2e", "CO2e"}})
        if (auto const at = text.find(from); at != std::string::npos)
            text.replace(at, std::string_view(from).size(), to);
    if (!text.empty() && !text.starts_with("ppmv")) // a unit keeps its small letters
        text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
}

ShownFigure show_figure(calc::Figure const& figure, UnitTaste const& taste)
{
    ShownFigure out;
    out.label = label_of(figure.name);
    Shown const s = shown_unit(figure, taste);
    if (!s.unit) {
        out.value = show_number(figure.value, 4) + (figure.unit.empty() ? "" : " " + figure.unit);
        return out;
    }
    Unit const* own = find_unit(figure.unit, s.unit->dimension);
    double const value = s.unit->from_si(own->to_si(figure.value));
    double const scale = own->factor / s.unit->factor;
    std::optional<double> half;
    if (figure.low && figure.high)
        half = (*figure.high - *figure.low) / 2.0 * scale;
    else if (figure.u)
        half = 2.0 * *figure.u * scale;
    if (half && *half > 0.0) {
        int const decimals = decimals_beside(*half);
        out.value = with_unit(show_fixed(value, decimals), s);
        out.uncertainty = "± " + show_fixed(*half, decimals);
        if (s.unit->name != "1")
            out.uncertainty += " " + std::string(s.unit->label());
    } else if (figure.name == "cost") { // an amount of money, of whatever currency
        out.value = show_fixed(value, 2);
    } else {
        // No outage is planned or timed to a tenth of a per cent.
        out.value = with_unit(show_short(value, s.unit->dimension == Dimension::time ? 3 : 4), s);
    }
    return out;
}

std::vector<ShownFigure> show_results(Json const& answer, std::vector<std::string> const& names,
                                      UnitTaste const& taste)
{
    std::vector<ShownFigure> out;
    auto const results = answer.find("results");
    if (results == answer.end() || !results->is_object())
        return out;
    auto const add = [&](std::string const& name, Json const& j) {
        if (j.is_object() && j.contains("value") && j["value"].is_number()) {
            calc::Figure f{name, j["value"].get<double>(), text_member(j, "unit"), {}, {}, {}};
            if (auto const u = j.find("u"); u != j.end() && u->is_number())
                f.u = u->get<double>();
            if (auto const i = j.find("interval95"); i != j.end() && i->is_array() && i->size() == 2 &&
                                                     (*i)[0].is_number() && (*i)[1].is_number()) {
                f.low = (*i)[0].get<double>();
                f.high = (*i)[1].get<double>();
            }
            out.push_back(show_figure(f, taste));
        } else if (j.is_string()) {
            out.push_back({label_of(name), j.get<std::string>(), {}});
        } else if (j.is_boolean()) {
            out.push_back({label_of(name), j.get<bool>() ? "yes" : "no", {}});
        }
    };
    if (names.empty()) {
        for (auto const& [name, j] : results->items())
            add(name, j);
        return out;
    }
    for (auto const& name : names)
        if (auto const it = results->find(name); it != results->end())
            add(name, *it);
    return out;
}

std::string in_print(std::string text)
{
    for (auto const& [plain, printed] :
         {std::pair<std::string_view, std::string_view>{"kg/m3", "kg/m³"}, {"degC", "°C"}, {"degF", "°F"}})
        for (auto at = text.find(plain); at != std::string::npos; at = text.find(plain, at + printed.size()))
            text.replace(at, plain.size(), printed);
    // "ohm" is a piece of other words too: only where it is the unit of a number.
    constexpr std::string_view ohm = "ohm", sign = "Ω";
    for (auto at = text.find(ohm); at != std::string::npos; at = text.find(ohm, at + 1)) {
        bool const prefixed = at > 0 && std::string_view("umkM").find(text[at - 1]) != std::string_view::npos;
        std::size_t const start = prefixed ? at - 1 : at, end = at + ohm.size();
        if (start >= 2 && text[start - 1] == ' ' && std::isdigit(static_cast<unsigned char>(text[start - 2])) &&
            (end == text.size() || !std::isalpha(static_cast<unsigned char>(text[end]))))
            text.replace(at, ohm.size(), sign);
    }
    return text;
}

std::string show_span(double seconds)
{
    if (!std::isfinite(seconds) || seconds < 0.0)
        return "–";
    if (seconds < 90.0)
        return fmt::format("{:.0f} s", seconds);
    if (seconds < 3600.0)
        return fmt::format("{:.0f} min", seconds / 60.0);
    if (seconds < 2.0 * 86400.0) {
        long const minutes = std::lround(seconds / 60.0);
        return fmt::format("{} h {:02}", minutes / 60, minutes % 60);
    }
    if (seconds < 700.0 * 86400.0)
        return fmt::format("{:.0f} d", seconds / 86400.0);
    return fmt::format("{} yr", show_number(seconds / (365.25 * 86400.0), 3));
}

} // namespace isochore::session
