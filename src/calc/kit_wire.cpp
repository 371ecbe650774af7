#include "calc/kit_wire.h"
#include "calc/part_library.h"
#include "json/member.h"
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using Code = Error::Code;
using planning::KitLine;

Json wire_of(std::string const& id)
{
    for (Json const& wire : member(kit_data(), "wires"))
        if (text_member(wire, "id") == id)
            return wire;
    return {};
}

double length_of(Inputs& in, char const* name)
{
    double const length = in.quantity(name, Dimension::length);
    if (!in.error() && length < 0.0)
        in.refuse(Code::out_of_range, name, "cannot be negative");
    return length;
}

constexpr char const* from_list = "from the cable list, slack included";

} // namespace

std::vector<std::string> wire_ids()
{
    std::vector<std::string> ids;
    for (Json const& wire : member(kit_data(), "wires"))
        ids.push_back(text_member(wire, "id"));
    return ids;
}

std::vector<KitLine> wire_lines(Inputs& job, planning::KitCounts& counts)
{
    std::vector<KitLine> lines;
    Inputs wires = job.object("wires");
    for (std::string const& id : wire_ids()) {
        if (!wires.has(id))
            continue;
        Json const wire = wire_of(id);
        double const length = length_of(wires, id.c_str());
        counts.wire_m += length;
        if (length > 0.0)
            lines.push_back(
                {fmt::format("{}, {}", text_member(wire, "name"), text_member(wire, "cross_section")),
                 "consumable", "m", from_list, text_member(wire, "source"), length, 0.0});
    }
    wires.refuse_unread();
    job.absorb(wires);
    if (lines.empty() && job.has("wire")) {
        counts.wire_m = length_of(job, "wire");
        lines.push_back({"Wire", "consumable", "m", from_list, "", counts.wire_m, 0.0});
    } else {
        (void)job.raw("wire");
    }
    if (job.has("run"))
        counts.run_m = length_of(job, "run");
    else
        (void)job.raw("run");
    return lines;
}

void name_by_wire(KitLine& line, std::string const& id)
{
    Json const wire = wire_of(id);
    std::string const area = text_member(wire, "cross_section"), stud = text_member(wire, "stud");
    if (area.empty() || stud.empty())
        return;
    line.name = fmt::format("{}, {} for stud {}", line.name, area, stud);
    line.note = "usual size: hold it against the terminal";
    line.source = text_member(wire, "source");
}

} // namespace isochore::calc
