#include "media/mounts.h"
#include <sstream>

namespace isochore::media {
namespace {

/// Spaces and the like stand as \040 in mountinfo.
std::string unescaped(std::string_view text)
{
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        auto const digit = [&](std::size_t k) {
            return i + k < text.size() && text[i + k] >= '0' && text[i + k] <= '7';
        };
        if (text[i] == '\\' && digit(1) && digit(2) && digit(3)) {
            out +=
                static_cast<char>((text[i + 1] - '0') * 64 + (text[i + 2] - '0') * 8 + (text[i + 3] - '0'));
            i += 3;
        } else {
            out += text[i];
        }
    }
    return out;
}

/// Whether a comma-separated list of options has "ro".
bool is_read_only(std::string const& options)
{
    return ("," + options + ",").find(",ro,") != std::string::npos;
}

/// "36 35 8:17 / /media/stick rw,nosuid shared:1 - vfat /dev/sdb1 rw,…"
bool read_line(std::string const& line, Mount& mount)
{
    std::istringstream words(line);
    std::string id, parent, root, point, options, word;
    if (!(words >> id >> parent >> mount.device_number >> root >> point >> options))
        return false;
    while (words >> word && word != "-")
        ;
    std::string source, super_options;
    if (word != "-" || !(words >> mount.type >> source))
        return false;
    words >> super_options;
    mount.point = unescaped(point);
    mount.source = unescaped(source);
    mount.read_only = is_read_only(options) || is_read_only(super_options);
    return true;
}

} // namespace

std::vector<Mount> read_mounts(std::string_view mountinfo)
{
    std::vector<Mount> mounts;
    std::istringstream lines{std::string(mountinfo)};
    for (std::string line; std::getline(lines, line);)
        if (Mount mount; read_line(line, mount))
            mounts.push_back(std::move(mount));
    return mounts;
}

} // namespace isochore::media
