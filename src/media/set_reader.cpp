#include "files/profile_text.h"
#include "media/manifest.h"
#include "media/set_names.h"
#include "media/stick_folder.h"
#include "media/stick_set.h"
#include "json/read.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::media {
namespace {

using Code = Error::Code;

/// What reading one set gave, as far as it came.
struct Attempt {
    Manifest manifest;
    std::vector<SetFile> files;
    std::vector<std::string> notes;
    std::optional<Error> error;
    SetSummary::State state = SetSummary::State::refused;
};

Error named(Error error, std::string const& place)
{
    if (error.where.empty())
        error.where = place;
    return error;
}

Error unknown_key(std::string const& place, std::string const& key)
{
    return Error{Code::denied, place,
                 fmt::format("signed with a key that is not trusted, fingerprint {}; compare it with the "
                             "engineer, then trust the key or leave the stick",
                             key_fingerprint(key))};
}

/// The item of that name; FAT may give names back in another case.
disk::Disk::Item const* find_item(std::vector<disk::Disk::Item> const& items, std::string_view name)
{
    auto const it = std::find_if(items.begin(), items.end(),
                                 [&](auto const& item) { return upper_case(item.name) == name; });
    return it == items.end() ? nullptr : &*it;
}

Result<SetFile> read_listed(disk::Disk& disk, Path const& folder, std::vector<disk::Disk::Item> const& items,
                            ManifestFile const& listed)
{
    std::string const place = (folder / listed.name).string();
    auto const* item = find_item(items, listed.name);
    if (!item)
        return fail(Code::corrupt, place, fmt::format("{} is listed but is not there", listed.name));
    if (!item->regular)
        return fail(Code::denied, place, fmt::format("{} is a link or a folder, not a file", listed.name));
    if (item->size != listed.bytes)
        return fail(Code::corrupt, place,
                    fmt::format("{} has {} bytes, {} are listed", listed.name, item->size, listed.bytes));
    auto bytes = disk.read(folder / item->name, listed.bytes);
    if (!bytes)
        return tl::unexpected(named(bytes.error(), place));
    if (bytes->size() != listed.bytes || sha256_hex(*bytes) != listed.sha256)
        return fail(Code::corrupt, place,
                    fmt::format("{} is not what was signed: its hash differs", listed.name));
    return SetFile{listed.name, std::move(*bytes)};
}

void note_unlisted(std::vector<disk::Disk::Item> const& items, Attempt& attempt)
{
    for (auto const& item : items) {
        auto const name = upper_case(item.name);
        bool const listed =
            name == manifest_name || std::any_of(attempt.manifest.files.begin(), attempt.manifest.files.end(),
                                                 [&](ManifestFile const& f) { return f.name == name; });
        if (!listed)
            attempt.notes.push_back(fmt::format("\"{}\" is not listed in the manifest and was ignored",
                                                files::printable(item.name)));
    }
}

void read_files(disk::Disk& disk, Path const& folder, std::vector<disk::Disk::Item> const& items,
                Attempt& attempt)
{
    for (auto const& listed : attempt.manifest.files) {
        auto file = read_listed(disk, folder, items, listed);
        if (!file) {
            attempt.error = file.error();
            attempt.files.clear();
            return;
        }
        attempt.files.push_back(std::move(*file));
    }
    note_unlisted(items, attempt);
}

/// A write that was interrupted leaves a beginning, or zeros where the rest should be; what closes all it
/// opened was written to the end, whatever else is wrong with it.
bool closes_what_it_opens(std::string_view text)
{
    int open = 0;
    bool in_text = false, closed = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        char const c = text[i];
        if (c == '\0')
            return false;
        if (in_text && c == '\\')
            ++i;
        else if (c == '"')
            in_text = !in_text;
        else if (!in_text && (c == '{' || c == '['))
            ++open;
        else if (!in_text && (c == '}' || c == ']'))
            closed = --open == 0;
    }
    return closed && open == 0 && !in_text;
}

/// Reads a set up to the first thing that is wrong with it. An untrusted one is still read whole, so that
/// the person asked about the key is told whether the rest holds together.
Attempt read_set(disk::Disk& disk, StickFolder const& folder, FoundSet const& found, Trust const& trust)
{
    Attempt attempt;
    Path const path = folder.path / found.name;
    std::string const place = (path / manifest_name).string();
    auto const items = disk.list(path);
    if (!items) {
        attempt.error = named(items.error(), path.string());
        return attempt;
    }
    auto const* item = find_item(*items, manifest_name);
    if (!item) {
        attempt.state = SetSummary::State::unfinished;
        attempt.error = Error{Code::corrupt, place, "the set has no manifest: writing it was interrupted"};
        return attempt;
    }
    if (!item->regular) {
        attempt.error = Error{Code::denied, place, "the manifest is a link or a folder, not a file"};
        return attempt;
    }
    auto const text = disk.read(path / item->name, most_manifest_bytes);
    if (!text) {
        attempt.error = named(text.error(), place);
        return attempt;
    }
    if (!closes_what_it_opens(*text) && !read_json(*text, place)) {
        // What a pulled stick leaves. Someone hiding a newer set could as well delete its manifest, so that
        // calling this forged would warn of nothing; TrustedKey::newest_seen is what finds a hidden set.
        attempt.state = SetSummary::State::unfinished;
        attempt.error = Error{Code::corrupt, place,
                              "the manifest is not whole: writing was interrupted, or the stick is failing"};
        return attempt;
    }
    auto manifest = read_manifest(*text, place, set_name(found.number), trust.verify);
    if (!manifest) {
        attempt.error = manifest.error();
        return attempt;
    }
    attempt.manifest = std::move(*manifest);
    read_files(disk, path, *items, attempt);
    if (attempt.error)
        return attempt;
    if (trust.find(attempt.manifest.key)) {
        attempt.state = SetSummary::State::valid;
    } else {
        attempt.state = SetSummary::State::untrusted;
        attempt.error = unknown_key(place, attempt.manifest.key);
    }
    return attempt;
}

