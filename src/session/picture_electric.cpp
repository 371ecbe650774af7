#include "drawing/resistor_window.h"
#include "drawing/wiring.h"
#include "session/display.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

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
    double const down = q.space.height_mm - wiring_space.height_mm;
    auto const shift = [down](drawing::Point p) { return drawing::Point{p.x, p.y + down}; };
    for (auto& item : wiring->items) {
        if (auto* line = std::get_if<drawing::Polyline>(&item))
            for (auto& p : line->points)
                p = shift(p);
        else if (auto* circle = std::get_if<drawing::Circle>(&item))
            circle->centre = shift(circle->centre);
        else if (auto* label = std::get_if<drawing::Label>(&item))
            label->at = shift(label->at);
        picture.items.push_back(std::move(item));
    }
    picture.height = q.space.height_mm;
    picture.spoken += " " + wiring->spoken;
    return picture;
}

std::optional<drawing::Picture> wiring_picture(PictureQuestion const& q)
{
    drawing::WiringDiagram w;
    std::string const choice = q.context.state.record("prepare.trip_wiring").answer;
    w.connection =
        choice == "output" ? drawing::Connection::separate_output : drawing::Connection::parallel_trip_coil;
    if (auto const dc = q.context.profile.amount("control.dc_nominal"))
        w.positive = q.words("+ {} V dc", {fmt::format("{:g}", dc->si)});
    if (choice != "coil_plain")
        w.supervision = "74";
    w.fused = true;
    if (choice == "output") {
        // The value fitted is shown once it is worked out.
        auto const shown = figure_text(
            !q.fact("resistance").is_null() ? q.result : q.context.state.record("prepare.resistor").result,
            "resistance");
        if (shown)
            if (auto const r = parse_amount(*shown, Dimension::resistance, "resistor"))
                w.resistor_label = show_figure({"resistance", r->si, "ohm", {}, {}, {}}, {}).value;
        if (w.resistor_label.empty())
            w.resistor_label = "R";
    }
    q.say({&w.trip_label, &w.output_label, &w.coil_label, &w.lamp_label, &w.unit_label, &w.input_label});
    return drawing::wiring_diagram(w, q.space, q.measure);
}

} // namespace isochore::session
