#include "files/nameplate_help.h"
#include "files/profile_text.h"
#include "json/read.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::files {
namespace {

using Code = Error::Code;
using Kind = model::ProfileField::Kind;
constexpr std::string_view help_format = "isochore.nameplate/1";

class Reader {
public:
    Reader(std::string_view name, FileReport& report) : m_name(name), m_report(report) {}

    NameplateHelp run(Json const& document)
    {
        NameplateHelp help;
        each(document, "suggestions", [&](Json const& item, std::string const& place) {
            only(item, place, {"path", "values", "source"});
            help.suggestions.push_back(suggestion(item, place));
        });
        each(document, "completions", [&](Json const& item, std::string const& place) {
            only(item, place, {"path", "value", "share", "of", "when", "source"});
            help.completions.push_back(completion(item, place));
        });
        return help;
    }

    void refuse(Code code, std::string const& place, std::string detail)
    {
        m_report.errors.push_back({code, fmt::format("{}: {}", m_name, place), std::move(detail)});
    }

private:
    template <class Take> void each(Json const& document, char const* key, Take take)
    {
        auto const list = document.find(key);
        if (list == document.end() || !list->is_array()) {
            refuse(Code::missing_input, key, fmt::format("\"{}\" must be a list", key));
            return;
        }
        for (std::size_t i = 0; i < list->size(); ++i)
            if ((*list)[i].is_object())
                take((*list)[i], fmt::format("{}[{}]", key, i));
            else
                refuse(Code::invalid_input, fmt::format("{}[{}]", key, i), "an object is needed here");
    }

    void only(Json const& item, std::string const& place, std::initializer_list<std::string_view> names)
    {
        for (auto const& [key, value] : item.items())
            if (std::find(names.begin(), names.end(), key) == names.end())
                refuse(Code::unknown, place + "." + printable(key), "this member is not known");
    }

    std::string text(Json const& item, std::string const& place, char const* key)
    {
        auto const it = item.find(key);
        if (it != item.end() && it->is_string() && !it->get_ref<std::string const&>().empty())
            return it->get<std::string>();
        refuse(Code::missing_input, place + "." + key, fmt::format("\"{}\" must be a text, not empty", key));
        return {};
    }

    model::ProfileField const* field(std::string const& path, std::string const& place)
    {
        auto const* found = model::profile_field(path);
        if (!found && !path.empty())
            refuse(Code::unknown, place, fmt::format("\"{}\" is not a value of a profile", printable(path)));
        return found;
    }

    void check(model::ProfileField const* field, std::string const& value, std::string const& place)
    {
        if (!field || value.empty())
            return;
        if (auto const wrong = refuse_value(*field, value, place))
            refuse(wrong->code, place, wrong->detail);
    }

    NameplateHelp::Suggestion suggestion(Json const& item, std::string const& place)
    {
        NameplateHelp::Suggestion out{text(item, place, "path"), {}, text(item, place, "source")};
        auto const* of = field(out.path, place + ".path");
        auto const values = item.find("values");
        if (values == item.end() || !values->is_array() || values->empty()) {
            refuse(Code::missing_input, place + ".values", "\"values\" must be a list of texts");
            return out;
        }
        for (auto const& value : *values) {
            auto const shown = value.is_string() ? value.get<std::string>() : std::string{};
            if (shown.empty())
                refuse(Code::invalid_input, place + ".values", "each value must be a text, not empty");
            check(of, shown, place + ".values");
            out.values.push_back(shown);
        }
        return out;
    }

    NameplateHelp::Completion completion(Json const& item, std::string const& place)
    {
        NameplateHelp::Completion out;
        out.path = text(item, place, "path");
        out.source = text(item, place, "source");
        auto const* of = field(out.path, place + ".path");
        if (auto const share = item.find("share"); share != item.end()) {
            out.of = text(item, place, "of");
            (void)field(out.of, place + ".of");
            if (!of || of->kind != Kind::amount || !share->is_number() || share->get<double>() <= 0.0)
                refuse(Code::invalid_input, place + ".share", "a share is a number above 0, of an amount");
            else
                out.share = share->get<double>();
        } else {
            out.value = text(item, place, "value");
            check(of, out.value, place + ".value");
        }
        if (auto const when = item.find("when"); when != item.end()) {
            out.when_path = text(*when, place + ".when", "path");
            out.when_value = text(*when, place + ".when", "value");
            check(field(out.when_path, place + ".when.path"), out.when_value, place + ".when.value");
        }
        return out;
    }

    std::string m_name;
    FileReport& m_report;
};

bool applies(model::Profile const& profile, NameplateHelp::Completion const& rule)
{
    if (rule.when_path.empty())
        return true;
    auto const* field = model::profile_field(rule.when_path);
    auto const have = profile.text(rule.when_path);
    if (!field || field->kind != Kind::amount)
        return have == rule.when_value;
    auto const a = parse_amount(have, field->dimension, rule.when_path);
    auto const b = parse_amount(rule.when_value, field->dimension, rule.when_path);
    return a && b && a->si == b->si && a->reference == b->reference;
}

/// The value a rule gives; nothing where what it is a share of is not there.
std::optional<std::string> value_of(model::Profile const& profile, NameplateHelp::Completion const& rule)
{
    if (!rule.share)
        return rule.value;
    auto const whole = profile.amount(rule.of);
    if (!whole || !whole->unit)
        return std::nullopt;
    return fmt::format("{:.6g} {}", *rule.share * whole->value, whole->unit->name);
}

} // namespace

NameplateHelp::Suggestion const* NameplateHelp::find(std::string_view path) const
{
    auto const it =
        std::find_if(suggestions.begin(), suggestions.end(), [&](auto const& s) { return s.path == path; });
    return it == suggestions.end() ? nullptr : &*it;
}

NameplateHelp read_nameplate_help(std::string_view text, std::string_view name, FileReport& report)
{
    auto const document = read_json(text, name, {256u << 10, 6});
    if (!document) {
        report.errors.push_back(document.error());
        return {};
    }
    Reader reader(name, report);
    if (!document->is_object() || !document->contains("format") || (*document)["format"] != help_format) {
        reader.refuse(Code::unknown, "format",
                      fmt::format("this is not help with nameplates ({})", help_format));
        return {};
    }
    return reader.run(*document);
}

model::Profile complete_profile(model::Profile profile, NameplateHelp const& help)
{
    for (auto const& rule : help.completions)
        if (!profile.find(rule.path) && applies(profile, rule))
            if (auto value = value_of(profile, rule))
                profile.values[rule.path] = {std::move(*value), rule.source, false};
    return profile;
}

} // namespace isochore::files
