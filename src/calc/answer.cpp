#include "calc/answer.h"
#include <algorithm>
#include <cmath>

namespace isochore::calc {

char const* verdict_name(Verdict verdict)
{
    switch (verdict) {
    case Verdict::none:
        return "none";
    case Verdict::pass:
        return "pass";
    case Verdict::fail:
        return "fail";
    case Verdict::undecided:
        return "undecided";
    }
    return "none";
}

Verdict verdict_from_name(std::string_view name)
{
    for (Verdict v : {Verdict::pass, Verdict::fail, Verdict::undecided})
        if (name == verdict_name(v))
            return v;
    return Verdict::none;
}

Verdict worse(Verdict a, Verdict b)
{
    auto const weight = [](Verdict v) {
        return v == Verdict::fail ? 3 : v == Verdict::undecided ? 2 : v == Verdict::pass ? 1 : 0;
    };
    return weight(a) >= weight(b) ? a : b;
}

Answer& Answer::add(std::string name, double value, std::string unit, std::optional<double> u)
{
    results.push_back({std::move(name), value, std::move(unit), u, {}, {}});
    return *this;
}

Figure const* Answer::find(std::string_view name) const
{
    auto const it =
        std::find_if(results.begin(), results.end(), [&](auto const& f) { return f.name == name; });
    return it == results.end() ? nullptr : &*it;
}

Verdict Answer::verdict() const
{
    Verdict v = Verdict::none;
    for (auto const& check : checks)
        v = worse(v, check.verdict);
    return v;
}

namespace {

Json figure_json(Figure const& f)
{
    Json j{{"value", f.value}, {"unit", f.unit}};
    if (f.u)
        j["u"] = *f.u;
    if (f.low && f.high)
        j["interval95"] = Json::array({*f.low, *f.high});
    return j;
}

bool is_finite(Figure const& f)
{
    return std::isfinite(f.value) && std::isfinite(f.u.value_or(0.0)) && std::isfinite(f.low.value_or(0.0)) &&
           std::isfinite(f.high.value_or(0.0));
}

bool is_finite(Json const& j)
{
    if (j.is_number_float())
        return std::isfinite(j.get<double>());
    return !j.is_structured() ||
           std::all_of(j.begin(), j.end(), [](Json const& one) { return is_finite(one); });
}

} // namespace

bool is_finite(Answer const& answer)
{
    auto const finite = [](Figure const& f) { return is_finite(f); };
    return std::all_of(answer.results.begin(), answer.results.end(), finite) &&
           std::all_of(answer.expected.begin(), answer.expected.end(), finite) &&
           std::all_of(answer.budget.begin(), answer.budget.end(),
                       [](BudgetLine const& b) { return std::isfinite(b.u) && std::isfinite(b.share); }) &&
           is_finite(answer.facts);
}

Json to_json(Answer const& answer)
{
    Json out = Json::object();
    Json results = Json::object();
    for (auto const& f : answer.results)
        results[f.name] = figure_json(f);
    for (auto const& [name, value] : answer.facts.items())
        results[name] = value;
    out["results"] = std::move(results);

    Json checks = Json::array();
    for (auto const& c : answer.checks) {
        Json j{{"name", c.name}, {"verdict", verdict_name(c.verdict)}, {"text", c.text}};
        if (!c.remedy.empty())
            j["remedy"] = c.remedy;
        if (!c.rule.empty())
            j["rule"] = c.rule;
        checks.push_back(std::move(j));
    }
    out["checks"] = std::move(checks);
    out["verdict"] = verdict_name(answer.verdict());
    if (!answer.notes.empty())
        out["notes"] = answer.notes;
    if (!answer.working.empty()) {
        out["working"] = Json::array();
        for (auto const& w : answer.working)
            out["working"].push_back({{"formula", w.formula}, {"numbers", w.numbers}, {"source", w.source}});
    }
    if (!answer.budget.empty()) {
        out["budget"] = Json::array();
        for (auto const& b : answer.budget)
            out["budget"].push_back(
                {{"input", b.input}, {"u", b.u}, {"share", b.share}, {"source", b.source}});
    }
    if (!answer.expected.empty()) {
        out["expected"] = Json::object();
        for (auto const& f : answer.expected)
            out["expected"][f.name] = figure_json(f);
    }
    return out;
}

} // namespace isochore::calc
