#include "calc/input_kinds.h"
#include "calc/show_electric.h"
#include "electrical/noise_resistor.h"
#include "quantity/amount.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace electrical;
using Code = Error::Code;

struct Noise {
    double leakage_a = 0.0, coupled_a = 0.0, cable_f = 0.0;
};

std::string percent(double share)
{
    return fmt::format("{:g} %", share * 100.0);
}

/// The value given or `otherwise`, and a note that says which assumption was made.
double assumed(Inputs& in, Inputs& from, char const* name, Dimension dimension, double otherwise,
               std::string const& said)
{
    if (auto const given = from.optional_quantity(name, dimension))
        return *given;
    in.note(fmt::format("{} not given: taken as {}", name, said));
    return otherwise;
}

void refuse_negative(Inputs& from, char const* name, double value)
{
    if (value < 0.0)
        from.refuse(Code::out_of_range, name, "cannot be negative: enter its size");
}

/// Leakage and coupled current, and the capacitance of the cable. Each member of "noise" is optional.
Noise read_noise(Inputs& in)
{
    Noise noise;
    Inputs from = in.object("noise");
    noise.leakage_a = from.quantity_or("leakage_current", Dimension::current, 0.0);
    auto const length = from.optional_quantity("cable_length", Dimension::length);
    auto const volt = from.optional_quantity("coupled_voltage", Dimension::voltage);
    refuse_negative(from, "leakage_current", noise.leakage_a);
    refuse_negative(from, "cable_length", length.value_or(0.0));
    refuse_negative(from, "coupled_voltage", volt.value_or(0.0));
    double per_metre = 0.0;
    if (length) {
        per_metre = assumed(in, from, "capacitance_per_length", Dimension::capacitance_per_length, 0.3e-9,
                            "0.3 nF/m, high for control cable (common practice, no source)");
        refuse_negative(from, "capacitance_per_length", per_metre);
        noise.cable_f = *length * per_metre;
    } else {
        (void)from.optional_quantity("capacitance_per_length", Dimension::capacitance_per_length);
        in.note("cable length not given: no coupled current and no turn-off delay from the cable");
    }
    if (volt && length) {
        double const hertz = assumed(in, from, "frequency", Dimension::frequency, 60.0, "60 Hz");
        if (!(hertz > 0.0))
            from.refuse(Code::out_of_range, "frequency", "must be above zero");
        noise.coupled_a = coupled_current_a(*volt, hertz, noise.cable_f);
    } else {
        (void)from.optional_quantity("frequency", Dimension::frequency);
    }
    from.refuse_unread();
    in.absorb(from);
    return noise;
}

void check_positive(Inputs& in, char const* name, std::optional<double> value)
{
    if (value && !(*value > 0.0))
        in.refuse(Code::out_of_range, name, "must be above zero");
}

ESeries read_series(Inputs& in)
{
    std::string const series = in.one_of("series", {"E12", "E24", "E96"}, "E24");
    return series == "E12" ? ESeries::e12 : series == "E96" ? ESeries::e96 : ESeries::e24;
}

double read_fraction(Inputs& in, char const* name, double otherwise, std::string const& why)
{
    return assumed(in, in, name, Dimension::fraction, otherwise, percent(otherwise) + why);
}

NoiseResistorCase read_case(Inputs& in, Noise& noise)
{
    NoiseResistorCase c;
    c.dc_min_v = in.quantity("dc_min", Dimension::voltage);
    c.dc_max_v = in.quantity("dc_max", Dimension::voltage);
    auto const nominal = in.optional_quantity("dc_nominal", Dimension::voltage);
    c.input_ohm = in.quantity("input_resistance", Dimension::resistance);
    c.drop_out_v = in.quantity("drop_out", Dimension::voltage);
    auto const pick_up = in.optional_quantity("pick_up", Dimension::voltage);
    noise = read_noise(in);
    c.noise_a = noise.leakage_a + noise.coupled_a;
    c.cable_f = noise.cable_f;
    c.wetting_a = in.optional_quantity("wetting_current", Dimension::current);
    c.breaking_a = in.optional_quantity("contact_breaking_current", Dimension::current);
    c.max_delay_s = in.optional_quantity("max_timing_error", Dimension::time);
    c.power_w = in.optional_quantity("power_rating", Dimension::power);
    c.part_voltage_v = in.optional_quantity("voltage_rating", Dimension::voltage);
    check_positive(in, "wetting_current", c.wetting_a);
    check_positive(in, "contact_breaking_current", c.breaking_a);
    check_positive(in, "max_timing_error", c.max_delay_s);
    check_positive(in, "power_rating", c.power_w);
    check_positive(in, "voltage_rating", c.part_voltage_v);
    c.derating = read_fraction(in, "derating", 0.5, " of the rated power (common practice, no source)");
    c.tolerance = read_fraction(in, "tolerance", 0.05, "");
    c.noise_share = read_fraction(in, "noise_share", 0.5, " of the drop-out");
    c.series = read_series(in);
    if (in.error())
        return c;
    if (auto const good = check_case(c, "inputs"); !good) {
        std::string const name = good.error().where.substr(std::string("inputs.").size());
        in.refuse(good.error().code, name, good.error().detail);
    }
    if (nominal && (*nominal < c.dc_min_v || *nominal > c.dc_max_v))
        in.refuse(Code::out_of_range, "dc_nominal",
                  fmt::format("{:g} V is outside dc_min {:g} V to dc_max {:g} V", *nominal, c.dc_min_v,
                              c.dc_max_v));
    if (pick_up && *pick_up <= c.drop_out_v)
        in.refuse(Code::out_of_range, "drop_out",
                  fmt::format("{:g} V is not below the pick-up {:g} V: the two look swapped", c.drop_out_v,
                              *pick_up));
    if (pick_up && *pick_up > c.dc_min_v)
        in.refuse(
            Code::out_of_range, "pick_up",
            fmt::format("{:g} V is above the lowest supply {:g} V: the input would not see a trip there; "
                        "choose an input for a lower voltage",
                        *pick_up, c.dc_min_v));
    return c;
}

