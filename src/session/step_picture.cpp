#include "calc/usual.h"
#include "quantity/amount.h"
#include "session/display.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <cmath>
#include <limits>

namespace isochore::session {

double PictureQuestion::figure(char const* name) const
{
    double const none = std::numeric_limits<double>::quiet_NaN();
    Json const j = fact(name);
    if (!j.is_object() || !j.contains("value") || !j["value"].is_number())
        return none;
    return j["value"].get<double>();
}

Json PictureQuestion::fact(char const* name) const
{
    if (!result.is_object())
        return {};
    auto const results = result.find("results");
    if (results == result.end() || !results->is_object())
        return {};
    auto const it = results->find(name);
    return it == results->end() ? Json() : *it;
}

double PictureQuestion::half_width(char const* name) const
{
    Json const j = fact(name);
    Json const interval = member(j, "interval95");
    if (interval.is_array() && interval.size() == 2 && interval[0].is_number() && interval[1].is_number())
        return std::abs(interval[1].get<double>() - interval[0].get<double>()) / 2.0;
    return 2.0 * number_member(j, "u");
}

Json PictureQuestion::known_inputs() const
{
    if (inputs.is_object() && !inputs.empty())
        return inputs;
    auto const& call = step.call ? step.call : step.expected;
    return call ? resolve_inputs(context, *call) : Json::object();
}

std::optional<Amount> PictureQuestion::input_amount(char const* name, Dimension dimension) const
{
    Json const value = member(known_inputs(), name);
    if (value.is_number()) { // in SI, as a calculation takes it
        Amount bare;
        bare.si = value.get<double>();
        bare.dimension = dimension;
        return bare;
    }
    if (!value.is_string())
        return std::nullopt;
    auto const amount = parse_amount(value.get<std::string>(), dimension, name);
    return amount ? std::optional(*amount) : std::nullopt;
}

double PictureQuestion::input(char const* name, Dimension dimension) const
{
    auto const amount = input_amount(name, dimension);
    return amount ? amount->si : std::numeric_limits<double>::quiet_NaN();
}

double PictureQuestion::input_or_usual(char const* name, Dimension dimension) const
{
    double const given = input(name, dimension);
    return std::isnan(given) && step.call ? calc::usual_si(step.call->calc, name, dimension) : given;
}

std::vector<drawing::FootText> PictureQuestion::checks(std::initializer_list<char const*> names) const
{
    std::vector<drawing::FootText> found;
    for (char const* const wanted : names)
        for (Json const& check : member(result, "checks"))
            if (std::string const text = text_member(check, "text"); text_member(check, "name") == wanted)
                found.push_back({in_print(words(text)), mark_of(text_member(check, "verdict"))});
    return found;
}

drawing::Mark PictureQuestion::check_mark(char const* name) const
{
    for (Json const& check : member(result, "checks"))
        if (text_member(check, "name") == name)
            return mark_of(text_member(check, "verdict"));
    return drawing::Mark::none;
}

drawing::Mark mark_of(std::string_view verdict)
{
    return verdict == "pass"        ? drawing::Mark::pass
           : verdict == "fail"      ? drawing::Mark::fail
           : verdict == "undecided" ? drawing::Mark::undecided
                                    : drawing::Mark::none;
}

double length_of(Json const& j, char const* name, double otherwise)
{
    if (!j.is_object() || !j.contains(name))
        return otherwise;
    Json const& value = j[name];
    if (value.is_number())
        return value.get<double>();
    if (value.is_string())
        if (auto const a = parse_amount(value.get<std::string>(), Dimension::length, name))
            return a->si;
    return otherwise;
}

std::string PictureQuestion::words(std::string_view english, std::initializer_list<std::string> values) const
{
    return language::translated(translate, english, values);
}

void PictureQuestion::say(std::initializer_list<std::string*> texts) const
{
    for (std::string* text : texts)
        *text = words(*text);
}

void PictureQuestion::say(std::vector<std::string>& wordings) const
{
    for (std::string& text : wordings)
        text = words(text);
}

ReadingInHand reading_of(model::Step const& step, model::StepRecord const& record)
{
    ReadingInHand reading;
    if (auto const read = parse_amount(record.typed, step.dimension, step.id))
        reading.read = *read;
    if (reading.read)
        reading.expected = stored_prediction(record.expected);
    if (reading.expected)
        reading.expected->unit = reading.read->unit;
    return reading;
}

std::optional<drawing::Picture> step_picture(Context const& context, model::Step const& step,
                                             Json const& result, Json const& inputs, drawing::Space space,
                                             drawing::MeasureText const& measure,
                                             language::Translate const& words, ReadingInHand const& reading)
{
    if (step.picture.empty() || space.width_mm < 40.0 || space.height_mm < 30.0)
        return std::nullopt;
    PictureQuestion const q{context, step, result, inputs, space, measure, words, reading};
    struct Row {
        char const* name;
        std::optional<drawing::Picture> (*draw)(PictureQuestion const&);
    };
    static constexpr Row rows[] = {{"pt", gas_picture},
                                   {"purge", purge_picture},
                                   {"leak", leak_picture},
                                   {"forecast", forecast_picture},
                                   {"resistor", resistor_picture},
                                   {"wiring", wiring_picture},
                                   {"wiring_choice", wiring_choice_picture},
                                   {"taps", taps_picture},
                                   {"ct_path", ct_path_picture},
                                   {"thread", thread_picture},
                                   {"bolts", bolts_picture},
                                   {"sightline", sightline_picture},
                                   {"cables", cables_picture},
                                   {"chain", chain_picture},
                                   {"clearance", clearance_picture},
                                   {"plan", plan_picture},
                                   {"limits", limits_picture},
                                   {"phases", phases_picture},
                                   {"probe", probe_picture},
                                   {"dilution", dilution_picture},
                                   {"moisture", moisture_picture},
                                   {"account", account_picture},
                                   {"bag", bag_picture},
                                   {"loop", loop_picture},
                                   {"reading", reading_picture}};
    for (auto const& row : rows)
        if (step.picture == row.name)
            return row.draw(q);
    return std::nullopt;
}

} // namespace isochore::session
