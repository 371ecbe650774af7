#include "screens/marks.h"
#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

void draw_facts(Canvas& canvas, Column& column, SignView const& sign, WordsView const& words)
{
    column.y += draw_heading(canvas, {column.x, column.y}, column.w, sign.heading, sign.meaning);
    if (!sign.facts.empty()) {
        column.space(3.0);
        column.y += draw_results(canvas, {column.x, column.y}, column.w, sign.facts);
    }
    column.space(3.0);
    column.text(words.deviations, style::muted, "deviations.label");
    column.space(0.4);
    if (sign.deviations.empty())
        column.text(words.none, style::bold, "deviations.none");
    else
        column.y += draw_rows(canvas, {column.x, column.y}, column.w, sign.deviations, "deviation");
}

void draw_pad(Canvas& canvas, Rect const& r, SignView const& sign, WordsView const& words, Intent& intent)
{
    canvas.target("pad.signature", ElementKind::pad, r, words.signature);
    canvas.frame(r, Ink::line);
    canvas.hline(r.x + 6.0, r.right() - 6.0, r.bottom() - 7.0, Ink::faint, 0.3);
    canvas.text({r.x + 6.0, r.bottom() - 2.2}, words.signature, style::caption, "pad.label");
    for (auto const& stroke : sign.strokes) {
        std::vector<Point> points;
        for (auto const& p : stroke)
            points.push_back({r.x + p.x * r.w, r.y + p.y * r.h});
        if (points.size() > 1)
            canvas.polyline(points, Ink::text, 0.6);
        else if (!points.empty())
            canvas.dot(points.front(), 0.4, Ink::text);
    }
    auto const& input = canvas.input();
    if (input.drawn.empty())
        return;
    intent.kind = Intent::Kind::stroke;
    intent.id = "signature";
    intent.strokes = sign.strokes;
    if (input.drawing_began || intent.strokes.empty())
        intent.strokes.emplace_back();
    for (auto const& p : input.drawn)
        intent.strokes.back().push_back(
            {std::clamp((p.x - r.x) / r.w, 0.0, 1.0), std::clamp((p.y - r.y) / r.h, 0.0, 1.0)});
}

constexpr double between = 2.4, least_pad = 22.0;

/// Who signs, and the PIN: side by side where there is one name and little height.
double draw_who(Canvas& canvas, Point at, double width, SignView const& sign, SheetView const& sheet,
                Intent& intent)
{
    auto const& words = sheet.words;
    FieldView const pin{"pin", words.pin, sign.pin_dots, "", false, "", sign.problem};
    bool const beside = canvas.portrait() && sign.signers.size() == 1;
    double const half = (width - size::gap) / 2, w = beside ? half : width;
    Column column{canvas, at.x, w, at.y};
    column.text(words.signer, style::muted, "signer.label");
    column.space(0.6);
    column.y += draw_answers(canvas, {column.x, column.y}, column.w, sign.signers, true, intent, true);
    if (!beside) {
        column.space(between);
        column.y += draw_field(canvas, {column.x, column.y}, std::min(width, 60.0), pin, words, true, intent);
        return column.y - at.y;
    }
    double const pin_h = draw_field(canvas, {at.x + half + size::gap, at.y}, half, pin, words, true, intent);
    return std::max(column.y - at.y, pin_h);
}

void draw_signer(Canvas& canvas, Rect const& area, SignView const& sign, SheetView const& sheet,
                 Intent& intent)
{
    double const offset = canvas.begin_scroll("sign.signer", area);
    Column column{canvas, area.x, area.w - 3.0, area.y - offset};
    column.y += draw_who(canvas, {column.x, column.y}, column.w, sign, sheet, intent) + between;
    double const left_h = area.bottom() - (column.y + offset) - 1.0;
    double const pad_h = std::clamp(left_h, least_pad, 44.0);
    draw_pad(canvas, {column.x, column.y, column.w, pad_h}, sign, sheet.words, intent);
    column.y += pad_h;
    canvas.end_scroll(column.y + offset - area.y);
}

/// Upright, what is signed takes the room it needs, as far as the signature leaves it.
double facts_height(Canvas& canvas, Rect const& content, SignView const& sign, SheetView const& sheet)
{
    if (sign.sealed)
        return content.h * 0.6;
    Intent none;
    double const facts = canvas.height_of([&] {
        Column column{canvas, content.x, content.w - 3.0, 0.0};
        draw_facts(canvas, column, sign, sheet.words);
        return column.y;
    });
    double const signer =
        canvas.height_of([&] { return draw_who(canvas, {0.0, 0.0}, content.w - 3.0, sign, sheet, none); }) +
        between + least_pad + 4.0;
    return std::clamp(facts + 1.0, content.h * 0.3, std::max(content.h * 0.3, content.h - 3.0 - signer));
}

void draw_sealed(Canvas& canvas, Rect const& area, SignView const& sign)
{
    canvas.fill(area, Ink::panel);
    canvas.fill({area.x, area.y, 2.0, area.h}, Ink::pass);
    canvas.ground(Ink::panel);
    draw_mark(canvas, Mark::pass, {area.x + 12.0, area.y + 11.0}, 13.0, Ink::pass);
    double const x = area.x + 22.0;
    Column column{canvas, x, area.w - 25.0, area.y + 4.0};
    for (std::size_t i = 0; i < sign.sealed_lines.size(); ++i) {
        bool const first = i == 0;
        bool const large = first && canvas.measure(sign.sealed_lines[i], style::strong) <= column.w;
        column.text(sign.sealed_lines[i],
                    large   ? style::strong.with(Ink::pass)
                    : first ? style::bold.with(Ink::pass)
                            : style::body,
                    "sealed." + std::to_string(i));
        column.space(first ? 1.6 : 1.0);
    }
    canvas.ground(Ink::paper);
}

} // namespace

void draw_sign(Canvas& canvas, Layout const& place, SheetView const& sheet, SignView const& sign,
               Intent& intent)
{
    bool const portrait = canvas.portrait();
    Rect left = place.content, right = place.content;
    if (portrait) {
        left.h = facts_height(canvas, place.content, sign, sheet);
        right.y = left.bottom() + 3.0;
        right.h = place.content.bottom() - right.y;
    } else {
        left.w = place.left.w;
        right = {place.picture.x, place.picture.y, place.picture.w, place.content.h};
    }
    double const offset = canvas.begin_scroll("sign.facts", left);
    Column column{canvas, left.x, left.w - 3.0, left.y - offset};
    draw_facts(canvas, column, sign, sheet.words);
    canvas.end_scroll(column.y + offset - left.y);
    if (sign.sealed)
        draw_sealed(canvas, right, sign);
    else
        draw_signer(canvas, right, sign, sheet, intent);
}

} // namespace isochore::screens
