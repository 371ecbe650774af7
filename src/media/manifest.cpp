#include "media/manifest.h"
#include "files/profile_text.h"
#include "media/set_names.h"
#include "json/hex.h"
#include "json/read.h"
#include <fmt/format.h>
#include <set>

namespace isochore::media {
namespace {

using Code = Error::Code;
constexpr std::string_view manifest_format = "isochore.stick/1";

/// The signed part: everything but the signature, in canonical form. The format member keeps a signature
/// made for a stick from being taken for any other purpose.
Result<std::string> signed_part(Manifest const& manifest)
{
    Json document = Json::object();
    document["format"] = manifest_format;
    document["set"] = manifest.set;
    document["made_at"] = manifest.made_at;
    document["key"] = manifest.key;
    auto& list = document["files"] = Json::array();
    for (auto const& file : manifest.files)
        list.push_back(Json{{"name", file.name}, {"bytes", file.bytes}, {"sha256", file.sha256}});
    return canonical_json(document);
}

/// Reads one manifest; every function returns the first refusal.
class Reader {
public:
    Reader(std::string_view name) : m_name(name) {}

    [[nodiscard]] tl::unexpected<Error> refuse(Code code, std::string_view place, std::string detail) const
    {
        return fail(code, place.empty() ? m_name : fmt::format("{}: {}", m_name, place), std::move(detail));
    }

    [[nodiscard]] Result<std::string> text(Json const& object, std::string_view place, char const* key) const
    {
        auto const it = object.find(key);
        std::string const where = place.empty() ? key : fmt::format("{}.{}", place, key);
        if (it == object.end() || !it->is_string())
            return refuse(Code::corrupt, where, fmt::format("\"{}\" must be a text", key));
        auto const& value = it->get_ref<std::string const&>();
        if (value.size() > 200)
            return refuse(Code::corrupt, where, fmt::format("\"{}\" is too long", key));
        return value;
    }

    [[nodiscard]] Result<ManifestFile> file(Json const& item, std::string const& place) const
    {
        if (!item.is_object() || item.size() != 3)
            return refuse(Code::corrupt, place, "a file entry holds exactly name, bytes and sha256");
        auto const name = text(item, place, "name"), hash = text(item, place, "sha256");
        if (!name)
            return tl::unexpected(name.error());
        if (!hash)
            return tl::unexpected(hash.error());
        if (!is_safe_name(*name))
            return refuse(Code::denied, place + ".name",
                          fmt::format("\"{}\" is not a plain file name of 8 and 3 characters; it may point "
                                      "outside the set",
                                      files::printable(*name)));
        if (*name == manifest_name)
            return refuse(Code::denied, place + ".name", "a manifest cannot list itself");
        if (!is_hex(*hash, 64))
            return refuse(Code::corrupt, place + ".sha256", "the hash is not 64 lower-case hex digits");
        auto const bytes = item.find("bytes");
        if (bytes == item.end() || !bytes->is_number_unsigned() || *bytes > most_file_bytes)
            return refuse(Code::out_of_range, place + ".bytes",
                          fmt::format("a file may have 0 to {} bytes", most_file_bytes));
        return ManifestFile{*name, bytes->get<std::uint64_t>(), *hash};
    }

    [[nodiscard]] Result<std::vector<ManifestFile>> files_of(Json const& document) const
    {
        auto const list = document.find("files");
        if (list == document.end() || !list->is_array())
            return refuse(Code::corrupt, "files", "\"files\" must be a list");
        if (list->size() > most_files)
            return refuse(Code::out_of_range, "files",
                          fmt::format("{} files are listed; at most {} are read", list->size(), most_files));
        std::vector<ManifestFile> out;
        std::set<std::string> names;
        std::uint64_t total = 0;
        for (std::size_t i = 0; i < list->size(); ++i) {
            auto const place = fmt::format("files[{}]", i);
            auto entry = file((*list)[i], place);
            if (!entry)
                return tl::unexpected(entry.error());
            if (!names.insert(entry->name).second)
                return refuse(Code::corrupt, place, fmt::format("\"{}\" is listed twice", entry->name));
            total += entry->bytes;
            out.push_back(std::move(*entry));
        }
        if (total > most_set_bytes)
            return refuse(
                Code::out_of_range, "files",
                fmt::format("the set would have {} bytes; at most {} are read", total, most_set_bytes));
        return out;
    }

