#include "calc/counts.h"
#include "calc/kit_wire.h"
#include "calc/part_library.h"
#include "calc/part_reading.h"
#include "calc/plan_kinds.h"
#include "calc/show_electric.h"
#include "calc/thread_rules.h"
#include "calc/usual.h"
#include "mechanical/joint.h"
#include "planning/kit.h"
#include "json/member.h"
#include <fmt/format.h>
#include <map>

namespace isochore::calc {
namespace {

using namespace planning;
using Code = Error::Code;

KitRule read_rule(Inputs& in)
{
    KitRule r;
    r.id = in.text("id");
    r.name = in.text_or("name", r.id);
    r.kind = in.text_or("kind", "part");
    r.per = in.one_of("per", {kit_counts.begin(), kit_counts.end()});
    auto const number = [&](char const* name, double otherwise) {
        Json const& j = in.raw(name);
        if (j.is_null())
            return otherwise;
        if (!j.is_number() || j.get<double>() < 0.0) {
            in.refuse(Code::invalid_input, name, "must be a number, not below zero");
            return otherwise;
        }
        return j.get<double>();
    };
    r.each = number("each", 1.0);
    r.spare = number("spare", 0.0);
    r.cost = number("cost", 0.0);
    r.unit = in.text_or("unit", "pcs");
    r.wire = in.text_or("wire", "");
    r.source = in.text_or("source", "");
    (void)in.raw("known_as"); // read by the session, which knows the steps
    in.refuse_unread();
    return r;
}

void push(Answer& answer, double& cost, KitLine const& line)
{
    answer.facts["kit"].push_back({{"name", line.name},
                                   {"kind", line.kind},
                                   {"quantity", line.quantity},
                                   {"unit", line.unit},
                                   {"cost", line.cost},
                                   {"note", line.note},
                                   {"source", line.source}});
    cost += line.cost;
}

/// What the seal of a kind is called, and what one costs; an invented planning value.
KitLine seal_line(std::string const& kind, std::string const& thread, int joints)
{
    KitLine line{kind, "consumable", "pcs", "one to fit, one spare", "fitting.chain", 2.0 * joints, 0.0};
    for (Json const& seal : member(fitting_data(), "seals"))
        if (text_member(seal, "id") == kind) {
            line.name = text_member(seal, "name");
            line.cost = line.quantity * number_member(seal, "cost");
        }
    line.name += ", " + thread;
    return line;
}

/// Seals of the joints from the port to the sensor by kind and thread. Gives the joints whose seal has no
/// size yet: of all, where the port is not told, and of those that do not seal.
int add_seals(Inputs& job, std::vector<mechanical::Part> const& parts, int all, Answer& answer, double& cost)
{
    std::string const port_text = job.text_or("port", ""), sensor_id = job.text_or("sensor", "");
    auto const port = parse_end(port_text, "port");
    PartTable const table = read_part_table(job);
    auto const sensor = table.find(sensor_id);
    if (!port || sensor == table.end() || sensor->second.ends.empty())
        return all;
    std::map<std::pair<std::string, std::string>, int> joints;
    int unsized = 0;
    mechanical::End const* before = &*port;
    auto const join = [&](mechanical::End const& next) {
        auto const joint = mechanical::check_joint(*before, next, "", thread_rules());
        if (joint.fault != mechanical::JointFault::none || joint.seals.empty())
            ++unsized;
        else if (joint.seals.front() != "none")
            ++joints[{joint.seals.front(), before->thread.id}];
    };
    for (auto const& part : parts) {
        if (part.ends.size() < 2)
            return all;
        join(part.ends[0]);
        before = &part.ends[1];
    }
    join(sensor->second.ends.front());
    for (auto const& [seal, count] : joints)
        push(answer, cost, seal_line(seal.first, seal.second, count));
    return unsized;
}

/// Parts of the gas connection, equal ones together, and the joints they make.
void add_chain(Inputs& job, Answer& answer, double& cost, KitCounts& counts)
{
    Json const& chain = job.raw("chain");
    PartTable const table = read_part_table(job);
    for (char const* later : {"port", "sensor"})
        (void)job.raw(later);
    if (chain.is_null())
        return;
    if (!chain.is_array()) {
        job.refuse(Code::invalid_input, "chain", "must be a list of part ids, from the port to the sensor");
        return;
    }
    std::map<std::string, int> alike;
    std::vector<mechanical::Part> parts;
    for (Json const& id : chain)
        if (!id.is_string() || !table.contains(id.get<std::string>())) {
            job.refuse(Code::unknown, "chain", fmt::format("{} is no part of the library", id.dump()));
        } else {
            ++alike[id.get<std::string>()];
            parts.push_back(table.find(id.get<std::string>())->second);
        }
    for (auto const& [id, count] : alike) {
        mechanical::Part const& part = table.find(id)->second;
        push(answer, cost,
             {part.name, "fitting", "pcs", "", "assets/parts/fittings.json", double(count),
              count * part.cost});
    }
    bool const to_sensor = job.has("port") && job.has("sensor"); // one joint more than parts
    counts.joints = static_cast<int>(parts.size()) + (to_sensor ? 1 : 0);
    counts.seals = add_seals(job, parts, counts.joints, answer, cost);
}

void add_resistor(Inputs& job, Answer& answer, double& cost)
{
    auto const ohm = job.optional_quantity("resistor", Dimension::resistance);
    auto const watt = job.optional_quantity("resistor_power", Dimension::power);
    if (!ohm)
        return;
    push(answer, cost,
         {fmt::format("Resistor {}{}", show_scaled(*ohm, Dimension::resistance),
                      watt ? ", " + show_scaled(*watt, Dimension::power) : ""),
          "part", "pcs", "one to fit, one spare", "input.resistor", 2.0, 0.0});
}

/// What holds the unit; the size is that of the bolts.
std::string add_fasteners(Inputs& job, Answer& answer, double& cost, KitCounts& counts)
{
    int const count = read_count_or(job, "fasteners", 0, 1000, 0);
    std::string const size = job.text_or("fastener_size", "");
    std::string const kind = job.one_of("fastener_kind", {"bolt", "self_tapping", "tie_wrap"}, "bolt");
    std::string const name = kind == "bolt"           ? "Bolt with nut"
                             : kind == "self_tapping" ? "Self-tapping screw"
                                                      : "Tie-wrap for the unit";
    if (count > 0)
        push(answer, cost,
             {size.empty() ? name : name + " " + size, "part", "pcs", "two spare", "mount.fasteners",
              count + 2.0, 0.0});
    counts.fasteners = count;
    counts.bolts = kind == "bolt" ? count : 0;
    return size;
}

/// Gas to bring and the cylinders that hold it.
double add_gas(Inputs& job, Answer& answer, double& cost)
{
    auto const gas = job.optional_quantity("gas_mass", Dimension::mass);
    auto const cylinder = job.optional_quantity("cylinder_mass", Dimension::mass);
    if (!gas) {
        for (char const* unused : {"gas_reserve", "cylinder_heel"})
            (void)job.raw(unused);
        return 0.0;
    }
    double const reserve = given_or_usual(job, "kit.plan", "gas_reserve", Dimension::fraction);
    double const heel = given_or_usual(job, "kit.plan", "cylinder_heel", Dimension::fraction);
    if (*gas < 0.0 || reserve < 0.0 || heel < 0.0 || heel >= 1.0)
        job.refuse(Code::out_of_range, "gas_mass",
                   "gas, reserve and heel cannot be negative, and a heel is below 100 %");
    double const bring = *gas * (1.0 + reserve);
    push(answer, cost, {"Gas", "gas", "kg", "with reserve; purity certificate", "fill.topup", bring, 0.0});
    if (cylinder && *cylinder > 0.0 && !job.error())
        push(answer, cost,
             {fmt::format("Cylinder of {:g} kg", *cylinder), "gas", "pcs", "on the truck, not in the yard",
              "", static_cast<double>(cylinders_for(bring, *cylinder, heel)), 0.0});
    return bring;
}

/// "YYYY-MM-DD" or empty; another form would compare wrongly as text.
std::string read_date(Inputs& in, char const* name, std::string otherwise)
{
    std::string const date = in.text_or(name, std::move(otherwise));
    bool good = date.size() == 10 && date[4] == '-' && date[7] == '-';
    for (std::size_t i = 0; good && i < 10; ++i)
        good = i == 4 || i == 7 || (date[i] >= '0' && date[i] <= '9');
    if (!date.empty() && !good)
        in.refuse(Code::invalid_input, name,
                  fmt::format("\"{}\" is no date: write year-month-day, 2026-11-30", date));
    return date;
}

void add_instruments(Inputs& job, Answer& answer)
{
    std::string const today = read_date(job, "today", "");
    std::string const day = read_date(job, "job_day", today);
    Json list = Json::array();
    for (Inputs& one : job.list("instruments")) {
        std::string const name = one.text("name");
        std::string const due = read_date(one, "calibration_due", "");
        one.refuse_unread();
        job.absorb(one);
        Calibration const state = today.empty() ? Calibration::unknown : calibration_state(due, today, day);
        char const* word = state == Calibration::in_date   ? "in date"
                           : state == Calibration::expired ? "expired"
                           : state == Calibration::unknown ? "unknown"
                                                           : "expires before the job";
        list.push_back({{"name", name}, {"calibration_due", due}, {"state", word}});
        answer.checks.push_back(
            {"calibration " + name,
             state == Calibration::in_date   ? Verdict::pass
             : state == Calibration::unknown ? Verdict::undecided
                                             : Verdict::fail,
             fmt::format("{}: calibration {}{}", name, word, due.empty() ? "" : ", due " + due),
             state == Calibration::in_date   ? ""
             : state == Calibration::unknown ? "Find the certificate and enter the date."
                                             : "Take another instrument: an expired one spoils the "
                                               "record.",
             "simple"});
    }
    if (!list.empty())
        answer.facts["instruments"] = std::move(list);
}

} // namespace

void add_kit(Inputs& job, Answer& answer, int crew)
{
    answer.facts["kit"] = Json::array();
    double cost = 0.0;
    KitCounts counts;
    counts.people = crew;
    add_chain(job, answer, cost, counts);
    for (KitLine const& line : wire_lines(job, counts))
        push(answer, cost, line);
    std::string const bolt = add_fasteners(job, answer, cost, counts);
    counts.current_circuits = read_count_or(job, "current_circuits", 0, 100, 0);
    counts.inputs = read_count_or(job, "inputs", 0, 100, 0);
    add_resistor(job, answer, cost);
    counts.gas_kg = add_gas(job, answer, cost);
    Inputs built_in(kit_data(), "kit.json");
    for (Inputs& one : built_in.list("rules")) {
        KitRule const rule = read_rule(one);
        job.absorb(one);
        auto line = kit_line(rule, counts);
        if (line && rule.per == "bolt" && !bolt.empty())
            line->name += " " + bolt;
        if (line)
            name_by_wire(*line, rule.wire);
        if (line)
            push(answer, cost, *line);
    }
    for (Inputs& one : job.list("kit_rules")) {
        KitRule const rule = read_rule(one);
        job.absorb(one);
        if (auto const line = kit_line(rule, counts))
            push(answer, cost, *line);
    }
    add_instruments(job, answer);
    answer.add("cost", cost, "1");
}

} // namespace isochore::calc
