#include "ct_run.h"

using namespace isochore;
using namespace isochore::calc;

TEST_CASE("ct.ratio gives the ratio to 1 and the scale of the coil", "[calc][ct]")
{
    auto const a = answered("ct.ratio", R"({"primary":"1200 A","secondary":"5 A"})");
    CHECK(value_of(a, "ratio") == 240.0);
    CHECK(value_of(a, "scale") == 240.0);
    // Tap 2000:5 with two turns: a reading of 3 A is 600 A (worked example).
    auto const two = answered("ct.ratio", R"({"primary":"2 kA","secondary":"5 A","turns":2})");
    CHECK(value_of(two, "ratio") == 400.0);
    CHECK(3.0 * value_of(two, "scale") == Approx(600.0));
    CHECK(value_of(answered("ct.ratio", R"({"primary":"1200 A","secondary":"1 A","turns":"2 turns"})"),
                   "scale") == 600.0);
}

TEST_CASE("ct.ratio takes an auxiliary CT and a delta lead, and warns of the delta's current", "[calc][ct]")
{
    auto const a = answered("ct.ratio", R"({"primary":"1200 A","secondary":"5 A","aux_primary":"5 A",
        "aux_secondary":"1 A","delta":true,"load_current":"600 A","fault_current":"40 kA"})");
    CHECK(value_of(a, "ratio") == 1200.0);
    CHECK(value_of(a, "scale") == Approx(1200.0 / std::sqrt(3.0)));
    CHECK(has_note(a, "not that of one pole"));
    REQUIRE(a.expected.size() == 4);
    CHECK(a.expected[0].name == "secondary_at_load");
    CHECK(a.expected[0].value == Approx(600.0 / 1200.0 * std::sqrt(3.0)));
    CHECK(a.expected[2].value == Approx(40e3 / 1200.0 * std::sqrt(3.0)));
}

TEST_CASE("every ct calculation repeats never to open a secondary", "[calc][ct]")
{
    CHECK(has_note(answered("ct.ratio", R"({"primary":"1200 A","secondary":"5 A"})"),
                   "Never open a CT secondary"));
    CHECK(has_note(answered("ct.taps", R"({"full_ratio":"600:5"})"), "Never open a CT secondary"));
    CHECK(has_note(answered("ct.load_check", R"({"ratio":"240","primary_current":"600 A"})"),
                   "Never open a CT secondary"));
}

TEST_CASE("bad ratios are refused with what to do", "[calc][ct]")
{
    CHECK(refused("ct.ratio", R"({"primary":"1200 A","secondary":"0 A"})").where == "inputs.secondary");
    CHECK(refused("ct.ratio", R"({"primary":"5 A","secondary":"1200 A"})").detail.find("swapped") !=
          std::string::npos);
    CHECK(refused("ct.ratio", R"({"primary":1200,"secondary":"5 A"})").detail.find("bare number") !=
          std::string::npos);
    CHECK(refused("ct.ratio", R"({"primary":"1200 A","secondary":"5 A","turns":0})").where == "inputs.turns");
    CHECK(refused("ct.ratio", R"({"primary":"1200 A","secondary":"5 A","turns":"1.5 turns"})").where ==
          "inputs.turns");
    CHECK(refused("ct.ratio", R"({"primary":"1200 A","secondary":"5 A","aux_primary":"5 A"})").where ==
          "inputs.aux_secondary");
    CHECK(refused("ct.ratio", R"({"primary":"1200 A","secondary":"5 A","truns":2})").where == "inputs.truns");
    CHECK(refused("ct.taps", R"({"full_ratio":"1200"})").where == "inputs.full_ratio");
    CHECK(refused("ct.taps", R"({"full_ratio":"1300:5"})").code == Error::Code::unknown);
    CHECK(refused("ct.taps", R"({})").code == Error::Code::missing_input);
}

TEST_CASE("ct.taps flags the pairs that have one ratio", "[calc][ct]")
{
    auto const a = answered("ct.taps", R"({"full_ratio":"4000:5"})");
    REQUIRE(a.facts["taps"].size() == 10);
    CHECK(a.facts["equal_ratio_pairs"] == "X1-X3 = X3-X5, X3-X4 = X4-X5");
    CHECK(has_note(a, "X3-X4 and X4-X5 (1000:5)"));
    CHECK(has_note(a, "X1-X3 and X3-X5 (2000:5)"));
    CHECK(answered("ct.taps", R"({"full_ratio":"1200:5"})").facts["equal_ratio_pairs"] == "none");
    auto const own = answered("ct.taps", R"({"segments":[100,50],"secondary":"1 A"})");
    CHECK(own.facts["taps"].size() == 3);
    CHECK(own.facts["taps"][1]["text"] == "150:1");
    CHECK(refused("ct.taps", R"({"segments":[100,"x"]})").where == "inputs.segments");
    CHECK(refused("ct.taps", R"({"segments":"100"})").where == "inputs.segments");
}

