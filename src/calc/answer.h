#pragma once
#include "quantity/result.h"
#include "quantity/unit.h"
#include "json/value.h"
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::calc {

/// Design section 3: undecided means the limit lies inside the 95 % interval of the result.
enum class Verdict { none, pass, fail, undecided };
[[nodiscard]] char const* verdict_name(Verdict verdict);
[[nodiscard]] Verdict verdict_from_name(std::string_view name);
/// fail beats undecided beats pass beats none.
[[nodiscard]] Verdict worse(Verdict a, Verdict b);

/// One named number of an answer, in a unit of quantity/unit.h. `u` is the standard uncertainty in that unit;
/// low and high are the 95 % interval where it was worked out (Monte Carlo or first order).
struct Figure {
    std::string name;
    double value = 0.0;
    std::string unit;
    std::optional<double> u, low, high;
};

/// One thing held against a limit, with the reason in words ("1.09 W of 2.5 W").
struct Check {
    std::string name;
    Verdict verdict = Verdict::none;
    std::string text;   ///< one sentence with the numbers
    std::string remedy; ///< what would decide or mend it, as a number where possible; may be empty
    std::string rule;   ///< decision rule used ("guarded", "simple"); may be empty
};

/// One line of the working: the formula, the same with the numbers in it, and where it comes from.
struct Working {
    std::string formula;
    std::string numbers;
    std::string source;
};

/// One bar of the uncertainty budget: `share` of the variance (0..1), `u` in the unit of the result.
struct BudgetLine {
    std::string input;
    double u = 0.0;
    double share = 0.0;
    std::string source;
};

/// What a calculation gives back. `results` holds figures; `facts` holds what is not one number (phase
/// "gas", masked true, a table of taps) and is merged into "results" of the line format after the figures.
struct Answer {
    std::vector<Figure> results;
    Json facts = Json::object();
    std::vector<Check> checks;
    std::vector<std::string> notes;
    std::vector<Working> working;
    std::vector<BudgetLine> budget;
    std::vector<Figure> expected; ///< readings predicted before they are taken

    Answer& add(std::string name, double value, std::string unit, std::optional<double> u = {});
    [[nodiscard]] Figure const* find(std::string_view name) const;
    [[nodiscard]] Verdict verdict() const; ///< the worst of the checks
};

/// False when a number of the answer is infinite or not a number: the inputs were absurd.
[[nodiscard]] bool is_finite(Answer const& answer);

/// The answer as the members "results", "checks", "verdict", "notes", "working", "budget", "expected" of
/// the line format; empty ones are left out.
[[nodiscard]] Json to_json(Answer const& answer);

} // namespace isochore::calc