/// What a person calls the constraint, and how the value it measures is shown.
struct Face {
    char const* name;
    char const* label;
    Dimension dimension;
};
constexpr Face faces[] = {{"heat", "heat", Dimension::power},
                          {"breaking", "contact breaks", Dimension::current},
                          {"noise", "noise", Dimension::voltage},
                          {"wetting", "wetting", Dimension::current},
                          {"delay", "turn-off delay", Dimension::time}};

Face const& face_of(std::string const& name)
{
    for (Face const& f : faces)
        if (name == f.name)
            return f;
    return faces[0];
}

std::string label_of(NoiseResistorCase const& c, Constraint const& k, double power_w)
{
    if (k.name == "heat")
        return fmt::format("heat, {} part", show_scaled(power_w, Dimension::power));
    if (k.name == "noise")
        return "noise " + show_scaled(c.noise_a, Dimension::current);
    if (k.name == "wetting")
        return "wetting " + show_scaled(*c.wetting_a, Dimension::current);
    return face_of(k.name).label;
}

std::string limit_text(Constraint const& k)
{
    char const* sign = k.bound == Bound::minimum ? "≥" : "≤";
    if (std::isinf(k.limit_ohm))
        return k.bound == Bound::minimum ? "no resistor" : "any";
    return fmt::format("{} {}", sign, show_scaled(k.limit_ohm, Dimension::resistance));
}

std::string margin_text(NoiseResistorCase const& c, Constraint const& k, double value)
{
    Dimension const d = face_of(k.name).dimension;
    if (k.name == "wetting")
        return fmt::format("{} at {}, needs {}", show_scaled(value, d),
                           show_scaled(c.dc_min_v, Dimension::voltage), show_scaled(k.of, d));
    return fmt::format("{} of {}", show_scaled(value, d), show_scaled(k.of, d));
}

Json constraint_fact(NoiseResistorCase const& c, Constraint const& k, std::optional<double> ohm,
                     double power_w)
{
    Json j{{"name", k.name},
           {"label", label_of(c, k, power_w)},
           {"bound", k.bound == Bound::minimum ? "min" : "max"},
           {"limit_ohm", std::isinf(k.limit_ohm) ? Json() : Json(k.limit_ohm)},
           {"limit_text", limit_text(k)},
           {"of", k.of},
           {"unit", k.unit}};
    if (!ohm) {
        j["verdict"] = "none";
        return j;
    }
    double const value = value_at(c, k.name, *ohm);
    j["at_value"] = value;
    j["at_text"] = margin_text(c, k, value);
    j["margin_ohm"] = k.bound == Bound::minimum ? Json(*ohm - k.limit_ohm) : Json(k.limit_ohm - *ohm);
    if (std::isinf(k.limit_ohm))
        j["margin_ohm"] = nullptr;
    j["verdict"] = k.met_by(*ohm) ? "pass" : "fail";
    return j;
}

/// What would have to change for this constraint to move far enough, in words with its number.
std::string opener(NoiseResistorCase const& c, Constraint const& k, double ohm)
{
    double const value = value_at(c, k.name, ohm);
    Dimension const d = face_of(k.name).dimension;
    if (k.name == "heat")
        return fmt::format("a part that carries {} after derating ({} rated)", show_scaled(value, d),
                           show_scaled(value / c.derating, d));
    if (k.name == "breaking")
        return fmt::format("an output contact that breaks {} dc at {}", show_scaled(value, d),
                           show_scaled(c.dc_max_v, Dimension::voltage));
    if (k.name == "noise")
        return fmt::format("noise current brought below {} (shielded or shorter cable), or an input with a "
                           "higher drop-out",
                           show_scaled(k.of / in_parallel(ohm, c.input_ohm), Dimension::current));
    if (k.name == "wetting")
        return fmt::format("an output contact that is clean at {}", show_scaled(value, d));
    return fmt::format("a turn-off delay of {} accepted, or a shorter cable", show_scaled(value, d));
}

