#include "model/profile_compare.h"
#include "model/profile_derived.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace isochore::model {
namespace {

using Kind = ProfileDifference::Kind;
using FieldKind = ProfileField::Kind;

/// Below this two quantities are one: it covers the rounding of unit factors, not of nameplates.
constexpr double same_within = 1e-9;

bool same(double a, double b)
{
    return std::abs(a - b) <= same_within * std::max(std::abs(a), std::abs(b));
}

double share_of(double a, double b)
{
    return a == 0.0 ? std::numeric_limits<double>::quiet_NaN() : (b - a) / a;
}

class Comparison {
public:
    Comparison(Profile const& a, Profile const& b)
        : m_a(a), m_b(b), m_derived_a(derive(a)), m_derived_b(derive(b))
    {
    }

    std::vector<ProfileDifference> run()
    {
        compare_derived();
        for (auto const& field : profile_fields())
            compare_field(field);
        // What the gas weighs comes first: it is what all the pressures are about.
        auto const rank = [](ProfileDifference const& d) {
            return std::pair(d.kind, !d.path.ends_with("_density"));
        };
        std::stable_sort(m_out.begin(), m_out.end(),
                         [&](auto const& x, auto const& y) { return rank(x) < rank(y); });
        return std::move(m_out);
    }

private:
    static std::string shown(DerivedValue const* value)
    {
        if (!value)
            return {};
        Unit const* unit = find_unit(value->unit, value->dimension);
        bool const named = unit && unit->name != "1";
        return show_number(value->shown(), 5) + (named ? " " + std::string(unit->label()) : std::string());
    }

    static bool is_pressure(DerivedValue const& value) { return value.dimension == Dimension::pressure; }

    /// Densities, currents and times: what the written values come down to.
    void compare_derived()
    {
        for (auto const& value : m_derived_a.values) {
            if (is_pressure(value)) // the value as written is compared in their place
                continue;
            auto const* other = m_derived_b.find(value.path);
            if (!other || !same(value.si, other->si))
                add_physical(value.path, value.label, shown(&value), shown(other), value.dimension, value.si,
                             other ? std::optional(other->si) : std::nullopt);
        }
        for (auto const& value : m_derived_b.values)
            if (!is_pressure(value) && !m_derived_a.find(value.path))
                m_out.push_back({Kind::physical,
                                 value.path,
                                 value.label,
                                 {},
                                 shown(&value),
                                 std::numeric_limits<double>::quiet_NaN()});
    }

    /// A share of a temperature says nothing: kelvins do.
    void add_physical(std::string path, std::string label, std::string a, std::string b, Dimension dimension,
                      std::optional<double> a_si, std::optional<double> b_si)
    {
        ProfileDifference d{Kind::physical, std::move(path), std::move(label),
                            std::move(a),   std::move(b),    std::numeric_limits<double>::quiet_NaN(),
                            std::nullopt};
        if (a_si && b_si && dimension == Dimension::temperature)
            d.step_k = *b_si - *a_si;
        else if (a_si && b_si)
            d.share = share_of(*a_si, *b_si);
        m_out.push_back(std::move(d));
    }

    void add(Kind kind, ProfileField const& field, double share = 0.0)
    {
        m_out.push_back({kind, std::string(field.path), std::string(field.label), m_a.text(field.path),
                         m_b.text(field.path), share});
    }

    /// The quantity in SI, a pressure as absolute at 20 degC.
    [[nodiscard]] static Result<double> quantity(Profile const& profile, ProfileField const& field)
    {
        if (field.dimension == Dimension::pressure)
            return nameplate_pressure_pa(profile, field.path);
        auto const amount = profile.amount(field.path);
        if (!amount)
            return tl::unexpected(amount.error());
        return amount->si;
    }

    void compare_amount(ProfileField const& field)
    {
        auto const a = quantity(m_a, field), b = quantity(m_b, field);
        if (a && b && same(*a, *b))
            add(Kind::written, field);
        else
            add_physical(std::string(field.path), std::string(field.label), m_a.text(field.path),
                         m_b.text(field.path), field.dimension, a ? std::optional(*a) : std::nullopt,
                         b ? std::optional(*b) : std::nullopt);
    }

    void compare_backing(ProfileField const& field, ProfileValue const& a, ProfileValue const& b)
    {
        auto const said = [](ProfileValue const& v) {
            return fmt::format("{} ({})", v.source, v.confirmed ? "confirmed" : "unconfirmed");
        };
        if (a.source != b.source || a.confirmed != b.confirmed)
            m_out.push_back(
                {Kind::backing, std::string(field.path), std::string(field.label), said(a), said(b), 0.0});
    }

    void compare_field(ProfileField const& field)
    {
        auto const *a = m_a.find(field.path), *b = m_b.find(field.path);
        if (!a && !b)
            return;
        if (!a || !b || a->value != b->value) {
            if (field.kind == FieldKind::amount)
                compare_amount(field);
            else
                add(Kind::choice, field);
        }
        if (a && b)
            compare_backing(field, *a, *b);
    }

    Profile const &m_a, &m_b;
    DerivedProfile m_derived_a, m_derived_b;
    std::vector<ProfileDifference> m_out;
};

} // namespace

std::string ProfileDifference::amount() const
{
    if (kind != Kind::physical)
        return {};
    if (step_k)
        return fmt::format("{:+.1f} K", *step_k);
    return std::isfinite(share) ? fmt::format("{:+.2f} %", 100.0 * share) : std::string();
}

char const* kind_name(ProfileDifference::Kind kind)
{
    switch (kind) {
    case Kind::physical:
        return "physical";
    case Kind::choice:
        return "choice";
    case Kind::written:
        return "written";
    case Kind::backing:
        return "backing";
    }
    return "physical";
}

std::vector<ProfileDifference> compare(Profile const& a, Profile const& b)
{
    return Comparison(a, b).run();
}

} // namespace isochore::model
