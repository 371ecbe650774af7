#include "calc/gas_inputs.h"
#include "calc/part_library.h"
#include "calc/registry.h"
#include "calc/show_electric.h"
#include "electrical/current_loop.h"
#include "gas/state.h"
#include "quantity/amount.h"
#include "uncertainty/interval.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace electrical;
using Code = Error::Code;

/// The temperature of a filling pressure on a nameplate (IEC 62271-1, from memory).
constexpr double reference_temperature_k = 293.15;

/// What the loop carries, and how a value is read and shown.
struct Carried {
    std::string quantity;
    Dimension dimension = Dimension::pressure;
    PressureReference reference = PressureReference::none;
    std::optional<gas::Species> gas; ///< turns density into pressure and back
    double gas_k = 0.0;              ///< temperature of the gas now; 0: not given
    [[nodiscard]] bool is_pressure() const { return dimension == Dimension::pressure; }
    [[nodiscard]] std::string_view unit() const { return si_unit(dimension).name; }
};

constexpr struct {
    char const* word;
    Dimension dimension;
} carried_words[] = {{"pressure", Dimension::pressure},
                     {"compensated_pressure", Dimension::pressure},
                     {"pressure at 20 degC", Dimension::pressure}, // as a profile names it
                     {"density", Dimension::density},
                     {"temperature", Dimension::temperature},
                     {"moisture", Dimension::fraction}};

bool is_amount(Inputs& in, char const* name, Dimension dimension)
{
    return in.raw(name).is_string() && parse_amount(in.text(name), dimension, in.place(name)).has_value();
}

/// The reference of the range is that of its lower end as typed; of a range given in density, absolute.
Carried read_carried(Inputs& in)
{
    Carried c;
    std::vector<std::string> words;
    for (auto const& w : carried_words)
        words.emplace_back(w.word);
    c.quantity = in.one_of("quantity", words);
    for (auto const& w : carried_words)
        if (c.quantity == w.word)
            c.dimension = w.dimension;
    if (c.quantity == "pressure at 20 degC")
        c.quantity = "compensated_pressure";
    (void)in.raw("gas");
    if (in.has("gas"))
        c.gas = read_gas(in);
    c.gas_k = in.quantity_or("gas_temperature", Dimension::temperature, 0.0);
    if (c.is_pressure() && c.gas && is_amount(in, "range_low", Dimension::density)) {
        c.reference = PressureReference::absolute;
    } else if (c.is_pressure()) {
        auto const low = parse_amount(in.text("range_low"), Dimension::pressure, in.place("range_low"));
        if (low)
            c.reference = low->reference;
        else
            in.refuse(low.error().code, "range_low", low.error().detail);
    }
    return c;
}

/// What a density is as a pressure, or the other way round, by the gas's equation of state.
double read_through_gas(Inputs& in, Carried const& c, char const* name, double temperature_k)
{
    Result<double> turned = 0.0;
    if (c.is_pressure()) {
        double const density = in.quantity(name, Dimension::density);
        if (density != 0.0)
            turned = gas::pressure_pa(*c.gas, temperature_k, density);
    } else {
        turned = gas::density_kg_m3(*c.gas, temperature_k, in.absolute_pressure(name));
    }
    if (in.error())
        return 1.0;
    if (!turned) {
        in.refuse(turned.error().code, name, turned.error().detail);
        return 1.0;
    }
    return c.reference == PressureReference::gauge ? *turned - in.barometer() : *turned;
}

/// A value in the reference of the range; gauge and absolute are turned into each other with the barometer.
/// `temperature_k`: of the gas that a density is turned into a pressure for, or a pressure into a density.
double read_value(Inputs& in, Carried const& c, char const* name,
                  double temperature_k = reference_temperature_k)
{
    Dimension const other = c.is_pressure() ? Dimension::density : Dimension::pressure;
    if (c.gas && (c.is_pressure() || c.dimension == Dimension::density) && is_amount(in, name, other)) {
        if (temperature_k > 0.0)
            return read_through_gas(in, c, name, temperature_k);
        in.refuse(Code::missing_input, "gas_temperature",
                  "is required: without it a density is no pressure, nor the other way round");
        return 1.0;
    }
    if (!c.is_pressure())
        return in.quantity(name, c.dimension);
    auto const amount = parse_amount(in.text(name), Dimension::pressure, in.place(name));
    if (!amount) {
        in.refuse(amount.error().code, name, amount.error().detail);
        return 1.0;
    }
    if (amount->reference == c.reference)
        return amount->si;
    double const barometer = in.barometer();
    return c.reference == PressureReference::absolute ? amount->si + barometer : amount->si - barometer;
}

/// A reading of now: an uncompensated pressure belongs to the gas's temperature, and so does the density that
/// a pressure reading stands for.
double read_now(Inputs& in, Carried const& c, char const* name)
{
    return read_value(in, c, name, c.quantity == "compensated_pressure" ? reference_temperature_k : c.gas_k);
}

