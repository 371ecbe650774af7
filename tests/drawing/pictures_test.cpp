#include "label_checks.h"
#include "sample_pictures.h"
#include <catch2/catch.hpp>
#include <limits>

using namespace isochore;
using namespace isochore::drawing;
using namespace isochore::tests;

namespace {

std::vector<Space> const spaces{{60, 50},  {60, 70},  {75, 60},  {75, 120},  {90, 70},   {100, 80},
                                {110, 70}, {120, 60}, {140, 90}, {150, 110}, {180, 120}, {110, 160}};

bool same(Item const& a, Item const& b)
{
    if (a.index() != b.index())
        return false;
    if (auto const* l = std::get_if<Label>(&a)) {
        auto const& m = std::get<Label>(b);
        return l->text == m.text && l->at.x == m.at.x && l->at.y == m.at.y && l->size == m.size &&
               l->ink == m.ink;
    }
    if (auto const* p = std::get_if<Polyline>(&a)) {
        auto const& q = std::get<Polyline>(b);
        return std::equal(p->points.begin(), p->points.end(), q.points.begin(), q.points.end(),
                          [](Point s, Point t) { return s.x == t.x && s.y == t.y; });
    }
    return std::get<Circle>(a).centre.x == std::get<Circle>(b).centre.x;
}

bool has_label(Picture const& picture, std::string const& text)
{
    for (auto const& item : picture.items)
        if (auto const* label = std::get_if<Label>(&item); label != nullptr && label->text == text)
            return true;
    return false;
}

} // namespace

TEST_CASE("no label of any picture leaves the sheet, is too small or lies over another, at any size",
          "[drawing]")
{
    for (double const em : {0.5, 0.58, 0.66}) {
        auto const measure = fixed_width(em);
        for (auto const& sample : sample_pictures())
            for (Space const space : spaces) {
                auto const picture = sample.draw(space, measure);
                INFO(sample.name << " " << space.width_mm << " x " << space.height_mm << " at " << em);
                CHECK(label_faults(picture, measure) == "");
                CHECK(stroke_faults(picture) == "");
                CHECK(picture.width == space.width_mm);
                CHECK(picture.height == space.height_mm);
            }
    }
}

TEST_CASE("a picture drawn twice is the same item by item", "[drawing]")
{
    auto const measure = fixed_width(0.58);
    for (auto const& sample : sample_pictures()) {
        auto const a = sample.draw({100, 80}, measure), b = sample.draw({100, 80}, measure);
        INFO(sample.name);
        CHECK(std::equal(a.items.begin(), a.items.end(), b.items.begin(), b.items.end(), same));
        CHECK(a.spoken == b.spoken);
    }
}

TEST_CASE("every picture says in words what it shows", "[drawing]")
{
    auto const measure = fixed_width(0.58);
    for (auto const& sample : sample_pictures()) {
        INFO(sample.name);
        if (sample.name != "marks")
            CHECK(sample.draw({100, 80}, measure).spoken.size() > 20);
    }
}

TEST_CASE("pictures of nothing are drawn without a fault", "[drawing]")
{
    auto const measure = fixed_width(0.58);
    for (Space const space : spaces) {
        std::vector<Picture> const pictures{
            pt_diagram({}, space, measure),        purge_curve({}, space, measure),
            leak_line({}, space, measure),         resistor_window({}, space, measure),
            wiring_diagram({}, space, measure),    fitting_chain({}, space, measure),
            clearance_section({}, space, measure), ct_taps({}, space, measure),
            coil_states({}, space, measure),       thread_plane({}, space, measure),
            bolt_load({}, space, measure),         sight_line({}, space, measure),
            cable_runs({}, space, measure),        ct_path({}, space, measure), loop_scale({}, space, measure),
            line_diagram({}, space, measure)};
        for (auto const& picture : pictures) {
            CHECK(label_faults(picture, measure) == "");
            CHECK(stroke_faults(picture) == "");
        }
    }
}

