#include "calc/ct_inputs.h"
#include "calc/counts.h"
#include <fmt/format.h>

namespace isochore::calc {

using Code = Error::Code;
constexpr int most_turns = 20; // more would not fit through any split-core coil

electrical::NameplateRatio read_ratio(Inputs& in, std::string_view primary, std::string_view secondary)
{
    electrical::NameplateRatio ratio;
    ratio.primary_a = in.quantity(primary, Dimension::current);
    ratio.secondary_a = in.quantity(secondary, Dimension::current);
    return ratio;
}

int read_turns(Inputs& in)
{
    return read_count_or(in, "turns", 1, most_turns, 1);
}

bool read_delta(Inputs& in)
{
    std::string const connection =
        in.one_of("connection", {"direct", "auxiliary", "delta", "delta_auxiliary"}, "");
    if (connection.empty())
        return in.flag_or("delta", false);
    if (connection.ends_with("auxiliary") && !in.has("aux_primary"))
        in.refuse(Code::missing_input, "aux_primary", "is required where an auxiliary CT lies between");
    return connection.starts_with("delta");
}

namespace {

Result<std::vector<electrical::Tap>> taps_from_segments(Inputs& in)
{
    std::vector<int> segments;
    Json const& list = in.raw("segments");
    double const secondary = in.quantity_or("secondary", Dimension::current, 5.0);
    if (!list.is_array())
        in.refuse(Code::invalid_input, "segments", "must be a list of turns, from X1-X2 on");
    else
        for (Json const& item : list)
            if (item.is_number_integer() && item.get<long long>() > 0 && item.get<long long>() <= 100000)
                segments.push_back(item.get<int>());
            else
                in.refuse(Code::invalid_input, "segments",
                          "every segment is a whole number of turns, 1 to 100000");
    if (!(secondary > 0.0))
        in.refuse(Code::out_of_range, "secondary", "a secondary of 0 A is not possible: usually 5 A or 1 A");
    if (in.error())
        return tl::unexpected(*in.error());
    return electrical::taps_of_segments(segments, secondary, in.place("segments"));
}

} // namespace

Result<std::vector<electrical::Tap>> read_taps(Inputs& in)
{
    if (in.has("segments"))
        return taps_from_segments(in);
    std::string const full = in.text("full_ratio");
    if (in.error())
        return tl::unexpected(*in.error());
    auto const ratio = electrical::parse_ratio(full, in.place("full_ratio"));
    if (!ratio)
        return tl::unexpected(ratio.error());
    return electrical::standard_taps(*ratio, in.place("full_ratio"));
}

} // namespace isochore::calc
