#include "files/checklist_file.h"
#include "files/checklist_links.h"
#include "files/checklist_stage.h"
#include <algorithm>

namespace isochore::files {
namespace {

constexpr std::size_t largest_file = 4u << 20;

void read_texts(LoadedChecklists& loaded)
{
    for (auto const& [name, text] : loaded.texts) {
        if (name == cautions_file)
            loaded.checklists.cautions = read_cautions(text, name, loaded.report);
        else
            loaded.checklists.stages.push_back(read_stage(text, name, loaded.report));
    }
    std::ranges::stable_sort(loaded.checklists.stages, {}, &model::Stage::order);
}

} // namespace

LoadedChecklists read_checklist_texts(std::vector<std::pair<std::string, std::string>> texts,
                                      std::vector<std::string> const& known_calcs)
{
    LoadedChecklists loaded;
    loaded.texts = std::move(texts);
    read_texts(loaded);
    if (loaded.checklists.stages.empty())
        loaded.report.errors.push_back(
            {Error::Code::not_found, "checklists", "there is no checklist file with a stage"});
    check_links(loaded.checklists, known_calcs, loaded.report);
    return loaded;
}

LoadedChecklists read_checklists(disk::Disk& disk, disk::Path const& folder,
                                 std::vector<std::string> const& known_calcs)
{
    std::vector<std::pair<std::string, std::string>> texts;
    FileReport unread;
    auto const items = disk.list(folder);
    if (!items)
        unread.errors.push_back(items.error());
    for (auto const& item : items ? *items : std::vector<disk::Disk::Item>{}) {
        if (item.directory || !item.name.ends_with(".json"))
            continue;
        auto text = disk.read(folder / item.name, largest_file);
        if (text)
            texts.emplace_back(item.name, std::move(*text));
        else
            unread.errors.push_back(text.error());
    }
    auto loaded = read_checklist_texts(std::move(texts), known_calcs);
    loaded.report.errors.insert(loaded.report.errors.begin(), unread.errors.begin(), unread.errors.end());
    return loaded;
}

} // namespace isochore::files
