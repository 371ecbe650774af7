#include "model/profile.h"

namespace isochore::model {
namespace {

using K = ProfileField::Kind;
using D = Dimension;

std::vector<ProfileField> const& table()
{
    static std::vector<ProfileField> const fields = {
        {"breaker.model", "Model", "Breaker", K::text, D::count, true, {}, false},
        {"breaker.mechanism",
         "Operating mechanism",
         "Breaker",
         K::choice,
         D::count,
         true,
         {"spring", "spring-hydraulic", "hydraulic", "air"},
         false},
        {"breaker.poles",
         "Gas compartments",
         "Breaker",
         K::choice,
         D::count,
         true,
         {"three separate poles", "one common manifold"},
         false},
        {"rating.voltage", "Rated voltage", "Ratings", K::amount, D::voltage, true, {}, false},
        {"rating.current", "Rated current", "Ratings", K::amount, D::current, false, {}, false},
        {"rating.breaking_current",
         "Rated breaking current",
         "Ratings",
         K::amount,
         D::current,
         false,
         {},
         false},
        {"rating.interrupting_cycles",
         "Rated interrupting time",
         "Ratings",
         K::amount,
         D::cycles,
         true,
         {},
         false},
        {"rating.frequency", "Rated frequency", "Ratings", K::amount, D::frequency, true, {}, false},
        {"rating.lowest_ambient",
         "Lowest ambient temperature",
         "Ratings",
         K::amount,
         D::temperature,
         true,
         {},
         false},

        {"gas.species", "Gas", "Gas", K::choice, D::count, true, {"SF6"}, false},
        {"gas.nominal", "Filling pressure at 20 °C", "Gas", K::amount, D::pressure, true, {}, true},
        {"gas.warn", "Low-gas alarm at 20 °C", "Gas", K::amount, D::pressure, true, {}, true},
        {"gas.lockout", "Lockout at 20 °C", "Gas", K::amount, D::pressure, true, {}, true},
        {"gas.nameplate_mass", "Gas mass on the nameplate", "Gas", K::amount, D::mass, true, {}, false},
        {"gas.max_pressure", "Highest allowed pressure", "Gas", K::amount, D::pressure, false, {}, true},
        {"gas.leak_limit", "Leak limit", "Gas", K::amount, D::fraction_rate, true, {}, true},
        {"gas.purity_limit", "Lowest purity", "Gas", K::amount, D::fraction, true, {}, true},
        {"gas.moisture_limit",
         "Highest pressure dew point",
         "Gas",
         K::amount,
         D::temperature,
         true,
         {},
         true},
        {"gas.port_thread", "Gas port thread", "Gas", K::text, D::count, true, {}, false},
        {"gas.port_coupling",
         "Gas port coupling",
         "Gas",
         K::choice,
         D::count,
         true,
         {"self-closing", "valve", "plug only"},
         false},

        {"timing.open_min", "Opening time, shortest", "Timing", K::amount, D::time, false, {}, true},
        {"timing.open_max", "Opening time, longest", "Timing", K::amount, D::time, true, {}, true},
        {"timing.close_min", "Closing time, shortest", "Timing", K::amount, D::time, false, {}, true},
        {"timing.close_max", "Closing time, longest", "Timing", K::amount, D::time, true, {}, true},
        {"timing.open_spread", "Pole spread, opening", "Timing", K::amount, D::cycles, false, {}, true},
        {"timing.close_spread", "Pole spread, closing", "Timing", K::amount, D::cycles, false, {}, true},
        {"timing.auxiliary_offset",
         "52b after contact parting",
         "Timing",
         K::amount,
         D::time,
         false,
         {},
         false},

        {"control.dc_nominal", "Control voltage", "Control circuit", K::amount, D::voltage, true, {}, false},
        {"control.dc_min", "Lowest trip voltage", "Control circuit", K::amount, D::voltage, true, {}, true},
        {"control.dc_max",
         "Highest control voltage",
         "Control circuit",
         K::amount,
         D::voltage,
         true,
         {},
         true},
        {"control.trip_coils", "Trip coils", "Control circuit", K::whole, D::count, true, {}, false},
        {"control.trip_coil_resistance",
         "Trip coil resistance",
         "Control circuit",
         K::amount,
         D::resistance,
         true,
         {},
         false},

        {"ct.full_ratio", "CT nameplate ratio", "Current transformers", K::text, D::count, true, {}, false},
        {"ct.connection",
         "CT secondaries",
         "Current transformers",
         K::choice,
         D::count,
         false,
         {"wye", "delta"},
         false},

        {"sensor.quantity",
         "Sensor reads",
         "Sensor",
         K::choice,
         D::count,
         true,
         {"density", "pressure", "pressure at 20 degC"},
         false},
        {"sensor.range_low", "Value at 4 mA", "Sensor", K::amount, D::density, true, {}, false},
        {"sensor.range_high", "Value at 20 mA", "Sensor", K::amount, D::density, true, {}, false},
        {"sensor.thread", "Sensor thread", "Sensor", K::text, D::count, true, {}, false},

        {"unit.input_resistance",
         "Trip input resistance",
         "Monitoring unit",
         K::amount,
         D::resistance,
         true,
         {},
         false},
        {"unit.pick_up", "Trip input pick-up", "Monitoring unit", K::amount, D::voltage, true, {}, false},
        {"unit.drop_out", "Trip input drop-out", "Monitoring unit", K::amount, D::voltage, true, {}, false},
        {"unit.mass", "Unit mass", "Monitoring unit", K::amount, D::mass, true, {}, false},
        {"unit.depth",
         "Unit depth with connectors",
         "Monitoring unit",
         K::amount,
         D::length,
         true,
         {},
         false},
    };
    return fields;
}

} // namespace

std::span<ProfileField const> profile_fields()
{
    return table();
}

ProfileField const* profile_field(std::string_view path)
{
    for (auto const& field : table())
        if (field.path == path)
            return &field;
    return nullptr;
}

ProfileValue const* Profile::find(std::string_view path) const
{
    auto const it = values.find(path);
    return it == values.end() ? nullptr : &it->second;
}

std::string Profile::text(std::string_view path, std::string otherwise) const
{
    auto const* v = find(path);
    return v ? v->value : otherwise;
}

Result<Amount> Profile::amount(std::string_view path) const
{
    auto const* v = find(path);
    auto const* field = profile_field(path);
    if (!v || !field)
        return fail(Error::Code::missing_input, std::string(path),
                    "profile " + id + " has no value for " + std::string(path));
    return parse_amount(v->value, field->dimension, id + ": " + std::string(path));
}

} // namespace isochore::model
