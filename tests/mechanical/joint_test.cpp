#include "mechanical/chain.h"
#include "mechanical/identify.h"
#include <algorithm>
#include <catch2/catch.hpp>

using namespace isochore::mechanical;

namespace {

Thread thread(std::string family, std::string size, double major_mm, double pitch_mm)
{
    Thread t;
    t.id = family + " " + size;
    t.family = family;
    t.major_m = major_mm * 1e-3;
    t.pitch_m = pitch_mm * 1e-3;
    bool const taper = family == "R" || family == "Rc" || family == "NPT";
    t.taper = taper ? 1.0 / 16.0 : 0.0;
    t.flank_deg = family == "G" || family == "R" || family == "Rc" || family == "Rp" ? 55.0 : 60.0;
    return t;
}

double tpi(double n)
{
    return 25.4 / n;
}

Thread const g14 = thread("G", "1/4", 13.157, tpi(19)), g12 = thread("G", "1/2", 20.955, tpi(14)),
             g18 = thread("G", "1/8", 9.728, tpi(28)), g1 = thread("G", "1", 33.249, tpi(11)),
             g38 = thread("G", "3/8", 16.662, tpi(19)), r12 = thread("R", "1/2", 20.955, tpi(14)),
             rc12 = thread("Rc", "1/2", 20.955, tpi(14)), rp12 = thread("Rp", "1/2", 20.955, tpi(14)),
             npt14 = thread("NPT", "1/4", 13.716, tpi(18)), npt12 = thread("NPT", "1/2", 21.336, tpi(14)),
             npt18 = thread("NPT", "1/8", 10.287, tpi(27)), npt1 = thread("NPT", "1", 33.401, tpi(11.5)),
             un916 = thread("UN", "9/16-18", 14.2875, tpi(18)),
             un716 = thread("UN", "7/16-20", 11.1125, tpi(20)), m14 = thread("M", "14x1.5", 14.0, 1.5),
             m10 = thread("M", "10x1", 10.0, 1.0), m20 = thread("M", "20x1.5", 20.0, 1.5);

/// The values of assets/parts/usual.json (common practice, no source).
ThreadRules const rules{{0.05e-3, 0.01e-3, 0.007, 1.5, 2.0, 3.0}, {1.1e-3, 1.22, 0.5e-3, 0.001, 0.2e-3}};

ThreadReading by_hand()
{
    ThreadReading r;
    r.u_diameter_m = rules.gauges.u_major_m;
    r.u_pitch_m = rules.gauges.u_pitch_m;
    r.u_taper = rules.gauges.u_taper;
    r.u_flank_deg = rules.gauges.u_flank_deg;
    return r;
}

End male(Thread const& t, Form f = Form::face)
{
    return {t, Gender::male, f};
}
End female(Thread const& t, Form f = Form::face)
{
    return {t, Gender::female, f};
}

} // namespace

TEST_CASE("joints of one standard mate with the seals that suit them", "[mechanical]")
{
    // ISO 228-1, ISO 7-1, ASME B1.20.1, SAE J514, J1926 (from memory).
    CHECK(check_joint(male(g38), female(g38), "bonded_washer", rules).fault == JointFault::none);
    CHECK(check_joint(female(g38), male(g38), "o_ring", rules).fault == JointFault::none);
    CHECK(check_joint(male(r12, Form::taper), female(rc12, Form::taper), "sealant", rules).fault ==
          JointFault::none);
    CHECK(check_joint(male(r12, Form::taper), female(rp12, Form::taper), "", rules).fault ==
          JointFault::none);
    CHECK(check_joint(male(npt12, Form::taper), female(npt12, Form::taper), "ptfe_tape", rules).fault ==
          JointFault::none);
    CHECK(check_joint(male(un916, Form::cone37), female(un916, Form::cone37), "none", rules).fault ==
          JointFault::none);
    CHECK(check_joint(male(un916, Form::boss), female(un916, Form::boss), "o_ring", rules).fault ==
          JointFault::none);
}

