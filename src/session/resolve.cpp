#include "session/resolve.h"
#include "gas/atmosphere.h"
#include "model/job_rules.h"
#include "quantity/amount.h"
#include "session/clock.h"
#include "session/own_parts.h"
#include "json/member.h"
#include <charconv>
#include <fmt/format.h>

namespace isochore::session {
namespace {

/// "fill.topup.mass_to_add": the step id is the first two parts, the rest names a result.
struct StepReference {
    std::string step, result;
};

StepReference split_reference(std::string_view text)
{
    auto const first = text.find('.');
    auto const second = first == std::string_view::npos ? first : text.find('.', first + 1);
    if (second == std::string_view::npos)
        return {std::string(text), {}};
    return {std::string(text.substr(0, second)), std::string(text.substr(second + 1))};
}

std::string shortest(double value)
{
    char buffer[32];
    auto const end = std::to_chars(buffer, buffer + sizeof buffer, value).ptr;
    return {buffer, end};
}

Json series_of(Context const& context, std::string const& id)
{
    Json rows = Json::array();
    for (auto const& reading : context.state.record(id).readings) {
        Json row = Json::array();
        row.push_back(shortest(reading.t_s) + " s");
        for (auto const& value : reading.values)
            row.push_back(value);
        rows.push_back(std::move(row));
    }
    return rows;
}

/// What a "parts:" word in a list stands for.
Json listed_parts(Context const& context, std::string_view word)
{
    if (word == "instruments") {
        Json list = Json::array();
        for (auto const& [name, due] : context.state.calibration_due)
            list.push_back({{"name", name}, {"calibration_due", due}});
        return list;
    }
    if (!context.parts)
        return Json::array();
    return word == "fittings" ? own_fittings(*context.parts) : own_kit_rules(*context.parts);
}

Json resolve_value(Context const& context, Json const& value)
{
    if (value.is_string()) {
        std::string const text = value.get<std::string>();
        if (text.starts_with("series:"))
            return series_of(context, text.substr(7));
        auto const resolved = resolve_text(context, text);
        return resolved ? Json(*resolved) : Json();
    }
    if (value.is_object()) {
        Json out = Json::object();
        for (auto const& [name, inner] : value.items()) {
            Json resolved = resolve_value(context, inner);
            if (!resolved.is_null())
                out[name] = std::move(resolved);
        }
        // An instrument of which nothing is known is no instrument.
        return out.empty() && !value.empty() ? Json() : out;
    }
    if (value.is_array()) {
        Json out = Json::array();
        for (auto const& inner : value) {
            if (inner.is_string() && inner.get_ref<std::string const&>().starts_with("parts:")) {
                for (auto const& part : listed_parts(context, inner.get_ref<std::string const&>().substr(6)))
                    out.push_back(part);
                continue;
            }
            Json resolved = resolve_value(context, inner);
            if (!resolved.is_null())
                out.push_back(std::move(resolved));
        }
        return out;
    }
    return value;
}

} // namespace

namespace {

/// "density.u": the standard uncertainty of a result, an interval in the result's unit.
std::optional<std::string> uncertainty_text(Json const& answer, std::string const& name)
{
    Json const figure = member(member(answer, "results"), name.c_str());
    if (!figure.is_object() || !figure.contains("u") || !figure["u"].is_number())
        return std::nullopt;
    std::string const unit = text_member(figure, "unit"), number = shortest(figure["u"].get<double>());
    return unit.empty() || unit == "1" ? number : number + " " + unit;
}

} // namespace

std::optional<std::string> figure_text(Json const& answer, std::string_view name)
{
    if (!answer.is_object())
        return std::nullopt;
    if (constexpr std::string_view of_u = ".u"; name.ends_with(of_u))
        return uncertainty_text(answer, std::string(name.substr(0, name.size() - of_u.size())));
    for (char const* part : {"results", "expected"}) {
        auto const group = answer.find(part);
        if (group == answer.end() || !group->is_object())
            continue;
        auto const it = group->find(std::string(name));
        if (it == group->end())
            continue;
        if (it->is_string())
            return it->get<std::string>();
        if (it->is_boolean())
            return it->get<bool>() ? "true" : "false";
        if (it->is_number())
            return it->dump();
        if (!it->is_object() || !it->contains("value") || !(*it)["value"].is_number())
            return std::nullopt;
        std::string const unit = text_member(*it, "unit");
        std::string text = shortest((*it)["value"].get<double>());
        if (unit.empty() || unit == "1")
            return text;
        text += " " + unit;
        if (find_unit(unit, Dimension::pressure) && name.find("pressure") != std::string_view::npos)
            text += name.find("gauge") != std::string_view::npos ? " g" : " abs";
        return text;
    }
    return std::nullopt;
}

std::optional<std::string> resolve_text(Context const& context, std::string_view reference)
{
    if (reference.starts_with("profile:")) {
        auto const* value = context.profile.find(reference.substr(8));
        if (!value)
            return std::nullopt;
        return value->value;
    }
    if (reference == "job:today")
        return calendar_day(context.state.last_at);
    if (reference.starts_with("job:")) {
        auto const it = context.state.facts.find(reference.substr(4));
        if (it == context.state.facts.end() || it->second.empty())
            return std::nullopt;
        return it->second;
    }
    if (reference.starts_with("step:")) {
        auto const [id, result] = split_reference(reference.substr(5));
        model::Step const* step = context.checklists.step(id);
        if (!step || model::applies(context.checklists, context.state, *step) == false)
            return std::nullopt;
        model::StepRecord const& record = context.state.record(id);
        if (record.status == model::StepStatus::not_applicable)
            return std::nullopt;
        if (!result.empty())
            return figure_text(record.result, result);
        if (!record.typed.empty())
            return record.typed;
        if (!record.answer.empty())
            return record.answer;
        return std::nullopt;
    }
    return std::string(reference);
}

Json resolve_inputs(Context const& context, model::CalcCall const& call)
{
    Json const inputs = Json::parse(call.inputs_json, nullptr, false);
    if (!inputs.is_object())
        return Json::object();
    Json resolved = resolve_value(context, inputs);
    return resolved.is_object() ? resolved : Json::object();
}

Air air_of(Context const& context)
{
    Air air;
    auto const typed_at = [&](std::string_view ending) {
        for (auto const& [id, record] : context.state.records)
            if (std::string_view(id).ends_with(ending) && !record.typed.empty())
                return record.typed;
        return std::string();
    };
    air.baro = typed_at(".barometer");
    air.altitude = typed_at(".altitude");
    if (!air.baro.empty()) {
        if (auto const p = parse_amount(air.baro, Dimension::pressure, "barometer"))
            air.pressure_pa = p->si;
        return air;
    }
    if (!air.altitude.empty())
        if (auto const h = parse_amount(air.altitude, Dimension::length, "altitude"))
            if (auto const p = gas::standard_atmosphere_pressure(h->si))
                air.pressure_pa = *p;
    return air;
}

} // namespace isochore::session
