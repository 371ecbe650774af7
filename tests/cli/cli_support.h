#pragma once
#include "cli/commands.h"
#include "support/temporary_folder.h"
#include "json/read.h"
#include <fstream>
#include <iterator>
#include <sstream>

namespace cli_test {

using namespace isochore;

inline std::string text_of(std::filesystem::path const& file)
{
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

inline void put(std::filesystem::path const& file, std::string const& text)
{
    std::filesystem::create_directories(file.parent_path());
    std::ofstream(file, std::ios::binary) << text;
}

inline std::filesystem::path source_file(std::string const& name)
{
    return std::filesystem::path(ISOCHORE_SOURCE_DIR) / name;
}

/// The text with one passage replaced; empty when it is not there exactly once, which fails any test.
inline std::string replaced(std::string text, std::string const& from, std::string const& to)
{
    auto const at = text.find(from);
    if (at == std::string::npos || text.find(from, at + 1) != std::string::npos)
        return {};
    return text.replace(at, from.size(), to);
}

/// All files under a folder with their bytes: to see that nothing was touched.
inline std::map<std::string, std::string> contents(std::filesystem::path const& folder)
{
    std::map<std::string, std::string> all;
    for (auto const& item : std::filesystem::recursive_directory_iterator(folder))
        if (item.is_regular_file())
            all[item.path().string()] = text_of(item.path());
    return all;
}

/// What a command said and how it ended.
struct Said {
    int code = 0;
    std::string text;
    [[nodiscard]] Json json() const
    {
        auto parsed = read_json(text, "answer");
        return parsed ? *parsed : Json();
    }
    [[nodiscard]] bool has(std::string_view words) const { return text.find(words) != std::string::npos; }
};

/// A tablet with an empty store and the library that comes with the program.
struct Tablet {
    test::TemporaryFolder folder;
    cli::Places places{ISOCHORE_SOURCE_DIR, (folder / "data").string()};

    template <class Options>
    Said run(int (*command)(cli::Places const&, Options const&, std::ostream&), Options const& o) const
    {
        std::ostringstream out;
        int const code = command(places, o, out);
        return {code, out.str()};
    }
};

} // namespace cli_test
