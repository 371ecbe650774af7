// Every gas calculation against values nobody should type: it answers or refuses in words, always in valid
// JSON, and never with a number that is none.
#include "gas_support.h"
#include <cmath>

using namespace isochore;

namespace {

struct Base {
    char const* name;
    char const* inputs;
};

constexpr Base bases[] = {
    {"gas.density", R"({"gas":"SF6","temperature":"20 degC","pressure":"5 bar g","baro":"101 kPa"})"},
    {"gas.pressure", R"({"gas":"SF6","temperature":"20 degC","density":"40 kg/m3","altitude":"100 m"})"},
    {"gas.saturation", R"({"gas":"SF6","temperature":"20 degC"})"},
    {"gas.moisture",
     R"({"gas_pressure":"6 bar abs","dew_point":"-5 degC","measured_at":"1 bar abs","limit":"-5 degC",
        "limit_ppmv":"200 ppmv","uncertainties":{"dew_point":{"limit":"2 K"}}})"},
    {"fill.target", R"({"gas":"SF6","nominal_pressure":"6 bar abs","temperature":"20 degC"})"},
    {"fill.topup",
     R"({"gas":"SF6","nominal_density":"40 kg/m3","volume":"300 l","added_volume":"1 l","temperature":"20 degC",
        "pressure":"5 bar g","warn":"36 kg/m3","lockout":"5 bar abs","air_temperature":"25 degC","equalisation_time":"10 min",
        "lowest_ambient":"-30 degC","max_pressure":"8 bar abs","cylinder_contents":"50 kg","fill_tolerance":"1 %",
        "uncertainties":{"pressure":{"class":"1 %","span":"10 bar"},"temperature":"1 K"}})"},
    {"fill.account",
     R"({"gas":"SF6","cylinder_before":"60 kg","cylinder_after":"59 kg","volume":"300 l","hose_volume":"1 l",
        "before":{"temperature":"20 degC","pressure":"4.6 bar g"},"after":{"temperature":"20 degC","pressure":"4.9 bar g"},
        "scale_limit":"2 lb","gwp":"23500"})"},
    {"leak.decay",
     R"({"gas":"SF6","volume":"1 l","limit":"0.5 %/yr","window":"2 h","series":[["0 s","6 bar abs","15 degC"],
        ["60 s","6.0001 bar abs","15 degC"],["120 s","5.9999 bar abs","15.01 degC"]]})"},
    {"leak.accumulation",
     R"({"gas":"SF6","background_ppmv":"0 ppmv","final_ppmv":"3 ppmv","free_volume":"0.5 m3",
        "duration":"24 h","temperature":"20 degC","pressure":"1 bar abs","gas_mass":"10 kg","limit":"0.5 %/yr"})"},
    {"leak.forecast",
     R"({"gas":"SF6","volume":"300 l","density":"40 kg/m3","leak_rate":"0.5 %/yr","leak_rate_u":"0.1 %/yr",
        "warn":"36 kg/m3","lockout":"30 kg/m3"})"},
    {"leak.probe",
     R"({"gas":"SF6","method":"soap_film","bubble":"3 mm","watched":"60 s","temperature":"20 degC","spots":3,
        "limit":"50 g/yr"})"},
    {"purge.plateau",
     R"({"series":[["0 min","60 %"],["2 min","80 %"],["4 min","90 %"],["6 min","95 %"],["8 min","97 %"]],
        "resolution":"0.1 %","limit":"97 %"})"},
    {"purge.dilution",
     R"({"volume":"300 l","pressures":{"vent":"1 bar abs","fill":"3 bar abs"},"cycles":3,"limit":"1 %"})"},
    {"emissions.balance",
     R"({"inventory_start":"100 kg","inventory_end":"80 kg","bought_bulk":"3 kg","gwp":"23500",
        "gwp_source":"table"})"},
    {"emissions.ledger",
     R"({"stock":{"a":"3 kg"},"entries":[{"from":"a","to":"air","mass":"1 kg","what":"leakage"}]})"},
};

/// Values that have broken programs before, in every unit a member could ask for.
std::vector<Json> nasty()
{
    std::vector<Json> all{nullptr,
                          true,
                          7,
                          -1,
                          1e300,
                          "",
                          " ",
                          "x",
                          Json::array(),
                          Json::object(),
                          Json::array({nullptr}),
                          Json::array({Json::array()}),
                          Json{{"value", 3}},
                          "\xF0\x9F\x98\x80"};
    for (char const* number :
         {"0", "-0", "-1", "1e-300", "1e300", "1e308", "-1e300", "0.0000001", "273.15", "1e5"})
        for (char const* unit :
             {"degC", "K", "Pa abs", "bar g", "kg/m3", "kg", "l", "s", "ppmv", "%", "%/yr", "m", "", "kPa"})
            all.push_back(std::string(number) + " " + unit);
    return all;
}

void must_hold(std::string const& name, Json const& inputs)
{
    std::string const line = Json{{"id", "1"}, {"calc", name}, {"inputs", inputs}}.dump(
        -1, ' ', false, Json::error_handler_t::replace);
    INFO(line);
    std::string const out = calc::answer_line(line);
    auto const parsed = read_json(out, "answer");
    REQUIRE(parsed);
    if (parsed->at("ok") == false) {
        REQUIRE_FALSE(parsed->at("error").at("detail").get<std::string>().empty());
        return;
    }
    for (auto const& [member, figure] : parsed->at("results").items())
        if (figure.is_object() && figure.contains("value"))
            CHECK(figure.at("value").is_number()); // NaN and infinity print as null
    for (auto const& check : parsed->at("checks"))
        for (char const* text : {"text", "remedy"})
            if (check.contains(text)) {
                std::string const said = check.at(text);
                CHECK_FALSE(says(said, "nan"));
                CHECK_FALSE(says(said, "inf "));
            }
}

} // namespace

TEST_CASE("each base case is answered, so that the changes below change something", "[calc][gas][enemy]")
{
    for (auto const& base : bases)
        answered(base.name, base.inputs);
}

TEST_CASE("one member at a time made absurd, removed or doubled never breaks an answer", "[calc][gas][enemy]")
{
    auto const values = nasty();
    for (auto const& base : bases) {
        Json const good = Json::parse(base.inputs);
        for (auto const& [member, value] : good.items()) {
            Json without = good;
            without.erase(member);
            must_hold(base.name, without);
            for (auto const& bad : values) {
                Json changed = good;
                changed[member] = bad;
                must_hold(base.name, changed);
                if (value.is_object())
                    for (auto const& [inner, kept] : value.items()) {
                        Json deep = good;
                        deep[member][inner] = bad;
                        must_hold(base.name, deep);
                    }
                if (value.is_array() && !value.empty() && value[0].is_array())
                    for (std::size_t column = 0; column < value[0].size(); ++column) {
                        Json deep = good;
                        deep[member][1][column] = bad;
                        must_hold(base.name, deep);
                    }
            }
        }
    }
}
