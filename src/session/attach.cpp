#include "session/attach.h"
#include "journal/attachments.h"
#include "json/member.h"
#include <set>

namespace isochore::session {

Result<std::string> attach_file(Workspace& workspace, Outage& outage, std::string_view step,
                                disk::Path const& file)
{
    auto const hash = journal::Attachments(workspace.disk(), workspace.folders().data).keep_file(file);
    if (!hash)
        return hash;
    if (auto const done = outage.record_attachment(step, file.filename().string(), *hash); !done)
        return tl::unexpected(done.error());
    return hash;
}

std::string LostFile::text(Outage const& outage, model::EntryWords const& words) const
{
    model::Step const* at = outage.checklists().step(step);
    std::string const title = at ? words.title(*at) : step;
    return missing ? words.said("The file “{}” attached at “{}” is missing from the tablet.", {name, title})
                   : words.said("The file “{}” attached at “{}” is not as it was recorded.", {name, title});
}

std::vector<LostFile> lost_files(Workspace& workspace, Outage const& outage)
{
    journal::Attachments files(workspace.disk(), workspace.folders().data);
    std::vector<LostFile> lost;
    std::set<std::string> seen;
    for (Json const& body : outage.bodies()) {
        std::string const hash = text_member(body, "file"), step = text_member(body, "step");
        if (text_member(body, "type") != "recorded" || hash.empty() || !seen.insert(step + hash).second)
            continue;
        if (auto const bytes = files.read(hash); !bytes)
            lost.push_back(
                {step, text_member(body, "typed"), hash, bytes.error().code == Error::Code::not_found});
    }
    return lost;
}

} // namespace isochore::session