TEST_CASE("look-alike pairs are refused by name", "[mechanical]")
{
    // Pairs that are mixed up in practice (dimensions from ISO 228-1, ASME B1.20.1, ISO 261, SAE J514).
    struct Pair {
        Thread a, b;
    };
    for (Pair const& p :
         {Pair{g14, npt14}, Pair{g12, npt12}, Pair{g18, npt18}, Pair{g1, npt1}, Pair{un916, npt14},
          Pair{m14, g14}, Pair{m10, g18}, Pair{m10, npt18}, Pair{m20, g12}}) {
        CAPTURE(p.a.id, p.b.id);
        Joint const joint = check_joint(male(p.a), female(p.b), "", rules);
        CHECK(joint.fault == JointFault::look_alike);
        CHECK(joint.text.find(p.a.id) != std::string::npos);
        CHECK(joint.text.find(p.b.id) != std::string::npos);
        CHECK_FALSE(joint.tell_apart.empty());
        CHECK(joint.seals.empty());
        // The other way round is the same fault.
        CHECK(check_joint(female(p.b), male(p.a), "", rules).fault == JointFault::look_alike);
    }
}

TEST_CASE("the pair of 14 threads is told apart by its taper, not by its pitch", "[mechanical]")
{
    Joint const joint = check_joint(male(g12), female(npt12, Form::taper), "", rules);
    CHECK(joint.text.find("spiral leak path") != std::string::npos);
    CHECK(joint.tell_apart.find("taper") != std::string::npos);
    CHECK(joint.tell_apart.find("pitch gauge") == std::string::npos);
    // And the pair of 19 and 18 threads by its pitch.
    CHECK(check_joint(male(g14), female(npt14, Form::taper), "", rules).tell_apart.find("pitch gauge: 19") !=
          std::string::npos);
}

TEST_CASE("threads far apart are different threads, not look-alikes", "[mechanical]")
{
    CHECK(check_joint(male(g14), female(g12), "", rules).fault == JointFault::thread);
    CHECK(check_joint(male(un716), female(g18), "", rules).fault == JointFault::thread); // does not start
}

TEST_CASE("flares of 37 and 45 degrees on one thread are refused by the cone", "[mechanical]")
{
    Joint const joint = check_joint(male(un716, Form::cone37), female(un716, Form::cone45), "", rules);
    CHECK(joint.fault == JointFault::look_alike);
    CHECK(joint.tell_apart.find("cone gauge: 37° against 45°") != std::string::npos);
    // A flare end in an O-ring boss screws in and does not seal.
    CHECK(check_joint(male(un716, Form::cone37), female(un716, Form::boss), "", rules).fault ==
          JointFault::form);
}

TEST_CASE("a taper end in a parallel face port is refused though everything measures alike", "[mechanical]")
{
    CHECK(check_joint(male(r12, Form::taper), female(g12), "", rules).fault == JointFault::look_alike);
}

TEST_CASE("two males, two females and a wrong seal are named", "[mechanical]")
{
    CHECK(check_joint(male(g38), male(g38), "", rules).fault == JointFault::gender);
    CHECK(check_joint(female(g38), female(g38), "", rules).fault == JointFault::gender);
    Joint const wrong = check_joint(male(g38), female(g38), "sealant", rules);
    CHECK(wrong.fault == JointFault::seal);
    CHECK(wrong.text.find("bonded_washer") != std::string::npos);
    CHECK(check_joint(male(npt12, Form::taper), female(npt12, Form::taper), "bonded_washer", rules).fault ==
          JointFault::seal);
}

TEST_CASE("mating does not depend on which end is named first", "[mechanical][property]")
{
    std::vector<Thread> const all{g14,   g12,   g18,  g1,    g38,   r12, rc12, rp12, npt14,
                                  npt12, npt18, npt1, un916, un716, m14, m10,  m20};
    for (Thread const& a : all)
        for (Thread const& b : all)
            for (Form f : {Form::face, Form::taper, Form::cone37})
                for (Form g : {Form::face, Form::taper, Form::cone45}) {
                    CAPTURE(a.id, b.id);
                    CHECK(check_joint(male(a, f), female(b, g), "", rules).fault ==
                          check_joint(female(b, g), male(a, f), "", rules).fault);
                    CHECK(look_alike(a, b, rules.alike) == look_alike(b, a, rules.alike));
                }
}

TEST_CASE("each thread of the list is found again from its own three measures", "[mechanical][property]")
{
    std::vector<Thread> const all{g14,   g12,  g18,   g1,    g38, r12, npt14, npt12,
                                  npt18, npt1, un916, un716, m14, m10, m20};
    for (Thread const& t : all) {
        ThreadReading r = by_hand();
        r.diameter_m = crest_diameter(t, Gender::male).middle_m;
        r.pitch_m = t.pitch_m;
        r.taper = t.taper;
        r.flank_deg = t.flank_deg;
        auto const found = identify_thread(all, r);
        CAPTURE(t.id);
        CHECK(found.front().thread.id == t.id);
        double sum = 0.0;
        for (auto const& c : found)
            sum += c.probability;
        CHECK(sum == Approx(1.0).epsilon(1e-12));
    }
}

