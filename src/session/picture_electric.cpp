#include "drawing/resistor_window.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>

namespace isochore::session {
namespace {

double value_of(Json const& j, double otherwise)
{
    if (j.is_object() && j.contains("value") && j["value"].is_number())
        return j["value"].get<double>();
    return otherwise;
}

} // namespace

std::optional<drawing::Picture> resistor_picture(PictureQuestion const& q)
{
    Json const constraints = q.fact("constraints");
    if (!constraints.is_array())
        return wiring_picture(q);
    // The rows beside it say each constraint; the picture shows where the part goes, with the ruler above it.
    drawing::Space ruler_space = q.space, wiring_space = q.space;
    ruler_space.height_mm = std::min(45.0, q.space.height_mm * 0.35);
    wiring_space.height_mm = q.space.height_mm - ruler_space.height_mm - 4.0;
    drawing::ResistorRuler ruler;
    Json const window = q.fact("window");
    if (window.is_object()) {
        ruler.low_ohm = value_of(member(window, "min"), 0.0);
        ruler.high_ohm = value_of(member(window, "max"), ruler.high_ohm);
    }
    if (Json const preferred = q.fact("preferred_values"); preferred.is_array())
        for (auto const& v : preferred)
            if (v.is_number())
                ruler.preferred_ohm.push_back(v.get<double>());
    if (double const r = q.figure("resistance"); std::isfinite(r))
        ruler.chosen_ohm = r;
    if (q.fact("possible") == false && !window.is_object()) {
        ruler.low_ohm = 1e6;
        ruler.high_ohm = 1.0;
    }
    q.say({&ruler.empty_label});
    drawing::Picture picture = drawing::resistor_window(ruler, ruler_space, q.measure);
    auto wiring =
        wiring_picture({q.context, q.step, q.result, q.inputs, wiring_space, q.measure, q.translate});
    if (!wiring)
        return picture;
    append(picture, *wiring, {0.0, q.space.height_mm - wiring_space.height_mm});
    picture.height = q.space.height_mm;
    picture.spoken += " " + wiring->spoken;
    return picture;
}

} // namespace isochore::session
