#include "electrical/ct_taps.h"
#include "quantity/amount.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::electrical {
namespace {

using Code = Error::Code;

constexpr MultiRatio table[] = {{600, {20, 10, 50, 40}},      {1200, {40, 20, 100, 80}},
                                {2000, {80, 160, 60, 100}},   {3000, {200, 240, 60, 100}},
                                {4000, {100, 300, 200, 200}}, {5000, {300, 100, 400, 200}}};

// The standard prints one pair a ratio; these four are sums of its segments that it does not print.
bool is_listed(int full, int from, int to)
{
    return !((full == 2000 && from == 3 && to == 5) || (full == 4000 && from == 4 && to == 5) ||
             (full == 4000 && from == 3 && to == 5) || (full == 5000 && from == 1 && to == 3));
}

void cross_reference(std::vector<Tap>& taps)
{
    for (std::size_t i = 0; i < taps.size(); ++i)
        for (std::size_t j = 0; j < taps.size(); ++j)
            if (i != j && taps[i].turns == taps[j].turns)
                taps[i].twins.push_back(static_cast<int>(j));
}

} // namespace

std::string Tap::terminals() const
{
    return fmt::format("X{}-X{}", from, to);
}

std::span<MultiRatio const> standard_multi_ratios()
{
    return table;
}

Result<std::vector<Tap>> taps_of_segments(std::span<int const> segment_turns, double secondary_a,
                                          std::string_view where)
{
    int const count = static_cast<int>(segment_turns.size());
    if (count < 1 || count > 9)
        return fail(Code::out_of_range, std::string(where),
                    fmt::format("{} segments: a multi-ratio CT has 1 to 9", count));
    std::vector<Tap> taps;
    for (int from = 1; from <= count; ++from) {
        int turns = 0;
        for (int to = from + 1; to <= count + 1; ++to) {
            int const segment = segment_turns[static_cast<std::size_t>(to - 2)];
            if (segment < 1)
                return fail(
                    Code::out_of_range, std::string(where),
                    fmt::format("segment X{}-X{} has {} turns: it needs at least one", to - 1, to, segment));
            turns += segment;
            taps.push_back({from, to, turns, turns * secondary_a, secondary_a, false, {}});
        }
    }
    cross_reference(taps);
    return taps;
}

Result<std::vector<Tap>> standard_taps(NameplateRatio const& full, std::string_view where)
{
    for (MultiRatio const& ct : table) {
        if (std::fabs(full.primary_a - ct.full_primary_a) > 1e-9 || std::fabs(full.secondary_a - 5.0) > 1e-9)
            continue;
        auto taps = taps_of_segments(ct.segment_turns, 5.0, where);
        if (taps)
            for (Tap& tap : *taps)
                tap.listed = is_listed(ct.full_primary_a, tap.from, tap.to);
        return taps;
    }
    return fail(Code::unknown, std::string(where),
                fmt::format("{}:{} is no standard multi-ratio CT: known are 600:5, 1200:5, 2000:5, 3000:5, "
                            "4000:5 and 5000:5; for another give the turns of its segments",
                            show_number(full.primary_a, 4), show_number(full.secondary_a, 4)));
}

} // namespace isochore::electrical
