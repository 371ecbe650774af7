#include "calc/show_electric.h"
#include "drawing/coil_states.h"
#include "drawing/wiring.h"
#include "quantity/amount.h"
#include "session/display.h"
#include "session/picture_parts.h"
#include "json/member.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {
namespace {

using drawing::Connection;
using drawing::Mark;

std::string amount_text(Json const& figure, Dimension dimension)
{
    return calc::show_scaled(number_member(figure, "value"), dimension);
}

struct Limits {
    double pick_up_v, threshold_a; ///< NaN: not known
};

Limits limits_of(PictureQuestion const& q)
{
    return {q.input("pick_up", Dimension::voltage), q.input("supervision_threshold", Dimension::current)};
}

/// The states of the first coil that refuses the input, else of the first.
Json states_to_show(Json const& coils, Limits const& limits)
{
    if (!coils.is_array() || coils.empty())
        return Json::array();
    for (Json const& states : coils)
        for (Json const& s : states)
            if (text_member(s, "breaker") == "closed") {
                bool const healthy = text_member(s, "coil") == "healthy";
                double const v = number_member(member(s, "input_voltage"), "value");
                double const a = number_member(member(s, "supervision_current"), "value");
                if (healthy ? v >= limits.pick_up_v : a >= limits.threshold_a)
                    return states;
            }
    return coils.front();
}

/// The two states that decide are held against their limits, as the calculation does.
drawing::CoilState state_row(PictureQuestion const& q, Json const& s, Limits const& limits)
{
    drawing::CoilState row;
    bool const healthy = text_member(s, "coil") == "healthy", closed = text_member(s, "breaker") == "closed";
    row.breaker = closed ? q.words("closed") : q.words("opened");
    row.coil = healthy ? q.words("healthy") : q.words("broken");
    Json const v = member(s, "input_voltage"), a = member(s, "supervision_current");
    row.voltage = amount_text(v, Dimension::voltage);
    row.current = amount_text(a, Dimension::current);
    if (closed && healthy && std::isfinite(limits.pick_up_v))
        row.voltage_mark = number_member(v, "value") < limits.pick_up_v ? Mark::pass : Mark::fail;
    if (closed && !healthy && std::isfinite(limits.threshold_a))
        row.current_mark = number_member(a, "value") < limits.threshold_a ? Mark::pass : Mark::fail;
    return row;
}

drawing::CoilStates table_of(PictureQuestion const& q, Json const& states)
{
    drawing::CoilStates table;
    Limits const limits = limits_of(q);
    for (Json const& s : states)
        table.rows.push_back(state_row(q, s, limits));
    if (std::isfinite(limits.pick_up_v)) {
        std::string const volt = calc::show_scaled(limits.pick_up_v, Dimension::voltage);
        table.voltage_limits = {q.words("on from {}", {volt}), "≥ " + volt};
    }
    if (std::isfinite(limits.threshold_a)) {
        std::string const ampere = calc::show_scaled(limits.threshold_a, Dimension::current);
        table.current_limits = {q.words("alarm below {}", {ampere}), "< " + ampere};
    }
    q.say({&table.title, &table.breaker_head, &table.coil_head, &table.voltage_head, &table.current_head});
    return table;
}

/// The connection that follows, in a few words, and the first reasons against the one that was refused: the
/// sheet beside the picture says every check.
std::vector<drawing::FootText> outcome(PictureQuestion const& q, std::string const& trip)
{
    std::string const label = trip == "parallel_with_coil" ? language::said("across the trip coil")
                              : trip == "separate_output"  ? language::said("separate output")
                                                           : language::said("no safe connection");
    std::vector<drawing::FootText> foot{drawing::conclusion(q.words(label), q.check_mark("trip_wiring"))};
    if (Json const reasons = q.fact("reasons"); reasons.is_array() && trip != "parallel_with_coil")
        for (Json const& r : reasons)
            if (std::string const text = text_member(r, "text");
                text_member(r, "connection") != "wetted_52b" && member(r, "in_favour") == false)
                foot.push_back({in_print(q.words(text))});
    return foot;
}

drawing::WiringDiagram diagram(PictureQuestion const& q, Connection connection)
{
    drawing::WiringDiagram w;
    w.connection = connection;
    if (auto const dc = q.context.profile.amount("control.dc_nominal"))
        w.positive = q.words("+ {} V dc", {fmt::format("{:g}", dc->si)});
    w.fused = true;
    q.say({&w.trip_label, &w.output_label, &w.coil_label, &w.lamp_label, &w.unit_label, &w.input_label});
    return w;
}

/// The resistor's value is shown once it is worked out.
std::string resistor_label(PictureQuestion const& q)
{
    auto const shown = figure_text(
        !q.fact("resistance").is_null() ? q.result : q.context.state.record("prepare.resistor").result,
        "resistance");
    if (shown)
        if (auto const r = parse_amount(*shown, Dimension::resistance, "resistor"))
            return show_figure({"resistance", r->si, "ohm", {}, {}, {}}, {}).value;
    return "R";
}

/// The position's contact, in the same manner; nothing where there is neither lamp nor free contact.
std::optional<drawing::WiringDiagram> position_diagram(PictureQuestion const& q, std::string const& wiring)
{
    if (wiring != "wetted_52b" && wiring != "parallel_with_lamp")
        return std::nullopt;
    auto w = diagram(q, wiring == "wetted_52b" ? Connection::wetted_52b : Connection::lamp_52b);
    w.input_label = q.words("52b input");
    if (double const a = q.figure("position_current"); std::isfinite(a))
        w.contact_52_note = calc::show_scaled(a, Dimension::current);
    return w;
}

/// Trip alone, or beside it the position where there is room for both.
drawing::Picture draw_both(PictureQuestion const& q, drawing::WiringDiagram const& trip,
                           std::optional<drawing::WiringDiagram> const& position, drawing::Space space)
{
    constexpr double room_for_two = 150.0, gap = 6.0;
    if (!position || space.width_mm < room_for_two)
        return drawing::wiring_diagram(trip, space, q.measure);
    drawing::Space left = space, right = space;
    left.width_mm = (space.width_mm - gap) * 0.58;
    right.width_mm = space.width_mm - gap - left.width_mm;
    drawing::Picture picture = drawing::wiring_diagram(trip, left, q.measure);
    auto const second = drawing::wiring_diagram(*position, right, q.measure);
    append(picture, second, {left.width_mm + gap, 0.0});
    picture.width = space.width_mm;
    picture.spoken += " " + second.spoken;
    return picture;
}

/// A circuit with the table of its states: beside it where the space lies, else under it.
drawing::Picture draw_with_table(PictureQuestion const& q, drawing::WiringDiagram trip,
                                 std::optional<drawing::WiringDiagram> const& position,
                                 drawing::CoilStates const& table)
{
    constexpr double gap = 3.0, least_circuit = 31.0; // mm
    double const size = drawing::body_size(q.space);
    drawing::Space circuit = q.space, words = q.space;
    bool const beside = !table.rows.empty() && q.space.width_mm > 1.6 * q.space.height_mm;
    if (beside) {
        circuit.width_mm = std::max(0.5 * q.space.width_mm, q.space.width_mm - 110.0) - gap;
        words.width_mm = q.space.width_mm - circuit.width_mm - gap;
    } else {
        double const keeps =
            std::min(std::max(least_circuit, 0.45 * q.space.height_mm), 0.6 * q.space.height_mm);
        double const most = q.space.height_mm - keeps - gap;
        words.height_mm = std::min(drawing::coil_states_height(table, q.space, q.measure, size), most);
        circuit.height_mm = q.space.height_mm - words.height_mm - gap;
    }
    constexpr double room_for_note = 42.0; // the box of the unit holds its name first
    if (circuit.height_mm < room_for_note)
        trip.input_note.clear();
    auto picture = draw_both(q, trip, position, circuit);
    auto const states = drawing::coil_states(table, words, q.measure, size);
    append(picture, states,
           beside ? drawing::Point{circuit.width_mm + gap, 0.0}
                  : drawing::Point{0.0, q.space.height_mm - words.height_mm});
    picture.width = q.space.width_mm;
    picture.height = q.space.height_mm;
    picture.spoken += " " + states.spoken;
    return picture;
}

/// The relay is there where the survey found one; not yet asked, the choice itself tells.
bool supervised(PictureQuestion const& q, std::string const& choice)
{
    std::string const found = q.context.state.record("prepare.coils").answer;
    return found.empty() ? choice == "coil_supervised" : found.ends_with("supervised");
}

} // namespace

