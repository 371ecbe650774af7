#include "calc/comtrade_files.h"
#include "electrical/comtrade_text.h"
#include <filesystem>
#include <fmt/format.h>
#include <fstream>

namespace isochore::calc {
namespace {

using Code = Error::Code;
namespace fs = std::filesystem;
constexpr std::uintmax_t most_bytes = 256u << 20;

std::string quoted(fs::path const& file)
{
    return fmt::format("\"{}\"", file.filename().string());
}

Result<std::string> read_whole(fs::path const& file, std::string_view where)
{
    std::error_code problem;
    if (!fs::is_regular_file(file, problem))
        return fail(Code::not_found, std::string(where), quoted(file) + " is not a file");
    auto const size = fs::file_size(file, problem);
    if (problem || size > most_bytes)
        return fail(Code::out_of_range, std::string(where),
                    quoted(file) + " is larger than 256 MB or cannot be read");
    std::ifstream in(file, std::ios::binary);
    std::string bytes(static_cast<std::size_t>(size), '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(size));
    if (!in && size > 0)
        return fail(Code::io, std::string(where), quoted(file) + " could not be read");
    return bytes;
}

/// The sibling with that ending, whatever the case of its letters.
std::optional<fs::path> sibling(fs::path const& base, std::string_view ending)
{
    std::error_code problem;
    fs::path const folder = base.has_parent_path() ? base.parent_path() : fs::path(".");
    for (fs::directory_iterator it(folder, problem), end; !problem && it != end; it.increment(problem))
        if (it->path().stem() == base.stem() &&
            electrical::lower_case(it->path().extension().string()) == ending)
            return it->path();
    return std::nullopt;
}

} // namespace

Result<electrical::Comtrade> read_comtrade_files(std::string const& path, std::string_view where)
{
    fs::path base(path);
    std::string const ending = electrical::lower_case(base.extension().string());
    bool const known = ending == ".cfg" || ending == ".dat" || ending == ".cff";
    if (!known)
        base += ".cfg";
    std::string const name = base.stem().string();
    if (auto const one = sibling(base, ".cff"); one && (ending == ".cff" || !sibling(base, ".cfg"))) {
        auto const bytes = read_whole(*one, where);
        if (!bytes)
            return tl::unexpected(bytes.error());
        return electrical::read_comtrade_cff(*bytes, name);
    }
    auto const cfg = sibling(base, ".cfg");
    auto const dat = sibling(base, ".dat");
    if (!cfg || !dat)
        return fail(Code::not_found, std::string(where),
                    fmt::format("\"{}\": a record needs its .cfg and .dat side by side, or one .cff", path));
    auto const head = read_whole(*cfg, where);
    if (!head)
        return tl::unexpected(head.error());
    auto const data = read_whole(*dat, where);
    if (!data)
        return tl::unexpected(data.error());
    return electrical::read_comtrade(*head, *data, name);
}

} // namespace isochore::calc
