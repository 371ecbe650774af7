#pragma once
#include "calc/answer.h"
#include "calc/inputs.h"
#include "uncertainty/budget.h"
#include "uncertainty/decision.h"
#include "uncertainty/monte_carlo.h"

namespace isochore::calc {

/// The input "uncertainties": one member a measured quantity, each either a standard uncertainty
/// ("0.005 MPa", or "1 %" of the value) or the instrument: {"class":"1.6 %","span":"1.0 MPa"},
/// {"limit":"0.5 K"}, {"resolution":"0.01 bar"}, {"calibration":"2 kPa","k":"2"},
/// {"repeatability":"1 kPa","readings":5}; parts given together are combined.
class Uncertainties {
public:
    explicit Uncertainties(Inputs& in) : m_parent(in), m_members(in.object("uncertainties")) {}
    ~Uncertainties() = default;
    Uncertainties(Uncertainties const&) = delete;
    Uncertainties& operator=(Uncertainties const&) = delete;

    /// The measured value with its standard uncertainty, in SI. `spread` is the dimension of the uncertainty
    /// (temperature_difference for a temperature). Where nothing is given u is 0, and a note says so.
    [[nodiscard]] uncertainty::Input read(std::string_view name, double value_si, Dimension spread);
    [[nodiscard]] bool given(std::string_view name) const { return m_members.has(name); }
    /// Hands errors, notes and unknown members to the calculation's inputs. Call once after the last read.
    void finish();

private:
    Inputs& m_parent;
    Inputs m_members;
    std::string m_exact; // what was counted as exact
};

/// Input "rule": "guarded" (default) or "simple".
[[nodiscard]] uncertainty::Rule read_rule(Inputs& in);

[[nodiscard]] Verdict verdict_of(uncertainty::Outcome outcome);

/// The contributions as bars, in the unit of the result.
void show_budget(Answer& answer, uncertainty::Budget const& budget);

/// What the instrument of one input must be for the result's 95 % half width to come down to `wanted`, in
/// words ("a pressure known to ±6.4 kPa"); when the other inputs alone are too uncertain, says which is
/// worst.
[[nodiscard]] std::string instrument_needed(uncertainty::Budget const& budget, std::string_view input,
                                            double wanted, double per_unit, std::string_view unit);

/// A figure with standard uncertainty and its 95 % interval.
[[nodiscard]] Figure figure(std::string name, std::string unit, uncertainty::Budget const& budget);
[[nodiscard]] Figure figure(std::string name, double value, std::string unit,
                            uncertainty::Spread const& spread);

} // namespace isochore::calc