std::optional<drawing::Picture> wiring_picture(PictureQuestion const& q)
{
    std::string const choice = q.context.state.record("prepare.trip_wiring").answer;
    auto w = diagram(q, choice == "output" ? Connection::separate_output : Connection::parallel_trip_coil);
    if (supervised(q, choice))
        w.supervision = "74";
    if (choice == "output")
        w.resistor_label = resistor_label(q);
    if (Json const states = q.fact("states"); states.is_array() && !states.empty()) {
        auto table = table_of(q, states);
        // The table stands at a step that says its checks itself.
        return draw_with_table(q, w, std::nullopt, table);
    }
    Json const surveyed = member(q.context.state.record("prepare.wiring").result, "results");
    return draw_both(q, w, position_diagram(q, text_member(surveyed, "position_wiring")), q.space);
}

std::optional<drawing::Picture> wiring_choice_picture(PictureQuestion const& q)
{
    Json const trip = q.fact("trip_wiring"), position = q.fact("position_wiring");
    if (!trip.is_string() || !position.is_string())
        return std::nullopt;
    // Where no connection is safe the refused one is shown: the numbers under it say why.
    auto w =
        diagram(q, trip == "separate_output" ? Connection::separate_output : Connection::parallel_trip_coil);
    Json const states = states_to_show(q.fact("coil_states"), limits_of(q));
    if (!states.empty())
        w.supervision = "74";
    if (q.fact("resistor_needed") == true)
        w.resistor_label = "R";
    if (double const a = q.figure("input_current"); std::isfinite(a))
        w.input_note = calc::show_scaled(a, Dimension::current);
    auto table = table_of(q, states);
    table.foot = outcome(q, trip.get<std::string>());
    return draw_with_table(q, w, position_diagram(q, position.get<std::string>()), table);
}

} // namespace isochore::session
