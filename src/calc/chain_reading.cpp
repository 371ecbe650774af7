#include "calc/chain_reading.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::calc {
namespace {

using namespace mechanical;
using Code = Error::Code;

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

void read_use(Inputs& one, UsedPart& used, PartTable const& table)
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
UsedPart read_used(Inputs& in, Json const& item, std::string const& place, PartTable const& table)
{
    UsedPart used;
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

} // namespace

std::vector<UsedPart> read_run(Inputs& in, PartTable const& table)
{
    std::vector<UsedPart> run;
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
            UsedPart used;
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

} // namespace isochore::calc
