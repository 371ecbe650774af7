#include "calc/registry.h"
#include "json/read.h"

namespace isochore::calc {

std::vector<Calculation const*> all_calculations()
{
    std::vector<Calculation const*> all;
    for (auto family : {gas_calculations, fill_calculations, leak_calculations, purge_calculations,
                        emissions_calculations, ct_calculations, input_calculations, sensor_calculations,
                        mount_calculations, fitting_calculations, timing_calculations, plan_calculations})
        for (Calculation const& c : family())
            all.push_back(&c);
    return all;
}

Result<Answer> run(std::string_view name, Json const& inputs)
{
    for (Calculation const* c : all_calculations()) {
        if (c->name != name)
            continue;
        Inputs in(inputs);
        if (in.error())
            return tl::unexpected(*in.error());
        auto answer = c->run(in);
        if (in.error())
            return tl::unexpected(*in.error());
        if (!answer)
            return answer;
        in.refuse_unread();
        if (in.error())
            return tl::unexpected(*in.error());
        if (!is_finite(*answer))
            return fail(Error::Code::out_of_range, "inputs",
                        "these values lead to a number too large to be real: check the units typed");
        answer->notes.insert(answer->notes.begin(), in.notes().begin(), in.notes().end());
        return answer;
    }
    return fail(Error::Code::unknown, "calc", "there is no calculation \"" + std::string(name) + "\"");
}

namespace {

std::string error_line(Json const& id, Json const& calc, Error const& error)
{
    Json out = Json::object();
    out["id"] = id;
    out["calc"] = calc;
    out["ok"] = false;
    out["error"] = {{"code", code_name(error.code)}, {"where", error.where}, {"detail", error.detail}};
    return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

} // namespace

std::string answer_line(std::string_view line)
{
    auto const parsed = read_json(line, "line");
    if (!parsed)
        return error_line(nullptr, nullptr, parsed.error());
    if (!parsed->is_object())
        return error_line(nullptr, nullptr, {Error::Code::invalid_input, "line", "must be a JSON object"});
    Json const id = parsed->value("id", Json());
    Json const name = parsed->value("calc", Json());
    if (!name.is_string())
        return error_line(id, name,
                          {Error::Code::missing_input, "calc", "the name of the calculation is required"});
    auto const inputs = parsed->find("inputs");
    if (inputs == parsed->end())
        return error_line(id, name, {Error::Code::missing_input, "inputs", "is required"});
    for (auto const& [member, value] : parsed->items())
        if (member != "id" && member != "calc" && member != "inputs")
            return error_line(id, name,
                              {Error::Code::unknown, member, "a line has only id, calc and inputs"});
    auto const answer = run(name.get<std::string>(), *inputs);
    if (!answer)
        return error_line(id, name, answer.error());
    Json out = Json::object();
    out["id"] = id;
    out["calc"] = name;
    out["ok"] = true;
    Json const body = to_json(*answer);
    for (auto const& [key, value] : body.items())
        out[key] = value;
    return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

} // namespace isochore::calc
