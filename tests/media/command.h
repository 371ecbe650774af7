#pragma once
#include <array>
#include <cstdio>
#include <string>
#include <sys/wait.h>

namespace isochore::test {

struct CommandResult {
    int status = -1;
    std::string output;
    [[nodiscard]] bool ok() const { return status == 0; }
};

/// Runs a shell command and gives its output; only for the tools that tests bring in.
inline CommandResult run(std::string const& command)
{
    CommandResult result;
    FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
    if (!pipe)
        return result;
    std::array<char, 4096> block{};
    while (auto const n = std::fread(block.data(), 1, block.size(), pipe))
        result.output.append(block.data(), n);
    int const status = ::pclose(pipe);
    result.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return result;
}

inline bool has_command(std::string const& name)
{
    return run("command -v " + name).ok();
}

} // namespace isochore::test
