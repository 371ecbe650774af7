#include "files/profile_schema.h"
#include "files/profile_text.h"
#include "json/value.h"
#include <fmt/format.h>

namespace isochore::files {
namespace {

using Kind = model::ProfileField::Kind;

Json text_of(std::size_t most)
{
    return {{"type", "string"}, {"maxLength", most}};
}

/// A pattern holds what a pattern can: a number, a space and a unit of the right dimension.
std::string amount_pattern(Dimension dimension)
{
    std::string units;
    for (auto const& unit : all_units()) {
        if (unit.dimension != dimension || unit.name == "1")
            continue;
        std::string name;
        for (char const c : unit.name)
            name += std::string_view("/%.()+*?").find(c) != std::string_view::npos ? std::string("\\") + c
                                                                                   : std::string(1, c);
        units += (units.empty() ? "" : "|") + name;
    }
    bool const plain =
        dimension == Dimension::fraction || dimension == Dimension::ratio || dimension == Dimension::count;
    std::string const number = "^[+-]?[0-9]*\\.?[0-9]+([eE][+-]?[0-9]+)?";
    if (dimension == Dimension::pressure)
        return number + " *((" + units + ") +(abs|a|gauge|g)|psig|psia|barg|bara)$";
    return number + (plain ? "( *(" + units + "))?$" : " *(" + units + ")$");
}

Json value_of(model::ProfileField const& field)
{
    Json value = text_of(200);
    value["minLength"] = 1;
    switch (field.kind) {
    case Kind::choice:
        value = Json{{"enum", field.choices}};
        break;
    case Kind::amount:
        value["pattern"] = amount_pattern(field.dimension);
        break;
    case Kind::whole:
        value["pattern"] = "^[0-9]+$";
        break;
    case Kind::flag:
        value = Json{{"enum", {"yes", "no"}}};
        break;
    case Kind::text:
        break;
    }
    Json source = text_of(400);
    if (field.limit)
        source["minLength"] = 1;
    return {
        {"type", "object"},
        {"description", field.label},
        {"properties",
         {{"value", value}, {"source", source}, {"confidence", {{"enum", {"confirmed", "unconfirmed"}}}}}},
        {"required", {"value", "source", "confidence"}},
        {"additionalProperties", false}};
}

Json values_schema()
{
    Json values = {{"type", "object"},
                   {"properties", Json::object()},
                   {"required", Json::array()},
                   {"additionalProperties", false}};
    for (auto const& field : model::profile_fields()) {
        auto const dot = field.path.find('.');
        std::string const group(field.path.substr(0, dot)), name(field.path.substr(dot + 1));
        auto& node = values["properties"][group];
        if (node.is_null())
            node = {{"type", "object"},
                    {"properties", Json::object()},
                    {"required", Json::array()},
                    {"additionalProperties", false}};
        node["properties"][name] = value_of(field);
        if (!field.required)
            continue;
        node["required"].push_back(name);
        auto& groups = values["required"];
        if (groups.empty() || groups.back() != group)
            groups.push_back(group);
    }
    return values;
}

Json signoffs_schema()
{
    Json item = {{"type", "object"},
                 {"properties",
                  {{"status", {{"enum", {"checked", "released", "withdrawn"}}}},
                   {"person", text_of(100)},
                   {"date", {{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}}},
                   {"key", {{"type", "string"}, {"pattern", "^[0-9a-f]{64}$"}}},
                   {"signature", {{"type", "string"}, {"pattern", "^[0-9a-f]{128}$"}}}}},
                 {"required", {"status", "person", "date"}},
                 {"additionalProperties", false}};
    return {{"type", "array"}, {"maxItems", 16}, {"items", item}};
}

} // namespace

std::string profile_schema()
{
    Json const date = {{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}};
    Json const schema = {
        {"$schema", "http://json-schema.org/draft-07/schema#"},
        {"title", "Breaker profile"},
        {"description", "What every breaker of one model shares. Rules between values are checked by "
                        "'isochore profile check'."},
        {"type", "object"},
        {"properties",
         {{"format", {{"const", profile_format}}},
          {"id", {{"type", "string"}, {"pattern", "^[a-z0-9][a-z0-9-]*$"}, {"maxLength", 64}}},
          {"revision", {{"type", "integer"}, {"minimum", 1}, {"maximum", 1000000}}},
          {"parent", {{"type", "integer"}, {"minimum", 0}, {"maximum", 1000000}}},
          {"title", text_of(200)},
          {"author", text_of(100)},
          {"date", date},
          {"status", {{"enum", {"draft", "checked", "released", "withdrawn"}}}},
          {"invented", {{"type", "boolean"}}},
          {"signoffs", signoffs_schema()},
          {"values", values_schema()}}},
        {"required",
         {"format", "id", "revision", "parent", "title", "author", "date", "status", "invented", "values"}},
        {"additionalProperties", false}};
    return schema.dump(2) + "\n";
}

} // namespace isochore::files