TEST_CASE("ct.load_check passes a reading that fits and fails one from another tap", "[calc][ct]")
{
    auto const good = answered("ct.load_check", R"({"full_ratio":"2000:5","terminals":"X1-X5",
        "primary_current":"600 A","secondary_reading":"1.503 A","turns":1})");
    CHECK(good.verdict() == Verdict::pass);
    CHECK(value_of(good, "measured_ratio") == Approx(600.0 / 1.503));
    CHECK(value_of(good, "error") == Approx((600.0 / 1.503 / 400.0 - 1.0) * 100.0));
    auto const wrong = answered("ct.load_check", R"({"full_ratio":"2000:5","terminals":"X1-X5",
        "primary_current":"600 A","secondary_reading":"3.75 A","turns":1})");
    CHECK(wrong.verdict() == Verdict::fail);
    CHECK(wrong.facts["likely_taps"][0]["ratio"] == 160.0);
    CHECK(has_note(wrong, "no load check can tell them apart"));
}

TEST_CASE("ct.load_check predicts before it is told the reading", "[calc][ct]")
{
    auto const a =
        answered("ct.load_check", R"({"full_ratio":"2000:5","terminals":"X1-X5","primary_current":"600 A",
        "turns":2,"uncertainties":{"primary_current":"1 %","secondary_reading":"1 %","ratio":"1 %","floor":"0 A"}})");
    REQUIRE(a.expected.size() == 1);
    CHECK(a.expected[0].value == Approx(3.0));
    CHECK(a.expected[0].u.value() == Approx(3.0 * 0.01 * std::sqrt(3.0)));
    CHECK(a.verdict() == Verdict::none);
    CHECK(a.find("measured_ratio") == nullptr);
}

TEST_CASE("ct.load_check says when the load is too small and what would do", "[calc][ct]")
{
    auto const a = answered("ct.load_check",
                            R"({"ratio":"1200:5","primary_current":"60 A","secondary_reading":"0.25 A"})");
    CHECK(a.verdict() == Verdict::undecided);
    CHECK(a.facts["too_small"] == true);
    CHECK(a.checks.front().remedy.find("120 A") != std::string::npos);
    CHECK(answered("ct.load_check", R"({"ratio":"240","primary_current":"0 A","secondary_reading":"0.01 A"})")
              .verdict() == Verdict::undecided);
}

TEST_CASE("ct.load_check calls a limit inside the interval undecided and names a better instrument",
          "[calc][ct]")
{
    // 3 % off with 1.5 % standard uncertainty: 5 % lies inside 3 % +- 2.9 %.
    auto const a =
        answered("ct.load_check", R"({"ratio":"240","primary_current":"618 A","secondary_reading":"2.5 A",
        "uncertainties":{"primary_current":"1.5 %","secondary_reading":"0 %","ratio":"0 %","floor":"0 A"}})");
    CHECK(a.verdict() == Verdict::undecided);
    CHECK(a.checks.front().remedy.find("1.0 %") != std::string::npos); // (5 - 3) / 1.96
}

TEST_CASE("the uncertainty budget of the load check adds up to one", "[calc][ct]")
{
    auto const a =
        answered("ct.load_check", R"({"ratio":"240","primary_current":"600 A","secondary_reading":"2.5 A"})");
    double shares = 0.0;
    for (auto const& b : a.budget)
        shares += b.share;
    CHECK(shares == Approx(1.0).epsilon(1e-12));
}

TEST_CASE("a coil that reads nothing under load fails with the usual causes", "[calc][ct]")
{
    auto const a =
        answered("ct.load_check", R"({"ratio":"240","primary_current":"600 A","secondary_reading":"0 A"})");
    CHECK(a.verdict() == Verdict::fail);
    CHECK(a.checks.front().remedy.find("Both conductors") != std::string::npos);
}

TEST_CASE("ct.load_check refuses what cannot be", "[calc][ct]")
{
    CHECK(refused("ct.load_check", R"({"primary_current":"600 A"})").where == "inputs.full_ratio");
    CHECK(refused("ct.load_check", R"({"ratio":"0.5","primary_current":"600 A"})").where == "inputs.ratio");
    CHECK(refused("ct.load_check", R"({"ratio":"240","primary_current":"-600 A"})").where ==
          "inputs.primary_current");
    CHECK(refused("ct.load_check", R"({"full_ratio":"600:5","terminals":"X5-X1","primary_current":"1 A"})")
              .where == "inputs.terminals");
    CHECK(refused("ct.load_check",
                  R"({"ratio":"240","primary_current":"6 A","uncertainties":{"floor":"-1 A"}})")
              .where == "inputs.uncertainties.floor");
}

