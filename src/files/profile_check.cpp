#include "files/profile_file.h"
#include "files/profile_text.h"
#include "model/profile_derived.h"
#include "model/profile_lifecycle.h"
#include "quantity/amount.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>

namespace isochore::files {
namespace {

using Code = Error::Code;
using Kind = model::ProfileField::Kind;

/// The rules that hold between the values of one profile. Each function is one rule or one family of them.
class Checker {
public:
    Checker(model::Profile const& profile, std::string_view name)
        : m_profile(profile), m_derived(model::derive(profile)), m_name(name)
    {
    }

    FileReport run()
    {
        check_presence();
        check_limits_have_sources();
        check_signs();
        for (auto const& problem : m_derived.problems)
            refuse(problem.code, problem.where, problem.detail);
        check_densities();
        check_filling();
        check_gas_limits();
        check_timing();
        check_control();
        check_ct();
        check_sensor();
        check_signoffs();
        return std::move(m_report);
    }

private:
    void refuse(Code code, std::string_view path, std::string detail)
    {
        m_report.errors.push_back(Error{code, fmt::format("{}: {}", m_name, path), std::move(detail)});
    }

    [[nodiscard]] std::optional<double> si(std::string_view path) const
    {
        auto const amount = m_profile.amount(path);
        return amount ? std::optional<double>(amount->si) : std::nullopt;
    }

    void check_presence()
    {
        for (auto const& field : model::profile_fields()) {
            auto const* value = m_profile.find(field.path);
            if (!value && field.required)
                refuse(Code::missing_input, field.path, fmt::format("{}: no value is given", field.label));
            if (!value)
                continue;
            if (auto const wrong = refuse_value(field, value->value, field.path))
                refuse(wrong->code, field.path, wrong->detail);
        }
    }

    void check_limits_have_sources()
    {
        for (auto const& field : model::profile_fields()) {
            auto const* value = m_profile.find(field.path);
            if (field.limit && value && value->source.find_first_not_of(' ') == std::string::npos)
                refuse(Code::missing_input, field.path,
                       fmt::format("{} decides a pass or a fail: say where {} comes from", field.label,
                                   value->value));
        }
    }

    /// Every amount but a temperature and a current loop's bottom is more than nothing.
    void check_signs()
    {
        for (auto const& field : model::profile_fields()) {
            if (field.kind != Kind::amount || field.dimension == Dimension::temperature)
                continue;
            auto const value = si(field.path);
            bool const may_be_zero =
                field.path == "sensor.range_low" || field.path == "timing.auxiliary_offset";
            if (value && (*value < 0.0 || (*value == 0.0 && !may_be_zero)))
                refuse(Code::out_of_range, field.path,
                       fmt::format("{}: {} must be more than zero", field.label, m_profile.text(field.path)));
        }
    }

    /// `low` below `high`, where both are there.
    void in_order(std::string_view low, std::string_view high)
    {
        auto const a = si(low), b = si(high);
        if (a && b && *a >= *b)
            refuse(Code::out_of_range, low,
                   fmt::format("{} ({}) must be below {} ({})", label(low), m_profile.text(low), label(high),
                               m_profile.text(high)));
    }

    [[nodiscard]] static std::string_view label(std::string_view path)
    {
        auto const* field = model::profile_field(path);
        return field ? field->label : path;
    }

    void densities_in_order(std::string_view low, std::string_view high)
    {
        double const a = m_derived.si(std::string(low) + "_density");
        double const b = m_derived.si(std::string(high) + "_density");
        if (a >= b)
            refuse(Code::out_of_range, low,
                   fmt::format("{} is {} kg/m³, which is not below {} with {} kg/m³", label(low),
                               show_number(a, 4), label(high), show_number(b, 4)));
    }

    /// Compared as densities, so that a gauge and an absolute pressure cannot pass each other unseen.
    void check_densities()
    {
        densities_in_order("gas.lockout", "gas.warn");
        densities_in_order("gas.warn", "gas.nominal");
        auto const most = model::nameplate_pressure_pa(m_profile, "gas.max_pressure");
        double const nominal = m_derived.si("gas.nominal_absolute");
        if (most && *most <= nominal)
            refuse(Code::out_of_range, "gas.max_pressure",
                   fmt::format("{} is not above the filling pressure {}", m_profile.text("gas.max_pressure"),
                               m_profile.text("gas.nominal")));
    }

    void check_filling()
    {
        double const dew = m_derived.si("gas.liquefaction");
        auto const ambient = si("rating.lowest_ambient");
        if (ambient && dew >= *ambient)
            refuse(
                Code::out_of_range, "gas.nominal",
                fmt::format("the filling begins to liquefy at {} °C, above the lowest ambient temperature {}",
                            show_fixed(dew - 273.15, 1), m_profile.text("rating.lowest_ambient")));
    }

    void check_gas_limits()
    {
        auto const purity = si("gas.purity_limit");
        if (purity && *purity > 1.0)
            refuse(Code::out_of_range, "gas.purity_limit",
                   fmt::format("a purity of {} is more than the whole", m_profile.text("gas.purity_limit")));
    }

