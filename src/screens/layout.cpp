#include "screens/layout.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double column_gap = 7.0;
constexpr double left_share = 0.55; // text column of the width, landscape

Layout landscape(double width, double height, double top, double gap)
{
    Layout l;
    double const inner = width - 2 * size::margin, bottom = height - size::margin + 0.4;
    double const left = inner * left_share - column_gap / 2;
    double const right_x = size::margin + left + column_gap, right = width - size::margin - right_x;
    double const row = bottom - size::action;
    l.content = {size::margin, top, inner, row - gap - top};
    l.left = {size::margin, top, left, l.content.h};
    l.tabs = {right_x, l.content.bottom() - size::target_min, right, size::target_min};
    l.picture = {right_x, top, right, l.tabs.y - size::gap + 1.0 - top};
    l.actions = {size::margin, row, left, size::action};
    l.block = {right_x, row, right, size::action};
    return l;
}

Layout portrait(double width, double height, double top, double gap)
{
    Layout l;
    double const inner = width - 2 * size::margin, bottom = height - size::margin + 0.4;
    constexpr double block_height = 18.4;
    l.block = {size::margin, bottom - block_height, inner, block_height};
    l.actions = {size::margin, l.block.y - gap - size::action, inner, size::action};
    l.content = {size::margin, top, inner, l.actions.y - gap - top};
    l.tabs = {size::margin, l.content.bottom() - size::target_min, inner, size::target_min};
    l.left = {size::margin, top, inner, l.tabs.y - size::gap - top};
    l.picture = {size::margin, top, inner, std::clamp(0.45 * l.content.h, 40.0, 0.62 * inner)};
    return l;
}

} // namespace

Layout layout(double width_mm, double height_mm, bool with_line, bool guarded)
{
    double const strip_top = 3.0;
    double const top = with_line ? strip_top + size::strip : size::margin + 1.0;
    double const gap = guarded ? size::gap_guarded : size::gap;
    Layout l = height_mm > width_mm ? portrait(width_mm, height_mm, top, gap)
                                    : landscape(width_mm, height_mm, top, gap);
    if (with_line)
        l.strip = {size::margin, strip_top, width_mm - 2 * size::margin, 15.6};
    return l;
}

} // namespace isochore::screens