void report_collision(Answer& answer, NoiseResistorCase const& c, ResistorWindow const& w, double power_w)
{
    Constraint const& low = w.constraints[w.lower];
    Constraint const& high = w.constraints[w.upper];
    Json openers = Json::array();
    if (std::isinf(w.low_ohm)) {
        openers.push_back(fmt::format("an output contact that breaks more than the {} the input alone draws",
                                      show_scaled(c.dc_max_v / c.input_ohm, Dimension::current)));
    } else {
        openers.push_back(opener(c, low, std::isfinite(w.high_ohm) ? w.high_ohm : w.low_ohm));
        openers.push_back(opener(c, high, w.low_ohm));
    }
    bool const two = !std::isinf(w.low_ohm);
    std::string const text =
        two ? fmt::format("no resistor satisfies both: {} asks {}, {} asks {}", label_of(c, low, power_w),
                          limit_text(low), label_of(c, high, power_w), limit_text(high))
            : std::string("the output contact cannot even break the current of the input alone");
    Json names = two ? Json{low.name, high.name} : Json{low.name};
    answer.facts["collision"] = {{"constraints", names}, {"text", text}, {"opens_with", openers}};
    std::string remedy;
    for (auto const& o : openers)
        remedy += (remedy.empty() ? "Opens with: " : "; or ") + o.get<std::string>();
    answer.checks.push_back({"window", Verdict::fail, text, remedy + ".", "simple"});
}

void report_constraints(Answer& answer, NoiseResistorCase const& c, ResistorWindow const& w,
                        std::optional<double> ohm, double power_w)
{
    Json list = Json::array();
    for (Constraint const& k : w.constraints) {
        list.push_back(constraint_fact(c, k, ohm, power_w));
        if (!ohm)
            continue;
        bool const met = k.met_by(*ohm);
        std::string const text = fmt::format("{}: {} ({})", label_of(c, k, power_w),
                                             margin_text(c, k, value_at(c, k.name, *ohm)), limit_text(k));
        answer.checks.push_back({k.name, met ? Verdict::pass : Verdict::fail, text,
                                 met ? "" : "Needs " + opener(c, k, *ohm) + ", or another value.", "simple"});
    }
    answer.facts["constraints"] = std::move(list);
}

void report_part_voltage(Answer& answer, NoiseResistorCase const& c)
{
    answer.add("voltage_rating_needed", c.dc_max_v, "V");
    if (!c.part_voltage_v) {
        answer.notes.push_back(
            fmt::format("Voltage rating of the part not given: it must be {:g} V or more; many "
                        "small film resistors stop at 200 to 250 V.",
                        c.dc_max_v));
        return;
    }
    bool const met = *c.part_voltage_v >= c.dc_max_v;
    answer.checks.push_back(
        {"voltage_rating", met ? Verdict::pass : Verdict::fail,
         fmt::format("part rated {:g} V, supply up to {:g} V", *c.part_voltage_v, c.dc_max_v),
         met ? "" : fmt::format("Use a part rated for at least {:g} V, or two in series.", c.dc_max_v),
         "simple"});
}

