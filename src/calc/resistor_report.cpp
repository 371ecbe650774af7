#include "calc/resistor_report.h"
#include "calc/show_electric.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {

using namespace electrical;

namespace {

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

} // namespace

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

namespace {

std::string margin_text(NoiseResistorCase const& c, Constraint const& k, double value)
{
    Dimension const d = face_of(k.name).dimension;
    if (k.name == "wetting")
        return fmt::format("{} at {}, needs {}", show_scaled(value, d),
                           show_scaled(c.dc_min_v, Dimension::voltage), show_scaled(k.of, d));
    return fmt::format("{} of {}", show_scaled(value, d), show_scaled(k.of, d));
}

/// The limit is on R itself, and R is known within the part's tolerance.
Verdict verdict_at(NoiseResistorCase const& c, Constraint const& k, double ohm)
{
    bool const low = k.met_by(ohm * (1.0 - c.tolerance));
    bool const high = k.met_by(ohm * (1.0 + c.tolerance));
    return low && high ? Verdict::pass : low || high ? Verdict::undecided : Verdict::fail;
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
    j["verdict"] = verdict_name(verdict_at(c, k, *ohm));
    return j;
}

/// All that a fitted value breaks at once: mending one limit alone would leave the next one broken.
std::string remedy_of(NoiseResistorCase const& c, ResistorWindow const& w, double ohm)
{
    std::string needs;
    int broken = 0;
    for (Constraint const& k : w.constraints)
        if (verdict_at(c, k, ohm) == Verdict::fail) {
            needs += (needs.empty() ? "" : "; ") + opener(c, k, ohm);
            ++broken;
        }
    if (!w.possible())
        return fmt::format("This value needs {}: no other value satisfies every limit.", needs);
    return broken > 1 ? fmt::format("Needs all of: {}; or another value.", needs)
                      : fmt::format("Needs {}, or another value.", needs);
}

} // namespace

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

void report_constraints(Answer& answer, NoiseResistorCase const& c, ResistorWindow const& w,
                        std::optional<double> ohm, double power_w)
{
    Json list = Json::array();
    for (Constraint const& k : w.constraints) {
        list.push_back(constraint_fact(c, k, ohm, power_w));
        if (!ohm)
            continue;
        Verdict const verdict = verdict_at(c, k, *ohm);
        std::string const text = fmt::format("{}: {} ({})", label_of(c, k, power_w),
                                             margin_text(c, k, value_at(c, k.name, *ohm)), limit_text(k));
        std::string remedy;
        if (verdict == Verdict::fail)
            remedy = remedy_of(c, w, *ohm);
        if (verdict == Verdict::undecided)
            remedy =
                fmt::format("The limit lies inside the {:g} % tolerance: measure the resistor and give its "
                            "value with a smaller tolerance, or fit a closer part.",
                            c.tolerance * 100.0);
        answer.checks.push_back({k.name, verdict, text, remedy, "guarded"});
    }
    answer.facts["constraints"] = std::move(list);
}

} // namespace isochore::calc
