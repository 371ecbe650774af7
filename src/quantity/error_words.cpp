#include "quantity/error_words.h"
#include <cctype>
#include <string_view>

namespace isochore {
namespace {

/// What may stand in the middle of a name: "kd-4" is not named by "kd-41".
bool in_a_name(std::string_view text, std::size_t at)
{
    if (at >= text.size())
        return false;
    auto const c = static_cast<unsigned char>(text[at]);
    return std::isalnum(c) != 0 || c == '_' || c == '-' || c == '/' || c >= 0x80U;
}

} // namespace

bool names_its_place(Error const& error)
{
    if (error.where.empty())
        return true;
    std::string_view const detail = error.detail;
    for (auto at = detail.find(error.where); at != std::string_view::npos;
         at = detail.find(error.where, at + 1))
        if ((at == 0 || !in_a_name(detail, at - 1)) && !in_a_name(detail, at + error.where.size()))
            return true;
    return false;
}

std::string place_and_detail(Error const& error)
{
    return names_its_place(error) ? error.detail : error.where + ": " + error.detail;
}

} // namespace isochore
