#include "electrical/ct_ratio.h"
#include "quantity/amount.h"
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace isochore::electrical {

using Code = Error::Code;

Result<NameplateRatio> parse_ratio(std::string_view text, std::string_view where, bool may_step_up)
{
    std::size_t const split = text.find_first_of(":/");
    if (split == std::string_view::npos)
        return fail(
            Code::invalid_input, std::string(where),
            fmt::format("\"{}\" is not a ratio: write primary and secondary, for example 1200:5", text));
    auto const primary = parse_number(text.substr(0, split), where);
    if (!primary)
        return tl::unexpected(primary.error());
    auto const secondary = parse_number(text.substr(split + 1), where);
    if (!secondary)
        return tl::unexpected(secondary.error());
    NameplateRatio const ratio{*primary, *secondary};
    if (auto const good = check_ratio(ratio, where, may_step_up); !good)
        return tl::unexpected(good.error());
    return ratio;
}

Result<void> check_ratio(NameplateRatio const& ratio, std::string_view where, bool may_step_up)
{
    std::string const place(where);
    if (!(ratio.secondary_a > 0.0))
        return fail(Code::out_of_range, place,
                    fmt::format("a secondary of {} A divides by nothing: read the nameplate again, it is "
                                "usually 5 A or 1 A",
                                show_number(ratio.secondary_a, 4)));
    if (!(ratio.primary_a > 0.0))
        return fail(Code::out_of_range, place,
                    fmt::format("a primary of {} A is not possible: read the nameplate again",
                                show_number(ratio.primary_a, 4)));
    if (ratio.to_one() < 1.0 && !may_step_up)
        return fail(Code::out_of_range, place,
                    fmt::format("{:g}:{:g} is below 1: primary and secondary look swapped, enter {:g}:{:g}",
                                ratio.primary_a, ratio.secondary_a, ratio.secondary_a, ratio.primary_a));
    return {};
}

Result<PathRatio> path_ratio(CurrentPath const& path, std::string_view where)
{
    if (auto const good = check_ratio(path.main, where); !good)
        return tl::unexpected(good.error());
    if (path.auxiliary)
        if (auto const good = check_ratio(*path.auxiliary, where, true); !good)
            return tl::unexpected(good.error());
    if (path.turns < 1)
        return fail(Code::out_of_range, std::string(where), "the conductor passes the coil at least once");
    PathRatio out;
    out.ratio = path.main.to_one() * (path.auxiliary ? path.auxiliary->to_one() : 1.0);
    out.scale = out.ratio / path.turns / (path.delta ? std::numbers::sqrt3 : 1.0);
    return out;
}

} // namespace isochore::electrical