TEST_CASE("ct.load_check takes instruments as class, limit or standard uncertainty", "[calc][ct]")
{
    auto const a =
        answered("ct.load_check", R"({"ratio":"240","primary_current":"600 A","secondary_reading":"2.5 A",
        "uncertainties":{"primary_current":{"limit":"6 A"},"secondary_reading":{"class":"1 %","span":"10 A"},
        "ratio":"0 %","floor":"0 A"}})");
    // Limits are rectangular: u = a / sqrt 3 (JCGM 100, 4.3.7): 1 % and 0.1 A of 2.5 A.
    double const relative = std::sqrt((1e-4 + 16e-4) / 3.0);
    CHECK(a.find("measured_ratio")->u.value() == Approx(240.0 * relative).epsilon(1e-9));
}

TEST_CASE("ct.phases finds a reversed coil by the sum of twice that phase", "[calc][ct]")
{
    auto const with_sum = [](char const* sum) {
        return answered("ct.phases",
                        std::string(R"({"phase_a":"2.5 A","phase_b":"2.5 A","phase_c":"2.5 A","sum":")") +
                            sum + R"("})");
    };
    CHECK(with_sum("0.05 A").verdict() == Verdict::pass);
    auto const one = with_sum("5 A");
    // On a balanced load the sum tells that one is reversed, not which.
    CHECK(one.verdict() == Verdict::fail);
    CHECK(one.checks.front().text.find("coil on A reversed, or coil on B reversed, or coil on C reversed") !=
          std::string::npos);
    CHECK(one.facts["explanations"][0]["probability"].get<double>() == Approx(1.0 / 3.0).epsilon(1e-3));
    auto const uneven =
        answered("ct.phases", R"({"phase_a":"2.5 A","phase_b":"2.2 A","phase_c":"2.5 A","sum":"4.70 A",
        "u_reading":"0.2 %","u_floor":"1 mA","u_angle":"0.2 deg"})");
    CHECK(uneven.verdict() == Verdict::fail);
    CHECK(uneven.facts["explanations"][0]["text"] == "coil on B reversed");
    CHECK(uneven.facts["explanations"][0]["direction"] == Json({1, -1, 1}));
    CHECK(uneven.find("sum_read")->value == Approx(4.7));
    CHECK(uneven.find("sum_read")->u.value() > 0.0);
}

TEST_CASE("ct.phases finds two coils on one phase and knows when it cannot tell", "[calc][ct]")
{
    // 2 I at 0 and I at 120 degrees: sqrt 3 I.
    auto const two =
        answered("ct.phases", R"({"phase_a":"2 A","phase_b":"2 A","phase_c":"2 A","sum":"3.464 A"})");
    CHECK(two.facts["explanations"][0]["text"].get<std::string>().starts_with("two coils on"));
    CHECK(
        answered("ct.phases", R"({"phase_a":"2 A","phase_b":"1 A","phase_c":"2 A","sum":"1 A"})").verdict() ==
        Verdict::undecided);
    CHECK(refused("ct.phases", R"({"phase_a":"0 A","phase_b":"0 A","phase_c":"0 A","sum":"0 A"})").code ==
          Error::Code::no_solution);
    CHECK(refused("ct.phases", R"({"phase_a":"-1 A","phase_b":"1 A","phase_c":"1 A","sum":"0 A"})").where ==
          "inputs.phase_a");
}

TEST_CASE("the load check follows an auxiliary CT and a delta lead", "[calc][ct]")
{
    // 2000:5 is 400; through 5:1 it is 2000, so 400 A give 0.2 A, and 0.3464 A on a delta lead.
    std::string const base =
        R"("full_ratio":"2000:5","terminals":"X1-X5","primary_current":"400 A","aux_primary":"5 A",)"
        R"("aux_secondary":"1 A")";
    auto const expected = [&](std::string const& connection) {
        auto const a = answered("ct.load_check", "{" + base + R"(,"connection":")" + connection + "\"}");
        for (auto const& f : a.expected)
            if (f.name == "secondary_reading")
                return f.value;
        return 0.0;
    };
    CHECK(expected("auxiliary") == Approx(0.2));
    CHECK(expected("delta_auxiliary") == Approx(0.2 * 1.7320508));
    CHECK(refused("ct.ratio", R"({"primary":"2000 A","secondary":"5 A","connection":"auxiliary"})")
              .where.find("aux_primary") != std::string::npos);
}