TEST_CASE("diameter and pitch alone do not settle the 14-thread pair, and taper is the next measurement",
          "[mechanical]")
{
    std::vector<Thread> const all{g14, g12, npt14, npt12, m20};
    ThreadReading r = by_hand();
    r.diameter_m = 20.9e-3;
    r.pitch_m = 25.4e-3 / 14.0;
    auto const found = identify_thread(all, r);
    CHECK(found[0].probability < 0.95);
    CHECK(found[1].probability > 0.05);
    auto const next = next_measurement(found[0].thread, found[1].thread, r, rules.gauges);
    REQUIRE(next);
    CHECK(next->measure == "two diameters 10 mm apart");
    r.taper = 1.0 / 16.0;
    CHECK(identify_thread(all, r).front().thread.id == "NPT 1/2");
    r.taper = 0.0;
    CHECK(identify_thread(all, r).front().thread.id == "G 1/2");
}

TEST_CASE("a female thread is measured over its crests, the minor diameter", "[mechanical]")
{
    CHECK(crest_diameter(g12, Gender::female).middle_m * 1e3 == Approx(18.631).epsilon(0).margin(0.002));
    ThreadReading r = by_hand();
    r.gender = Gender::female;
    r.diameter_m = 18.63e-3;
    r.pitch_m = 25.4e-3 / 14.0;
    r.taper = 0.0;
    auto const found = identify_thread({g14, g12, r12, rc12, npt12}, r);
    CHECK(found.front().thread.id == "G 1/2");
    CHECK(std::none_of(found.begin(), found.end(), [](auto const& c) { return c.thread.family == "R"; }));
}

namespace {
Placed straight(double length, double mass, double diameter = 0.02)
{
    Part p;
    p.name = "straight";
    p.ends = {male(g38), female(g38)};
    p.length_m = length;
    p.mass_kg = mass;
    p.diameter_m = diameter;
    p.volume_m3 = 1e-6;
    p.cost = 10.0;
    p.max_pressure_pa = 4e6;
    return {p, 0, 1, "", Way::out, {}};
}
} // namespace

TEST_CASE("a straight run reaches as far as it is long", "[mechanical]")
{
    RunFigures const f = run_figures({straight(0.03, 0.1), straight(0.05, 0.2)});
    CHECK(f.reach_m == Approx(0.08));
    CHECK(f.length_m == Approx(0.08));
    CHECK(f.mass_kg == Approx(0.3));
    CHECK(f.cost == Approx(20.0));
    CHECK(f.volume_m3 == Approx(2e-6));
    // 0.1 kg at 15 mm and 0.2 kg at 55 mm.
    CHECK(f.moment_nm == Approx(9.80665 * (0.1 * 0.015 + 0.2 * 0.055)).epsilon(1e-12));
}

TEST_CASE("an elbow near the port keeps the run from the door", "[mechanical]")
{
    Placed elbow = straight(0.05, 0.1, 0.024);
    elbow.part.turns = true;
    elbow.towards = Way::down;
    RunFigures const f = run_figures({elbow, straight(0.3, 0.5, 0.06)});
    CHECK(f.length_m == Approx(0.35));
    // Half the elbow out, then half the sensor's width.
    CHECK(f.reach_m == Approx(0.025 + 0.03));
    CHECK(f.legs.back().to[1] == Approx(-0.325));
}

TEST_CASE("the weakest part rates the run and unrated parts are named", "[mechanical]")
{
    Placed weak = straight(0.1, 0.1);
    weak.part.max_pressure_pa = 1.6e6;
    Placed unknown = straight(0.1, 0.1);
    unknown.part.name = "home-made";
    unknown.part.max_pressure_pa.reset();
    RunFigures const f = run_figures({straight(0.1, 0.1), weak, unknown});
    CHECK(f.max_pressure_pa.value() == 1.6e6);
    CHECK(f.unrated == std::vector<std::string>{"home-made"});
    CHECK_FALSE(run_figures({}).max_pressure_pa);
}

TEST_CASE("plugs on a tee count in mass and cost", "[mechanical]")
{
    Placed tee = straight(0.06, 0.2);
    tee.closed_by = {straight(0.0, 0.05).part};
    RunFigures const f = run_figures({tee});
    CHECK(f.mass_kg == Approx(0.25));
    CHECK(f.cost == Approx(20.0));
}