    [[nodiscard]] Result<void> format(Json const& document) const
    {
        auto const text_read = text(document, "", "format");
        if (!text_read)
            return tl::unexpected(text_read.error());
        if (*text_read == manifest_format)
            return {};
        if (text_read->starts_with("isochore.stick/"))
            return refuse(
                Code::unknown, "format",
                fmt::format("\"{}\" is another version than {}; update the program to read this stick",
                            files::printable(*text_read), manifest_format));
        return refuse(Code::unknown, "format",
                      fmt::format("this is not a stick's manifest ({})", manifest_format));
    }

    [[nodiscard]] Result<Manifest> members(Json const& document, std::string_view set) const
    {
        static std::set<std::string, std::less<>> const known = {"format", "set", "made_at",
                                                                 "files",  "key", "signature"};
        for (auto const& [key, value] : document.items())
            if (!known.contains(key))
                return refuse(
                    Code::unknown, files::printable(key),
                    "this member is not known; the manifest is refused rather than half understood");
        Manifest manifest;
        for (auto const& [key, member] : {std::pair{"set", &manifest.set},
                                          {"made_at", &manifest.made_at},
                                          {"key", &manifest.key},
                                          {"signature", &manifest.signature}}) {
            auto value = text(document, "", key);
            if (!value)
                return tl::unexpected(value.error());
            *member = std::move(*value);
        }
        if (manifest.set != set)
            return refuse(Code::denied, "set",
                          fmt::format("the manifest belongs to \"{}\", not to {}: it was copied",
                                      files::printable(manifest.set), set));
        if (!is_utc_time(manifest.made_at))
            return refuse(Code::corrupt, "made_at", "the time is not written as 2025-03-31T14:05:06Z");
        if (!is_hex(manifest.key, 64) || !is_hex(manifest.signature, 128))
            return refuse(Code::denied, "signature", "the manifest is not signed");
        auto list = files_of(document);
        if (!list)
            return tl::unexpected(list.error());
        manifest.files = std::move(*list);
        return manifest;
    }

private:
    std::string m_name;
};

} // namespace

bool is_utc_time(std::string_view text)
{
    static constexpr std::string_view shape = "dddd-dd-ddTdd:dd:ddZ";
    if (text.size() != shape.size() || !files::is_date(text.substr(0, 10)))
        return false;
    for (std::size_t i = 0; i < shape.size(); ++i)
        if (shape[i] == 'd' ? text[i] < '0' || text[i] > '9' : text[i] != shape[i])
            return false;
    return text.substr(11, 2) < "24" && text.substr(14, 2) < "60" && text.substr(17, 2) <= "60";
}

Result<std::string> write_manifest(Manifest const& unsigned_manifest, Signer const& signer)
{
    Manifest manifest = unsigned_manifest;
    manifest.key = signer.public_key_hex;
    auto const part = signed_part(manifest);
    if (!part)
        return tl::unexpected(part.error());
    manifest.signature = signer.sign ? signer.sign(*part) : std::string{};
    if (!is_hex(manifest.signature, 128) || !is_hex(manifest.key, 64))
        return fail(Code::denied, std::string(manifest_name),
                    "the set could not be signed; unlock the signing key and write again");
    // The signature joins the signed members; canonical order puts it last.
    std::string text = *part;
    text.pop_back();
    text += fmt::format(",\"signature\":\"{}\"}}", manifest.signature);
    // What is written must be what every reader accepts, or the old set would be replaced by a useless one.
    auto const accept_any = [](auto, auto, auto) { return true; };
    auto const again = read_manifest(text, manifest_name, manifest.set, accept_any);
    if (!again)
        return fail(Code::invalid_input, again.error().where, again.error().detail);
    return text;
}

Result<Manifest> read_manifest(std::string_view text, std::string_view name, std::string_view set,
                               Verifier const& verify)
{
    Reader const reader(name);
    auto const document = read_json(text, name, {most_manifest_bytes, 4});
    if (!document)
        return tl::unexpected(document.error());
    if (!document->is_object())
        return reader.refuse(Code::corrupt, "", "a manifest is a JSON object");
    if (auto const known = reader.format(*document); !known)
        return tl::unexpected(known.error());
    auto manifest = reader.members(*document, set);
    if (!manifest)
        return manifest;
    auto const part = signed_part(*manifest);
    if (!part)
        return tl::unexpected(part.error());
    if (!verify || !verify(manifest->key, *part, manifest->signature))
        return reader.refuse(Code::denied, "signature",
                             "the signature does not fit: the manifest was changed or forged");
    return manifest;
}

} // namespace isochore::media
