#pragma once

namespace isochore::uncertainty {

/// The level of every interval the program states, and of every one-sided bound: 95 %, the level JCGM 100:2008
/// (6.2.2, G.1.3) takes as its example and that electrical measurement commonly uses. It is how a result is
/// said, not a limit that a result is held against.
inline constexpr double level = 0.95;
/// What lies beyond each end of a two-sided interval.
inline constexpr double beyond_each_end = (1.0 - level) / 2.0;
/// Coverage factor of that level for a normal distribution (JCGM 100:2008, table G.1, from memory). For few
/// degrees of freedom coverage_95() (uncertainty/student.h) takes its place.
inline constexpr double normal_coverage = 1.96;

} // namespace isochore::uncertainty