TEST_CASE("numbers that cannot be drawn are left out and the rest is drawn", "[drawing]")
{
    auto const measure = fixed_width(0.58);
    double const nan = std::numeric_limits<double>::quiet_NaN();
    double const infinity = std::numeric_limits<double>::infinity();
    for (double const bad : {nan, infinity, -infinity, 1e300, -1e300}) {
        auto pt = sample_pt();
        pt.isochores[0].points[3] = {bad, 0.5};
        pt.isochores[1].points[5] = {10.0, bad};
        pt.dew_line[2] = {bad, bad};
        pt.live->pressure_mpa = bad;
        pt.target->temperature_c = bad;
        pt.temperature_now_c = bad;
        auto purge = sample_purge();
        purge.readings[1] = {bad, 80.0};
        purge.fit[7].y = bad;
        purge.band[3].low = bad;
        purge.limit->value = bad;
        purge.plateau->value = bad;
        auto leak = sample_leak();
        leak.readings[0].u95 = bad;
        leak.readings[1].y = bad;
        leak.limit[1].y = bad;
        leak.fit[0].x = bad;
        auto ruler = sample_ruler();
        ruler.low_ohm = bad;
        ruler.chosen_ohm = bad;
        ruler.bounds[1].limit_ohm = bad;
        ruler.preferred_ohm[2] = bad;
        auto chain = sample_chain();
        chain.parts[2].length_mm = bad;
        chain.parts[3].diameter_mm = bad;
        auto clearance = sample_clearance();
        clearance.parts[1].depth_mm = bad;
        clearance.parts[2].tolerance_mm = bad;
        auto thread = sample_thread();
        thread.spots[1].diameter_mm = bad;
        thread.spots[2].half_range_mm = bad;
        thread.pitch_mm = bad;
        auto bolts = sample_bolts();
        bolts.shear = bad;
        bolts.place->standoff_mm = bad;
        auto cables = sample_cables();
        cables.runs[0].route_m = bad;
        cables.runs[2].reach_m = bad;
        auto path = sample_path();
        path.main.segment_turns[0] = std::numeric_limits<int>::max();
        path.stages[2].turns = -4;
        Space const space{90, 70};
        for (auto const& picture :
             {thread_plane(thread, space, measure), bolt_load(bolts, space, measure),
              cable_runs(cables, space, measure), ct_path(path, space, measure),
              pt_diagram(pt, space, measure), purge_curve(purge, space, measure),
              leak_line(leak, space, measure), resistor_window(ruler, space, measure),
              fitting_chain(chain, space, measure), clearance_section(clearance, space, measure)}) {
            CAPTURE(bad, picture.spoken);
            CHECK(label_faults(picture, measure) == "");
            CHECK(stroke_faults(picture) == "");
            CHECK(picture.items.size() > 10);
        }
    }
}

TEST_CASE("single points, equal values and huge ranges give a valid picture", "[drawing]")
{
    auto const measure = fixed_width(0.58);
    Space const space{75, 60};
    PurgeCurve one;
    one.readings = {{3.0, 97.2}};
    PurgeCurve flat;
    flat.readings = {{0.0, 99.0}, {2.0, 99.0}, {4.0, 99.0}};
    LeakLine huge;
    huge.readings = {{0.0, 1e-12, 1e-14}, {1e9, 1e12, 1.0}};
    LeakLine tiny;
    tiny.readings = {{0.0, 40.0, 0.0}, {1e-9, 40.0 + 1e-12, 0.0}};
    PtDiagram point;
    point.live = LiveState{20.0, 0.6, 0.0, 0.0, "now"};
    CtTaps taps;
    taps.segment_turns = {1, 100000, 0, -5};
    taps.from = 3;
    taps.to = 2;
    ClearanceSection none;
    none.depth_mm = -10.0;
    none.parts = {{"unit", StackPart::Kind::unit, 100.0, 1.0}};
    for (auto const& picture :
         {purge_curve(one, space, measure), purge_curve(flat, space, measure),
          leak_line(huge, space, measure), leak_line(tiny, space, measure), pt_diagram(point, space, measure),
          ct_taps(taps, space, measure), clearance_section(none, space, measure)}) {
        CAPTURE(picture.spoken);
        CHECK(label_faults(picture, measure) == "");
        CHECK(stroke_faults(picture) == "");
    }
}

