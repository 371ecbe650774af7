#include "drawing/placement.h"
#include "drawing/clip.h"
#include <algorithm>
#include <cmath>
#include <limits>

namespace isochore::drawing {

void Placement::avoid(std::vector<Point> const& line, double weight)
{
    for (std::size_t i = 1; i < line.size(); ++i)
        m_obstacles.push_back({line[i - 1], line[i], weight});
}

void Placement::avoid(Box box, double weight)
{
    m_soft.push_back({box, weight});
}

bool Placement::free(Box box) const
{
    return box.inside(m_outer) && std::none_of(m_taken.begin(), m_taken.end(),
                                               [&](Box const& taken) { return taken.overlaps(box); });
}

double Placement::cost(Box box) const
{
    double sum = 0.0;
    for (auto const& o : m_obstacles)
        if (segment_meets(o.a, o.b, box))
            sum += o.weight;
    for (auto const& s : m_soft)
        if (s.box.overlaps(box))
            sum += s.weight;
    return sum;
}

namespace {

/// Calls `each(line, number)` for the lines of a text.
template <class Each> void for_lines(std::string const& text, Each each)
{
    std::size_t at = 0;
    for (int number = 0; at <= text.size(); ++number) {
        std::size_t const end = std::min(text.find('\n', at), text.size());
        each(text.substr(at, end - at), number);
        at = end + 1;
    }
}

double lines_below_first(Label const& label)
{
    auto const breaks = std::count(label.text.begin(), label.text.end(), '\n');
    return static_cast<double>(breaks) * label.size * line_pitch;
}

} // namespace

double Placement::width_of(Label const& label) const
{
    double width = 0.0;
    for_lines(label.text, [&](std::string const& line, int) {
        width = std::max(width, m_measure(line, label.face, label.size));
    });
    return width;
}

bool Placement::put(Picture& picture, Label label, std::vector<Offer> const& offers, Wish const& wish)
{
    double const width = width_of(label);
    double const more = lines_below_first(label);
    double best = wish.dearest;
    Offer const* chosen = nullptr;
    for (auto const& offer : offers) {
        if (offer.dislike >= best)
            continue;
        label.at = offer.at;
        label.align = offer.align;
        Box box = label_box(label, width).grown(0.3);
        box.bottom += more;
        if (!free(box) || (wish.bounds && !box.inside(*wish.bounds)))
            continue;
        double dislike = offer.dislike + cost(box);
        if (wish.leader)
            dislike += leader_cost(*wish.leader, box);
        if (dislike < best) {
            best = dislike;
            chosen = &offer;
        }
    }
    if (chosen == nullptr)
        return false;
    label.at = chosen->at;
    label.align = chosen->align;
    Box box = label_box(label, width);
    box.bottom += more;
    write(picture, label, box, wish.backed);
    return true;
}

double Placement::leader_cost(Point from, Box box) const
{
    Point const to{std::clamp(from.x, box.left, box.right), std::clamp(from.y, box.top, box.bottom)};
    auto const crossed = std::count_if(m_taken.begin(), m_taken.end(),
                                       [&](Box const& taken) { return segment_meets(from, to, taken); });
    double sum = 12.0 * static_cast<double>(crossed);
    for (auto const& soft : m_soft)
        if (!soft.box.holds(from) && segment_meets(from, to, soft.box))
            sum += 6.0;
    return sum;
}

void Placement::write(Picture& picture, Label const& label, Box box, bool backed)
{
    if (backed) {
        Picture patch;
        patch.filled_rect({box.left - 0.3, box.top}, box.width() + 0.6, box.height(), Ink::paper);
        auto const place = picture.items.begin() + static_cast<std::ptrdiff_t>(m_patch_at);
        picture.items.insert(place, std::move(patch.items.front()));
    }
    m_last = box;
    m_taken.push_back(box.grown(0.3));
    for_lines(label.text, [&](std::string line, int number) {
        Label one = label;
        one.text = std::move(line);
        one.at.y += number * label.size * line_pitch;
        picture.items.emplace_back(std::move(one));
    });
}

void Placement::put_fixed(Picture& picture, Label label)
{
    if (label.text.empty())
        return;
    m_last = label_box(label, m_measure(label.text, label.face, label.size));
    take(m_last);
    picture.items.emplace_back(std::move(label));
}

std::vector<Placement::Offer> offers_around(Point point, double clear, double size)
{
    std::vector<Placement::Offer> offers;
    double const middle = (ink_above - ink_below) / 2.0 * size; // from the centre of the ink to the baseline
    for (int ring = 0; ring < 8; ++ring) {
        double const d = clear + ring * size * 0.8;
        double const dislike = ring * 1.5;
        for (double const slant : {0.0, 0.7, -0.7, 1.4, -1.4}) {
            double const y = point.y + middle + slant * d;
            offers.push_back({{point.x + d, y}, Align::left, dislike + std::abs(slant) * 0.4});
            offers.push_back({{point.x - d, y}, Align::right, dislike + std::abs(slant) * 0.4 + 0.2});
        }
        offers.push_back({{point.x, point.y - d - ink_below * size}, Align::centre, dislike + 0.3});
        offers.push_back({{point.x, point.y + d + ink_above * size}, Align::centre, dislike + 0.35});
    }
    return offers;
}

std::vector<Placement::Offer> offers_along(std::vector<Point> const& line, double width, double size,
                                           bool below_first)
{
    std::vector<Placement::Offer> offers;
    if (line.empty())
        return offers;
    double const end = line.back().x;
    double const start = line.front().x;
    double const gap = 0.25 * size;
    for (double right = end - 0.6; right - width >= std::min(start, end - width - 1.0);
         right -= std::max(0.8, size * 0.4)) {
        double const left = right - width;
        // The line's highest and lowest point above the text decide how far the label stays off.
        double top = std::numeric_limits<double>::infinity(), bottom = -top;
        for (double const x : {left, left + width * 0.25, left + width * 0.5, left + width * 0.75, right}) {
            double const y = height_at(line, x);
            top = std::min(top, y);
            bottom = std::max(bottom, y);
        }
        double const dislike = (end - right) * 0.06;
        offers.push_back(
            {{right, top - gap - ink_below * size}, Align::right, dislike + (below_first ? 0.9 : 0.0)});
        offers.push_back(
            {{right, bottom + gap + ink_above * size}, Align::right, dislike + (below_first ? 0.0 : 0.5)});
    }
    return offers;
}

std::vector<Placement::Offer> offers_within(Box box, Point near, double width, double size)
{
    std::vector<Placement::Offer> offers;
    double const step = std::max(1.0, size * 0.5);
    for (double y = box.top + ink_above * size + 0.4; y <= box.bottom - ink_below * size; y += step)
        for (double x = box.left + 0.6; x + width <= box.right; x += step) {
            double const dx = x + width / 2.0 - near.x, dy = y - 0.3 * size - near.y;
            offers.push_back({{x, y}, Align::left, 0.05 * std::hypot(dx, dy)});
        }
    return offers;
}

} // namespace isochore::drawing
