#include "calc/registry.h"
#include "drawing/loop_scale.h"
#include "session/picture_parts.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {

namespace {

/// The answer of the step; of a reading not yet calculated with, the prediction's, which shows the line
/// before the instrument is connected.
Json answer_of(PictureQuestion const& q)
{
    if (q.result.is_object() && q.result.contains("results"))
        return q.result;
    if (!q.step.expected || q.step.expected->calc != "sensor.loop")
        return {};
    auto const answer = calc::run("sensor.loop", resolve_inputs(q.context, *q.step.expected));
    return answer ? calc::to_json(*answer) : Json();
}

} // namespace

std::optional<drawing::Picture> loop_picture(PictureQuestion const& q)
{
    Json const answer = answer_of(q);
    PictureQuestion const from{q.context, q.step, answer, q.inputs, q.space, q.measure, q.translate};
    double const current = from.figure("current") * 1e3, low = from.figure("at_zero_value"),
                 high = from.figure("at_full_value");
    if (!std::isfinite(current) || !std::isfinite(low) || !std::isfinite(high))
        return std::nullopt;
    bool const density = from.fact("carried") == "density";
    double const scale = density ? 1.0 : 1e-3;
    drawing::LoopScale loop;
    loop.low = low * scale;
    loop.high = high * scale;
    loop.open_below = from.figure("open_loop_below") * 1e3;
    loop.short_above = from.figure("short_above") * 1e3;
    auto const level = [&](char const* figure, auto const& label) {
        if (double const ma = from.figure(figure) * 1e3; std::isfinite(ma))
            loop.levels.push_back({ma, label(fmt::format("{:.2f}", ma))});
    };
    level("lockout_current", [&](std::string const& ma) { return q.words("lockout {} mA", {ma}); });
    level("warn_current", [&](std::string const& ma) { return q.words("alarm {} mA", {ma}); });
    level("nominal_current", [&](std::string const& ma) { return q.words("filling {} mA", {ma}); });
    loop.reading = drawing::LoopPoint{current, fmt::format("{:.2f} mA", current)};
    if (q.step.kind == model::StepKind::measure) {
        drawing::LoopPoint const expected{current,
                                          q.words("expected {} mA", {fmt::format("{:.2f}", current)})};
        loop.reading = expected;
        if (auto const& read = q.reading.read) {
            loop.levels.push_back(expected);
            loop.reading = drawing::LoopPoint{read->si * 1e3,
                                              q.words("read {} mA", {fmt::format("{:.2f}", read->si * 1e3)})};
        }
    }
    loop.y_titles = density ? std::vector<std::string>{q.words("density, kg/m³"), "kg/m³"}
                            : std::vector<std::string>{q.words("pressure, kPa"), "kPa"};
    q.say({&loop.open_label, &loop.short_label});
    q.say(loop.x_titles);
    return drawing::loop_scale(loop, q.space, q.measure);
}

} // namespace isochore::session