/// A band of the loop: as given, else as assets/parts/loop.json has it, said with its source.
double band(Inputs& in, char const* name)
{
    if (auto const given = in.optional_quantity(name, Dimension::current))
        return *given;
    Inputs usual(loop_data(), "loop.json");
    double const current_a = usual.quantity(name, Dimension::current);
    in.absorb(usual);
    in.note(fmt::format("{} not given: taken as {} ({})", name, show_scaled(current_a, Dimension::current),
                        usual.text("source")));
    return current_a;
}

CurrentLoop read_loop(Inputs& in, Carried const& c)
{
    CurrentLoop l;
    l.low = read_value(in, c, "range_low");
    l.high = read_value(in, c, "range_high");
    l.open_below_a = band(in, "open_below");
    l.short_above_a = band(in, "short_above");
    l.valid_from_a = band(in, "valid_from");
    l.valid_to_a = band(in, "valid_to");
    if (!in.error())
        if (auto const good = check_loop(l, "inputs"); !good) {
            std::string const where = good.error().where;
            in.refuse(good.error().code, where.size() > 7 ? where.substr(7) : "", good.error().detail);
        }
    return l;
}

std::string show(Carried const& c, double value)
{
    if (c.is_pressure())
        return show_amount(value, *find_unit("kPa", Dimension::pressure), 5, c.reference);
    if (c.dimension == Dimension::temperature)
        return show_amount(value, *find_unit("degC", Dimension::temperature), 4);
    return show_amount(value, si_unit(c.dimension), 5);
}

std::string milliamp(double a)
{
    return show_fixed(a * 1e3, 3) + " mA";
}

void report_state(Answer& answer, CurrentLoop const& loop, double current_a)
{
    LoopState const state = loop_state(loop, current_a);
    answer.facts["state"] = loop_state_name(state);
    std::string const text =
        fmt::format("{} in the loop, which measures from {} to {}", milliamp(current_a),
                    milliamp(loop.valid_from_a), milliamp(loop.valid_to_a));
    char const* remedy = "";
    if (state == LoopState::open_loop)
        remedy = "Broken wire, loose terminal, no loop supply or reversed polarity: measure the loop voltage "
                 "at the "
                 "sensor.";
    else if (state == LoopState::shorted)
        remedy = "Shorted cable, wrong terminal or a failed sensor: disconnect the sensor and look again.";
    else if (state != LoopState::measuring)
        remedy = "The value is outside the sensor's range: check the range against the breaker's pressure.";
    answer.checks.push_back(
        {"loop", state == LoopState::measuring ? Verdict::pass : Verdict::fail, text, remedy, "simple"});
}

std::string level_text(std::string_view name, std::string const& value, std::string const& current)
{
    if (name == "nominal")
        return fmt::format("nominal {} is {}", value, current);
    if (name == "warn")
        return fmt::format("warn {} is {}", value, current);
    return fmt::format("lockout {} is {}", value, current);
}

void report_alarms(Inputs& in, Answer& answer, Carried const& c, CurrentLoop const& loop)
{
    for (auto const& [name, result] :
         {std::pair{"nominal", "nominal_current"}, std::pair{"warn", "warn_current"},
          std::pair{"lockout", "lockout_current"}}) {
        (void)in.raw(name);
        if (!in.has(name))
            continue;
        double const value = read_value(in, c, name);
        if (in.error())
            return;
        double const current = loop_current_a(loop, value);
        answer.add(result, current, "A");
        bool const inside = current >= loop.zero_a && current <= loop.full_a;
        answer.checks.push_back(
            {std::string(name) + "_in_range", inside ? Verdict::pass : Verdict::fail,
             level_text(name, show(c, value), milliamp(current)),
             inside ? "" : "The sensor cannot show this point: a range that includes it is needed.",
             "simple"});
    }
    Figure const* warn = answer.find("warn_current");
    Figure const* lockout = answer.find("lockout_current");
    if (warn && lockout && lockout->value >= warn->value)
        in.refuse(Code::out_of_range, "lockout", "is not below warn: the two look swapped");
}

/// A standard uncertainty as such, or from an accuracy: rectangular limits as a share of the span.
double read_u(Inputs& in, Carried const& c, char const* name, char const* accuracy, double span)
{
    (void)in.raw(accuracy);
    if (in.has(accuracy) && !in.has(name))
        return in.quantity(accuracy, Dimension::fraction) * span / std::sqrt(3.0);
    Dimension const interval = c.is_pressure()                         ? Dimension::pressure_difference
                               : c.dimension == Dimension::temperature ? Dimension::temperature_difference
                                                                       : c.dimension;
    return in.quantity(name, interval);
}

