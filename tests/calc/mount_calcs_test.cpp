#include "calc/part_library.h"
#include "ct_run.h"

using namespace isochore;
using namespace isochore::calc;

TEST_CASE("the built-in screws, threads and fittings are without fault", "[calc][mount][fitting]")
{
    CHECK(library_fault().empty());
    CHECK(screw_sizes().size() >= 12);
    CHECK(screw_grades().size() >= 6);
    CHECK(threads().size() >= 40);
}

TEST_CASE("mount.fasteners gives loads, utilisation and torque", "[calc][mount]")
{
    auto const a =
        answered("mount.fasteners", R"({"count":4,"size":"M5","grade":"8.8","mass":"5 kg","shock":"15 g",
        "standoff":"60 mm","spacing":"200 mm"})");
    CHECK(value_of(a, "shear") == Approx(183.87).epsilon(1e-4));
    CHECK(value_of(a, "tension") == Approx(183.87 + 735.5 * 0.06 / 0.2 / 2.0).epsilon(1e-4));
    // 6.17 N m: K 0.20, 75 % of the proof load (ISO 898-1 proof stress, from memory).
    CHECK(value_of(a, "torque") == Approx(6.17).epsilon(1e-3));
    CHECK(value_of(a, "utilisation") == Approx(value_of(a, "tension") / value_of(a, "tension_limit") +
                                               value_of(a, "shear") / value_of(a, "shear_limit")));
    CHECK(a.verdict() == Verdict::pass);
    CHECK(has_note(a, "Remove every chip"));
}

TEST_CASE("mount.fasteners understands unified sizes and grades as they are spoken", "[calc][mount]")
{
    // 1/4-20 SAE 5: 11.46 N m dry (SAE J429 proof stress, from memory).
    auto const a = answered("mount.fasteners",
                            R"({"count":2,"size":"1/4-20 UNC","grade":"5","mass":"5 kg","shock":"15 g"})");
    CHECK(value_of(a, "torque") == Approx(11.46).epsilon(1e-3));
}

TEST_CASE("a weak screw under a heavy shock fails with what to change", "[calc][mount]")
{
    auto const a =
        answered("mount.fasteners", R"({"count":2,"size":"M4","grade":"8.8","mass":"60 kg","shock":"50 g",
        "standoff":"0.2 m","spacing":"0.1 m"})");
    CHECK(check_verdict(a, "strength") == Verdict::fail);
    CHECK(check_verdict(a, "grip") == Verdict::fail);
}

TEST_CASE("self-tapping screws and tie-wraps come with their limits", "[calc][mount]")
{
    auto const s = answered("mount.fasteners", R"({"kind":"self_tapping","count":4,"diameter":"4.8 mm",
        "sheet_thickness":"1.5 mm","sheet_tensile":"300 MPa","screw_shear_strength":"5 kN","mass":"2 kg","shock":"15 g"})");
    CHECK(value_of(s, "tension_limit") == Approx(0.85 * 1.5 * 4.8 * 300.0 / 3.0));
    CHECK(has_note(s, "make chips"));
    auto const t =
        answered("mount.fasteners", R"({"kind":"tie_wrap","count":4,"loop_strength":"220 N","mass":"1 kg",
        "shock":"15 g"})");
    CHECK(value_of(t, "tension_limit") == Approx(55.0));
    CHECK(has_note(t, "never as the only support"));
}

TEST_CASE("ties do not carry a unit on a mechanism that shakes them loose", "[calc][mount]")
{
    // common practice, no source: assets/parts/fasteners.json
    auto const ties = [](char const* mechanism) {
        return answered("mount.fasteners",
                        std::string(R"({"kind":"tie_wrap","count":4,"loop_strength":"900 N",
            "mass":"1 kg","shock":"15 g","mechanism":")") +
                            mechanism + R"("})");
    };
    for (char const* shaking : {"spring", "spring-hydraulic", "air"}) {
        CHECK(check_verdict(ties(shaking), "ties_allowed") == Verdict::fail);
        CHECK(ties(shaking).verdict() == Verdict::fail);
    }
    CHECK(ties("hydraulic").verdict() == Verdict::pass);
    auto const bolts = answered("mount.fasteners", R"({"kind":"bolt","count":4,"size":"M6","grade":"8.8",
        "mass":"1 kg","shock":"15 g","mechanism":"spring"})");
    CHECK(bolts.verdict() == Verdict::pass);
}

