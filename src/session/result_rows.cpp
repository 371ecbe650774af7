#include "session/result_rows.h"
#include "session/display.h"
#include "json/member.h"
#include <fmt/format.h>

namespace isochore::session {
namespace {

std::string share_text(double share)
{
    // Nothing measured is certain: what rounds to all or nothing is said as a bound.
    return share < 0.005 ? "below 1 %" : share > 0.995 ? "over 99 %" : fmt::format("{:.0f} %", share * 100.0);
}

ResultRow thread_row(Json const& c)
{
    return {text_member(c, "thread"),
            fmt::format("{:.2f} mm, {:.3f} mm pitch, {}, {:g}°",
                        number_member(member(c, "diameter"), "value") * 1e3,
                        number_member(member(c, "pitch"), "value") * 1e3,
                        member(c, "taper") == true ? "tapered" : "parallel", number_member(c, "flank_angle")),
            share_text(number_member(c, "probability")),
            {}};
}

ResultRow reason_row(Json const& r)
{
    return {label_of(text_member(r, "connection")),
            {},
            text_member(r, "text"),
            member(r, "in_favour") == true ? "pass" : "fail"};
}

ResultRow explanation_row(Json const& e)
{
    return {text_member(e, "text"),
            fmt::format("sum {:.3g} A", number_member(member(e, "expected_sum"), "value")),
            share_text(number_member(e, "probability")),
            {}};
}

ResultRow tap_row(Json const& t)
{
    std::string twins;
    if (Json const same = member(t, "same_ratio_as"); same.is_array())
        for (auto const& twin : same)
            twins += (twins.empty() ? "" : ", ") + twin.get<std::string>();
    return {text_member(t, "terminals"),
            text_member(t, "text"),
            twins.empty() ? std::string() : fmt::format("same ratio as {}", twins),
            {}};
}

ResultRow run_row(Json const& r)
{
    double const cut = number_member(member(r, "cut_length"), "value");
    return {text_member(r, "name"),
            fmt::format("{:g} conductors", number_member(r, "conductors")),
            fmt::format("{:.2f} m each", cut),
            {}};
}

} // namespace

std::vector<ResultRow> result_rows(Json const& answer)
{
    struct List {
        char const* fact;
        ResultRow (*row)(Json const&);
    };
    static constexpr List lists[] = {{"candidates", thread_row},
                                     {"reasons", reason_row},
                                     {"explanations", explanation_row},
                                     {"runs", run_row},
                                     {"taps", tap_row}};
    std::vector<ResultRow> rows;
    Json const results = member(answer, "results");
    for (auto const& list : lists)
        if (Json const items = member(results, list.fact); items.is_array())
            for (auto const& item : items)
                if (item.is_object())
                    rows.push_back(list.row(item));
    return rows;
}

} // namespace isochore::session
