#pragma once
#include "quantity/amount.h"
#include "json/value.h"
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::calc {

/// Reads the "inputs" of a calculation. The first fault is kept and all later reads give harmless values,
/// so a calculation reads all it needs and then asks `error()` once. Places are "inputs.NAME".
class Inputs {
public:
    explicit Inputs(Json const& object, std::string place = "inputs");

    [[nodiscard]] bool has(std::string_view name) const; ///< present and not null

    /// SI value of a required quantity string. Not for pressures that may be gauge: see absolute_pressure.
    double quantity(std::string_view name, Dimension dimension);
    std::optional<double> optional_quantity(std::string_view name, Dimension dimension);
    double quantity_or(std::string_view name, Dimension dimension, double otherwise_si);

    /// Absolute Pa. A gauge reading is turned with "baro" (or "altitude", ISO 2533), else 101.325 kPa,
    /// which is said in notes().
    double absolute_pressure(std::string_view name);
    std::optional<double> optional_absolute_pressure(std::string_view name);
    /// Barometric pressure in Pa from "baro" or "altitude", else standard 101325 (said in notes()).
    double barometer();

    std::string text(std::string_view name);
    std::string text_or(std::string_view name, std::string otherwise);
    /// One of the words given; anything else is an error that lists them.
    std::string one_of(std::string_view name, std::vector<std::string> const& words,
                       std::optional<std::string> otherwise = {});
    bool flag_or(std::string_view name, bool otherwise);
    /// Whole number from a JSON integer or a string of digits.
    int whole(std::string_view name, int least, int most);
    int whole_or(std::string_view name, int least, int most, int otherwise);
    /// The raw member, null when absent; the caller reads it and reports with `refuse`.
    Json const& raw(std::string_view name);
    /// Objects of an array member, each as its own Inputs with place "inputs.NAME[i]".
    std::vector<Inputs> list(std::string_view name);
    /// An object member as Inputs with place "inputs.NAME"; empty when absent.
    Inputs object(std::string_view name);
    /// Takes over the first error and notes of a nested Inputs.
    void absorb(Inputs const& nested);

    void refuse(Error::Code code, std::string_view name, std::string detail);
    [[nodiscard]] std::optional<Error> const& error() const { return m_error; }
    [[nodiscard]] std::vector<std::string> const& notes() const { return m_notes; }
    void note(std::string text);
    [[nodiscard]] std::string place(std::string_view name) const;
    /// Refuses member names that no read asked for: a misspelt input must not pass unseen.
    void refuse_unread();

private:
    Json m_object;
    std::string m_place;
    std::set<std::string, std::less<>> m_read;
    std::optional<Error> m_error;
    std::vector<std::string> m_notes;
};

} // namespace isochore::calc