TEST_CASE("words far too long for the space are shortened, never let out of it", "[drawing]")
{
    auto const measure = fixed_width(0.6);
    std::string const word(200, 'W');
    Space const space{60, 50};
    auto pt = sample_pt();
    for (auto& line : pt.isochores)
        line.label = word;
    pt.live->label = word;
    pt.x_titles = pt.y_titles = {word};
    pt.second->titles = {word};
    WiringDiagram w = sample_wiring(Connection::separate_output);
    w.positive = w.negative = w.supervision = w.coil_label = w.input_label = w.resistor_label = word;
    auto chain = sample_chain();
    for (auto& part : chain.parts)
        part.name = word;
    for (auto& joint : chain.joints)
        joint.name = joint.reason = word;
    chain.totals = word;
    auto clearance = sample_clearance();
    for (auto& part : clearance.parts)
        part.label = word;
    clearance.back = clearance.door = clearance.gap_label = word;
    auto taps = sample_taps();
    taps.used_label = taps.note = taps.primary = word;
    taps.names = {word, word, word, word, word};
    auto stages = sample_stages();
    for (auto& stage : stages)
        stage.label = stage.flag = word;
    auto ruler = sample_ruler();
    for (auto& bound : ruler.bounds)
        bound.label = word;
    auto states = sample_states();
    states.title = states.breaker_head = states.rows[1].current = word;
    states.voltage_limits = {word};
    for (auto& foot : states.foot)
        foot.text = word;
    auto thread = sample_thread();
    for (auto& spot : thread.spots)
        spot.label = word;
    thread.result = thread.next = thread.measured_label = word;
    thread.x_titles = thread.y_titles = {word};
    auto bolts = sample_bolts();
    bolts.point_label = bolts.limit_label = bolts.place->shock = bolts.foot[1].text = word;
    auto sight = sample_sight();
    sight.eye = sight.window = sight.display = sight.hidden = sight.result = word;
    auto cables = sample_cables();
    cables.runs[0].name = cables.runs[1].total = cables.route = cables.tails = cables.foot[0].text = word;
    auto path = sample_path();
    path.secondary = path.stages[0].name = path.stages[1].factor = path.stages[2].current = word;
    for (auto const& picture :
         {coil_states(states, space, measure), thread_plane(thread, space, measure),
          bolt_load(bolts, space, measure), sight_line(sight, space, measure),
          cable_runs(cables, space, measure), ct_path(path, space, measure), pt_diagram(pt, space, measure),
          wiring_diagram(w, space, measure), fitting_chain(chain, space, measure),
          clearance_section(clearance, space, measure), ct_taps(taps, space, measure),
          line_diagram(stages, space, measure), resistor_window(ruler, space, measure)}) {
        CAPTURE(picture.spoken.substr(0, 40));
        CHECK(label_faults(picture, measure) == "");
    }
}

TEST_CASE("the words that carry the result are on the picture at every size", "[drawing]")
{
    auto const measure = fixed_width(0.56);
    for (Space const space : spaces) {
        CAPTURE(space.width_mm, space.height_mm);
        CHECK(has_label(resistor_window(sample_ruler(), space, measure), "18 kΩ"));
        auto const taps = ct_taps(sample_taps(), space, measure);
        CHECK(has_label(taps, "X1"));
        CHECK(has_label(taps, "160"));
        CHECK(has_label(clearance_section(sample_clearance(), space, measure), "gap 14 mm, at worst 7 mm"));
        CHECK(has_label(purge_curve(sample_purge(), space, measure), "limit 98.5"));
        CHECK(has_label(coil_states(sample_states(), space, measure), "84 V"));
        CHECK(has_label(coil_states(sample_states(), space, measure), "2.55 mA"));
        CHECK(has_label(bolt_load(sample_bolts(), space, measure), "35 % in use"));
        CHECK(has_label(ct_path(sample_path(), space, measure), "3.46 A"));
        CHECK(has_label(cable_runs(sample_cables(), space, measure), "6 × 7.45 m = 44.7 m"));
    }
}

TEST_CASE("an empty window is drawn in the fail role and says so", "[drawing]")
{
    auto ruler = sample_ruler();
    ruler.low_ohm = 33000.0;
    auto const picture = resistor_window(ruler, {100, 80}, fixed_width(0.58));
    CHECK(has_label(picture, "no value fits"));
    CHECK_FALSE(has_label(picture, "18 kΩ"));
    bool fail_box = false;
    for (auto const& item : picture.items)
        if (auto const* run = std::get_if<Polyline>(&item))
            fail_box = fail_box || (run->ink == Ink::fail && run->closed);
    CHECK(fail_box);
}

