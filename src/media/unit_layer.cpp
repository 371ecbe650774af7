#include "electrical/ct_ratio.h"
#include "files/profile_text.h"
#include "media/unit_values.h"
#include "model/profile_derived.h"
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace isochore::media {
namespace {

using Code = Error::Code;
using Kind = model::ProfileField::Kind;
using Origin = Setting::Origin;

/// What a unit needs from the profile as written, and from what is derived.
constexpr std::array profile_paths = {
    "breaker.model",      "gas.species",     "gas.nameplate_mass", "rating.frequency",
    "control.dc_nominal", "timing.open_max", "timing.close_max",   "timing.auxiliary_offset",
    "ct.connection",      "sensor.quantity", "sensor.range_low",   "sensor.range_high",
    "unit.pick_up",       "unit.drop_out"};
constexpr std::array derived_paths = {
    "gas.nominal_density", "gas.warn_density",       "gas.lockout_density",     "sensor.nominal_current",
    "sensor.warn_current", "sensor.lockout_current", "timing.interrupting_time"};
constexpr int derived_digits = 6;

/// SI value; of a pressure the absolute one.
Result<double> quantity(std::string_view text, UnitField const& field)
{
    auto const amount = parse_amount(text, field.dimension, field.path);
    if (!amount)
        return tl::unexpected(amount.error());
    if (field.dimension == Dimension::pressure)
        return model::nameplate_pressure_pa(*amount, field.path);
    return amount->si;
}

/// Two quantities as one: rounding of unit factors apart.
bool same_quantity(std::string_view profile_text, std::string_view unit_text, UnitField const& field)
{
    auto const a = quantity(profile_text, field), b = quantity(unit_text, field);
    return a && b && std::abs(*a - *b) <= 1e-9 * std::max(std::abs(*a), std::abs(*b));
}

class Layerer {
public:
    Layerer(model::Profile const& profile, UnitValues const& unit) : m_profile(profile), m_unit(unit) {}

    UnitSettings run()
    {
        check_profile_named();
        for (auto const& field : unit_fields())
            take_unit_value(field);
        for (auto const path : profile_paths)
            take_profile_value(path);
        auto const derived = model::derive(m_profile);
        for (auto const path : derived_paths)
            if (auto const* value = derived.find(path))
                add(path, value->label,
                    fmt::format("{} {}", show_number(value->shown(), derived_digits), value->unit),
                    Origin::derived, Kind::amount, value->dimension);
        take_ratio();
        check_resistor();
        return std::move(m_out);
    }

private:
    void add(std::string_view path, std::string_view label, std::string value, Origin origin, Kind kind,
             Dimension dimension)
    {
        m_out.settings.push_back(
            {std::string(path), std::string(label), std::move(value), origin, kind, dimension});
    }

    void conflict(std::string_view path, std::string_view label, std::string profile_value,
                  std::string detail)
    {
        m_out.conflicts.push_back({std::string(path), std::string(label), m_unit.text(path),
                                   std::move(profile_value), std::move(detail)});
    }

    void check_profile_named()
    {
        if (m_unit.profile_id == m_profile.id && m_unit.profile_revision == m_profile.revision)
            return;
        auto const theirs = fmt::format("{} revision {}", m_unit.profile_id, m_unit.profile_revision);
        auto const ours = fmt::format("{} revision {}", m_profile.id, m_profile.revision);
        m_out.conflicts.push_back({"profile", "Profile", theirs, ours,
                                   fmt::format("the unit's values were taken for {}, not for {}; check them "
                                               "against this profile",
                                               theirs, ours)});
    }

    void take_unit_value(UnitField const& field)
    {
        auto const value = m_unit.text(field.path);
        if (value.empty()) {
            if (field.required)
                m_out.missing.push_back({Code::missing_input, std::string(field.path),
                                         fmt::format("{}: no value is recorded", field.label)});
            return;
        }
        model::ProfileField const same{field.path, field.label,   {},   field.kind, field.dimension,
                                       false,      field.choices, false};
        if (auto const wrong = files::refuse_value(same, value, field.path)) {
            m_out.missing.push_back({wrong->code, std::string(field.path), wrong->detail});
            return;
        }
        if (field.layering == Layering::agrees && m_profile.find(field.path)) {
            if (!same_quantity(m_profile.text(field.path), value, field))
                conflict(
                    field.path, field.label, m_profile.text(field.path),
                    fmt::format("{}: this breaker says {}, the profile {}; find out which is right, then "
                                "correct the value or use another revision",
                                field.label, value, m_profile.text(field.path)));
            return; // the profile's spelling is the one that goes on the stick
        }
        add(field.path, field.label, value, Origin::unit, field.kind, field.dimension);
    }

    void take_profile_value(std::string_view path)
    {
        auto const* value = m_profile.find(path);
        auto const* field = model::profile_field(path);
        if (value && field && !m_out.find(path))
            add(path, field->label, value->value, Origin::profile, field->kind, field->dimension);
    }

    /// A tap has fewer turns than the whole winding and the same rated secondary.
    void take_ratio()
    {
        auto const text = m_unit.text("ct.ratio");
        if (text.empty())
            return;
        auto const tap = files::read_nameplate_ratio(text);
        auto const full = files::read_nameplate_ratio(m_profile.text("ct.full_ratio"));
        if (!tap) {
            m_out.missing.push_back({Code::invalid_input, "ct.ratio",
                                     fmt::format("\"{}\" is not a ratio; write it as 1200:5", text)});
            return;
        }
        if (full && (tap->secondary != full->secondary || tap->primary > full->primary))
            conflict("ct.ratio", "CT ratio connected", m_profile.text("ct.full_ratio"),
                     fmt::format("{} is no tap of {}", text, m_profile.text("ct.full_ratio")));
        electrical::CurrentPath path;
        path.main = {static_cast<double>(tap->primary), static_cast<double>(tap->secondary)};
        path.delta = m_unit.text("ct.lead") == "delta";
        if (auto const text_of = m_unit.text("ct.auxiliary"); !text_of.empty()) {
            auto const auxiliary = electrical::parse_ratio(text_of, "ct.auxiliary", true);
            if (!auxiliary) {
                m_out.missing.push_back(auxiliary.error());
                return;
            }
            path.auxiliary = *auxiliary;
        }
        if (auto const turns = m_unit.text("ct.turns"); !turns.empty())
            if (auto const count = parse_number(turns, "ct.turns"))
                path.turns = static_cast<int>(*count);
        derive_ratio(path);
    }

    /// What the unit multiplies with: the ratio of the whole path, and primary amperes for each ampere that the
    /// coil reads.
    void derive_ratio(electrical::CurrentPath const& path)
    {
        auto const ratio = electrical::path_ratio(path, "ct.ratio");
        if (!ratio) {
            m_out.missing.push_back(ratio.error());
            return;
        }
        add("ct.ratio_to_one", "CT ratio to 1", show_number(ratio->ratio, derived_digits), Origin::derived,
            Kind::amount, Dimension::ratio);
        add("ct.scale", "Primary amperes per ampere in the coil", show_number(ratio->scale, derived_digits),
            Origin::derived, Kind::amount, Dimension::ratio);
    }

    /// A separate output leaves the input open between trips: without the resistor it may pick up noise.
    void check_resistor()
    {
        bool const separate = m_unit.text("timing.wiring") == "separate wetted output";
        bool const resistor = !m_unit.text("timing.resistor").empty();
        if (separate && !resistor)
            m_out.missing.push_back({Code::missing_input, "timing.resistor",
                                     "a separate output needs the noise resistor that was fitted"});
        if (!separate && resistor)
            conflict("timing.resistor", "Noise resistor", {},
                     "a noise resistor is recorded, but the input is wired across the trip coil");
    }

    model::Profile const& m_profile;
    UnitValues const& m_unit;
    UnitSettings m_out;
};

} // namespace

std::string UnitValues::text(std::string_view path) const
{
    auto const it = values.find(path);
    return it == values.end() ? std::string{} : it->second;
}

char const* origin_name(Setting::Origin origin)
{
    switch (origin) {
    case Origin::unit:
        return "unit";
    case Origin::profile:
        return "profile";
    case Origin::derived:
        return "derived";
    }
    return "unit";
}

Setting const* UnitSettings::find(std::string_view path) const
{
    auto const it =
        std::find_if(settings.begin(), settings.end(), [&](Setting const& s) { return s.path == path; });
    return it == settings.end() ? nullptr : &*it;
}

UnitSettings layer(model::Profile const& profile, UnitValues const& unit)
{
    return Layerer(profile, unit).run();
}

} // namespace isochore::media
