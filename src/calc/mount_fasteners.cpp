#include "calc/counts.h"
#include "calc/mount_kinds.h"
#include "calc/part_library.h"
#include "calc/show_electric.h"
#include "calc/usual.h"
#include "json/member.h"
#include "quantity/amount.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace mechanical;
using Code = Error::Code;

/// What one fastener stands, N, and how that was found.
struct Strength {
    double tension_n = 0.0;
    double shear_n = 0.0;
};

std::string newton(double n)
{
    return show_number(n, 4) + " N";
}
std::string percent(double share)
{
    return show_number(share * 100.0, 3) + " %";
}

template <class T> std::string ids_of(std::vector<T> const& all)
{
    std::string list;
    for (auto const& one : all)
        list += (list.empty() ? "" : ", ") + one.id;
    return list;
}

/// The entry of that id; "1/4-20 UNC" and "5" for "SAE 5" are understood.
template <class T> T find_named(Inputs& in, char const* name, std::vector<T> const& all)
{
    std::string const typed = in.text(name);
    if (in.error())
        return {};
    for (T const& one : all)
        if (one.id == typed || one.id + " UNC" == typed || one.id + " UNF" == typed ||
            one.id == "SAE " + typed)
            return one;
    in.refuse(Code::unknown, name, fmt::format("\"{}\" is not in the table: {}", typed, ids_of(all)));
    return {};
}

double share(Inputs& in, char const* name)
{
    double const got = given_or_usual(in, "mount.fasteners", name, Dimension::fraction);
    if (!(got > 0.0))
        in.refuse(Code::out_of_range, name, "must be above zero");
    return got;
}

/// Torque, friction grip and separation of preloaded bolts.
Strength bolts(Inputs& in, Answer& answer, ShockCase const& c, FastenerLoads const& loads)
{
    ScrewSize const size = find_named(in, "size", screw_sizes());
    ScrewGrade const grade = find_named(in, "grade", screw_grades());
    double const preload_share = share(in, "preload_share");
    double const nut_factor = share(in, "nut_factor");
    double const friction = share(in, "friction");
    if (in.error())
        return {};
    double const proof_n = proof_load_n(size, grade);
    double const preload_n = preload_share * proof_n;
    double const torque_nm = tightening_torque_nm(nut_factor, size.diameter_m, preload_n);
    answer.add("torque", torque_nm, "N m").add("preload", preload_n, "N").add("proof_load", proof_n, "N");
    answer.add("stress_area", stress_area_m2(size), "m2");
    answer.working.push_back(
        {"A = pi/4 (d - k P)^2; proof load = A x proof stress",
         fmt::format("{:.5g} mm2 x {:g} MPa = {}", stress_area_m2(size) * 1e6, grade.proof_pa / 1e6,
                     newton(proof_n)),
         size.unified ? "ASME B1.1, SAE J429 (from memory)" : "ISO 898-1 (from memory)"});
    answer.working.push_back({"T = K d F",
                              fmt::format("{:g} x {:.4g} mm x {} = {:.4g} N m", nut_factor,
                                          size.diameter_m * 1e3, newton(preload_n), torque_nm),
                              "short form of the bolt torque; K is common practice, no source"});
    double const all_shear = loads.shear_n * c.count;
    double const grip_n = friction * (preload_n * c.count - c.mass_kg * c.acceleration_m_s2);
    answer.add("friction_grip", grip_n, "N");
    answer.checks.push_back(
        {"grip", grip_n >= all_shear ? Verdict::pass : Verdict::fail,
         fmt::format("friction holds {}, the shock pushes with {}", newton(grip_n), newton(all_shear)),
         grip_n >= all_shear ? "" : "More or larger fasteners, or a higher preload.", "simple"});
    answer.checks.push_back(
        {"joint_stays_shut", loads.tension_n() < preload_n ? Verdict::pass : Verdict::fail,
         fmt::format("pull of {} on a preload of {}", newton(loads.tension_n()), newton(preload_n)),
         loads.tension_n() < preload_n ? "" : "More or larger fasteners, or wider spacing.", "simple"});
    answer.notes.push_back(
        "The torque of the maker of unit or cabinet comes first; a thin panel or a plastic foot "
        "stands less than the bolt.");
    return {proof_n, shear_limit_n(size, grade)};
}

