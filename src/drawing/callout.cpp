#include "drawing/callout.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>

namespace isochore::drawing {

namespace {

std::vector<Placement::Offer> offers_for(Callout const& c, double width, double height, Box bounds)
{
    auto offers = offers_around(c.at, c.clear, c.size);
    for (auto& o : offers)
        if (o.at.y < c.at.y)
            o.at.y -= height; // more lines grow upward above the point
    for (auto offer : offers_within(bounds, c.at, width, c.size)) {
        offer.dislike += 4.0;
        offers.push_back(offer);
    }
    return offers;
}

/// Two lines of about the same length; empty when the text has no place to break.
std::string in_two(Callout const& c, MeasureText const& measure)
{
    double const width = measure(c.text, c.face, c.size);
    for (double share = 0.5; share < 0.9; share += 0.04) {
        auto const lines = wrap_text(c.text, width * share, c.face, c.size, measure);
        if (lines.size() == 2)
            return lines[0] + "\n" + lines[1];
    }
    return {};
}

double width_of(std::string const& text, Callout const& c, MeasureText const& measure)
{
    std::size_t const end = std::min(text.find('\n'), text.size());
    double const first = measure(std::string_view(text).substr(0, end), c.face, c.size);
    if (end == text.size())
        return first;
    return std::max(first, measure(std::string_view(text).substr(end + 1), c.face, c.size));
}

void draw_leader(Picture& picture, Placement& placement, Callout const& c)
{
    Box const box = placement.last_box();
    Point const near{std::clamp(c.at.x, box.left, box.right), std::clamp(c.at.y, box.top, box.bottom)};
    double const dx = near.x - c.at.x, dy = near.y - c.at.y, length = std::hypot(dx, dy);
    if (length < c.clear + 1.2)
        return;
    Point const from{c.at.x + dx / length * (c.clear - 0.4), c.at.y + dy / length * (c.clear - 0.4)};
    Point const to{near.x - dx / length * 0.4, near.y - dy / length * 0.4};
    picture.line(from, to, c.ink, 0.25);
    placement.avoid({from, to});
}

} // namespace

bool put_callout(Picture& picture, Placement& placement, Callout const& c, Box bounds)
{
    if (c.text.empty() || !bounds.grown(0.01).holds(c.at))
        return false;
    auto const& measure = placement.measure();
    constexpr double clean = 9.0; // dearer places have a line through the text
    std::string const two = in_two(c, measure);
    for (double const dearest : {clean, 1e9})
        for (std::string const& text : {c.text, two}) {
            if (text.empty())
                continue;
            double const width = width_of(text, c, measure);
            double const more = text == two ? c.size * line_pitch : 0.0;
            Placement::Wish const wish{bounds, true, dearest, c.at};
            if (placement.put(picture, {{}, text, c.size, c.ink, c.face}, offers_for(c, width, more, bounds),
                              wish)) {
                draw_leader(picture, placement, c);
                return true;
            }
        }
    return false;
}

} // namespace isochore::drawing
