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

/// Two lines of about the same length.
std::string in_two(Callout const& c, MeasureText const& measure)
{
    double const width = measure(c.text, c.face, c.size);
    auto const lines = wrap_text(c.text, width * 0.62, c.face, c.size, measure);
    std::string text;
    for (auto const& line : lines)
        text += (text.empty() ? "" : "\n") + line;
    return text;
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
            double const width = measure(text.substr(0, text.find('\n')), c.face, c.size);
            auto const breaks = static_cast<double>(std::count(text.begin(), text.end(), '\n'));
            if (placement.put(picture, {{}, text, c.size, c.ink, c.face},
                              offers_for(c, width, breaks * c.size * line_pitch, bounds),
                              {bounds, true, dearest})) {
                draw_leader(picture, placement, c);
                return true;
            }
        }
    return false;
}

} // namespace isochore::drawing
