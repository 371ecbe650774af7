#include "sample_pictures.h"
#include <cmath>
#include <limits>

using namespace isochore::drawing;

namespace isochore::tests {

namespace {

double dew_pressure(double t)
{
    return 1.25 * std::exp(2200.0 * (1.0 / 273.15 - 1.0 / (t + 273.15)));
}

// Near enough to the gas for a picture: p = rho Rs T Z with a second virial coefficient. The program
// itself draws what the equation of state gives.
Isochore isochore_line(Isochore::Kind kind, double density, std::string label, std::string brief)
{
    Isochore line{kind, {}, std::move(label), std::move(brief)};
    for (double t = -40.0; t <= 60.0; t += 2.0) {
        double const kelvin = t + 273.15;
        double const virial = -2.78e-4 * std::pow(293.15 / kelvin, 1.6) / 0.146;
        double const p = density * 56.93 * kelvin * (1.0 + density * virial) * 1e-6;
        if (p < dew_pressure(t))
            line.points.push_back({t, p});
    }
    return line;
}

} // namespace

PtDiagram sample_pt()
{
    PtDiagram d;
    d.isochores = {isochore_line(Isochore::Kind::filling, 40.0, "filling 40 kg/m³", "filling 40"),
                   isochore_line(Isochore::Kind::warn, 36.0, "warn 36 kg/m³", "warn 36"),
                   isochore_line(Isochore::Kind::lockout, 30.0, "lockout 30 kg/m³", "lockout 30")};
    for (double t = -50.0; t <= 40.0; t += 2.0)
        d.dew_line.push_back({t, dew_pressure(t)});
    d.live = LiveState{11.5, 0.562, 1.0, 0.009, "now 37.6 ± 0.3 kg/m³"};
    d.temperature_now_c = 11.5;
    d.target = PtTarget{11.5, 0.595, "stop at 4.94 bar g"};
    d.second = SecondScale{10.0, -1.01325, {"bar gauge", "bar g"}};
    return d;
}

PurgeCurve sample_purge()
{
    PurgeCurve c;
    auto const model = [](double t) { return 99.1 - 38.1 * std::exp(-t / 2.9); };
    int n = 0;
    for (double t = 0.0; t <= 18.0; t += 2.0)
        c.readings.push_back({t, model(t) + 0.12 * std::sin(2.1 * ++n)});
    for (double t = 0.0; t <= 24.0; t += 0.25) {
        c.fit.push_back({t, model(t)});
        double const half = 0.2 + 0.8 * std::exp(-t / 4.0);
        c.band.push_back({t, model(t) - half, model(t) + half});
    }
    c.limit = Level{98.5, "limit 98.5"};
    c.plateau = Level{99.1, "plateau 99.1 ± 0.2 %"};
    return c;
}

LeakLine sample_leak()
{
    LeakLine leak;
    for (int i = 0; i <= 8; ++i) {
        double const h = i * 0.5;
        leak.readings.push_back({h, 39.982 - 0.0021 * h + 0.004 * std::sin(2.7 * i), 0.011});
        double const half = 0.004 + 0.004 * std::abs(h - 2.0);
        leak.band.push_back({h, 39.982 - 0.0021 * h - half, 39.982 - 0.0021 * h + half});
    }
    leak.fit = {{0.0, 39.982}, {4.0, 39.9736}};
    leak.limit = {{0.0, 39.982}, {4.0, 39.954}};
    leak.limit_label = "limit 0.5 % a year";
    leak.result_label = "leak 0.15 ± 0.41 % a year";
    leak.x_titles = {"hours since the valve was closed", "hours"};
    return leak;
}

ResistorRuler sample_ruler()
{
    ResistorRuler r;
    r.low_ohm = 7812.5;
    r.high_ohm = 21000.0;
    r.preferred_ohm = {8200, 9100, 10000, 11000, 12000, 13000, 15000, 16000, 18000, 20000};
    r.chosen_ohm = 18000.0;
    r.bounds = {{"heat, 5 W part", 7812.5, true},
                {"contact breaks", 700.0, true},
                {"noise 1.0 mA", 25000.0, false},
                {"wetting 5 mA", 21000.0, false},
                {"turn-off delay", 160000.0, false}};
    return r;
}

WiringDiagram sample_wiring(Connection connection)
{
    WiringDiagram w;
    w.connection = connection;
    w.supervision = "74";
    bool const trip =
        connection == Connection::parallel_trip_coil || connection == Connection::separate_output;
    w.input_label = trip ? "trip input" : "52b input";
    if (connection == Connection::separate_output || connection == Connection::wetted_52b)
        w.resistor_label = "18 kΩ";
    return w;
}

FittingChain sample_chain()
{
    using Shape = ChainPart::Shape;
    FittingChain c;
    c.parts = {
        {"fill port", Shape::port, 30.0, 40.0},       {"adapter", Shape::adapter, 35.0, 27.0},
        {"tee DN8", Shape::tee, 60.0, 32.0},          {"pipe 8 x 1", Shape::pipe, 240.0, 16.0},
        {"elbow 90°", Shape::elbow, 40.0, 27.0},      {"self-closing coupling", Shape::coupling, 55.0, 36.0},
        {"density sensor", Shape::sensor, 70.0, 40.0}};
    c.joints = {{"M26 x 1.5, O-ring", "", Mark::pass},
                {"G 3/8 on M16 x 1.5", "different threads: pitch 1.34 against 1.5 mm", Mark::fail},
                {"cutting ring 8 L", "", Mark::pass},
                {"cutting ring 8 L", "ring not seen: measure the pipe", Mark::undecided},
                {"G 3/8, bonded seal", "", Mark::pass},
                {"G 3/8, bonded seal", "", Mark::pass}};
    c.totals = "added volume 0.142 l, 530 mm long, 1.9 kg";
    return c;
}

ClearanceSection sample_clearance()
{
    using Kind = StackPart::Kind;
    ClearanceSection s;
    s.depth_mm = 182.0;
    s.tolerance_mm = 2.0;
    s.parts = {{"rail", Kind::plate, 12.0, 0.5},
               {"unit", Kind::unit, 96.0, 0.5},
               {"connector", Kind::connector, 28.0, 1.0},
               {"cable bend", Kind::cable_bend, 32.0, 3.0}};
    s.gap_mm = 14.0;
    s.gap_label = "gap 14 mm, at worst 7 mm";
    s.verdict = Mark::pass;
    return s;
}

CtTaps sample_taps()
{
    CtTaps t;
    t.segment_turns = {80, 160, 60, 100};
    t.from = 1;
    t.to = 3;
    t.used_label = "X1-X3  1200:5, 240 turns";
    t.note = "X2-X3 and X3-X5 give the same ratio, 800:5: the pair decides.";
    return t;
}

std::vector<LineStage> sample_stages()
{
    std::vector<LineStage> stages;
    for (char const* const label : {"Prepare", "Make safe", "Mount", "Currents", "Timing", "Gas joint",
                                    "Tight, purge", "Fill", "Settings", "Prove", "Hand back"})
        stages.push_back({label, stages.size() < 7, stages.size() == 7, stages.size() == 3 ? "1 later" : ""});
    return stages;
}

std::vector<Sample> sample_pictures()
{
    std::vector<Sample> samples;
    auto const add = [&](std::string name, auto draw) {
        samples.push_back({std::move(name), [draw](Space s, MeasureText const& m) { return draw(s, m); }});
    };
    add("pt", [](Space s, MeasureText const& m) { return pt_diagram(sample_pt(), s, m); });
    add("purge", [](Space s, MeasureText const& m) { return purge_curve(sample_purge(), s, m); });
    add("leak", [](Space s, MeasureText const& m) { return leak_line(sample_leak(), s, m); });
    add("ruler", [](Space s, MeasureText const& m) { return resistor_window(sample_ruler(), s, m); });
    add("ruler-empty", [](Space s, MeasureText const& m) {
        auto r = sample_ruler();
        r.low_ohm = 33000.0;
        r.bounds[0].limit_ohm = 33000.0;
        r.chosen_ohm.reset();
        r.preferred_ohm.clear();
        return resistor_window(r, s, m);
    });
    add("wiring-parallel", [](Space s, MeasureText const& m) {
        auto w = sample_wiring(Connection::parallel_trip_coil);
        w.coil_contact = true;
        w.coil_note = "23 Ω";
        w.fused = true;
        return wiring_diagram(w, s, m);
    });
    add("wiring-separate", [](Space s, MeasureText const& m) {
        auto w = sample_wiring(Connection::separate_output);
        w.resistor_note = "5 W";
        return wiring_diagram(w, s, m);
    });
    add("wiring-lamp", [](Space s, MeasureText const& m) {
        return wiring_diagram(sample_wiring(Connection::lamp_52b), s, m);
    });
    add("wiring-52b", [](Space s, MeasureText const& m) {
        auto w = sample_wiring(Connection::wetted_52b);
        w.input_note = "0 to 125 V";
        return wiring_diagram(w, s, m);
    });
    add("chain", [](Space s, MeasureText const& m) { return fitting_chain(sample_chain(), s, m); });
    add("clearance",
        [](Space s, MeasureText const& m) { return clearance_section(sample_clearance(), s, m); });
    add("clearance-collides", [](Space s, MeasureText const& m) {
        auto c = sample_clearance();
        c.parts[3].depth_mm = 60.0;
        c.gap_mm = -14.0;
        c.gap_label = "14 mm too deep";
        c.verdict = Mark::fail;
        return clearance_section(c, s, m);
    });
    add("taps", [](Space s, MeasureText const& m) { return ct_taps(sample_taps(), s, m); });
    add("line", [](Space s, MeasureText const& m) { return line_diagram(sample_stages(), s, m); });
    add("marks", [](Space s, MeasureText const&) {
        Picture picture;
        picture.width = s.width_mm;
        picture.height = s.height_mm;
        double x = s.width_mm / 9.0;
        for (Mark const mark : {Mark::pass, Mark::fail, Mark::undecided, Mark::open, Mark::locked,
                                Mark::deferred, Mark::not_applicable, Mark::overridden}) {
            draw_mark(picture, mark, {x, s.height_mm / 3.0}, s.width_mm / 10.0);
            draw_mark(picture, mark, {x, s.height_mm * 2.0 / 3.0}, 3.0);
            x += s.width_mm / 9.0;
        }
        return picture;
    });
    return samples;
}

} // namespace isochore::tests
