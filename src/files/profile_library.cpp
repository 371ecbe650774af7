#include "files/profile_library.h"
#include "files/profile_signing.h"
#include "model/profile_lifecycle.h"
#include "json/read.h"
#include "quantity/near_names.h"
#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <optional>
#include <unordered_map>

namespace isochore::files {
namespace {

using Code = Error::Code;
constexpr std::size_t most_profile_bytes = 256u << 10;

/// The number of the save in a file's name; 0 for one that was supplied.
int save_number(std::string_view file)
{
    auto const stem = file.substr(0, file.rfind('.'));
    auto const point = stem.rfind(".s");
    int number = 0;
    if (point != std::string_view::npos) {
        auto const digits = stem.substr(point + 2);
        auto const [end, problem] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
        if (problem != std::errc{} || end != digits.data() + digits.size())
            return 0;
    }
    return number;
}

/// The ways to narrow, in the order they are offered.
constexpr std::pair<std::string_view, std::string_view> facet_paths[] = {
    {"breaker.mechanism", "Mechanism"},
    {"rating.voltage", "Voltage"},
    {"gas.species", "Gas"},
    {"rating.frequency", "Frequency"},
    {"rating.interrupting_cycles", "Cycles"},
    {"status", "Status"}};

std::string facet_value(model::Profile const& profile, std::string_view path)
{
    if (path == "status")
        return profile.status;
    auto const* field = model::profile_field(path);
    if (field && field->dimension == Dimension::voltage)
        if (auto const amount = profile.amount(path)) // "145000 V" and "145 kV" are one class
            return fmt::format("{:g} kV", amount->in("kV"));
    return profile.text(path);
}

std::string search_text(model::Profile const& p)
{
    std::string text = p.id + " " + p.title + " " + p.author + " " + p.status;
    for (auto const path : {"breaker.model", "breaker.mechanism", "rating.voltage", "rating.frequency",
                            "rating.interrupting_cycles", "gas.species", "ct.full_ratio"})
        text += " " + p.text(path);
    return folded(text);
}

/// Entries of an earlier reading, by file and bytes.
class Before {
public:
    explicit Before(ProfileLibrary const& library)
    {
        for (auto const& entry : library.entries)
            m_by_file.emplace((entry.folder / entry.file).string(), &entry);
    }
    /// The entry, where the file still holds the same.
    [[nodiscard]] LibraryEntry const* find(disk::Path const& file, std::string const& sha256) const
    {
        auto const it = m_by_file.find(file.string());
        return it == m_by_file.end() || it->second->sha256 != sha256 ? nullptr : it->second;
    }

private:
    std::unordered_map<std::string, LibraryEntry const*> m_by_file;
};

Result<LibraryEntry> read_entry(disk::Disk& disk, disk::Path const& folder, std::string const& file,
                                Before const& before)
{
    auto const text = disk.read(folder / file, most_profile_bytes);
    if (!text)
        return tl::unexpected(text.error());
    std::string sha256 = sha256_hex(*text);
    if (auto const* known = before.find(folder / file, sha256))
        return *known;
    LibraryEntry entry;
    FileReport report;
    entry.profile = read_profile(*text, file, report);
    if (!report.ok())
        return tl::unexpected(report.errors.front());
    entry.file = file;
    entry.folder = folder;
    entry.sha256 = std::move(sha256);
    entry.faults = check_profile(entry.profile, file).errors;
    entry.found_by = search_text(entry.profile);
    for (auto const& [path, label] : facet_paths)
        if (auto value = facet_value(entry.profile, path); !value.empty())
            entry.facets.emplace(path, std::move(value));
    return entry;
}

bool same_revision(LibraryEntry const& a, LibraryEntry const& b)
{
    return a.profile.id == b.profile.id && a.profile.revision == b.profile.revision;
}

bool earlier(LibraryEntry const& a, LibraryEntry const& b)
{
    if (a.profile.id != b.profile.id)
        return a.profile.id < b.profile.id;
    if (a.profile.revision != b.profile.revision)
        return a.profile.revision < b.profile.revision;
    return false; // folders and saves keep the order they were read in
}

/// Keeps one save of each revision. `entries` is in order.
void settle_saves(ProfileLibrary& library)
{
    std::vector<LibraryEntry> kept;
    for (auto& entry : library.entries) {
        if (kept.empty() || !same_revision(kept.back(), entry)) {
            kept.push_back(std::move(entry));
            continue;
        }
        if (auto const allowed = model::may_replace(kept.back().profile, entry.profile); allowed)
            kept.back() = std::move(entry);
        else
            library.errors.push_back({allowed.error().code, entry.file, allowed.error().detail});
    }
    for (std::size_t i = 0; i < kept.size(); ++i)
        kept[i].newest = i + 1 == kept.size() || kept[i + 1].profile.id != kept[i].profile.id;
    library.entries = std::move(kept);
}

std::string const& facet_of(LibraryEntry const& entry, std::string_view path)
{
    static std::string const none;
    auto const it = entry.facets.find(path);
    return it == entry.facets.end() ? none : it->second;
}

/// `but` is a facet that does not count this time.
bool matches(LibraryEntry const& entry, LibraryFilter const& filter, std::vector<std::string> const& words,
             std::string_view but = {})
{
    if (filter.newest_only && !entry.newest)
        return false;
    for (auto const& word : words)
        if (entry.found_by.find(word) == std::string::npos)
            return false;
    return std::all_of(filter.facets.begin(), filter.facets.end(), [&](auto const& facet) {
        return facet.first == but || facet_of(entry, facet.first) == facet.second;
    });
}

std::vector<std::string> words_of(std::string_view text)
{
    std::vector<std::string> words;
    std::string word;
    for (char const c : folded(text) + " ")
        if (c != ' ')
            word += c;
        else if (!word.empty())
            words.push_back(std::exchange(word, {}));
    return words;
}

/// Puts numbers before words and in their own order: 72.5 kV, 145 kV, 420 kV.
bool facet_order(std::pair<std::string, int> const& a, std::pair<std::string, int> const& b)
{
    auto const number = [](std::string const& text) -> std::optional<double> {
        double value = 0.0;
        auto const [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
        return problem == std::errc{} ? std::optional<double>(value) : std::nullopt;
    };
    auto const x = number(a.first), y = number(b.first);
    if (x && y && *x != *y)
        return *x < *y;
    if (x.has_value() != y.has_value())
        return x.has_value();
    return a.first < b.first;
}

} // namespace

LibraryEntry const* ProfileLibrary::find(std::string_view id, int revision) const
{
    for (auto const* entry : revisions(id))
        if (revision == 0 ? entry->newest : entry->profile.revision == revision)
            return entry;
    return nullptr;
}

std::vector<LibraryEntry const*> ProfileLibrary::revisions(std::string_view id) const
{
    auto it =
        std::lower_bound(entries.begin(), entries.end(), id,
                         [](LibraryEntry const& e, std::string_view name) { return e.profile.id < name; });
    std::vector<LibraryEntry const*> found;
    for (; it != entries.end() && it->profile.id == id; ++it)
        found.push_back(&*it);
    return found;
}

LibraryEntry const* ProfileLibrary::released(std::string_view id) const
{
    LibraryEntry const* found = nullptr;
    for (auto const* entry : revisions(id))
        if (entry->profile.status == "released")
            found = entry;
    return found;
}

namespace {

using Items = std::vector<disk::Disk::Item>;

/// The profiles of one folder, in the order in which they count.
Items profile_files(disk::Disk& disk, disk::Path const& folder, ProfileLibrary& library)
{
    auto items = disk.list(folder);
    if (!items) {
        library.errors.push_back(items.error());
        return {};
    }
    std::erase_if(*items, [](auto const& item) { return !item.regular || !item.name.ends_with(".json"); });
    std::stable_sort(items->begin(), items->end(),
                     [](auto const& a, auto const& b) { return save_number(a.name) < save_number(b.name); });
    return std::move(*items);
}

void settle(ProfileLibrary& library)
{
    std::stable_sort(library.entries.begin(), library.entries.end(), earlier);
    settle_saves(library);
}

/// Every folder is listed first, so that `advance` knows how much there is.
ProfileLibrary read_all(disk::Disk& disk, std::span<disk::Path const> folders, Before const& before,
                        Advance const& advance)
{
    ProfileLibrary library;
    std::vector<std::pair<disk::Path, Items>> all;
    std::size_t done = 0, total = 0;
    for (auto const& folder : folders) {
        all.emplace_back(folder, profile_files(disk, folder, library));
        total += all.back().second.size();
    }
    library.entries.reserve(total);
    for (auto const& [folder, items] : all)
        for (auto const& item : items) {
            if (advance && !advance(done++, total, item.name)) {
                library.cancelled = true;
                library.errors.push_back({Code::denied, folder.string(), "reading was cancelled"});
                settle(library);
                return library;
            }
            auto entry = read_entry(disk, folder, item.name, before);
            if (entry)
                library.entries.push_back(std::move(*entry));
            else
                library.errors.push_back(entry.error());
        }
    settle(library);
    return library;
}

} // namespace

ProfileLibrary read_library(disk::Disk& disk, disk::Path const& folder, Advance const& advance)
{
    return read_all(disk, {&folder, 1}, Before({}), advance);
}

ProfileLibrary read_library(disk::Disk& disk, std::span<disk::Path const> folders,
                            ProfileLibrary const& before, Advance const& advance)
{
    std::vector<disk::Path> there;
    for (auto const& folder : folders)
        if (disk.exists(folder))
            there.push_back(folder);
    return read_all(disk, there, Before(before), advance);
}

void verify_signatures(ProfileLibrary& library, Verifier const& verify)
{
    for (auto& entry : library.entries) {
        if (entry.signatures.size() == entry.profile.signoffs.size())
            continue; // of an earlier reading
        entry.signatures = check_signatures(entry.profile, verify);
        for (auto& fault : broken_signatures(entry.profile, entry.file, entry.signatures))
            entry.faults.push_back(std::move(fault));
    }
}

Result<std::string> store_profile(disk::Disk& disk, disk::Path const& folder, model::Profile const& profile)
{
    return store_profile(disk, folder, profile, read_library(disk, folder));
}

std::string next_save(disk::Disk& disk, disk::Path const& folder, model::Profile const& profile,
                      ProfileLibrary const& library)
{
    auto const* stored = library.find(profile.id, profile.revision);
    bool const here = stored && stored->folder == folder;
    int number = here ? save_number(stored->file) + 1 : 1;
    auto const name = [&] { return fmt::format("{}.r{}.s{}.json", profile.id, profile.revision, number); };
    while (disk.exists(folder / name())) // a save that could not be read keeps its number
        ++number;
    return name();
}

Result<std::string> store_profile(disk::Disk& disk, disk::Path const& folder, model::Profile const& profile,
                                  ProfileLibrary const& library)
{
    auto const* stored = library.find(profile.id, profile.revision);
    if (stored) {
        if (auto const allowed = model::may_replace(stored->profile, profile); !allowed)
            return tl::unexpected(allowed.error());
        if (write_profile(stored->profile) == write_profile(profile))
            return stored->file;
    }
    auto const name = next_save(disk, folder, profile, library);
    if (auto const made = disk.create(folder / name, write_profile(profile)); !made)
        return tl::unexpected(made.error());
    if (auto const flushed = disk.flush_file(folder / name); !flushed)
        return tl::unexpected(flushed.error());
    if (auto const flushed = disk.flush_directory(folder); !flushed)
        return tl::unexpected(flushed.error());
    if (stored && stored->folder == folder)
        (void)disk.remove(folder / stored->file); // left behind, it is the earlier save and does not count
    return name;
}

std::vector<LibraryEntry const*> search(ProfileLibrary const& library, LibraryFilter const& filter)
{
    auto const words = words_of(filter.text);
    std::vector<LibraryEntry const*> found;
    for (auto const& entry : library.entries)
        if (matches(entry, filter, words))
            found.push_back(&entry);
    return found;
}

namespace {

Facet counted(std::pair<std::string_view, std::string_view> const& path,
              std::vector<LibraryEntry const*> const& entries)
{
    std::map<std::string_view, int> counts;
    for (auto const* entry : entries)
        if (auto const& value = facet_of(*entry, path.first); !value.empty())
            ++counts[value];
    Facet facet{std::string(path.first), std::string(path.second), {}};
    for (auto const& [value, count] : counts)
        facet.values.emplace_back(value, count);
    std::sort(facet.values.begin(), facet.values.end(), facet_order);
    return facet;
}

} // namespace

std::vector<Facet> facets(std::vector<LibraryEntry const*> const& entries)
{
    std::vector<Facet> out;
    for (auto const& path : facet_paths)
        out.push_back(counted(path, entries));
    return out;
}

std::vector<Facet> facets(ProfileLibrary const& library, LibraryFilter const& filter)
{
    auto const words = words_of(filter.text);
    std::vector<Facet> out;
    for (auto const& path : facet_paths) {
        std::vector<LibraryEntry const*> left;
        for (auto const& entry : library.entries)
            if (matches(entry, filter, words, path.first))
                left.push_back(&entry);
        out.push_back(counted(path, left));
    }
    return out;
}

} // namespace isochore::files
