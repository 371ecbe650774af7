#include "session/attach.h"
#include "journal/attachments.h"

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

} // namespace isochore::session
