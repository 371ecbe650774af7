#pragma once
#include "session/workspace.h"
#include <cstdlib>
#include <filesystem>
#include <stdexcept>

namespace isochore::bench {

template <class T> T got(Result<T> result)
{
    if (!result)
        throw std::runtime_error(result.error().where + ": " + result.error().detail);
    return std::move(*result);
}

/// An empty store in a folder of its own, with the library that comes with the program and a clock that stands
/// still. Throws where it cannot be made: a benchmark has nothing to go on with then.
class EmptyStore {
public:
    EmptyStore()
    {
        std::string name = (std::filesystem::temp_directory_path() / "isochore-bench-XXXXXX").string();
        if (!mkdtemp(name.data()))
            throw std::runtime_error("no temporary folder");
        m_folder = name;
        disk::Path const source(ISOCHORE_SOURCE_DIR);
        m_workspace = got(session::Workspace::open({m_folder, source / "checklists", source / "profiles"},
                                                   m_clock, *m_disk));
    }
    ~EmptyStore()
    {
        m_workspace.reset();
        std::filesystem::remove_all(m_folder);
    }
    EmptyStore(EmptyStore const&) = delete;
    EmptyStore& operator=(EmptyStore const&) = delete;

    [[nodiscard]] session::Workspace& workspace() { return *m_workspace; }
    [[nodiscard]] session::SetClock& clock() { return m_clock; }
    /// An outage of the demo breaker.
    [[nodiscard]] std::unique_ptr<session::Outage> begin(std::string const& job_no = "B 1",
                                                         std::string const& serial = "41-0387")
    {
        session::NewOutage setup;
        setup.facts = {{"station", "Alder Ferry"}, {"bay", "Q07"},    {"serial", serial},
                       {"job_no", job_no},         {"window", "2 h"}, {"altitude", "85 m"}};
        setup.crew = {"N. Quill", "I. Brandt"};
        setup.who = "N. Quill";
        return got(m_workspace->begin("kd-41", setup));
    }

private:
    std::filesystem::path m_folder;
    session::SetClock m_clock{1772438400000}; // 2026-03-02T08:00:00Z
    std::unique_ptr<disk::Disk> m_disk = disk::system_disk();
    std::unique_ptr<session::Workspace> m_workspace;
};

} // namespace isochore::bench
