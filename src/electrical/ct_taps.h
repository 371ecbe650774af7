#pragma once
#include "electrical/ct_ratio.h"
#include <span>
#include <vector>

namespace isochore::electrical {

/// One pair of terminals of a multi-ratio CT.
struct Tap {
    int from = 1, to = 2;   ///< X numbers, from < to
    int turns = 0;          ///< secondary turns between them
    double primary_a = 0.0; ///< rated primary for the CT's secondary rating
    double secondary_a = 5.0;
    bool listed = false;    ///< the standard's own table lists the pair; else derived by adding segments
    std::vector<int> twins; ///< positions in the table of pairs with the same ratio
    [[nodiscard]] std::string terminals() const;
    [[nodiscard]] double ratio() const { return primary_a / secondary_a; }
};

/// Turns of the four segments X1-X2, X2-X3, X3-X4, X4-X5 of a standard multi-ratio CT.
/// Source: IEEE C57.13, table 8 (ratios :5); sums reproduce every entry the table lists.
struct MultiRatio {
    int full_primary_a;
    int segment_turns[4];
};
[[nodiscard]] std::span<MultiRatio const> standard_multi_ratios();

/// All ten terminal pairs, in the order X1-X2, X1-X3 … X4-X5, equal ratios cross-referenced.
/// Errors: unknown for a full ratio outside 600:5 to 5000:5 of the standard; the detail lists them.
[[nodiscard]] Result<std::vector<Tap>> standard_taps(NameplateRatio const& full, std::string_view where);

/// The same for any chain of segments: n segments give n(n+1)/2 pairs. Errors: out_of_range for fewer than
/// one or more than nine segments, or a segment without turns.
[[nodiscard]] Result<std::vector<Tap>> taps_of_segments(std::span<int const> segment_turns,
                                                        double secondary_a, std::string_view where);

} // namespace isochore::electrical