    void check_timing()
    {
        in_order("timing.open_min", "timing.open_max");
        in_order("timing.close_min", "timing.close_max");
        double const interrupting = m_derived.si("timing.interrupting_time");
        auto const opening = si("timing.open_max");
        if (opening && *opening >= interrupting)
            refuse(
                Code::out_of_range, "timing.open_max",
                fmt::format("an opening time of {} leaves no time for the arc within the rated interrupting "
                            "time of {} ms",
                            m_profile.text("timing.open_max"), show_number(interrupting * 1e3, 4)));
        check_frequency();
        for (auto const spread : {"timing.open_spread", "timing.close_spread"})
            if (auto const cycles = si(spread); cycles && *cycles >= 1.0)
                refuse(Code::out_of_range, spread,
                       fmt::format("a pole spread of {} is a whole period or more", m_profile.text(spread)));
    }

    /// IEC 60196 (standard frequencies): 16 2/3, 50 and 60 Hz.
    void check_frequency()
    {
        auto const frequency = si("rating.frequency");
        if (!frequency)
            return;
        bool const railway = std::abs(*frequency - 50.0 / 3.0) < 0.05;
        if (*frequency != 50.0 && *frequency != 60.0 && !railway)
            refuse(Code::out_of_range, "rating.frequency",
                   fmt::format("{} is not a power frequency (16.7, 50 or 60 Hz)",
                               m_profile.text("rating.frequency")));
    }

    void check_control()
    {
        in_order("unit.drop_out", "unit.pick_up");
        in_order("unit.pick_up", "control.dc_min");
        in_order("control.dc_min", "control.dc_nominal");
        in_order("control.dc_nominal", "control.dc_max");
        auto const coils = m_profile.text("control.trip_coils");
        if (coils == "0")
            refuse(Code::out_of_range, "control.trip_coils", "a breaker has at least one trip coil");
    }

    /// IEC 61869-2: rated secondary currents are 1 A and 5 A.
    void check_ct()
    {
        auto const* value = m_profile.find("ct.full_ratio");
        if (!value)
            return;
        auto const ratio = read_nameplate_ratio(value->value);
        if (!ratio)
            refuse(Code::invalid_input, "ct.full_ratio",
                   fmt::format("\"{}\" is not a ratio; write it as 2000:5", printable(value->value)));
        else if (ratio->primary <= ratio->secondary)
            refuse(Code::out_of_range, "ct.full_ratio",
                   fmt::format("{} steps the current up; is it written the wrong way round?", value->value));
        else if (ratio->secondary != 1 && ratio->secondary != 5)
            refuse(Code::out_of_range, "ct.full_ratio",
                   fmt::format("{} has a secondary of {} A; 1 A and 5 A are the rated ones", value->value,
                               ratio->secondary));
    }

    /// An alarm the sensor cannot reach would never come.
    void check_sensor()
    {
        in_order("sensor.range_low", "sensor.range_high");
        for (auto const level : {"nominal", "warn", "lockout"}) {
            double const current = m_derived.si(fmt::format("sensor.{}_current", level));
            if (current < 4e-3 || current > 20e-3)
                refuse(Code::out_of_range, "sensor.range_high",
                       fmt::format("gas.{} would read {} mA, outside the sensor's 4 mA to 20 mA", level,
                                   show_fixed(current * 1e3, 2)));
        }
    }

    [[nodiscard]] model::Signoff const* signoff(std::string_view status) const
    {
        auto const it = std::find_if(m_profile.signoffs.begin(), m_profile.signoffs.end(),
                                     [&](model::Signoff const& s) { return s.status == status; });
        return it == m_profile.signoffs.end() ? nullptr : &*it;
    }

    void check_signoffs()
    {
        std::string_view const last =
            m_profile.signoffs.empty() ? "draft" : std::string_view(m_profile.signoffs.back().status);
        if (m_profile.status != last)
            refuse(Code::corrupt, "status",
                   fmt::format("the status is \"{}\" but the last sign-off says \"{}\"", m_profile.status,
                               last));
        static constexpr std::string_view order[] = {"checked", "released", "withdrawn"};
        if (m_profile.signoffs.size() > std::size(order)) {
            refuse(Code::corrupt, "signoffs", "there are more sign-offs than steps");
            return;
        }
        for (std::size_t i = 0; i < m_profile.signoffs.size(); ++i)
            if (m_profile.signoffs[i].status != order[i])
                refuse(Code::corrupt, fmt::format("signoffs[{}]", i),
                       fmt::format("\"{}\" stands where \"{}\" belongs", m_profile.signoffs[i].status,
                                   order[i]));
        auto const* checked = signoff("checked");
        auto const* released = signoff("released");
        if (checked && released && model::same_person(checked->person, released->person))
            refuse(Code::denied, "signoffs",
                   "one person both checked and released it; a second one must release");
        if (released && model::same_person(released->person, m_profile.author))
            refuse(Code::denied, "signoffs", "the author released it; a second person must release");
    }

    model::Profile const& m_profile;
    model::DerivedProfile m_derived;
    std::string m_name;
    FileReport m_report;
};

} // namespace

FileReport check_profile(model::Profile const& profile, std::string_view name)
{
    return Checker(profile, name).run();
}

} // namespace isochore::files
