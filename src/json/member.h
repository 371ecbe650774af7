#pragma once
#include "json/value.h"
#include <string>

namespace isochore {

/// Members of a value that may be anything: what is not there, or of another kind, is empty. (nlohmann's own
/// value() throws on another kind.)
[[nodiscard]] inline std::string text_member(Json const& j, char const* name)
{
    auto const it = j.is_object() ? j.find(name) : j.end();
    return it != j.end() && it->is_string() ? it->get<std::string>() : std::string();
}

[[nodiscard]] inline double number_member(Json const& j, char const* name, double otherwise = 0.0)
{
    auto const it = j.is_object() ? j.find(name) : j.end();
    return it != j.end() && it->is_number() ? it->get<double>() : otherwise;
}

[[nodiscard]] inline Json member(Json const& j, char const* name)
{
    auto const it = j.is_object() ? j.find(name) : j.end();
    return it != j.end() ? *it : Json();
}

} // namespace isochore