Strength self_tapping(Inputs& in, Answer& answer)
{
    double const diameter = in.quantity("diameter", Dimension::length);
    double const sheet = in.quantity("sheet_thickness", Dimension::length);
    double const tensile = in.quantity("sheet_tensile", Dimension::stress);
    double const shear = in.quantity("screw_shear_strength", Dimension::force);
    double const safety = share(in, "safety_factor");
    for (auto const& [name, value] :
         {std::pair{"diameter", diameter}, std::pair{"sheet_thickness", sheet},
          std::pair{"sheet_tensile", tensile}, std::pair{"screw_shear_strength", shear}})
        if (!(value > 0.0))
            in.refuse(Code::out_of_range, name, "must be above zero");
    double const pull_out = sheet_pull_out_n(sheet, diameter, tensile) / safety;
    answer.working.push_back({"pull-out = 0.85 t d Fu / safety",
                              fmt::format("0.85 x {:.3g} mm x {:.3g} mm x {:g} MPa / {:g} = {}", sheet * 1e3,
                                          diameter * 1e3, tensile / 1e6, safety, newton(pull_out)),
                              "AISI S100 (from memory)"});
    answer.notes.push_back(
        "Self-tapping screws hold a light unit on a still wall: each removal wears the thread, vibration "
        "backs them out, and they make chips. Drive by hand to snug, never on the mechanism's frame.");
    return {pull_out, shear / safety};
}

/// Whether ties may carry the unit alone on this mechanism: the list stands in assets/parts/fasteners.json.
void judge_ties(Inputs& in, Answer& answer)
{
    std::string const mechanism = in.text_or("mechanism", "");
    if (mechanism.empty())
        return;
    Json const& rule = tie_rule();
    bool shaken = false;
    for (auto const& one : member(rule, "not_on"))
        shaken = shaken || one == mechanism;
    std::string const source = text_member(rule, "source");
    answer.checks.push_back(
        {"ties_allowed", shaken ? Verdict::fail : Verdict::pass,
         shaken ? fmt::format("a mechanism worked by {} shakes ties loose ({})", mechanism, source)
                : fmt::format("ties are allowed on a mechanism worked by {} ({})", mechanism, source),
         shaken ? "Fix the unit with bolts or screws; ties are for its cables." : "", "simple"});
}

Strength tie_wraps(Inputs& in, Answer& answer)
{
    judge_ties(in, answer);
    double const loop = in.quantity("loop_strength", Dimension::force);
    double const use = share(in, "strength_share");
    if (!(loop > 0.0))
        in.refuse(Code::out_of_range, "loop_strength", "must be above zero: it is printed on the packet");
    answer.notes.push_back(
        "Tie-wraps only on a solid rail, and never as the only support on a breaker with an air ram or "
        "strong springs (common practice, no source).");
    return {loop * use, loop * use};
}

} // namespace

Result<Answer> fasteners_calc(Inputs& in)
{
    ShockCase c;
    std::string const kind = in.one_of("kind", {"bolt", "self_tapping", "tie_wrap"}, "bolt");
    c.count = read_count(in, "count", 0, 100);
    c.mass_kg = in.quantity("mass", Dimension::mass);
    c.acceleration_m_s2 = in.quantity("shock", Dimension::acceleration);
    c.standoff_m = in.quantity_or("standoff", Dimension::length, 0.0);
    bool const spaced = in.has("spacing");
    c.spacing_m = in.quantity_or("spacing", Dimension::length, 1.0);
    if (!spaced && c.standoff_m > 0.0)
        in.refuse(Code::missing_input, "spacing", "is required with a standoff: the tilt acts on it");
    double const allowed = share(in, "max_utilisation");
    (void)in.raw("mechanism"); // only ties ask for it
    if (in.error())
        return tl::unexpected(*in.error());
    auto const loads = shock_loads(c, "inputs");
    if (!loads)
        return tl::unexpected(loads.error());

    Answer answer;
    answer.add("tension", loads->tension_n(), "N").add("shear", loads->shear_n, "N");
    answer.working.push_back(
        {"shear = m a / n; tension = m a / n + m a h / (s n/2)",
         fmt::format("{:g} kg x {:.5g} m/s2 / {} = {}; + tilt {} = {}", c.mass_kg, c.acceleration_m_s2,
                     c.count, newton(loads->shear_n), newton(loads->tilt_n), newton(loads->tension_n())),
         "statics; the shock is taken along and off the wall at once"});
    Strength const s = kind == "bolt"           ? bolts(in, answer, c, *loads)
                       : kind == "self_tapping" ? self_tapping(in, answer)
                                                : tie_wraps(in, answer);
    if (in.error())
        return tl::unexpected(*in.error());
    double const in_tension = loads->tension_n() / s.tension_n;
    double const in_shear = loads->shear_n / s.shear_n;
    double const used = in_tension + in_shear;
    answer.add("tension_limit", s.tension_n, "N").add("shear_limit", s.shear_n, "N");
    answer.add("utilisation", used, "1");
    answer.checks.push_back(
        {"strength", used <= allowed ? Verdict::pass : Verdict::fail,
         fmt::format("tension {} + shear {} = {} of {}", percent(in_tension), percent(in_shear),
                     percent(used), percent(allowed)),
         used <= allowed ? "" : "More, larger or stronger fasteners, wider spacing, or a lighter unit.",
         "simple"});
    answer.notes.push_back(
        "Remove every chip before any gas joint is opened: drilling is a hold point for the gas work.");
    return answer;
}

} // namespace isochore::calc