void report_working(Answer& answer, NoiseResistorCase const& c, Noise const& noise, double ohm,
                    double power_w)
{
    auto const show = [](double v, Dimension d) { return show_scaled(v, d, 4); };
    answer.working.push_back(
        {"P = Umax^2 / R, at most derating x rating",
         fmt::format("({:g} V)^2 / {} = {}; {} x {}", c.dc_max_v, show(ohm, Dimension::resistance),
                     show(value_at(c, "heat", ohm), Dimension::power), percent(c.derating),
                     show(power_w, Dimension::power)),
         "Joule's law; derating is common practice, no source"});
    if (c.noise_a > 0.0)
        answer.working.push_back(
            {"Unoise = (leakage + U 2 pi f C) (R || Rin), at most share x drop-out",
             fmt::format("({} + {}) x {} = {}; {} x {:g} V", show(noise.leakage_a, Dimension::current),
                         show(noise.coupled_a, Dimension::current),
                         show(in_parallel(ohm, c.input_ohm), Dimension::resistance),
                         show(value_at(c, "noise", ohm), Dimension::voltage), percent(c.noise_share),
                         c.drop_out_v),
             "Ohm's law; the two currents add as the worst case, rms; the share leaves room for the crest"});
    if (c.cable_f > 0.0)
        answer.working.push_back({"t = (R || Rin) C ln(Umax / drop-out)",
                                  fmt::format("{} x {} x ln({:g} / {:g}) = {}",
                                              show(in_parallel(ohm, c.input_ohm), Dimension::resistance),
                                              show(c.cable_f, Dimension::capacitance), c.dc_max_v,
                                              c.drop_out_v, show(value_at(c, "delay", ohm), Dimension::time)),
                                  "discharge of the cable's capacitance"});
    if (c.wetting_a)
        answer.working.push_back(
            {"Iwet = Umin / R; the input's own current is not counted, it may be smaller",
             fmt::format("{:g} V / {} = {}", c.dc_min_v, show(ohm, Dimension::resistance),
                         show(value_at(c, "wetting", ohm), Dimension::current)),
             "Ohm's law"});
    if (c.breaking_a)
        answer.working.push_back({"Ibreak = Umax / (R || Rin): the contact breaks both",
                                  fmt::format("{:g} V / {} = {}", c.dc_max_v,
                                              show(in_parallel(ohm, c.input_ohm), Dimension::resistance),
                                              show(value_at(c, "breaking", ohm), Dimension::current)),
                                  "Ohm's law"});
}

Json window_fact(ResistorWindow const& w)
{
    return Json{{"min", figure_fact(w.low_ohm, "ohm")},
                {"max", std::isinf(w.high_ohm) ? Json() : figure_fact(w.high_ohm, "ohm")},
                {"min_by", w.constraints[w.lower].name},
                {"max_by", std::isinf(w.high_ohm) ? Json() : Json(w.constraints[w.upper].name)}};
}

void report_value(Answer& answer, NoiseResistorCase const& c, Noise const& noise, ResistorWindow const& w,
                  double ohm, double power_w)
{
    answer.add("resistance", ohm, "ohm");
    answer.add("power_rating", power_w, "W");
    answer.add("power", value_at(c, "heat", ohm), "W");
    answer.add("dropout_delay", value_at(c, "delay", ohm), "s");
    answer.add("noise_voltage", value_at(c, "noise", ohm), "V");
    report_constraints(answer, c, w, ohm, power_w);
    report_part_voltage(answer, c);
    report_working(answer, c, noise, ohm, power_w);
    answer.expected.push_back({"power", value_at(c, "heat", ohm), "W", {}, {}, {}});
    answer.notes.push_back(
        "The resistor runs warm as long as the output is closed: mount it away from wire bundles "
        "with air around it, where nobody touches it.");
}

} // namespace

Result<Answer> resistor_calc(Inputs& in)
{
    Noise noise;
    NoiseResistorCase const c = read_case(in, noise);
    auto const fitted = in.optional_quantity("resistance", Dimension::resistance);
    check_positive(in, "resistance", fitted);
    if (in.error())
        return tl::unexpected(*in.error());
    if (!c.wetting_a && c.noise_a <= 0.0)
        return fail(
            Error::Code::no_solution, "inputs",
            "neither noise nor a wetting current is given, so nothing asks for a resistor: give one of them "
            "or leave the resistor out");

    Answer answer;
    auto const chosen = choose_resistor(c);
    double const largest = common_power_ratings_w().back();
    double const power_w =
        chosen && chosen->power_rating_w > 0.0 ? chosen->power_rating_w : c.power_w.value_or(largest);
    ResistorWindow const w = resistor_window(c, power_w);
    answer.facts["possible"] = w.possible();
    answer.facts["window"] = std::isinf(w.low_ohm) ? Json() : window_fact(w);
    Json inside = Json::array();
    for (double r : w.possible() ? preferred_values(c.series, w.low_ohm, std::min(w.high_ohm, 1e7))
                                 : std::vector<double>{})
        inside.push_back(r);
    answer.facts["preferred_values"] = inside;
    if (!w.possible()) {
        report_constraints(answer, c, w, fitted, power_w);
        report_collision(answer, c, w, power_w);
        return answer;
    }
    if (!chosen && !fitted) {
        report_constraints(answer, c, w, {}, power_w);
        answer.checks.push_back({"window", Verdict::fail,
                                 fmt::format("no preferred value lies between {} and {}",
                                             show_scaled(w.low_ohm, Dimension::resistance),
                                             show_scaled(w.high_ohm, Dimension::resistance)),
                                 "Use a finer series, or join two resistors.", "simple"});
        return answer;
    }
    if (chosen)
        answer.facts["recommended"] = figure_fact(chosen->ohm, "ohm");
    report_value(answer, c, noise, w, fitted.value_or(chosen ? chosen->ohm : 0.0), power_w);
    return answer;
}

} // namespace isochore::calc
