#include "calc/uncertain.h"
#include "uncertainty/instrument.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {

using Code = Error::Code;

namespace {

/// "0.5 K" in SI, or "1 %" of the value.
std::optional<double> spread_member(Inputs& in, std::string_view name, double value, Dimension dimension)
{
    if (!in.has(name))
        return in.optional_quantity(name, dimension);
    std::string const text = in.text(name);
    if (in.error())
        return std::nullopt;
    double si = 0.0;
    if (text.find('%') != std::string::npos && dimension != Dimension::fraction)
        si = in.quantity(name, Dimension::fraction) * std::fabs(value);
    else
        si = in.quantity(name, dimension);
    if (!in.error() && si < 0.0)
        in.refuse(Code::out_of_range, name, fmt::format("\"{}\" is negative: an uncertainty is not", text));
    return si;
}

uncertainty::Instrument instrument(Inputs& in, double value, Dimension dimension)
{
    uncertainty::Instrument device;
    device.standard = spread_member(in, "standard", value, dimension);
    device.limit = spread_member(in, "limit", value, dimension);
    device.resolution = spread_member(in, "resolution", value, dimension);
    device.calibration_expanded = spread_member(in, "calibration", value, dimension);
    device.calibration_factor = in.quantity_or("k", Dimension::count, 2.0);
    device.repeatability = spread_member(in, "repeatability", value, dimension);
    device.readings = in.whole_or("readings", 2, 100000, 1);
    device.accuracy_class = in.optional_quantity("class", Dimension::fraction);
    device.span = in.optional_quantity("span", dimension);
    if (in.error())
        return device;
    if (device.accuracy_class.has_value() != device.span.has_value())
        in.refuse(Code::missing_input, device.span ? "class" : "span", "class and span are needed together");
    if (device.repeatability.has_value() != (device.readings > 1))
        in.refuse(Code::missing_input, device.repeatability ? "readings" : "repeatability",
                  "repeatability and readings are needed together");
    if (device.accuracy_class && !(*device.accuracy_class > 0.0 && *device.accuracy_class < 0.5))
        in.refuse(Code::out_of_range, "class",
                  "an accuracy class lies above 0 % and well below 50 % of span");
    if (!(device.calibration_factor > 0.0))
        in.refuse(Code::out_of_range, "k", "the coverage factor must be above zero");
    return device;
}

} // namespace

uncertainty::Input Uncertainties::read(std::string_view name, double value_si, Dimension spread)
{
    uncertainty::Input exact{
        std::string(name), value_si, 0.0, uncertainty::Shape::normal, std::numeric_limits<double>::infinity(),
        "taken as exact"};
    Json const& raw = m_members.raw(name);
    if (raw.is_null()) {
        std::string said(name); // as label_of() would begin it inside a sentence
        std::replace(said.begin(), said.end(), '_', ' ');
        m_exact += (m_exact.empty() ? "" : ", ") + said;
        return exact;
    }
    uncertainty::Instrument device;
    if (raw.is_object()) {
        Inputs nested = m_members.object(name);
        device = instrument(nested, value_si, spread);
        nested.refuse_unread();
        m_members.absorb(nested);
    } else {
        device.standard = spread_member(m_members, name, value_si, spread);
    }
    if (m_members.error())
        return exact;
    return uncertainty::reading(std::string(name), value_si, device);
}

void Uncertainties::finish()
{
    m_members.refuse_unread();
    m_parent.absorb(m_members);
    if (!m_exact.empty())
        m_parent.note("no uncertainty given for " + m_exact + ": taken as exact");
}

uncertainty::Rule read_rule(Inputs& in)
{
    return in.one_of("rule", {"guarded", "simple"}, "guarded") == "simple" ? uncertainty::Rule::simple
                                                                           : uncertainty::Rule::guarded;
}

Verdict verdict_of(uncertainty::Outcome outcome)
{
    switch (outcome) {
    case uncertainty::Outcome::pass:
        return Verdict::pass;
    case uncertainty::Outcome::fail:
        return Verdict::fail;
    case uncertainty::Outcome::undecided:
        break;
    }
    return Verdict::undecided;
}

void show_budget(Answer& answer, uncertainty::Budget const& budget)
{
    for (auto const& part : budget.contributions)
        answer.budget.push_back({part.name, part.u, part.share, part.source});
}

std::string instrument_needed(uncertainty::Budget const& budget, std::string_view input, double wanted,
                              double per_unit, std::string_view unit)
{
    double others = 0.0, slope = 0.0;
    std::string worst;
    for (auto const& part : budget.contributions) {
        if (part.name == input) {
            slope = std::fabs(part.sensitivity);
            continue;
        }
        if (worst.empty())
            worst = part.name; // the largest of the others: contributions come in order
        others += part.u * part.u;
    }
    double const u = wanted / budget.coverage;
    if (slope > 0.0 && u * u > others) // limit of error, rectangular
        return fmt::format("a {} known to ±{:.2g} {} would decide", input,
                           std::sqrt(3.0 * (u * u - others)) / slope / per_unit, unit);
    return worst.empty() ? std::string() : fmt::format("first {} must be better known", worst);
}

Figure figure(std::string name, std::string unit, uncertainty::Budget const& budget)
{
    Figure f{std::move(name), budget.value, std::move(unit), budget.u, {}, {}};
    if (budget.u > 0.0) {
        f.low = budget.value - budget.expanded();
        f.high = budget.value + budget.expanded();
    }
    return f;
}

Figure figure(std::string name, double value, std::string unit, uncertainty::Spread const& spread)
{
    return {std::move(name), value, std::move(unit), spread.u, spread.low, spread.high};
}

} // namespace isochore::calc
