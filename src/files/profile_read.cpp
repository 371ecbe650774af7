#include "files/profile_file.h"
#include "files/profile_text.h"
#include "json/hex.h"
#include "json/read.h"
#include <algorithm>
#include <fmt/format.h>
#include <initializer_list>

namespace isochore::files {
namespace {

using Code = Error::Code;
constexpr JsonLimits profile_limits{256u << 10, 8};

/// Walks one profile document and notes every fault with its place.
class Reader {
public:
    Reader(std::string_view name, FileReport& report) : m_name(name), m_report(report) {}

    void refuse(Code code, std::string_view place, std::string detail)
    {
        m_report.errors.push_back(
            Error{code, place.empty() ? m_name : m_name + ": " + std::string(place), std::move(detail)});
    }

    void only(Json const& object, std::string_view place, std::initializer_list<std::string_view> names)
    {
        for (auto const& [key, value] : object.items())
            if (std::find(names.begin(), names.end(), key) == names.end())
                refuse(Code::unknown, join(place, printable(key)),
                       fmt::format("\"{}\" is not a member this version knows", printable(key)));
    }

    /// A required text member of at most `most` characters without control characters.
    std::string text(Json const& object, std::string_view place, std::string_view key, std::size_t most)
    {
        auto const it = object.find(std::string(key));
        if (it == object.end()) {
            refuse(Code::missing_input, join(place, key), fmt::format("\"{}\" is missing", key));
            return {};
        }
        if (!it->is_string()) {
            refuse(Code::invalid_input, join(place, key), fmt::format("\"{}\" must be a text", key));
            return {};
        }
        auto const value = it->get<std::string>();
        if (value.size() > most)
            refuse(Code::out_of_range, join(place, key),
                   fmt::format("\"{}\" has {} bytes; at most {} are allowed", key, value.size(), most));
        else if (has_control(value))
            refuse(Code::invalid_input, join(place, key),
                   fmt::format("\"{}\" holds a control character; write it on one line", key));
        else
            return value;
        return {};
    }

    std::string optional_text(Json const& object, std::string_view place, std::string_view key,
                              std::size_t most)
    {
        return object.contains(std::string(key)) ? text(object, place, key, most) : std::string{};
    }

    int whole(Json const& object, std::string_view key, int least)
    {
        auto const it = object.find(std::string(key));
        if (it == object.end()) {
            refuse(Code::missing_input, key, fmt::format("\"{}\" is missing", key));
            return least;
        }
        if (!it->is_number_integer() || *it < least || *it > 1'000'000) {
            refuse(Code::invalid_input, key,
                   fmt::format("\"{}\" must be a whole number from {} up", key, least));
            return least;
        }
        return it->get<int>();
    }

