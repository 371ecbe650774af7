#include "session/evaluate.h"
#include "session/prediction.h"
#include "session/session_support.h"
#include <catch2/catch.hpp>

using namespace isochore;
using namespace isochore::session;

TEST_CASE("a prediction is said in the unit and against the reference that the person types", "[session]")
{
    Bench bench;
    auto const outage = bench.begin();
    auto const context = outage->context();
    auto const& step = *outage->checklists().step("prepare.nameplate_pressure");
    auto const own = predict(context, step);
    REQUIRE(own);
    CHECK(own->text.find("0.6160 MPa abs") == 0);
    // No barometer is read yet: 616 kPa less the standard 101.325 kPa = 514.675 kPa (ISO 2533, from memory,
    // sure); / 6.894757 kPa (NIST SP 811) = 74.65 psi.
    auto const psi = predict(context, step, "psi g");
    REQUIRE(psi);
    CHECK(psi->value == Approx(514.675e3).epsilon(1e-6));
    CHECK(psi->reference == PressureReference::gauge);
    CHECK(psi->text.find("74.6") == 0);
    CHECK(psi->text.find(" psi g") != std::string::npos);
    for (char const* const typed : {"74.65 psi g", "5.147 bar g", "0.5147 MPa g", "6.16 bar abs"}) {
        auto const e = evaluate_value(context, step, typed);
        REQUIRE(e.prediction);
        std::string const unit = std::string(typed).substr(std::string(typed).find(' '));
        CAPTURE(typed, e.prediction->text, e.reason);
        CHECK(e.prediction->text.find(unit) != std::string::npos);
        CHECK(e.reason.find(unit) != std::string::npos);
        CHECK(unit_as_typed(*e.amount) == unit.substr(1));
    }
}

TEST_CASE("what the journal keeps of a prediction reads back as it was, and what is none gives none",
          "[session]")
{
    Prediction p;
    p.value = 5.1e5;
    p.low = 5.0e5;
    p.high = 5.2e5;
    p.reference = PressureReference::gauge;
    p.text = "5.10 bar g (95 %: 5.00 to 5.20)";
    auto const back = stored_prediction(to_json(p));
    REQUIRE(back);
    CHECK(back->value == p.value);
    CHECK(back->low == p.low);
    CHECK(back->high == p.high);
    CHECK(back->reference == p.reference);
    CHECK(back->text == p.text);
    p.reference = PressureReference::none;
    CHECK(stored_prediction(to_json(p)).value().reference == PressureReference::none);
    CHECK_FALSE(stored_prediction(Json()));
    CHECK_FALSE(stored_prediction(Json{{"value", 1.0}, {"low", "0.9"}, {"high", 1.1}}));
}
