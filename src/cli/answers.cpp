#include "cli/answers.h"
#include "quantity/error_words.h"
#include <ostream>

namespace isochore::cli {

int say_error(std::ostream& out, Error const& error, bool json)
{
    if (json)
        say_json(
            out,
            {{"error", {{"code", code_name(error.code)}, {"where", error.where}, {"detail", error.detail}}}});
    else
        out << place_and_detail(error) << " (" << code_name(error.code) << ")\n";
    return 2;
}

int say_faults(std::ostream& out, std::vector<Error> const& faults)
{
    for (auto const& fault : faults)
        out << place_and_detail(fault) << '\n';
    return static_cast<int>(faults.size());
}

void say_json(std::ostream& out, Json const& answer)
{
    // Names found on a stick may hold bytes that are no UTF-8: they are shown as such, never thrown over.
    out << answer.dump(2, ' ', false, Json::error_handler_t::replace) << '\n';
}

} // namespace isochore::cli