    static std::string join(std::string_view place, std::string_view key)
    {
        return place.empty() ? std::string(key) : std::string(place) + "." + std::string(key);
    }

private:
    std::string m_name;
    FileReport& m_report;
};

void read_value(Reader& reader, Json const& leaf, std::string const& path, model::Profile& profile)
{
    std::string const place = "values." + path;
    auto const* field = model::profile_field(path);
    if (!field) {
        reader.refuse(Code::unknown, place,
                      fmt::format("\"{}\" is not a value of a profile", printable(path)));
        return;
    }
    reader.only(leaf, place, {"value", "source", "confidence"});
    model::ProfileValue value;
    value.value = reader.text(leaf, place, "value", 200);
    value.source = reader.text(leaf, place, "source", 400);
    auto const confidence = reader.text(leaf, place, "confidence", 40);
    if (confidence == "confirmed")
        value.confirmed = true;
    else if (!confidence.empty() && confidence != "unconfirmed")
        reader.refuse(Code::invalid_input, place + ".confidence",
                      fmt::format("\"{}\" is neither \"confirmed\" nor \"unconfirmed\"", confidence));
    if (value.value.empty()) {
        if (leaf["value"].is_string() && leaf["value"].get_ref<std::string const&>().empty())
            reader.refuse(Code::missing_input, place + ".value",
                          "the value is empty; leave the whole entry out where it is not known");
        return;
    }
    if (auto const wrong = refuse_value(*field, value.value, place))
        reader.refuse(wrong->code, place + ".value", wrong->detail);
    profile.values.emplace(path, std::move(value));
}

/// Nested objects down to the ones that hold "value".
void read_values(Reader& reader, Json const& node, std::string const& path, model::Profile& profile)
{
    if (!node.is_object()) {
        reader.refuse(Code::invalid_input, Reader::join("values", path), "an object is needed here");
        return;
    }
    if (node.contains("value")) {
        read_value(reader, node, path, profile);
        return;
    }
    bool const names_a_value = model::profile_field(path) != nullptr;
    if (names_a_value) {
        reader.refuse(Code::missing_input, "values." + path + ".value", "\"value\" is missing");
        return;
    }
    for (auto const& [key, child] : node.items())
        read_values(reader, child, Reader::join(path, printable(key)), profile);
}

model::Signoff read_signoff(Reader& reader, Json const& item, std::string const& place)
{
    model::Signoff signoff;
    if (!item.is_object()) {
        reader.refuse(Code::invalid_input, place, "a sign-off must be an object");
        return signoff;
    }
    reader.only(item, place, {"status", "person", "date", "key", "signature"});
    signoff.status = reader.text(item, place, "status", 40);
    signoff.person = reader.text(item, place, "person", 100);
    signoff.date = reader.text(item, place, "date", 40);
    signoff.key = reader.optional_text(item, place, "key", 64);
    signoff.signature = reader.optional_text(item, place, "signature", 128);
    if (!signoff.date.empty() && !is_date(signoff.date))
        reader.refuse(Code::invalid_input, place + ".date",
                      fmt::format("\"{}\" is not a date; write it as 2025-03-31", signoff.date));
    if (signoff.key.empty() != signoff.signature.empty())
        reader.refuse(Code::missing_input, place,
                      "a key and a signature go together; one of them is missing");
    if (!signoff.key.empty() && !is_hex(signoff.key, 64))
        reader.refuse(Code::invalid_input, place + ".key", "the key is not 64 lower-case hex digits");
    if (!signoff.signature.empty() && !is_hex(signoff.signature, 128))
        reader.refuse(Code::invalid_input, place + ".signature",
                      "the signature is not 128 lower-case hex digits");
    return signoff;
}

void read_signoffs(Reader& reader, Json const& document, model::Profile& profile)
{
    auto const it = document.find("signoffs");
    if (it == document.end())
        return;
    if (!it->is_array() || it->size() > 16) {
        reader.refuse(Code::invalid_input, "signoffs", "\"signoffs\" must be a list of at most 16");
        return;
    }
    for (std::size_t i = 0; i < it->size(); ++i)
        profile.signoffs.push_back(read_signoff(reader, (*it)[i], fmt::format("signoffs[{}]", i)));
}

void read_head(Reader& reader, Json const& document, model::Profile& profile)
{
    reader.only(document, "",
                {"format", "id", "revision", "parent", "title", "author", "date", "status", "invented",
                 "signoffs", "values"});
    profile.id = reader.text(document, "", "id", 64);
    if (!profile.id.empty() && !is_profile_id(profile.id))
        reader.refuse(Code::invalid_input, "id",
                      fmt::format("\"{}\" may hold only a-z, 0-9 and -, and begins with a letter or digit",
                                  profile.id));
    profile.revision = reader.whole(document, "revision", 1);
    profile.parent = reader.whole(document, "parent", 0);
    if (profile.parent >= profile.revision)
        reader.refuse(
            Code::out_of_range, "parent",
            fmt::format("parent {} is not older than revision {}", profile.parent, profile.revision));
    profile.title = reader.text(document, "", "title", 200);
    profile.author = reader.text(document, "", "author", 100);
    profile.date = reader.text(document, "", "date", 40);
    if (!profile.date.empty() && !is_date(profile.date))
        reader.refuse(Code::invalid_input, "date",
                      fmt::format("\"{}\" is not a date; write it as 2025-03-31", profile.date));
    profile.status = reader.text(document, "", "status", 40);
    if (!profile.status.empty() && !is_status(profile.status))
        reader.refuse(Code::invalid_input, "status",
                      fmt::format("\"{}\" is none of draft, checked, released, withdrawn", profile.status));
    auto const invented = document.find("invented");
    if (invented == document.end())
        reader.refuse(Code::missing_input, "invented", "\"invented\" is missing: say true for a demo model");
    else if (!invented->is_boolean())
        reader.refuse(Code::invalid_input, "invented", "\"invented\" must be true or false");
    else
        profile.invented = invented->get<bool>();
}

/// False where the document is not a profile this version can read at all.
bool read_format(Reader& reader, Json const& document)
{
    auto const format = reader.text(document, "", "format", 64);
    if (format == profile_format)
        return true;
    if (format.starts_with("isochore.profile/"))
        reader.refuse(Code::unknown, "format",
                      fmt::format("\"{}\" is another version than {}; update the program to read it", format,
                                  profile_format));
    else if (!format.empty())
        reader.refuse(Code::unknown, "format",
                      fmt::format("\"{}\" is not a breaker profile ({})", printable(format), profile_format));
    return false;
}

} // namespace

model::Profile read_profile(std::string_view text, std::string_view name, FileReport& report)
{
    model::Profile profile;
    Reader reader(name, report);
    auto const document = read_json(text, name, profile_limits);
    if (!document) {
        report.errors.push_back(document.error());
        return profile;
    }
    if (!document->is_object()) {
        reader.refuse(Code::invalid_input, "", "a profile is a JSON object");
        return profile;
    }
    if (!read_format(reader, *document))
        return profile;
    read_head(reader, *document, profile);
    read_signoffs(reader, *document, profile);
    auto const values = document->find("values");
    if (values == document->end())
        reader.refuse(Code::missing_input, "values", "\"values\" is missing");
    else
        read_values(reader, *values, "", profile);
    return profile;
}

} // namespace isochore::files
