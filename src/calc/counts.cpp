#include "calc/counts.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::calc {

int read_count(Inputs& in, std::string_view name, int least, int most)
{
    Json const& j = in.raw(name);
    if (!j.is_string() || j.get_ref<std::string const&>().find(' ') == std::string::npos)
        return in.whole(name, least, most);
    double const count = in.quantity(name, Dimension::count);
    if (!in.error() && (count != std::floor(count) || count < least || count > most))
        in.refuse(Error::Code::out_of_range, name,
                  fmt::format("{:g} is not a whole number from {} to {}", count, least, most));
    return in.error() ? least : static_cast<int>(count);
}

int read_count_or(Inputs& in, std::string_view name, int least, int most, int otherwise)
{
    (void)in.raw(name);
    return in.has(name) ? read_count(in, name, least, most) : otherwise;
}

} // namespace isochore::calc
