#include "ct_run.h"

using namespace isochore;
using namespace isochore::calc;

TEST_CASE("a chain that mates passes joint by joint and adds up", "[calc][fitting]")
{
    auto const a = answered("fitting.chain", R"({"port":"G 1/2 female","parts":["reduce-g12-g38",
        {"part":"elbow-g38","towards":"down","seal":"bonded_washer","seal_material":"EPDM"},
        {"part":"tee-g38","closed_by":["coupling-self-closing-g38"]}],"sensor":"sensor-density-g38",
        "door_clearance":"150 mm","working_pressure":"0.7 MPa abs"})");
    CHECK(a.verdict() == Verdict::pass);
    CHECK(a.facts["joints"].size() == 5);
    // 8 mm bore: reducer 32 mm, elbow 52 mm, tee 60 mm and the coupling 45 mm.
    CHECK(value_of(a, "added_volume") == Approx(3.14159265358979 / 4.0 * 64e-6 * 0.189).epsilon(1e-9));
    CHECK(value_of(a, "mass") == Approx(0.095 + 0.110 + 0.190 + 0.210 + 0.650));
    CHECK(value_of(a, "max_pressure") == Approx(16e5));
    CHECK(value_of(a, "cost") == Approx(16 + 27 + 36 + 95));
}

TEST_CASE("the three ways in are built from the library", "[calc][fitting]")
{
    // At the fill port, a tee, and a new run with its own fill port and bulkhead.
    CHECK(answered("fitting.chain", R"({"port":"M20x1.5 female","parts":["adapt-m20-g38"],
        "sensor":"sensor-density-g38"})")
              .verdict() == Verdict::pass);
    CHECK(answered("fitting.chain", R"({"port":"G 3/8 female","parts":[{"part":"tee-g38",
        "closed_by":["coupling-self-closing-g38"]}],"sensor":"sensor-density-g38"})")
              .verdict() == Verdict::pass);
    CHECK(answered("fitting.chain", R"({"port":"G 3/8 female","parts":["tube-fitting-g38-10","tube-10x1",
        {"part":"tube-fitting-g38-10","inlet":1,"outlet":0},"bulkhead-g38",{"part":"tee-g38",
        "closed_by":["coupling-self-closing-g38"]}],"sensor":"sensor-density-g38"})")
              .verdict() == Verdict::pass);
}

TEST_CASE("a look-alike in the chain fails by name with how to tell it apart", "[calc][fitting]")
{
    auto const a = answered("fitting.chain", R"({"port":"NPT 1/2 female","parts":[],"sensor":"G 1/2 male"})");
    CHECK(a.verdict() == Verdict::fail);
    CHECK(a.checks.front().text.find("look alike") != std::string::npos);
    CHECK(a.checks.front().remedy.find("0.62 mm over 10 mm") != std::string::npos);
}

TEST_CASE("a wrong seal, a bad seal material and an open tee fail by name", "[calc][fitting]")
{
    auto const seal = answered("fitting.chain", R"({"port":"G 3/8 female","parts":[],
        "sensor":{"part":"sensor-density-g38","seal":"sealant","seal_material":"silicone"}})");
    CHECK(check_verdict(seal, "joint 1") == Verdict::fail);
    CHECK(check_verdict(seal, "seal 1") == Verdict::fail);
    auto const open = answered(
        "fitting.chain", R"({"port":"G 3/8 female","parts":["tee-g38"],"sensor":"sensor-density-g38"})");
    CHECK(check_verdict(open, "open end") == Verdict::fail);
    auto const unknown = answered("fitting.chain", R"({"port":"G 3/8 female","parts":[],
        "sensor":{"part":"sensor-density-g38","seal_material":"cork"}})");
    CHECK(unknown.verdict() == Verdict::undecided);
}

TEST_CASE("a chain with a gap, an unknown part or thread is refused at its place", "[calc][fitting]")
{
    auto const gap =
        refused("fitting.chain", R"({"port":"G 1/2 female","parts":["plug-g12"],"sensor":"G 1/2 male"})");
    CHECK(gap.where == "inputs.parts[0]");
    CHECK(gap.detail.find("gap") != std::string::npos);
    CHECK(refused("fitting.chain", R"({"port":"G 1/2 female","parts":["no-such"],"sensor":"G 1/2 male"})")
              .where == "inputs.parts[0]");
    CHECK(refused("fitting.chain", R"({"port":"G 5/7 female","parts":[],"sensor":"G 1/2 male"})").where ==
          "inputs.port");
    CHECK(refused("fitting.chain", R"({"port":"G 1/2","parts":[],"sensor":"G 1/2 male"})")
              .detail.find("male or female") != std::string::npos);
    CHECK(refused("fitting.chain", R"({"port":"UN 9/16-18 male","parts":[],"sensor":"G 1/2 male"})")
              .detail.find("cone37") != std::string::npos);
    CHECK(refused("fitting.chain", R"({"port":"G 1/2 female","parts":[]})").where == "inputs.sensor");
    CHECK(
        refused("fitting.chain", R"({"port":"G 3/8 female","parts":[{"part":"tee-g38","inlet":1,"outlet":1}],
        "sensor":"sensor-density-g38"})")
            .code == Error::Code::no_solution);
    CHECK(refused("fitting.chain", R"({"port":"G 3/8 female","parts":[7],"sensor":"sensor-density-g38"})")
              .code == Error::Code::invalid_input);
}

