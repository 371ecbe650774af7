#include "model/profile_derived.h"
#include "gas/atmosphere.h"
#include "gas/saturation.h"
#include "gas/state.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <optional>

namespace isochore::model {
namespace {

using D = Dimension;
constexpr double reference_temperature_k = 293.15; // 20 degC, the reference of every nameplate pressure

struct Level {
    std::string_view name, label; // "nominal", "Filling"
};
constexpr Level levels[] = {{"nominal", "Filling"}, {"warn", "Low-gas alarm"}, {"lockout", "Lockout"}};

/// Derives group after group; a group whose inputs are missing leaves its values out.
class Deriver {
public:
    explicit Deriver(Profile const& profile) : m_profile(profile) {}

    DerivedProfile run()
    {
        derive_gas();
        derive_sensor();
        derive_timing();
        derive_ct();
        return std::move(m_out);
    }

private:
    void add(std::string path, std::string label, double si, D dimension, std::string unit, std::string from)
    {
        m_out.values.push_back(
            {std::move(path), std::move(label), si, dimension, std::move(unit), std::move(from)});
    }

    void problem(Error error, std::string_view path)
    {
        error.where = path;
        m_out.problems.push_back(std::move(error));
    }

    /// An amount in SI; missing or unreadable ones were reported by the reader and stop nothing here.
    [[nodiscard]] std::optional<double> si(std::string_view path) const
    {
        auto const amount = m_profile.amount(path);
        return amount ? std::optional<double>(amount->si) : std::nullopt;
    }

    void derive_level(gas::Species species, Level const& level)
    {
        std::string const path = fmt::format("gas.{}", level.name);
        auto const pressure = nameplate_pressure_pa(m_profile, path);
        if (!pressure) {
            if (pressure.error().code != Error::Code::missing_input)
                problem(pressure.error(), path);
            return;
        }
        add(path + "_absolute", fmt::format("{} pressure, absolute, at 20 °C", level.label), *pressure,
            D::pressure, "MPa", "as on the nameplate, gauge values against 101.325 kPa");
        add(path + "_gauge", fmt::format("{} pressure, gauge, at 20 °C", level.label),
            *pressure - gas::standard_pressure_pa, D::pressure, "MPa", "against 101.325 kPa");
        auto const density = gas::density_kg_m3(species, reference_temperature_k, *pressure);
        if (!density) {
            problem(density.error(), path);
            return;
        }
        add(path + "_density", fmt::format("{} density", level.label), *density, D::density, "kg/m3",
            fmt::format("{} at 20 °C and {} MPa abs", gas::species_name(species),
                        show_number(*pressure * 1e-6, 5)));
    }

    void derive_filling(gas::Species species)
    {
        double const nominal = m_out.si("gas.nominal_density");
        if (std::isnan(nominal))
            return;
        if (auto const mass = si("gas.nameplate_mass"))
            add("gas.volume", "Gas volume", *mass / nominal, D::volume, "l",
                "nameplate mass / filling density");
        auto const dew = gas::saturation_at_density(species, nominal);
        if (dew)
            add("gas.liquefaction", "The filling begins to liquefy at", dew->temperature_k, D::temperature,
                "degC", "where the line of the filling density meets the dew line");
        else
            problem(dew.error(), "gas.nominal");
    }

    void derive_leak()
    {
        auto const limit = si("gas.leak_limit");
        auto const mass = si("gas.nameplate_mass");
        double const nominal = m_out.si("gas.nominal_density"), warn = m_out.si("gas.warn_density");
        if (limit && mass)
            add("gas.leak_mass", "Leak limit in mass", *limit * *mass, D::mass_flow, "g/yr",
                "leak limit x nameplate mass");
        if (limit && *limit > 0.0 && warn < nominal)
            add("gas.time_to_warn", "From filling to alarm at the leak limit",
                (nominal - warn) / nominal / *limit, D::time, "yr",
                "(filling - alarm) / filling / leak limit, in density");
    }

    void derive_gas()
    {
        auto const species = gas::species_by_name(m_profile.text("gas.species"), "gas.species");
        if (!species) {
            if (m_profile.find("gas.species"))
                problem(species.error(), "gas.species");
            return;
        }
        for (auto const& level : levels)
            derive_level(*species, level);
        derive_filling(*species);
        derive_leak();
        m_species = *species;
    }