TEST_CASE("wiring has dots only where conductors are joined", "[drawing]")
{
    // A dot must have at least three conductor ends or passes within a tenth of a millimetre, or two where
    // one passes through.
    auto const measure = fixed_width(0.58);
    for (auto const connection : {Connection::parallel_trip_coil, Connection::separate_output,
                                  Connection::lamp_52b, Connection::wetted_52b}) {
        auto const picture = wiring_diagram(sample_wiring(connection), {100, 80}, measure);
        int dots = 0;
        for (auto const& item : picture.items) {
            auto const* dot = std::get_if<Circle>(&item);
            if (dot == nullptr || !dot->filled || dot->width > 0.0)
                continue;
            ++dots;
            int arms = 0;
            for (auto const& other : picture.items) {
                auto const* wire = std::get_if<Polyline>(&other);
                if (wire == nullptr || wire->closed || wire->points.size() != 2)
                    continue;
                Point const a = wire->points[0], b = wire->points[1], c = dot->centre;
                bool const at_a = std::hypot(a.x - c.x, a.y - c.y) < 0.1;
                bool const at_b = std::hypot(b.x - c.x, b.y - c.y) < 0.1;
                bool const through = !at_a && !at_b && std::abs(a.y - b.y) < 0.01 &&
                                     std::abs(a.y - c.y) < 0.1 && c.x > std::min(a.x, b.x) &&
                                     c.x < std::max(a.x, b.x);
                arms += at_a || at_b ? 1 : through ? 2 : 0;
            }
            CAPTURE(static_cast<int>(connection), dot->centre.x, dot->centre.y);
            CHECK(arms >= 3);
        }
        CHECK(dots >= 4);
    }
}

TEST_CASE("nothing of a fitting chain with long names is cut or left out at the sizes of the sheet",
          "[drawing]")
{
    FittingChain chain = sample_chain();
    chain.parts = {{"breaker", ChainPart::Shape::port, 15.0, 40.0},
                   {"Reducer G 1/2 female to G 3/8 female", ChainPart::Shape::adapter, 36.0, 30.0},
                   {"Pipe run with fill port", ChainPart::Shape::pipe, 1200.0, 30.0},
                   {"Self-closing coupling G 3/8 with dust cap", ChainPart::Shape::coupling, 60.0, 34.0},
                   {"Gas density sensor, G 3/8 male", ChainPart::Shape::sensor, 90.0, 30.0}};
    chain.joints = {
        {"NPT 1/2 female, taper, sealant",
         "NPT 1/2 and G 1/2 look alike and do not seal: the pitch is the same, so they engage, yet "
         "the flanks or the taper differ and leave a spiral leak path",
         Mark::fail},
        {"G 3/8 female, face, bonded washer", "", Mark::pass},
        {"G 3/8 female, face, bonded washer", "", Mark::pass},
        {"G 3/8 female, face, bonded washer", "", Mark::pass}};
    chain.totals = "added 94.6 ml, 1386 mm long";
    auto const measure = fixed_width(0.52);
    for (Space const space : {Space{100, 80}, Space{110, 75}, Space{120, 90}, Space{130, 110},
                              Space{180, 120}, Space{190, 90}, Space{110, 160}}) {
        CAPTURE(space.width_mm, space.height_mm);
        auto const picture = fitting_chain(chain, space, measure);
        CHECK(label_faults(picture, measure) == "");
        std::string all = " ";
        for (auto const& item : picture.items)
            if (auto const* label = std::get_if<Label>(&item))
                all += label->text + " ";
        std::replace(all.begin(), all.end(), '\n', ' ');
        CHECK(all.find("…") == std::string::npos);
        for (auto const& part : chain.parts)
            CHECK(all.find(part.name) != std::string::npos);
        for (auto const& joint : chain.joints)
            CHECK(all.find(joint.name) != std::string::npos);
        CHECK(all.find(chain.joints[0].reason) != std::string::npos);
        CHECK(all.find(chain.totals) != std::string::npos);
    }
}
