#include "drawing/text_block.h"
#include "drawing/text.h"
#include <algorithm>
#include <optional>

namespace isochore::drawing {

namespace {

struct Line {
    std::string text;
    BlockText style;
    double width = 0.0;
    bool first = false; ///< of its paragraph
};
struct Lines {
    std::vector<Line> lines;
    double width = 0.0, height = 0.0;
};

Lines set_lines(std::vector<BlockText> const& paragraphs, double width, MeasureText const& measure)
{
    Lines set;
    for (auto const& p : paragraphs) {
        if (p.text.empty())
            continue;
        bool first = true;
        for (auto& text : wrap_text(p.text, width, p.face, p.size, measure)) {
            double const wide = measure(text, p.face, p.size);
            set.width = std::max(set.width, wide);
            set.height += p.size * line_pitch;
            set.lines.push_back({std::move(text), p, wide, first});
            first = false;
        }
    }
    return set;
}

void write(Picture& picture, Placement& placement, Lines const& set, Box box, Align align)
{
    double y = box.top;
    for (auto const& line : set.lines) {
        double const pitch = line.style.size * line_pitch;
        double const x = align == Align::left     ? box.left
                         : align == Align::centre ? box.centre().x
                                                  : box.right;
        double const base = y + pitch / 2.0 + (ink_above - ink_below) / 2.0 * line.style.size;
        placement.put_fixed(picture,
                            {{x, base}, line.text, line.style.size, line.style.ink, line.style.face, align});
        y += pitch;
    }
}

struct Try {
    Lines set;
    Box box;
    Align align = Align::left;
    double cost = 1e9;
};

Box box_beside(Box symbol, Side side, double width, double height)
{
    constexpr double gap = 1.2;
    Point const c = symbol.centre();
    switch (side) {
    case Side::right:
        return {symbol.right + gap, c.y - height / 2.0, symbol.right + gap + width, c.y + height / 2.0};
    case Side::left:
        return {symbol.left - gap - width, c.y - height / 2.0, symbol.left - gap, c.y + height / 2.0};
    case Side::above:
        return {c.x - width / 2.0, symbol.top - gap - height, c.x + width / 2.0, symbol.top - gap};
    case Side::below:
        break;
    }
    return {c.x - width / 2.0, symbol.bottom + gap, c.x + width / 2.0, symbol.bottom + gap + height};
}

Align align_of(Side side)
{
    return side == Side::right ? Align::left : side == Side::left ? Align::right : Align::centre;
}

} // namespace

bool put_block(Picture& picture, Placement& placement, std::vector<BlockText> const& paragraphs, Box symbol,
               std::vector<Side> const& sides)
{
    auto const& measure = placement.measure();
    double const natural = set_lines(paragraphs, 1e6, measure).width;
    if (natural <= 0.0)
        return false;
    std::optional<Try> best;
    double least = 0.0;
    for (auto const& p : paragraphs)
        least = std::max(least, longest_word(p.text, p.face, p.size, measure));
    for (double share = 1.0; share >= 0.18; share *= 0.8) {
        double const width = natural * share + 0.05;
        if (width < least && share < 1.0)
            break; // never break a word
        Lines const set = set_lines(paragraphs, width, measure);
        double preference = 0.0;
        for (Side const side : sides) {
            Box const base = box_beside(symbol, side, set.width, set.height);
            for (double const shift : {0.0, -1.0, 1.0, -2.5, 2.5, -4.5, 4.5}) {
                Box box = base;
                bool const sideways = side == Side::left || side == Side::right;
                (sideways ? box.top : box.left) += shift;
                (sideways ? box.bottom : box.right) += shift;
                double const cost = placement.cost(box.grown(0.4)) + static_cast<double>(set.lines.size()) +
                                    preference + 0.2 * std::abs(shift);
                if ((!best || cost < best->cost) && placement.free(box))
                    best = Try{set, box, align_of(side), cost};
            }
            preference += 1.5;
        }
    }
    if (!best)
        return false;
    write(picture, placement, best->set, best->box, best->align);
    return true;
}

void fill_box(Picture& picture, Placement& placement, std::vector<BlockText> const& paragraphs, Box box)
{
    auto const& measure = placement.measure();
    double const width = box.width() - 1.6;
    Lines set = set_lines(paragraphs, width, measure);
    while (set.height > box.height() && set.lines.size() > 1) {
        bool const whole = set.lines.back().first; // a paragraph that is left out whole leaves no sentence broken
        set.height -= set.lines.back().style.size * line_pitch;
        set.lines.pop_back();
        if (whole)
            continue;
        auto& last = set.lines.back();
        last.text = shorten_text(last.text + " …", width, last.style.face, last.style.size, measure);
    }
    double const top = box.centre().y - set.height / 2.0;
    write(picture, placement, set, {box.left, top, box.right, top + set.height}, Align::centre);
}

} // namespace isochore::drawing
