#include "session/profile_draft.h"
#include "disk/whole_file.h"
#include "files/profile_text.h"
#include "model/profile_lifecycle.h"
#include "session/profile_note.h"
#include <algorithm>
#include <charconv>
#include <fmt/format.h>

namespace isochore::session {
namespace {

using Code = Error::Code;
constexpr std::size_t largest_draft = 256u << 10;

disk::Path draft_folder(Workspace& workspace)
{
    return workspace.folders().data / "drafts";
}

/// "kd-41.r2.7.json": the name of the draft and the number of the saving.
struct Saving {
    std::string name, file;
    int number = 0;
};

std::optional<Saving> saving_of(std::string const& file)
{
    if (!file.ends_with(".json"))
        return std::nullopt;
    std::string const stem = file.substr(0, file.size() - 5);
    auto const point = stem.rfind('.');
    if (point == std::string::npos || point == 0)
        return std::nullopt;
    int number = 0;
    auto const [end, problem] = std::from_chars(stem.data() + point + 1, stem.data() + stem.size(), number);
    if (problem != std::errc{} || end != stem.data() + stem.size())
        return std::nullopt;
    return Saving{stem.substr(0, point), file, number};
}

std::vector<Saving> savings(Workspace& workspace)
{
    std::vector<Saving> list;
    if (auto const items = workspace.disk().list(draft_folder(workspace)))
        for (auto const& item : *items)
            if (auto saving = saving_of(item.name); item.regular && saving)
                list.push_back(std::move(*saving));
    std::sort(list.begin(), list.end(), [](Saving const& a, Saving const& b) {
        return a.name != b.name ? a.name < b.name : a.number < b.number;
    });
    return list;
}

std::string today(Workspace& workspace)
{
    return calendar_day(stamp(workspace.clock().now()));
}

std::string revision_name(std::string_view id, int revision)
{
    return fmt::format("{}.r{}", id, revision);
}

/// What is half done under a name, as it was last kept.
std::optional<ProfileDraft> kept(Workspace& workspace, std::string_view name)
{
    for (auto& draft : kept_drafts(workspace))
        if (draft.name == name)
            return std::move(draft);
    return std::nullopt;
}

Result<void> fit_to_store(Workspace& workspace, model::Profile const& p)
{
    if (!files::is_profile_id(p.id))
        return fail(Code::invalid_input, "id",
                    p.id.empty() ? "it has no name for the library yet"
                                 : fmt::format("\"{}\" may hold only a-z, 0-9 and -", p.id));
    if (p.title.empty())
        return fail(Code::missing_input, "title", "it has no title yet");
    if (p.author.empty())
        return fail(Code::missing_input, "author", "nobody is named as its author");
    if (p.parent == 0 && p.revision == 1)
        if (auto const* there = workspace.find_profile(p.id, 1); there && there->profile.status != "draft")
            return fail(Code::denied, "id",
                        fmt::format("{} is in the library already; copy it as a new revision", p.id));
    return {};
}

} // namespace

std::string fault_path(Error const& fault)
{
    auto const colon = fault.where.rfind(": ");
    return colon == std::string::npos ? fault.where : fault.where.substr(colon + 2);
}

std::string id_from_model(std::string_view model)
{
    std::string id;
    for (char c : model) {
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
        bool const plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        if (plain)
            id += c;
        else if (!id.empty() && id.back() != '-')
            id += '-';
    }
    id.resize(std::min<std::size_t>(id.size(), 64));
    while (id.ends_with('-'))
        id.pop_back();
    return id;
}

ProfileDraft new_draft(Workspace& workspace, std::string_view author)
{
    int number = 1;
    auto const there = savings(workspace);
    auto const taken = [&](std::string const& name) {
        return std::any_of(there.begin(), there.end(), [&](Saving const& s) { return s.name == name; });
    };
    while (taken(fmt::format("new-{}", number)))
        ++number;
    ProfileDraft draft;
    draft.name = fmt::format("new-{}", number);
    draft.profile.author = author;
    draft.profile.date = today(workspace);
    return draft;
}

Result<ProfileDraft> draft_of_revision(Workspace& workspace, std::string_view id, int revision,
                                       std::string_view author)
{
    auto const* from = workspace.find_profile(id, revision);
    auto const* newest = workspace.find_profile(id);
    if (!from || !newest)
        return fail(Code::not_found, std::string(id), "there is no such revision in the library");
    int next = newest->profile.revision + 1;
    while (kept(workspace, revision_name(id, next)))
        ++next;
    return ProfileDraft{revision_name(id, next),
                        model::copy_as_revision(from->profile, next, author, today(workspace))};
}

Result<ProfileDraft> edit_draft(Workspace& workspace, std::string_view id, int revision)
{
    if (auto half = kept(workspace, revision_name(id, revision)))
        return std::move(*half);
    auto const* entry = workspace.find_profile(id, revision);
    if (!entry)
        return fail(Code::not_found, std::string(id), "there is no such revision in the library");
    if (entry->profile.status != "draft")
        return fail(Code::denied, std::string(id),
                    fmt::format("revision {} is {} and never changes; copy it as a new revision", revision,
                                entry->profile.status));
    return ProfileDraft{revision_name(id, revision), entry->profile};
}

Result<void> keep_draft(Workspace& workspace, ProfileDraft const& draft)
{
    auto& disk = workspace.disk();
    auto const folder = draft_folder(workspace);
    if (auto const made = disk::make_durable_directory(disk, folder); !made)
        return made;
    auto const there = savings(workspace);
    int last = 0;
    for (auto const& s : there)
        if (s.name == draft.name)
            last = std::max(last, s.number);
    auto const file = folder / fmt::format("{}.{}.json", draft.name, last + 1);
    if (auto const written = disk::write_whole(disk, file, files::write_profile(draft.profile)); !written)
        return written;
    for (auto const& s : there)
        if (s.name == draft.name)
            (void)disk.remove(folder / s.file); // left behind, it is the earlier saving and does not count
    return {};
}

std::vector<ProfileDraft> kept_drafts(Workspace& workspace)
{
    std::vector<ProfileDraft> drafts;
    for (auto const& saving : savings(workspace)) {
        auto const text = workspace.disk().read(draft_folder(workspace) / saving.file, largest_draft);
        if (!text)
            continue;
        // Whatever rules it breaks, that is what makes it half done; only what is no profile at all is left.
        files::FileReport report;
        ProfileDraft draft{saving.name, files::read_profile(*text, saving.file, report)};
        if (!report.ok() && draft.profile.author.empty() && draft.profile.values.empty())
            continue;
        if (!drafts.empty() && drafts.back().name == draft.name)
            drafts.back() = std::move(draft);
        else
            drafts.push_back(std::move(draft));
    }
    return drafts;
}

Result<void> drop_draft(Workspace& workspace, std::string_view name)
{
    auto const folder = draft_folder(workspace);
    for (auto const& saving : savings(workspace))
        if (saving.name == name)
            if (auto const removed = workspace.disk().remove(folder / saving.file); !removed)
                return removed;
    return workspace.disk().exists(folder) ? workspace.disk().flush_directory(folder) : Result<void>{};
}

Result<std::string> store_draft(Workspace& workspace, ProfileDraft const& draft)
{
    auto const& p = draft.profile;
    if (auto const fit = fit_to_store(workspace, p); !fit)
        return tl::unexpected(fit.error());
    auto profile = p;
    profile.status = "draft";
    profile.signoffs.clear();
    profile.date = today(workspace);
    if (auto const made = disk::make_durable_directory(workspace.disk(), workspace.own_profiles()); !made)
        return tl::unexpected(made.error());
    auto const file =
        files::store_profile(workspace.disk(), workspace.own_profiles(), profile, workspace.library());
    if (!file)
        return file;
    workspace.forget_library();
    if (auto const noted = note_profile(workspace, "profile_drafted", profile, profile.author, *file); !noted)
        return tl::unexpected(noted.error());
    if (auto const dropped = drop_draft(workspace, draft.name); !dropped)
        return tl::unexpected(dropped.error());
    return file;
}

Result<files::NameplateHelp> nameplate_help(Workspace& workspace)
{
    auto const file = workspace.folders().profiles / "schema/nameplate.json";
    auto const text = workspace.disk().read(file, largest_draft);
    if (!text)
        return tl::unexpected(text.error());
    files::FileReport report;
    auto help = files::read_nameplate_help(*text, file.filename().string(), report);
    if (!report.ok())
        return tl::unexpected(report.errors.front());
    return help;
}

} // namespace isochore::session
