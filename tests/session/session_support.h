#pragma once
#include "session/workspace.h"
#include <cstdlib>
#include <filesystem>
#include <stdexcept>

namespace isochore::session {

/// A store in a folder of its own, with the program's own checklists and profiles and a clock that stands
/// still.
class Bench {
public:
    Bench()
    {
        std::string name = (std::filesystem::temp_directory_path() / "isochore-session-XXXXXX").string();
        if (!mkdtemp(name.data()))
            throw std::runtime_error("no temporary folder");
        folder = name;
        reopen();
    }
    ~Bench()
    {
        workspace.reset();
        std::filesystem::remove_all(folder);
    }
    Bench(Bench const&) = delete;
    Bench& operator=(Bench const&) = delete;

    /// As after a restart of the program.
    void reopen()
    {
        workspace.reset();
        disk::Path const source(ISOCHORE_SOURCE_DIR);
        auto opened = Workspace::open({folder, source / "checklists", source / "profiles"}, clock, *disk);
        if (!opened)
            throw std::runtime_error(opened.error().detail);
        workspace = std::move(*opened);
    }
    std::unique_ptr<Outage> begin(std::string const& job_no = "T 1")
    {
        NewOutage setup;
        setup.facts = {{"station", "Alder Ferry"}, {"bay", "Q07"},    {"serial", "41-0387"},
                       {"job_no", job_no},         {"window", "2 h"}, {"altitude", "85 m"}};
        setup.crew = {"N. Quill", "I. Brandt"};
        setup.who = "N. Quill";
        auto outage = workspace->begin("kd-41", setup);
        if (!outage)
            throw std::runtime_error(outage.error().where + ": " + outage.error().detail);
        return std::move(*outage);
    }
    std::unique_ptr<Outage> resume(std::string const& job)
    {
        auto outage = workspace->resume(job, {});
        if (!outage)
            throw std::runtime_error(outage.error().where + ": " + outage.error().detail);
        return std::move(*outage);
    }

    disk::Path folder;
    SetClock clock{1772438400000}; // 2026-03-02T08:00:00Z
    std::unique_ptr<disk::Disk> disk = disk::system_disk();
    std::unique_ptr<Workspace> workspace;
};

} // namespace isochore::session
