#include "calc/input_kinds.h"
#include "calc/resistor_inputs.h"
#include "calc/resistor_report.h"
#include "calc/show_electric.h"
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::calc {
namespace {

using namespace electrical;
std::string percent(double share)
{
    return fmt::format("{:g} %", share * 100.0);
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

void report_working(Answer& answer, NoiseResistorCase const& c, NoiseCurrents const& noise, double ohm,
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

void report_value(Answer& answer, NoiseResistorCase const& c, NoiseCurrents const& noise,
                  ResistorWindow const& w, double ohm, double power_w)
{
    // A tolerance is a limit of a rectangular distribution (JCGM 100, 4.3.7).
    answer.add("resistance", ohm, "ohm", c.tolerance * ohm / std::numbers::sqrt3);
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
    NoiseCurrents noise;
    NoiseResistorCase const c = read_resistor_case(in, noise);
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
        report_collision(answer, c, w, power_w); // first: what it needs is what any value needs
        report_constraints(answer, c, w, fitted, power_w);
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
