#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double pad = 2.6, least_width = 26.0;

double box_width(Canvas& canvas, FilterView const& filter)
{
    double const label = canvas.measure(filter.label, style::muted);
    double const value = canvas.measure(filter.value, style::bold);
    return std::max(least_width, std::max(label, value) + 2 * pad + 0.2);
}

void draw_box(Canvas& canvas, Rect const& r, FilterView const& filter, Intent& intent)
{
    std::string const id = "filter." + filter.id;
    if (canvas.target(id, ElementKind::answer, r, filter.label + "\n" + filter.value)) {
        intent.kind = Intent::Kind::filter;
        intent.id = filter.id;
    }
    bool const dark = filter.on != canvas.pressed_in(r);
    Ink const outer = canvas.ground();
    canvas.fill(r, dark ? Ink::line : Ink::paper);
    canvas.frame(r, Ink::line, filter.on ? size::stroke : 0.3);
    canvas.ground(dark ? Ink::line : Ink::paper);
    double const room = r.w - 2 * pad + 0.1;
    canvas.paragraph({r.x + pad, r.y + 1.9}, room, filter.label,
                     style::muted.with(dark ? Ink::inverse : Ink::muted), id + ".label");
    canvas.fitted({r.x + pad, r.y + 7.0, room, r.h - 7.6}, filter.value,
                  style::bold.with(dark ? Ink::inverse : Ink::text), {size::body}, id + ".value");
    canvas.ground(outer);
}

} // namespace

double filters_width(Canvas& canvas, std::vector<FilterView> const& filters)
{
    double w = filters.empty() ? 0.0 : -size::gap;
    for (auto const& filter : filters)
        w += box_width(canvas, filter) + size::gap;
    return w;
}

double draw_filters(Canvas& canvas, Point at, double width, std::vector<FilterView> const& filters,
                    Intent& intent)
{
    if (filters.empty())
        return 0.0;
    Point p = at;
    for (auto const& filter : filters) {
        double const w = std::min(width, box_width(canvas, filter));
        if (p.x > at.x && p.x + w > at.x + width + 0.01)
            p = {at.x, p.y + size::target_min + size::gap};
        draw_box(canvas, {p.x, p.y, w, size::target_min}, filter, intent);
        p.x += w + size::gap;
    }
    return p.y + size::target_min - at.y;
}

} // namespace isochore::screens
