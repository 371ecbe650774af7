#include "calc/fitting_kinds.h"
#include "calc/part_library.h"
#include "calc/part_reading.h"
#include "calc/show_electric.h"
#include "quantity/amount.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace mechanical;
using Code = Error::Code;

/// A part as used, with the material of the seal before it.
struct Used {
    Placed placed;
    std::string seal_material;
};

Part part_named(Inputs& in, std::string_view name, std::string const& id, PartTable const& table)
{
    auto const it = table.find(id);
    if (it != table.end())
        return it->second;
    in.refuse(
        Code::unknown, name,
        fmt::format("there is no part \"{}\": use an id of the library, or describe the part with its ends",
                    id));
    return {};
}

Part part_of(Inputs& holder, Inputs& one, PartTable const& table)
{
    if (one.has("ends"))
        return read_part(one);
    std::string const id = one.text("part");
    return one.error() ? Part{} : part_named(holder, "", id, table);
}

void read_use(Inputs& one, Used& used, PartTable const& table)
{
    Placed& p = used.placed;
    std::size_t const ends = p.part.ends.size();
    int const last = static_cast<int>(ends) - 1;
    p.inlet = static_cast<std::size_t>(one.whole_or("inlet", 0, std::max(last, 0), 0));
    p.outlet = static_cast<std::size_t>(
        one.whole_or("outlet", 0, std::max(last, 0), p.inlet == 1 ? 0 : std::min(1, last)));
    p.seal = one.text_or("seal", "");
    used.seal_material = one.text_or("seal_material", "");
    std::string const towards = one.one_of("towards", {"out", "in", "up", "down", "left", "right"}, "down");
    p.towards = *way_by_name(towards);
    Json const& plugs = one.raw("closed_by");
    if (plugs.is_null())
        return;
    if (!plugs.is_array())
        return one.refuse(Code::invalid_input, "closed_by", "must be a list of part ids");
    for (Json const& plug : plugs)
        if (plug.is_string())
            p.closed_by.push_back(part_named(one, "closed_by", plug.get<std::string>(), table));
        else
            one.refuse(Code::invalid_input, "closed_by", "each entry is a part id in quotes");
}

/// One entry of "parts", or "sensor": an id, or an object.
Used read_used(Inputs& in, Json const& item, std::string const& place, PartTable const& table)
{
    Used used;
    if (item.is_string()) {
        used.placed.part = part_named(in, place, item.get<std::string>(), table);
        used.placed.outlet = used.placed.part.ends.size() > 1 ? 1 : 0;
        used.placed.towards = Way::down;
        return used;
    }
    Inputs one(item, in.place(place));
    used.placed.part = part_of(one, one, table);
    if (!one.error())
        read_use(one, used, table);
    one.refuse_unread();
    in.absorb(one);
    return used;
}

std::vector<Used> read_run(Inputs& in, PartTable const& table)
{
    std::vector<Used> run;
    Json const& parts = in.raw("parts");
    if (!parts.is_null() && !parts.is_array())
        in.refuse(Code::invalid_input, "parts", "must be a list, from the port to the sensor");
    else if (parts.is_array())
        for (std::size_t i = 0; i < parts.size() && !in.error(); ++i) {
            std::string const place = fmt::format("parts[{}]", i);
            run.push_back(read_used(in, parts[i], place, table));
            if (!in.error() && run.back().placed.part.ends.size() < 2)
                in.refuse(
                    Code::no_solution, place,
                    fmt::format(
                        "\"{}\" has one end only, so the chain has a gap behind it: put it last, as the "
                        "sensor, or on a tee with closed_by",
                        run.back().placed.part.name));
            if (!in.error() && run.back().placed.inlet == run.back().placed.outlet)
                in.refuse(Code::no_solution, place,
                          "inlet and outlet are the same end, so the chain has a gap here");
        }
    Json const& sensor = in.raw("sensor");
    if (sensor.is_null())
        in.refuse(Code::missing_input, "sensor", "is required: an id of the library, or a part with its end");
    else if (!in.error()) {
        // A bare end ("G 3/8 male") is enough to check the joint; it then adds no length or mass.
        if (sensor.is_string() && !table.contains(sensor.get<std::string>())) {
            auto const end = parse_end(sensor.get<std::string>(), in.place("sensor"));
            if (!end) {
                in.refuse(end.error().code, "sensor", end.error().detail);
                return run;
            }
            Used used;
            used.placed.part.name = "sensor";
            used.placed.part.kind = "sensor";
            used.placed.part.ends = {*end};
            run.push_back(used);
        } else {
            run.push_back(read_used(in, sensor, "sensor", table));
        }
    }
    return run;
}

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
    Joint const joint = check_joint(a, b, seal);
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
void close_branches(Answer& answer, Used const& used)
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

void join_all(Answer& answer, End const& port, std::vector<Used> const& run)
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

void report_figures(Inputs& in, Answer& answer, RunFigures const& f, std::vector<Used> const& run)
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
    if (room)
        answer.checks.push_back(
            {"door", f.reach_m <= *room ? Verdict::pass : Verdict::fail,
             fmt::format("the run reaches {:.0f} mm out, the door leaves {:.0f} mm", f.reach_m * 1e3,
                         *room * 1e3),
             f.reach_m <= *room ? "" : "Put an elbow close to the port and turn the run along the panel.",
             "simple"});
    auto const limit = in.optional_quantity("max_unsupported_mass", Dimension::mass);
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

/// The port as text, or as {thread, gender, form}.
Result<End> read_port(Inputs& in)
{
    std::string text;
    if (in.raw("port").is_object()) {
        Inputs port = in.object("port");
        text = port.text("thread") + " " + port.text("gender");
        std::string const form = port.text_or("form", "");
        text += form.empty() ? "" : " " + form;
        port.refuse_unread();
        in.absorb(port);
    } else {
        text = in.text("port");
    }
    if (in.error())
        return tl::unexpected(*in.error());
    return parse_end(text, in.place("port"));
}

} // namespace

Result<Answer> chain_calc(Inputs& in)
{
    PartTable const table = read_part_table(in);
    auto const port = read_port(in);
    if (!port)
        return tl::unexpected(port.error());
    std::vector<Used> const run = read_run(in, table);
    if (in.error())
        return tl::unexpected(*in.error());

    Answer answer;
    join_all(answer, *port, run);
    std::vector<Placed> placed;
    for (Used const& u : run)
        placed.push_back(u.placed);
    RunFigures const figures = run_figures(placed);
    report_figures(in, answer, figures, run);
    check_pressure(in, answer, figures);
    return answer;
}

} // namespace isochore::calc
