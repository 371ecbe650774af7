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

std::optional<Amount> PictureQuestion::given(char const* name, Dimension dimension) const
{
    std::string const typed = text_member(inputs, name);
    if (typed.empty())
        return std::nullopt;
    auto const amount = parse_amount(typed, dimension, name);
    return amount ? std::optional(*amount) : std::nullopt;
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

std::optional<drawing::Picture> step_picture(Context const& context, model::Step const& step,
                                             Json const& result, Json const& inputs, drawing::Space space,
                                             drawing::MeasureText const& measure,
                                             language::Translate const& words)
{
    if (step.picture.empty() || space.width_mm < 40.0 || space.height_mm < 30.0)
        return std::nullopt;
    PictureQuestion const q{context, step, result, inputs, space, measure, words};
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
                                   {"taps", taps_picture},
                                   {"chain", chain_picture},
                                   {"clearance", clearance_picture},
                                   {"plan", plan_picture},
                                   {"limits", limits_picture},
                                   {"phases", phases_picture},
                                   {"probe", probe_picture},
                                   {"dilution", dilution_picture},
                                   {"moisture", moisture_picture},
                                   {"account", account_picture},
                                   {"bag", bag_picture}};
    for (auto const& row : rows)
        if (step.picture == row.name)
            return row.draw(q);
    return std::nullopt;
}

} // namespace isochore::session