TEST_CASE("mount.fasteners refuses one fastener, an unknown size and a tilt without spacing", "[calc][mount]")
{
    CHECK(refused("mount.fasteners", R"({"count":1,"size":"M5","grade":"8.8","mass":"5 kg","shock":"15 g"})")
              .where == "inputs.count");
    CHECK(refused("mount.fasteners", R"({"count":2,"size":"M7","grade":"8.8","mass":"5 kg","shock":"15 g"})")
              .detail.find("M8") != std::string::npos);
    CHECK(refused("mount.fasteners", R"({"count":2,"size":"M5","grade":"8.8","mass":"5 kg","shock":"15 g",
        "standoff":"10 mm"})")
              .where == "inputs.spacing");
    CHECK(refused("mount.fasteners", R"({"count":2,"size":"M5","grade":"8.8","mass":"5 kg","shock":"0 g"})")
              .where == "inputs.shock");
}

TEST_CASE("mount.clearance decides by the worst case and says what settles the rest", "[calc][mount]")
{
    auto const stack = [](char const* unit) {
        return std::string(
                   R"({"depth_available":"250 mm","depth_tolerance":"2 mm","parts":[{"name":"unit","size":")") +
               unit + R"(","tolerance":"1 mm"},{"name":"bend","size":"100 mm","tolerance":"3 mm"}]})";
    };
    CHECK(answered("mount.clearance", stack("140 mm")).verdict() == Verdict::pass);
    CHECK(answered("mount.clearance", stack("146 mm")).verdict() == Verdict::undecided);
    auto const fail = answered("mount.clearance", stack("160 mm"));
    CHECK(fail.verdict() == Verdict::fail);
    CHECK(fail.checks.front().text.find("10.0 mm deeper than the cabinet") != std::string::npos);
    CHECK(fail.checks.front().remedy.find("10.0 mm short") != std::string::npos);
    auto const a = answered("mount.clearance", stack("140 mm"));
    CHECK(value_of(a, "clearance") == Approx(0.010));
    CHECK(value_of(a, "worst_case") == Approx(0.004));
    CHECK(value_of(a, "rss") == Approx(0.010 - std::sqrt(14e-6)));
}

TEST_CASE("mount.clearance refuses negative sizes and an empty stack", "[calc][mount]")
{
    CHECK(refused("mount.clearance", R"({"depth_available":"250 mm","parts":[]})").where == "inputs.parts");
    CHECK(refused("mount.clearance", R"({"depth_available":"250 mm","parts":[{"name":"a","size":"-1 mm"}]})")
              .where == "inputs.parts");
    CHECK(refused("mount.clearance", R"({"depth_available":"-250 mm","parts":[{"name":"a","size":"1 mm"}]})")
              .where == "inputs.depth_available");
    CHECK(refused("mount.clearance", R"({"depth_available":"250 mm","min_clearance":"-1 mm",
        "parts":[{"name":"a","size":"1 mm"}]})")
              .where == "inputs.min_clearance");
}

TEST_CASE("mount.sightline and mount.cables answer and refuse", "[calc][mount]")
{
    CHECK(value_of(answered("mount.sightline", R"({"window":"100 mm","display":"160 mm","gap":"60 mm",
        "eye_distance":"500 mm"})"),
                   "visible") == Approx(70.0));
    CHECK(refused("mount.sightline",
                  R"({"window":"0 mm","display":"160 mm","gap":"60 mm","eye_distance":"500 mm"})")
              .where == "inputs.window");
    auto const a = answered("mount.cables", R"({"slack":"10 %","tail":"150 mm","runs":[
        {"name":"CT A","route":"4 m","conductors":2,"reach":"4 m"},{"name":"dc","route":"2 m"}]})");
    CHECK(value_of(a, "total_length") == Approx(2 * 4.7 + 2.5));
    CHECK(value_of(a, "run_length") == Approx(4.7 + 2.5)); // conductors of a run lie side by side
    auto const kinds = answered("mount.cables", R"({"slack":"10 %","tail":"150 mm","runs":[
        {"name":"a","route":"4 m","conductors":2,"wire":"dc"},{"name":"b","route":"2 m","wire":"dc"},
        {"name":"c","route":"2 m","wire":"current"}]})");
    CHECK(value_of(kinds, "wire_dc") == Approx(2 * 4.7 + 2.5));
    CHECK(value_of(kinds, "wire_current") == Approx(2.5));
    CHECK(refused("mount.cables", R"({"runs":[{"name":"a","route":"4 m","wire":"copper"}]})").where ==
          "inputs.runs[0].wire");
    CHECK(check_verdict(a, "CT A") == Verdict::fail);
    CHECK(refused("mount.cables", R"({"runs":[]})").where == "inputs.runs");
    CHECK(refused("mount.cables", R"({"runs":[{"name":"a","route":"0 m"}]})").where ==
          "inputs.runs[0].route");
}