    /// The sensor's 4 mA and 20 mA points in the quantity that is linear in its current.
    [[nodiscard]] std::optional<std::pair<double, double>> sensor_span(bool by_density)
    {
        auto const low = si("sensor.range_low"), high = si("sensor.range_high");
        if (!low || !high || *low >= *high || !m_species)
            return std::nullopt;
        if (by_density)
            return std::pair{*low, *high};
        auto const bottom =
            *low > 0.0 ? gas::pressure_pa(*m_species, reference_temperature_k, *low) : Result<double>(0.0);
        auto const top = gas::pressure_pa(*m_species, reference_temperature_k, *high);
        if (!bottom || !top) {
            problem(top ? bottom.error() : top.error(), top ? "sensor.range_low" : "sensor.range_high");
            return std::nullopt;
        }
        return std::pair{*bottom, *top};
    }

    /// Two-wire loop: 4 mA at the bottom of the range and 20 mA at its top, linear between (IEC 60381-1).
    void derive_sensor()
    {
        auto const quantity = m_profile.text("sensor.quantity");
        bool const by_density = quantity == "density";
        auto const span = sensor_span(by_density);
        if (!span || quantity.empty())
            return;
        for (auto const& level : levels) {
            double const value =
                m_out.si(fmt::format("gas.{}{}", level.name, by_density ? "_density" : "_absolute"));
            if (std::isnan(value))
                continue;
            double const share = (value - span->first) / (span->second - span->first);
            add(fmt::format("sensor.{}_current", level.name), fmt::format("Sensor current, {}", level.label),
                4e-3 + 16e-3 * share, D::current, "mA",
                by_density ? "linear in density from 4 mA to 20 mA"
                           : "linear in pressure from 4 mA to 20 mA, at 20 °C");
        }
    }

    void derive_cycles(std::string_view path, std::string derived, std::string label, double frequency)
    {
        if (auto const cycles = si(path))
            add(std::move(derived), std::move(label), *cycles / frequency, D::time, "ms",
                fmt::format("{} cycles / {} Hz", show_number(*cycles, 4), show_number(frequency, 4)));
    }

    void derive_timing()
    {
        auto const frequency = si("rating.frequency");
        if (!frequency || *frequency <= 0.0)
            return;
        derive_cycles("rating.interrupting_cycles", "timing.interrupting_time", "Rated interrupting time",
                      *frequency);
        derive_cycles("timing.open_spread", "timing.open_spread_time", "Pole spread, opening", *frequency);
        derive_cycles("timing.close_spread", "timing.close_spread_time", "Pole spread, closing", *frequency);
    }

    void derive_ct()
    {
        auto const ratio = m_profile.text("ct.full_ratio");
        auto const colon = ratio.find(':');
        if (colon == std::string::npos)
            return;
        auto const primary = parse_number(std::string_view(ratio).substr(0, colon), "ct.full_ratio");
        auto const secondary = parse_number(std::string_view(ratio).substr(colon + 1), "ct.full_ratio");
        if (primary && secondary && *secondary > 0.0)
            add("ct.full_ratio_to_one", "CT ratio to 1", *primary / *secondary, D::ratio, "1",
                fmt::format("{} / {}", show_number(*primary, 6), show_number(*secondary, 3)));
    }

    Profile const& m_profile;
    DerivedProfile m_out;
    std::optional<gas::Species> m_species;
};

} // namespace

double DerivedValue::shown() const
{
    Unit const* named = find_unit(unit, dimension);
    return named ? named->from_si(si) : si;
}

DerivedValue const* DerivedProfile::find(std::string_view path) const
{
    auto const it = std::find_if(values.begin(), values.end(), [&](auto const& v) { return v.path == path; });
    return it == values.end() ? nullptr : &*it;
}

double DerivedProfile::si(std::string_view path) const
{
    auto const* value = find(path);
    return value ? value->si : std::numeric_limits<double>::quiet_NaN();
}

Result<double> nameplate_pressure_pa(Amount const& pressure, std::string_view where)
{
    if (pressure.reference == PressureReference::none)
        return fail(Error::Code::invalid_input, std::string(where),
                    fmt::format("\"{}\" does not say abs or g", pressure.typed));
    double const base = pressure.reference == PressureReference::gauge ? gas::standard_pressure_pa : 0.0;
    return pressure.si + base;
}

Result<double> nameplate_pressure_pa(Profile const& profile, std::string_view path)
{
    auto const amount = profile.amount(path);
    if (!amount)
        return tl::unexpected(amount.error());
    return nameplate_pressure_pa(*amount, path);
}

DerivedProfile derive(Profile const& profile)
{
    return Deriver(profile).run();
}

} // namespace isochore::model
