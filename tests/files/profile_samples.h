#pragma once
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

namespace samples {

inline std::string text_of(std::filesystem::path const& file)
{
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

inline std::string profile_text(std::string const& id)
{
    return text_of(std::filesystem::path(ISOCHORE_SOURCE_DIR) / "profiles" / (id + ".json"));
}

/// The file names of all profiles that come with the program, without the schema.
inline std::vector<std::filesystem::path> profile_paths()
{
    std::vector<std::filesystem::path> paths;
    for (auto const& item :
         std::filesystem::directory_iterator(std::filesystem::path(ISOCHORE_SOURCE_DIR) / "profiles"))
        if (item.path().extension() == ".json" && item.path().stem().extension() != ".schema")
            paths.push_back(item.path());
    return paths;
}

/// The text with one passage replaced; empty when it is not there exactly once, which fails any test.
inline std::string replaced(std::string text, std::string const& from, std::string const& to)
{
    auto const at = text.find(from);
    if (at == std::string::npos || text.find(from, at + 1) != std::string::npos)
        return {};
    return text.replace(at, from.size(), to);
}

} // namespace samples