VerifiedSet verified(Attempt attempt, Trust const& trust)
{
    VerifiedSet set;
    set.set = attempt.manifest.set;
    set.made_at = attempt.manifest.made_at;
    set.key = attempt.manifest.key;
    set.files = std::move(attempt.files);
    set.notes = std::move(attempt.notes);
    auto const* key = trust.find(set.key);
    set.signed_by = key->name;
    // Times are UTC in one fixed form, so that text order is time order.
    if (key->newest_seen > set.made_at) {
        set.stale = true;
        set.notes.push_back(fmt::format("{} has signed a newer set, of {}; this one is of {}", key->name,
                                        key->newest_seen, set.made_at));
    }
    return set;
}

SetSummary summary(Attempt const& attempt, FoundSet const& found, Trust const& trust)
{
    SetSummary s;
    s.set = set_name(found.number);
    s.made_at = attempt.manifest.made_at;
    s.key = attempt.manifest.key;
    if (auto const* key = trust.find(s.key)) {
        s.signed_by = key->name;
        s.stale = !attempt.error && key->newest_seen > s.made_at;
        if (s.stale)
            s.seen = key->newest_seen;
    }
    s.files = attempt.manifest.files.size();
    for (auto const& file : attempt.manifest.files)
        s.bytes += file.bytes;
    if (attempt.error)
        s.why = attempt.error->detail;
    s.state = attempt.state;
    return s;
}

} // namespace

SetFile const* VerifiedSet::find(std::string_view name) const
{
    auto const it =
        std::find_if(files.begin(), files.end(), [&](SetFile const& f) { return f.name == name; });
    return it == files.end() ? nullptr : &*it;
}

void remember_set(std::vector<TrustedKey>& keys, VerifiedSet const& set)
{
    for (auto& key : keys)
        if (key.key == set.key && key.newest_seen < set.made_at)
            key.newest_seen = set.made_at;
}

char const* state_name(SetSummary::State state)
{
    switch (state) {
    case SetSummary::State::valid:
        return "valid";
    case SetSummary::State::untrusted:
        return "untrusted";
    case SetSummary::State::unfinished:
        return "unfinished";
    case SetSummary::State::refused:
        return "refused";
    }
    return "refused";
}

Result<VerifiedSet> newest_valid_set(disk::Disk& disk, Path const& target, Trust const& trust)
{
    auto const folder = find_stick_folder(disk, target);
    if (!folder)
        return tl::unexpected(folder.error());
    std::vector<RefusedSet> refused;
    for (auto const& found : folder->sets) {
        Attempt attempt = read_set(disk, *folder, found, trust);
        if (attempt.error) {
            refused.push_back({set_name(found.number), std::move(*attempt.error),
                               attempt.state == SetSummary::State::unfinished});
            continue;
        }
        auto set = verified(std::move(attempt), trust);
        set.stale = set.stale || std::any_of(refused.begin(), refused.end(),
                                             [](RefusedSet const& r) { return !r.unfinished; });
        set.refused = std::move(refused);
        return set;
    }
    auto const worst =
        std::find_if(refused.begin(), refused.end(), [](RefusedSet const& r) { return !r.unfinished; });
    if (worst != refused.end())
        return tl::unexpected(worst->error);
    return fail(Code::not_found, target.string(), "the stick holds no finished set");
}

Result<VerifiedSet> verify_set(disk::Disk& disk, Path const& target, std::string_view set, Trust const& trust)
{
    auto const folder = find_stick_folder(disk, target);
    if (!folder)
        return tl::unexpected(folder.error());
    for (auto const& found : folder->sets)
        if (set_name(found.number) == set) {
            Attempt attempt = read_set(disk, *folder, found, trust);
            if (attempt.error)
                return tl::unexpected(*attempt.error);
            return verified(std::move(attempt), trust);
        }
    std::vector<std::string> there;
    for (auto const& found : folder->sets)
        there.push_back(set_name(found.number));
    constexpr std::size_t most = 3; // as many as a writer leaves
    there.resize(std::min(there.size(), most));
    return fail(Code::not_found, target.string(),
                there.empty() ? fmt::format("there is no set \"{}\"", files::printable(set))
                              : fmt::format("there is no set \"{}\"; it holds {}", files::printable(set),
                                            fmt::join(there, ", ")));
}

Result<std::vector<SetSummary>> list_sets(disk::Disk& disk, Path const& target, Trust const& trust)
{
    auto const folder = find_stick_folder(disk, target);
    if (!folder)
        return tl::unexpected(folder.error());
    std::vector<SetSummary> list;
    for (auto const& found : folder->sets)
        list.push_back(summary(read_set(disk, *folder, found, trust), found, trust));
    // That a set is older than the next one beside it is plain; stale is what hides a newer one.
    for (auto& old : list)
        for (auto const& s : list)
            if (old.stale && s.state == SetSummary::State::valid && s.key == old.key && s.made_at >= old.seen)
                old.stale = false;
    return list;
}

} // namespace isochore::media
