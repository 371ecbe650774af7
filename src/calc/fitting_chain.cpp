#include "calc/chain_reading.h"
#include "calc/fitting_kinds.h"
#include "calc/part_library.h"
#include "calc/show_electric.h"
#include "calc/thread_rules.h"
#include "calc/usual.h"
#include "quantity/amount.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace mechanical;

struct Materials {
    Verdict verdict = Verdict::none;
    std::string text;
};

Materials judge_material(std::string const& material)
{
    if (material.empty())
        return {};
    for (Json const& m : fitting_data().value("seal_materials", Json::array()))
        if (m.value("id", "") == material)
            return {m.value("suits", false) ? Verdict::pass : Verdict::fail, m.value("text", "")};
    return {Verdict::undecided, "not in the table of seal materials: ask the maker whether it suits the gas"};
}

Json joint_fact(std::string const& from, std::string const& to, End const& a, End const& b,
                Joint const& joint, std::string const& seal, Materials const& material)
{
    bool const mates = joint.fault == JointFault::none && material.verdict != Verdict::fail;
    Json seals = Json::array();
    for (auto const& s : joint.seals)
        seals.push_back(s);
    return Json{{"from", from},
                {"to", to},
                {"a", a.text()},
                {"b", b.text()},
                {"verdict", mates ? "pass" : "fail"},
                {"text", joint.text},
                {"tell_apart", joint.tell_apart},
                {"seal", seal.empty() && !joint.seals.empty() ? joint.seals.front() : seal},
                {"seals", seals}};
}

void join(Answer& answer, std::string const& from, std::string const& to, End const& a, End const& b,
          std::string const& seal, std::string const& seal_material)
{
    Joint const joint = check_joint(a, b, seal, thread_rules());
    Materials const material = judge_material(seal_material);
    answer.facts["joints"].push_back(joint_fact(from, to, a, b, joint, seal, material));
    bool const good = joint.fault == JointFault::none;
    std::string const remedy = joint.tell_apart.empty() ? "" : "Tell them apart: " + joint.tell_apart + ".";
    answer.checks.push_back(
        {fmt::format("joint {}", answer.facts["joints"].size()), good ? Verdict::pass : Verdict::fail,
         fmt::format("{} to {}: {}", from, to, joint.text), good ? "" : remedy, "simple"});
    if (!seal_material.empty())
        answer.checks.push_back({fmt::format("seal {}", answer.facts["joints"].size()), material.verdict,
                                 fmt::format("{}: {}", seal_material, material.text),
                                 material.verdict == Verdict::pass ? "" : "EPDM or NBR suits.", "simple"});
}

/// Ends of a tee that lead nowhere must be closed, each by a part that fits.
void close_branches(Answer& answer, UsedPart const& used)
{
    Placed const& p = used.placed;
    std::size_t next = 0;
    for (std::size_t e = 0; e < p.part.ends.size(); ++e) {
        if (e == p.inlet || e == p.outlet)
            continue;
        if (next >= p.closed_by.size()) {
            answer.checks.push_back(
                {"open end", Verdict::fail,
                 fmt::format("{}: end {} ({}) is open", p.part.name, e, p.part.ends[e].text()),
                 "Close it with a plug, or with the new fill port: closed_by.", "simple"});
            continue;
        }
        Part const& plug = p.closed_by[next++];
        join(answer, p.part.name, plug.name, p.part.ends[e], plug.ends.front(), "", "");
    }
}

void join_all(Answer& answer, End const& port, std::vector<UsedPart> const& run)
{
    answer.facts["joints"] = Json::array();
    End const* before = &port;
    std::string name = "port";
    for (std::size_t i = 0; i < run.size(); ++i) {
        Placed const& p = run[i].placed;
        join(answer, name, p.part.name, *before, p.part.ends[p.inlet], p.seal, run[i].seal_material);
        if (i + 1 < run.size()) {
            close_branches(answer, run[i]);
            before = &p.part.ends[p.outlet];
            name = p.part.name;
        }
    }
}

/// Which threads count as look-alikes, and from where that is known.
void say_alike(Answer& answer)
{
    for (char const* name : {"alike_major", "alike_pitch"})
        if (Usual const* const limit = usual("fitting.chain", name))
            answer.working.push_back({limit->means, limit->text, limit->source});
}

