#pragma once
#include <filesystem>
#include <string>

namespace isochore::test {

/// A new folder, gone with the object.
class TemporaryFolder {
public:
    TemporaryFolder();
    TemporaryFolder(TemporaryFolder const&) = delete;
    TemporaryFolder& operator=(TemporaryFolder const&) = delete;
    ~TemporaryFolder();
    [[nodiscard]] std::filesystem::path const& path() const { return m_path; }
    [[nodiscard]] std::filesystem::path operator/(std::string const& name) const { return m_path / name; }

private:
    std::filesystem::path m_path;
};

} // namespace isochore::test
