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

LoopScale sample_loop()
{
    LoopScale loop;
    loop.high = 60.0;
    loop.open_below = 3.6;
    loop.short_above = 21.0;
    loop.levels = {{12.0, "lockout 12.00 mA"}, {13.6, "alarm 13.60 mA"}, {14.66, "filling 14.66 mA"}};
    loop.reading = LoopPoint{14.59, "14.59 mA"};
    loop.y_titles = {"density, kg/m³", "kg/m³"};
    return loop;
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

CoilStates sample_states()
{
    CoilStates s;
    s.voltage_limits = {"on from 60 V", "60 V"};
    s.current_limits = {"alarm below 1.5 mA", "< 1.5 mA"};
    s.rows = {{"closed", "healthy", "0.105 V", "6.36 mA", Mark::pass, Mark::none},
              {"closed", "broken", "84 V", "2.55 mA", Mark::none, Mark::fail},
              {"opened", "healthy", "0 V", "0 mA", Mark::none, Mark::none},
              {"opened", "broken", "0 V", "0 mA", Mark::none, Mark::none}};
    s.foot = {conclusion("separate output", Mark::pass),
              {"trip coil 1: with the coil open 2.55 mA flows through supervision and input, alarm below "
               "1.5 mA"}};
    return s;
}

ThreadPlane sample_thread()
{
    ThreadPlane p;
    p.spots = {{"G 1/2, Rp 1/2  93 %", 18.631, 0.0, 1.814},
               {"Rc 1/2  4.1 %", 18.3, 0.35, 1.814},
               {"NPT 1/2  2.6 %", 18.32, 0.4, 1.814},
               {"M20x1.5  < 0.1 %", 18.376, 0.0, 1.5}};
    p.diameter_mm = 18.64;
    p.diameter_u95_mm = 0.1;
    p.pitch_mm = 1.81;
    p.pitch_u95_mm = 0.02;
    p.result = "G 1/2, Rp 1/2: 93 %";
    p.verdict = Mark::undecided;
    p.next = "Next: flank gauge: G 1/2 is 55°, NPT 1/2 is 60°.";
    return p;
}

BoltLoad sample_bolts()
{
    BoltLoad load;
    load.tension = 0.21;
    load.shear = 0.14;
    load.point_label = "35 % in use";
    load.limit_label = "limit 100 %";
    load.place = BoltPlace{60.0, 150.0, "4.8 kg × 15 g", "318 N", "177 N"};
    load.foot = {{"friction holds 5142 N, the shock pushes with 706.1 N", Mark::pass},
                 {"pull of 317.7 N on a preload of 8742 N", Mark::pass}};
    return load;
}

SightLine sample_sight()
{
    SightLine s;
    s.window_mm = 120.0;
    s.window = "window, 120 mm wide";
    s.display_mm = 90.0;
    s.offset_mm = 40.0;
    s.gap_mm = 60.0;
    s.eye_mm = 500.0;
    s.result = "80 % of the display is seen, 90 % asked";
    s.verdict = Mark::fail;
    s.note = "display 90 mm, 40 mm off the window's middle";
    return s;
}

CableRuns sample_cables()
{
    CableRuns c;
    c.runs = {{"current leads", "6 × 7.45 m = 44.7 m", 6.5, 0.65, 0.15},
              {"dc leads", "6 × 4.70 m = 28.2 m", 4.0, 0.4, 0.15},
              {"sensor lead", "2 × 6.35 m = 12.7 m", 5.5, 0.55, 0.15, 10.0, Mark::pass}};
    c.foot = {conclusion("in all 85.6 m of wire", Mark::none)};
    return c;
}

CtPath sample_path()
{
    using Kind = CtStage::Kind;
    CtPath p;
    p.main = sample_taps();
    p.primary = "1200 A";
    p.terminals = "X1-X3";
    p.secondary = "5 A";
    p.stages = {{Kind::delta, "delta lead", "× √3", "8.66 A"},
                {Kind::auxiliary, "auxiliary CT", "5:1", "1.73 A"},
                {Kind::coil, "coil", "× 2", "3.46 A", 2}};
    p.foot = {conclusion("1200 to 1; 346.41 A for 1 A at the coil", Mark::none),
              {"A delta lead: for balanced load only"}};
    return p;
}

std::vector<LineStage> sample_stages()
{
    std::vector<LineStage> stages;
    for (char const* const label : {"Prepare", "Make safe", "Mount", "Currents", "Timing", "Gas joint",
                                    "Tight, purge", "Fill", "Settings", "Prove", "Hand back"})
        stages.push_back({label, stages.size() < 7, stages.size() == 7, stages.size() == 3 ? "1 later" : ""});
    return stages;
}

TimePlan sample_plan()
{
    TimePlan plan;
    plan.tasks = {{"Make safe", 0.0, 17.0, 30.0, 2, true, ""},
                  {"Mount", 17.0, 44.0, 45.0, 2, true, ""},
                  {"Current circuits", 109.0, 131.0, 40.0, 1, false, ""},
                  {"Timing inputs", 87.0, 109.0, 45.0, 1, false, ""},
                  {"Gas joint", 44.0, 76.0, 60.0, 1, true, ""},
                  {"Tightness and purge", 76.0, 113.0, 60.0, 1, true, ""},
                  {"Fill", 113.0, 135.0, 40.0, 1, true, ""},
                  {"Gas comes to rest", 135.0, 150.0, 20.0, 0, false, ""},
                  {"Unit settings", 131.0, 142.0, 20.0, 1, false, ""},
                  {"Prove", 142.0, 164.0, 45.0, 2, true, ""},
                  {"Hand back", 164.0, 181.0, 30.0, 2, true, ""}};
    plan.window_min = 240.0;
    plan.end = PlannedEnd{186.0, 142.0, 233.0};
    plan.latest_start_min = 84.0;
    plan.latest_start_of = "Gas joint";
    return plan;
}

TimeLimits sample_limits()
{
    TimeLimits t;
    t.cycle_ms = 1000.0 / 60.0;
    t.arc_out_ms = 50.0;
    t.end_label = "arc out by 50 ms, 3 cycles";
    t.limits = {{"interrupting time", 0.0, 50.0, std::nullopt, true},
                {"opening time", 20.0, 30.0, 27.4, false},
                {"closing time", 50.0, 70.0, std::nullopt, false},
                {"pole spread, opening", 0.0, 2.8, std::nullopt, false}};
    return t;
}

PhaseSum sample_phases()
{
    PhaseSum s;
    s.phase_a = {1.004, 0.998, 1.007};
    s.sum_a = 1.99;
    s.u95_a = 0.11;
    s.direction = {1, -1, 1};
    s.explanations = {{"one coil reversed", {1.998, 2.009, 2.012}, 0.9988},
                      {"two coils on one phase", {1.74, 1.735, 1.744}, 0.0012},
                      {"all three alike", {0.008}, 0.0}};
    return s;
}

LeakFound sample_found()
{
    LeakFound f;
    f.one_g = 3.0;
    f.all_g = 18.0;
    f.limit_g = 93.0;
    f.all_label = "all 6 spots together";
    f.limit_label = "limit 93 g";
    return f;
}

AirLeft sample_air()
{
    AirLeft air;
    for (int n = 0; n <= 3; ++n)
        air.shares.push_back(std::pow(1.0 / 150.0, n));
    air.limit = 0.015;
    air.limit_label = "limit 1.5 %";
    air.result_label = "0.296 ppmv after cycle 3";
    return air;
}

FrostLine sample_frost()
{
    FrostLine f;
    // Near enough for a picture: the program itself draws what the vapour-pressure equation gives.
    for (double bar = 0.5; bar <= 6.2; bar += 0.1)
        f.line.push_back({bar, -48.0 + 9.6 * std::log(bar)});
    f.read = Point{1.0, -48.0};
    f.read_u95 = 2.3;
    f.at_gas = Point{6.0, -30.8};
    f.at_gas_u95 = 2.6;
    f.limit_c = -5.0;
    f.line_label = "49.6 ppmv";
    f.read_label = "read -48.0 °C";
    f.gas_label = "-30.8 ± 2.6 °C in the breaker";
    f.limit_label = "limit -5 °C";
    return f;
}

MassAccount sample_account()
{
    MassAccount a;
    a.out = {"out of the cylinder", 0.89, 0.033};
    a.found = {{"into the breaker", 0.82, 0.14}, {"in the hoses", 0.02, 0.002}};
    a.rest = {"handling loss", 0.05, 0.14};
    return a;
}

ReadingScale sample_reading()
{
    ReadingScale s;
    s.expected = {"expected", "1.000 A", 1.0, true};
    s.low = 0.971;
    s.high = 1.029;
    s.readings = {{"Current at the coil", "1.004 A", 1.004, false},
                  {"as read", "0.998 A", 0.998, true},
                  {"Current at the third coil", "1.007 A", 1.007, false}};
    s.limits = {{1.06, "limit 1.060 A"}};
    s.titles = {"A, expected and read", "A"};
    s.conclusion = conclusion("inside the 95 % interval of what was expected", Mark::pass);
    return s;
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
    add("loop", [](Space s, MeasureText const& m) { return loop_scale(sample_loop(), s, m); });
    add("loop-open", [](Space s, MeasureText const& m) {
        auto l = sample_loop();
        l.reading = LoopPoint{0.02, "0.02 mA"};
        return loop_scale(l, s, m);
    });
    add("taps", [](Space s, MeasureText const& m) { return ct_taps(sample_taps(), s, m); });
    add("plan", [](Space s, MeasureText const& m) { return time_plan(sample_plan(), s, m); });
    add("limits", [](Space s, MeasureText const& m) { return time_limits(sample_limits(), s, m); });
    add("phases", [](Space s, MeasureText const& m) { return phase_sum(sample_phases(), s, m); });
    add("phases-alike", [](Space s, MeasureText const& m) {
        auto p = sample_phases();
        p.direction = {1, 1, 1};
        p.sum_a = 0.02;
        std::swap(p.explanations.front(), p.explanations.back());
        p.explanations.front().probability = 1.0;
        p.explanations.back().probability = 0.0;
        return phase_sum(p, s, m);
    });
    add("found", [](Space s, MeasureText const& m) { return leak_found(sample_found(), s, m); });
    add("found-not", [](Space s, MeasureText const& m) {
        auto f = sample_found();
        f.all_g = 420.0;
        f.one_g = 70.0;
        return leak_found(f, s, m);
    });
    add("air", [](Space s, MeasureText const& m) { return air_left(sample_air(), s, m); });
    add("frost", [](Space s, MeasureText const& m) { return frost_line(sample_frost(), s, m); });
    add("account", [](Space s, MeasureText const& m) { return mass_account(sample_account(), s, m); });
    add("account-too-much", [](Space s, MeasureText const& m) {
        auto a = sample_account();
        a.found[0].mass_kg = 1.2;
        a.rest = {"handling loss", -0.33, 0.14};
        a.verdict = Mark::fail;
        return mass_account(a, s, m);
    });
    add("reading", [](Space s, MeasureText const& m) { return reading_scale(sample_reading(), s, m); });
    add("reading-alone", [](Space s, MeasureText const& m) {
        auto r = sample_reading();
        r.readings.clear();
        r.limits.clear();
        r.conclusion = {};
        return reading_scale(r, s, m);
    });
    add("reading-far", [](Space s, MeasureText const& m) {
        auto r = sample_reading();
        r.readings = {{"as read", "2.000 A", 2.0, true}};
        r.conclusion = conclusion("0.971 A outside the 95 % interval of what was expected", Mark::undecided);
        return reading_scale(r, s, m);
    });
    add("coil-states", [](Space s, MeasureText const& m) { return coil_states(sample_states(), s, m); });
    add("thread", [](Space s, MeasureText const& m) { return thread_plane(sample_thread(), s, m); });
    add("thread-no-pitch", [](Space s, MeasureText const& m) {
        auto p = sample_thread();
        p.pitch_mm.reset();
        return thread_plane(p, s, m);
    });
    add("bolts", [](Space s, MeasureText const& m) { return bolt_load(sample_bolts(), s, m); });
    add("bolts-overloaded", [](Space s, MeasureText const& m) {
        auto load = sample_bolts();
        load.tension = 1.3;
        load.shear = 0.4;
        load.point_label = "170 % in use";
        load.place.reset();
        load.verdict = Mark::fail;
        return bolt_load(load, s, m);
    });
    add("sight", [](Space s, MeasureText const& m) { return sight_line(sample_sight(), s, m); });
    add("sight-hidden", [](Space s, MeasureText const& m) {
        auto sight = sample_sight();
        sight.offset_mm = -160.0;
        sight.gap_mm = 8.0;
        sight.result = "0 % of the display is seen, 90 % asked";
        return sight_line(sight, s, m);
    });
    add("cables", [](Space s, MeasureText const& m) { return cable_runs(sample_cables(), s, m); });
    add("cables-short", [](Space s, MeasureText const& m) {
        auto c = sample_cables();
        c.runs[2].reach_m = 5.0;
        c.runs[2].mark = Mark::fail;
        return cable_runs(c, s, m);
    });
    add("ct-path", [](Space s, MeasureText const& m) { return ct_path(sample_path(), s, m); });
    add("ct-path-single", [](Space s, MeasureText const& m) {
        CtPath p = sample_path();
        p.main = {};
        p.main.segment_turns = {1};
        p.main.segment_labels = {""};
        p.main.used_label = "1200:5";
        p.main.names = {"S1", "S2"};
        p.main.primary = "P1";
        p.main.turns.clear();
        p.main.from = 1;
        p.main.to = 2;
        p.terminals = "S1-S2";
        p.stages.erase(p.stages.begin(), p.stages.begin() + 2);
        p.foot.pop_back();
        return ct_path(p, s, m);
    });
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