void report_figures(Inputs& in, Answer& answer, RunFigures const& f, std::vector<UsedPart> const& run)
{
    answer.add("added_volume", f.volume_m3, "m3").add("length", f.length_m, "m").add("mass", f.mass_kg, "kg");
    answer.add("reach", f.reach_m, "m").add("moment", f.moment_nm, "N m").add("cost", f.cost, "1");
    if (f.max_pressure_pa)
        answer.add("max_pressure", *f.max_pressure_pa, "Pa");
    if (!f.unrated.empty())
        answer.notes.push_back(
            "No pressure rating is known for: " + fmt::format("{}", fmt::join(f.unrated, ", ")) + ".");
    Json legs = Json::array();
    for (Leg const& leg : f.legs)
        legs.push_back({{"part", run[leg.part].placed.part.name},
                        {"kind", run[leg.part].placed.part.kind},
                        {"diameter", run[leg.part].placed.part.diameter_m},
                        {"from", leg.from},
                        {"to", leg.to}});
    answer.facts["legs"] = std::move(legs);
    answer.notes.push_back(
        "Support the sensor so that no joint carries its weight; new seals once only; count the turns "
        "by hand before any spanner.");
    answer.working.push_back(
        {"volume, length, mass and cost add; reach is the furthest point out from the port",
         fmt::format("{} parts: {:.2f} ml, {:.0f} mm, {:.0f} g", run.size(), f.volume_m3 * 1e6,
                     f.length_m * 1e3, f.mass_kg * 1e3),
         "sizes of the parts"});
    auto const room = in.optional_quantity("door_clearance", Dimension::length);
    if (room && *room < 0.0)
        return in.refuse(Error::Code::out_of_range, "door_clearance",
                         "cannot be negative: measure from the port's face to the inside of the shut door");
    if (room)
        answer.checks.push_back(
            {"door", f.reach_m <= *room ? Verdict::pass : Verdict::fail,
             fmt::format("the run reaches {:.0f} mm out, the door leaves {:.0f} mm", f.reach_m * 1e3,
                         *room * 1e3),
             f.reach_m <= *room ? "" : "Put an elbow close to the port and turn the run along the panel.",
             "simple"});
    auto const limit = in.optional_quantity("max_unsupported_mass", Dimension::mass);
    if (limit && *limit < 0.0)
        return in.refuse(Error::Code::out_of_range, "max_unsupported_mass",
                         "cannot be negative: enter what may hang on the port without a bracket");
    if (limit)
        answer.checks.push_back(
            {"support", f.mass_kg <= *limit ? Verdict::pass : Verdict::fail,
             fmt::format("{:.2f} kg hangs on the port, {:.2f} kg allowed without a bracket", f.mass_kg,
                         *limit),
             f.mass_kg <= *limit ? "" : "Fit a bracket near the sensor.", "simple"});
}

void check_pressure(Inputs& in, Answer& answer, RunFigures const& f)
{
    if (!in.has("working_pressure")) {
        (void)in.raw("working_pressure");
        return;
    }
    double const gauge = in.absolute_pressure("working_pressure") - in.barometer();
    if (in.error() || !f.max_pressure_pa)
        return;
    bool const holds = gauge <= *f.max_pressure_pa;
    answer.checks.push_back(
        {"pressure", holds ? Verdict::pass : Verdict::fail,
         fmt::format("{:.2f} bar g on parts rated {:.2f} bar", gauge / 1e5, *f.max_pressure_pa / 1e5),
         holds ? "" : "Replace the part with the lowest rating.", "simple"});
}

} // namespace

Result<Answer> chain_calc(Inputs& in)
{
    PartTable const table = read_part_table(in);
    auto const port = read_port(in);
    if (!port)
        return tl::unexpected(port.error());
    std::vector<UsedPart> const run = read_run(in, table);
    if (in.error())
        return tl::unexpected(*in.error());

    Answer answer;
    join_all(answer, *port, run);
    say_alike(answer);
    std::vector<Placed> placed;
    for (UsedPart const& u : run)
        placed.push_back(u.placed);
    RunFigures const figures = run_figures(placed);
    report_figures(in, answer, figures, run);
    check_pressure(in, answer, figures);
    if (in.error())
        return tl::unexpected(*in.error());
    return answer;
}

} // namespace isochore::calc
