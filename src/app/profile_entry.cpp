#include "app/profile_entry.h"
#include "files/profile_text.h"
#include "model/profile_derived.h"
#include <algorithm>
#include <cmath>

namespace isochore::app {
namespace {

using FieldKind = model::ProfileField::Kind;
using D = Dimension;

/// "0.62" and "MPa abs" of "0.62 MPa abs".
std::pair<std::string, std::string> number_and_unit(std::string const& written)
{
    auto const space = written.find(' ');
    if (space == std::string::npos)
        return {written, {}};
    return {written.substr(0, space), written.substr(space + 1)};
}

} // namespace

std::vector<std::string> units_for(model::ProfileField const& field)
{
    switch (field.dimension) {
    case D::pressure:
        return {"MPa abs", "MPa g", "bar abs", "bar g", "kPa abs", "kPa g", "psi abs", "psi g"};
    case D::temperature:
        return {"degC", "degF", "K"};
    case D::voltage:
        return field.path == "rating.voltage" ? std::vector<std::string>{"kV", "V"}
                                              : std::vector<std::string>{"V", "kV"};
    case D::current:
        return field.path == "rating.breaking_current" ? std::vector<std::string>{"kA", "A"}
                                                       : std::vector<std::string>{"A", "kA"};
    case D::cycles:
        return {"cycles"};
    case D::frequency:
        return {"Hz"};
    case D::mass:
        return {"kg", "g", "lb"};
    case D::fraction_rate:
        return {"%/yr"};
    case D::fraction:
        return {"% vol", "%", "ppmv"};
    case D::time:
        return {"ms", "s"};
    case D::resistance:
        return {"ohm", "kohm"};
    case D::density:
        return {"kg/m3", "g/l", "lb/ft3"};
    case D::length:
        return {"mm", "cm", "in"};
    default:
        return {};
    }
}

std::string value_echo(model::Profile const& profile, model::ProfileField const& field)
{
    auto const derived = model::derive(profile);
    std::string const path(field.path);
    if (auto const* density = derived.find(path + "_density"))
        return show_number(density->shown(), 4) + " kg/m³, 20 °C";
    if (path == "rating.interrupting_cycles" || path.ends_with("_spread"))
        if (auto const* time =
                derived.find(path.starts_with("rating") ? "timing.interrupting_time" : path + "_time"))
            return show_number(time->shown(), 4) + " ms";
    return {};
}

EntryRequest value_request(Desk& desk, model::ProfileField const& field, model::Profile const& profile)
{
    std::string const written = profile.text(field.path);
    EntryRequest r;
    r.label = desk.words(field.label);
    r.context = desk.words("As written on the nameplate");
    r.text = field.kind == FieldKind::text || field.kind == FieldKind::flag;
    if (r.text) {
        r.typed = written;
    } else if (field.kind == FieldKind::amount) {
        r.units = units_for(field);
        auto const [number, unit] = number_and_unit(written);
        r.typed = number;
        if (std::find(r.units.begin(), r.units.end(), unit) != r.units.end())
            r.unit = unit;
        else if (!unit.empty()) {
            r.unit = unit; // a unit that is not offered stays as it was written
            r.units.push_back(unit);
        }
    } else {
        r.typed = written;
    }
    r.judge = [&field, species = profile.text("gas.species", "SF6"),
               frequency = profile.text("rating.frequency")](std::string const& whole) {
        EntryJudgement judgement;
        if (auto const wrong = files::refuse_value(field, whole, field.path)) {
            judgement.problem = wrong->detail;
            return judgement;
        }
        model::Profile alone; // what this value comes down to by itself
        alone.values["gas.species"].value = species;
        alone.values["rating.frequency"].value = frequency;
        alone.values[std::string(field.path)].value = whole;
        judgement.echo = value_echo(alone, field);
        return judgement;
    };
    return r;
}

} // namespace isochore::app
