#include "files/profile_text.h"
#include "media/unit_values.h"
#include "json/read.h"
#include <fmt/format.h>

namespace isochore::media {
namespace {

using Code = Error::Code;
constexpr JsonLimits unit_limits{64u << 10, 6};
constexpr std::string_view unit_format = "isochore.unit/1";
constexpr std::string_view settings_format = "isochore.settings/1";

void refuse(files::FileReport& report, std::string_view name, std::string_view place, Code code,
            std::string detail)
{
    report.errors.push_back({code, fmt::format("{}: {}", name, place), std::move(detail)});
}

std::string text_member(Json const& document, char const* key, std::string_view name,
                        files::FileReport& report)
{
    auto const it = document.find(key);
    if (it != document.end() && it->is_string() && it->get_ref<std::string const&>().size() <= 200 &&
        !files::has_control(it->get_ref<std::string const&>()))
        return it->get<std::string>();
    refuse(report, name, key, Code::invalid_input, fmt::format("\"{}\" must be a text on one line", key));
    return {};
}

void read_value(UnitValues& unit, std::string const& path, Json const& value, std::string_view name,
                files::FileReport& report)
{
    std::string const place = "values." + files::printable(path);
    auto const* field = unit_field(path);
    if (!field) {
        refuse(report, name, place, Code::unknown, "this is not a value of a unit");
        return;
    }
    if (!value.is_string() || value.get_ref<std::string const&>().empty() ||
        value.get_ref<std::string const&>().size() > 200 ||
        files::has_control(value.get_ref<std::string const&>())) {
        refuse(report, name, place, Code::invalid_input, "the value must be a text on one line, not empty");
        return;
    }
    auto const text = value.get<std::string>();
    model::ProfileField const same{field->path, field->label,   {},   field->kind, field->dimension,
                                   false,       field->choices, false};
    if (auto const wrong = files::refuse_value(same, text, place))
        refuse(report, name, place, wrong->code, wrong->detail);
    unit.values[path] = text;
}

bool has_format(Json const& document, std::string_view format)
{
    auto const it = document.find("format");
    return document.is_object() && it != document.end() && *it == format;
}

} // namespace

UnitValues read_unit_values(std::string_view text, std::string_view name, files::FileReport& report)
{
    UnitValues unit;
    auto const document = read_json(text, name, unit_limits);
    if (!document) {
        report.errors.push_back(document.error());
        return unit;
    }
    if (!has_format(*document, unit_format)) {
        refuse(report, name, "format", Code::unknown,
               fmt::format("these are not the values of a unit ({})", unit_format));
        return unit;
    }
    for (auto const& [key, value] : document->items())
        if (key != "format" && key != "job" && key != "profile" && key != "revision" && key != "values")
            refuse(report, name, files::printable(key), Code::unknown, "this member is not known");
    unit.job = text_member(*document, "job", name, report);
    unit.profile_id = text_member(*document, "profile", name, report);
    auto const revision = document->find("revision");
    if (revision != document->end() && revision->is_number_unsigned() && *revision >= 1 &&
        *revision <= 1'000'000)
        unit.profile_revision = revision->get<int>();
    else
        refuse(report, name, "revision", Code::invalid_input,
               "\"revision\" must be a whole number from 1 up");
    auto const values = document->find("values");
    if (values == document->end() || !values->is_object()) {
        refuse(report, name, "values", Code::missing_input, "\"values\" must be an object");
        return unit;
    }
    for (auto const& [path, value] : values->items())
        read_value(unit, path, value, name, report);
    return unit;
}

std::string write_unit_values(UnitValues const& unit)
{
    Json document = {{"format", unit_format},
                     {"job", unit.job},
                     {"profile", unit.profile_id},
                     {"revision", unit.profile_revision},
                     {"values", Json::object()}};
    for (auto const& field : unit_fields())
        if (auto const it = unit.values.find(field.path); it != unit.values.end())
            document["values"][it->first] = it->second;
    return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string write_settings(model::Profile const& profile, UnitValues const& unit,
                           UnitSettings const& settings)
{
    Json document = {{"format", settings_format},
                     {"job", unit.job},
                     {"profile", profile.id},
                     {"revision", profile.revision},
                     {"settings", Json::object()}};
    for (auto const& setting : settings.settings)
        document["settings"][setting.path] = setting.value;
    return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

Result<std::map<std::string, std::string, std::less<>>> read_settings(std::string_view text,
                                                                      std::string_view name)
{
    auto const document = read_json(text, name, unit_limits);
    if (!document)
        return tl::unexpected(document.error());
    if (!has_format(*document, settings_format))
        return fail(Code::unknown, std::string(name),
                    fmt::format("this is not a file of settings ({})", settings_format));
    auto const settings = document->find("settings");
    if (settings == document->end() || !settings->is_object())
        return fail(Code::corrupt, std::string(name), "\"settings\" must be an object");
    std::map<std::string, std::string, std::less<>> out;
    for (auto const& [path, value] : settings->items()) {
        if (!value.is_string())
            return fail(Code::corrupt, fmt::format("{}: settings.{}", name, files::printable(path)),
                        "a setting must be a text");
        out[path] = value.get<std::string>();
    }
    return out;
}

} // namespace isochore::media
