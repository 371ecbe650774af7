#include "media/set_names.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::media {
namespace {

bool is_safe_character(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
}

bool is_safe_part(std::string_view part, std::size_t most)
{
    return !part.empty() && part.size() <= most && std::all_of(part.begin(), part.end(), is_safe_character);
}

/// Names some systems give to devices, with any extension.
bool is_device(std::string_view stem)
{
    if (stem == "CON" || stem == "PRN" || stem == "AUX" || stem == "NUL")
        return true;
    return stem.size() == 4 && (stem.starts_with("COM") || stem.starts_with("LPT")) && stem[3] >= '0' &&
           stem[3] <= '9';
}

} // namespace

bool is_safe_name(std::string_view name)
{
    auto const point = name.find('.');
    std::string_view const stem = name.substr(0, point);
    if (!is_safe_part(stem, 8) || is_device(stem))
        return false;
    return point == std::string_view::npos || is_safe_part(name.substr(point + 1), 3);
}

std::string set_name(int number)
{
    return fmt::format("S{:07d}", number);
}

std::optional<int> set_number(std::string_view name)
{
    if (name.size() != 8 || name[0] != 'S')
        return std::nullopt;
    int number = 0;
    for (char const c : name.substr(1)) {
        if (c < '0' || c > '9')
            return std::nullopt;
        number = number * 10 + (c - '0');
    }
    return number > 0 ? std::optional<int>(number) : std::nullopt;
}

std::string upper_case(std::string_view text)
{
    std::string out(text);
    for (char& c : out)
        if (c >= 'a' && c <= 'z')
            c = static_cast<char>(c - 'a' + 'A');
    return out;
}

} // namespace isochore::media
