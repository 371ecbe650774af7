#include "files/profile_file.h"
#include "files/profile_text.h"
#include "json/value.h"
#include <algorithm>
#include <fmt/format.h>
#include <map>

namespace isochore::files {
namespace {

/// A JSON string; bytes that are not UTF-8 are replaced, never thrown over.
std::string json_text(std::string_view text)
{
    return Json(std::string(text)).dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string value_line(model::ProfileValue const& v)
{
    return fmt::format("{{ \"value\": {}, \"source\": {}, \"confidence\": \"{}\" }}", json_text(v.value),
                       json_text(v.source), v.confirmed ? "confirmed" : "unconfirmed");
}

/// The values in the order of the field table, one heading after the other, one value a line.
std::string value_lines(model::Profile const& profile)
{
    std::vector<std::pair<std::string, std::vector<std::string>>> groups;
    for (auto const& field : model::profile_fields()) {
        auto const* value = profile.find(field.path);
        if (!value)
            continue;
        auto const dot = field.path.find('.');
        std::string const group(field.path.substr(0, dot));
        auto it = std::find_if(groups.begin(), groups.end(), [&](auto const& g) { return g.first == group; });
        if (it == groups.end())
            it = groups.insert(groups.end(), {group, {}});
        it->second.push_back(
            fmt::format("      {}: {}", json_text(field.path.substr(dot + 1)), value_line(*value)));
    }
    std::string out;
    for (auto const& [group, lines] : groups) {
        out += fmt::format("{}    {}: {{\n", out.empty() ? "" : ",\n", json_text(group));
        for (std::size_t i = 0; i < lines.size(); ++i)
            out += lines[i] + (i + 1 < lines.size() ? ",\n" : "\n");
        out += "    }";
    }
    return out;
}

std::string signoff_line(model::Signoff const& s)
{
    std::string line = fmt::format("    {{ \"status\": {}, \"person\": {}, \"date\": {}", json_text(s.status),
                                   json_text(s.person), json_text(s.date));
    if (!s.key.empty())
        line += fmt::format(", \"key\": {}, \"signature\": {}", json_text(s.key), json_text(s.signature));
    return line + " }";
}

std::string signoff_lines(model::Profile const& profile)
{
    if (profile.signoffs.empty())
        return {};
    std::string out = "  \"signoffs\": [\n";
    for (std::size_t i = 0; i < profile.signoffs.size(); ++i)
        out += signoff_line(profile.signoffs[i]) + (i + 1 < profile.signoffs.size() ? ",\n" : "\n");
    return out + "  ],\n";
}

} // namespace

std::string write_profile(model::Profile const& p)
{
    return fmt::format("{{\n"
                       "  \"format\": \"{}\",\n"
                       "  \"id\": {},\n"
                       "  \"revision\": {},\n"
                       "  \"parent\": {},\n"
                       "  \"title\": {},\n"
                       "  \"author\": {},\n"
                       "  \"date\": {},\n"
                       "  \"status\": {},\n"
                       "  \"invented\": {},\n"
                       "{}"
                       "  \"values\": {{\n"
                       "{}\n"
                       "  }}\n"
                       "}}\n",
                       profile_format, json_text(p.id), p.revision, p.parent, json_text(p.title),
                       json_text(p.author), json_text(p.date), json_text(p.status), p.invented,
                       signoff_lines(p), value_lines(p));
}

} // namespace isochore::files