/// The reading against a reference instrument: does zero difference lie inside its 95 % interval?
void cross_check(Inputs& in, Answer& answer, Carried const& c, double value, double span)
{
    if (!in.has("reference_value"))
        return;
    double const reference = read_now(in, c, "reference_value");
    double const u_reference = read_u(in, c, "u_reference", "reference_accuracy", span);
    double const u_sensor = read_u(in, c, "u_sensor", "sensor_accuracy", span);
    if (!in.error() && !(u_reference >= 0.0 && u_sensor >= 0.0 && u_reference + u_sensor > 0.0))
        in.refuse(Code::out_of_range, "u_reference",
                  "standard uncertainties cannot be negative, nor both zero");
    if (in.error())
        return;
    double const difference = value - reference;
    double const u = std::hypot(u_reference, u_sensor);
    answer.add("difference", difference, std::string(c.unit()), u);
    double const variance = u * u;
    answer.budget.push_back({"reference", u_reference, u_reference * u_reference / variance, "input"});
    answer.budget.push_back({"sensor", u_sensor, u_sensor * u_sensor / variance, "input"});
    double const expanded = uncertainty::normal_coverage * u;
    bool const agree = std::fabs(difference) <= expanded;
    answer.checks.push_back(
        {"agrees_with_reference", agree ? Verdict::pass : Verdict::fail,
         fmt::format("sensor minus reference {:.4g} {}, combined 95 % uncertainty {:.4g} {}", difference,
                     c.unit(), expanded, c.unit()),
         agree ? ""
               : "Wait until gas and sensor have one temperature, check gauge against "
                 "absolute and the range set, then read both again.",
         "simple"});
}

/// Standard uncertainty of the current a value should give, from the accuracies of sensor and reference.
std::optional<double> current_u(Inputs& in, CurrentLoop const& loop)
{
    double square = 0.0;
    for (char const* name : {"sensor_accuracy", "reference_accuracy"})
        if (in.has(name))
            square += std::pow(in.quantity(name, Dimension::fraction), 2) / 3.0;
    if (square > 0.0)
        return (loop.full_a - loop.zero_a) * std::sqrt(square);
    return std::nullopt;
}

Result<Answer> loop(Inputs& in)
{
    Carried const c = read_carried(in);
    CurrentLoop const l = read_loop(in, c);
    auto const current = in.optional_quantity("current", Dimension::current);
    for (char const* name :
         {"value", "reference_value", "u_reference", "u_sensor", "reference_accuracy", "sensor_accuracy"})
        (void)in.raw(name);
    bool const has_value = in.has("value");
    if (!in.error() && current.has_value() == has_value)
        in.refuse(current ? Code::invalid_input : Code::missing_input, "current",
                  "give either the current or the value, and the other is worked out");
    double const value = has_value ? read_now(in, c, "value") : current ? loop_value(l, *current) : 0.0;
    if (in.error())
        return tl::unexpected(*in.error());
    double const amps = current ? *current : loop_current_a(l, value);

    Answer answer;
    LoopState const state = loop_state(l, amps);
    // A broken or shorted loop measures nothing: no value leaves here for it.
    bool const measures = state != LoopState::open_loop && state != LoopState::shorted;
    if (measures || has_value)
        answer.add("value", value, std::string(c.unit()));
    std::optional<double> const u = has_value ? current_u(in, l) : std::nullopt;
    answer.add("current", amps, "A", u);
    if (c.reference != PressureReference::none)
        answer.facts["reference"] = c.reference == PressureReference::gauge ? "gauge" : "absolute";
    answer.add("open_loop_below", l.open_below_a, "A");
    answer.add("short_above", l.short_above_a, "A");
    answer.add("valid_from", l.valid_from_a, "A").add("valid_to", l.valid_to_a, "A");
    answer.add("at_zero_value", l.low, std::string(c.unit())).add("at_full_value", l.high, std::string(c.unit()));
    answer.facts["carried"] = c.quantity;
    report_alarms(in, answer, c, l);
    report_state(answer, l, amps);
    if (measures)
        cross_check(in, answer, c, value, l.high - l.low);
    if (in.error())
        return tl::unexpected(*in.error());
    if (has_value)
        answer.expected.push_back({"current", amps, "A", u, {}, {}});
    if (measures)
        answer.working.push_back(
            {"value = low + (I - 4 mA) / 16 mA x (high - low)",
             fmt::format("{} + ({} - 4 mA) / 16 mA x ({} - {}) = {}", show(c, l.low), milliamp(amps),
                         show(c, l.high), show(c, l.low), show(c, value)),
             "4-20 mA loop, IEC 60381-1 (from memory)"});
    if (c.quantity == "compensated_pressure")
        answer.notes.push_back(
            "A temperature-compensated pressure is the pressure at 20 °C of the same density: "
            "compare it with a gauge only after the gauge is taken to 20 °C too.");
    return answer;
}

} // namespace

std::span<Calculation const> sensor_calculations()
{
    static constexpr Calculation table[] = {
        {"sensor.loop", "4-20 mA loop: value and current, alarm points, open and short", loop},
    };
    return table;
}

} // namespace isochore::calc