TEST_CASE("a part of one's own can be described or added to the library", "[calc][fitting]")
{
    auto const a =
        answered("fitting.chain", R"({"port":"NPT 3/8 female","parts":[{"id":"mine","ends":["NPT 3/8 male",
        "G 3/8 female"],"length":"40 mm","bore":"8 mm","mass":"100 g"}],"sensor":"sensor-density-g38"})");
    CHECK(a.verdict() == Verdict::pass);
    CHECK(has_note(a, "No pressure rating is known for: mine"));
    CHECK(
        answered("fitting.chain", R"({"port":"NPT 3/8 female","library":[{"id":"mine","ends":["NPT 3/8 male",
        "G 3/8 female"]}],"parts":["mine"],"sensor":"sensor-density-g38"})")
            .verdict() == Verdict::pass);
    CHECK(refused("fitting.chain", R"({"port":"NPT 3/8 female","parts":[{"id":"mine","ends":["NPT 3/8 male",
        "G 3/8 female"],"mass":"-100 g"}],"sensor":"sensor-density-g38"})")
              .where == "inputs.parts[0].mass");
}

TEST_CASE("the door, the pressure and the weight are held against what is given", "[calc][fitting]")
{
    auto const a =
        answered("fitting.chain", R"({"port":"G 3/8 female","parts":[],"sensor":"sensor-density-g38",
        "door_clearance":"90 mm","working_pressure":"20 bar abs","max_unsupported_mass":"0.5 kg"})");
    CHECK(check_verdict(a, "door") == Verdict::fail);
    CHECK(check_verdict(a, "pressure") == Verdict::fail);
    CHECK(check_verdict(a, "support") == Verdict::fail);
}

TEST_CASE("fitting.identify needs all three measures before it is sure", "[calc][fitting]")
{
    auto const two = answered("fitting.identify", R"({"major_diameter":"20.9 mm","threads_per_inch":"14"})");
    CHECK(two.verdict() == Verdict::undecided);
    CHECK(two.facts["next_measurement"]["measure"] == "two diameters 10 mm apart");
    auto const three =
        answered("fitting.identify", R"({"major_diameter":"20.9 mm","threads_per_inch":"14","taper":"no"})");
    CHECK(three.verdict() == Verdict::pass);
    CHECK(three.facts["thread"] == "G 1/2");
    auto const taper = answered("fitting.identify", R"({"major_diameter":"21.0 mm","threads_per_inch":"14",
        "second_diameter":"20.38 mm","distance":"10 mm","flank_angle":"60 deg"})");
    CHECK(taper.facts["thread"] == "NPT 1/2");
    CHECK(taper.verdict() == Verdict::pass);
}

TEST_CASE("fitting.identify says when nothing fits and refuses half a taper", "[calc][fitting]")
{
    CHECK(answered("fitting.identify", R"({"major_diameter":"60 mm","pitch":"1.5 mm","taper":"no"})")
              .verdict() == Verdict::fail);
    CHECK(refused("fitting.identify", R"({"major_diameter":"20 mm","second_diameter":"19 mm"})").where ==
          "inputs.distance");
    CHECK(refused("fitting.identify", R"({"major_diameter":"0 mm"})").where == "inputs.major_diameter");
    CHECK(refused("fitting.identify", R"({"major_diameter":"20 mm","pitch":"1 mm","threads_per_inch":"14"})")
              .where == "inputs.threads_per_inch");
}

TEST_CASE("one look at gender and taper serves the identification, and G is not told from Rp by measure",
          "[calc][fitting]")
{
    // G 1/2: 18.631 mm across the crests of an inside thread, 14 threads per inch (ISO 228-1, from memory).
    auto const a = answered("fitting.identify",
                            R"({"shape":"female_parallel","diameter":"18.64 mm","pitch":"1.81 mm"})");
    CHECK(a.facts["thread"] == "G 1/2");
    CHECK(a.verdict() == Verdict::pass);
    CHECK(a.checks.front().text.find("Rp 1/2") != std::string::npos);
    CHECK(answered("fitting.identify", R"({"shape":"male_tapered","diameter":"20.6 mm","pitch":"1.81 mm"})")
              .facts["thread"] != "G 1/2");
}

TEST_CASE("tubes of 6 to 12 mm and a straight-thread boss are in the library", "[calc][fitting]")
{
    for (char const* id : {"tube-fitting-g14-6", "tube-fitting-g38-8", "tube-fitting-g12-12"}) {
        CAPTURE(id);
        CHECK(answered("fitting.parts", "{}").facts["parts"].dump().find(id) != std::string::npos);
    }
    CHECK(answered("fitting.chain", R"({"port":"UN 9/16-18 female boss","parts":["adapt-orb916-g38"],
        "sensor":"sensor-density-g38"})")
              .verdict() == Verdict::pass);
    // The same thread with a 37 degree cone screws up and does not seal (SAE J514 and J1926, from memory).
    CHECK(answered("fitting.chain", R"({"port":"UN 9/16-18 female cone37","parts":["adapt-orb916-g38"],
        "sensor":"sensor-density-g38"})")
              .verdict() == Verdict::fail);
}
