#include "media/unit_values.h"

namespace isochore::media {
namespace {

using K = model::ProfileField::Kind;
using D = Dimension;
using L = Layering;

std::vector<UnitField> const& table()
{
    static std::vector<UnitField> const fields = {
        {"station.name", "Station", K::text, D::count, true, {}, L::own},
        {"station.bay", "Bay", K::text, D::count, true, {}, L::own},
        {"breaker.serial", "Breaker serial number", K::text, D::count, true, {}, L::own},
        {"unit.serial", "Unit serial number", K::text, D::count, true, {}, L::own},
        {"sensor.serial", "Sensor serial number", K::text, D::count, true, {}, L::own},
        {"ct.ratio", "CT ratio connected", K::text, D::count, true, {}, L::within},
        {"ct.terminals", "CT terminals", K::text, D::count, false, {}, L::own},
        {"ct.auxiliary", "Auxiliary CT", K::text, D::count, false, {}, L::own},
        {"ct.lead", "Lead through the pick-up", K::choice, D::count, false, {"star", "delta"}, L::own},
        {"ct.turns", "Turns through the pick-up", K::whole, D::count, false, {}, L::own},
        {"timing.wiring",
         "Timing wiring",
         K::choice,
         D::count,
         true,
         {"across the trip coil", "separate wetted output"},
         L::own},
        {"timing.resistor", "Noise resistor", K::amount, D::resistance, false, {}, L::own},
        {"timing.auxiliary_offset", "52b after contact parting", K::amount, D::time, false, {}, L::replaces},
        {"control.dc_nominal", "Control voltage", K::amount, D::voltage, false, {}, L::agrees},
        {"rating.frequency", "Rated frequency", K::amount, D::frequency, false, {}, L::agrees},
        {"gas.nominal", "Filling pressure on this nameplate", K::amount, D::pressure, false, {}, L::agrees},
        {"gas.nameplate_mass", "Gas mass on this nameplate", K::amount, D::mass, false, {}, L::agrees},
        {"sensor.range_low", "Value at 4 mA on this sensor", K::amount, D::density, false, {}, L::agrees},
        {"sensor.range_high", "Value at 20 mA on this sensor", K::amount, D::density, false, {}, L::agrees},
    };
    return fields;
}

} // namespace

std::span<UnitField const> unit_fields()
{
    return table();
}

UnitField const* unit_field(std::string_view path)
{
    for (auto const& field : table())
        if (field.path == path)
            return &field;
    return nullptr;
}

} // namespace isochore::media
