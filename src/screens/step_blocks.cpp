#include "screens/step_blocks.h"
#include "screens/marks.h"
#include "screens/paint_picture.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double scrolled_picture = 46.0; ///< where what stands below has to be scrolled anyway

/// What the stamp says, down to what leaves the words beside it their line.
std::string stamp_text(Canvas& canvas, double room, StepView const& step, WordsView const& words)
{
    if (step.history.empty())
        return words.recorded;
    auto const& last = step.history.back();
    std::string const clock = last.when.substr(last.when.find_last_of(' ') + 1);
    for (auto const& text : {words.recorded + "  " + last.when + "  " + last.who,
                             words.recorded + "  " + clock + "  " + last.who, words.recorded + "  " + clock})
        if (canvas.measure(text, style::bold.sized(size::caption)) <= room)
            return text;
    return words.recorded;
}

// A step that is closed carries a stamp, as a drawing carries one when it is released.
double draw_stamp(Canvas& canvas, Column const& column, StepView const& step, WordsView const& words)
{
    if (!step.recorded)
        return 0.0;
    constexpr double border = 4.0, before = 3.0;
    double const room = column.w - canvas.measure(step.where, style::muted) - border - before - 0.1;
    std::string const label = stamp_text(canvas, room, step, words);
    double const w = canvas.measure(label, style::bold.sized(size::caption)) + border;
    Rect const r{column.x + column.w - w, column.y - 0.7, w, 5.3};
    canvas.frame(r, Ink::text, 0.35);
    canvas.text({r.x + border / 2, r.y + 3.85}, label, {Face::bold, size::caption}, "step.stamp");
    return w + before;
}

constexpr double countdown_pad = 1.8;

double countdown_width(Canvas& canvas, StepView const& step)
{
    return canvas.measure(step.countdown_label, style::muted) +
           canvas.measure(step.countdown, style::digits.sized(size::strong)) + 3 * countdown_pad;
}

/// Several fields leave a countdown no place beside them.
bool countdown_in_line(StepView const& step)
{
    return !step.countdown.empty() && step.fields.size() != 1;
}

bool countdown_beside_where(Canvas& canvas, double width, StepView const& step)
{
    return countdown_in_line(step) && !step.recorded &&
           canvas.measure(step.where, style::muted) + 3.0 + countdown_width(canvas, step) <= width;
}

// In one line; due, it stands in a black box.
void draw_countdown_line(Canvas& canvas, Point at, double baseline, StepView const& step)
{
    TextStyle const figure = style::digits.sized(size::strong);
    double const x =
        at.x + countdown_pad + canvas.text({at.x, baseline}, step.countdown_label, style::muted, "countdown.label");
    if (step.reading_due) {
        canvas.fill({x, at.y, canvas.measure(step.countdown, figure) + 2 * countdown_pad, 6.4}, Ink::line);
        canvas.ground(Ink::line);
    }
    canvas.text({x + countdown_pad, baseline}, step.countdown,
                figure.with(step.reading_due ? Ink::inverse : Ink::text), "countdown");
    canvas.ground(Ink::paper);
}

void draw_where(Canvas& canvas, Column& column, StepView const& step, WordsView const& words)
{
    double const stamp = draw_stamp(canvas, column, step, words);
    double const top = column.y;
    column.y += canvas.paragraph({column.x, top}, column.w - stamp, step.where, style::muted, "step.where");
    if (countdown_beside_where(canvas, column.w, step))
        draw_countdown_line(canvas, {column.x + column.w - countdown_width(canvas, step), top - 0.7}, top + 3.9,
                            step);
    column.space(0.6);
    column.text(step.title, style::title, "step.title");
    column.space(0.8);
    column.text(step.text, style::body, "step.text");
}

void draw_locked(Canvas& canvas, Column& column, StepView const& step, WordsView const& words)
{
    if (step.locked.empty())
        return;
    column.space(block_gap);
    double const x = column.x + 11.5, w = column.w - 13.5;
    double const h = std::max(10.0, canvas.paragraph_height(words.locked, style::bold, w) +
                                        canvas.paragraph_height(step.locked, style::body, w) + 2.8);
    Rect const r{column.x, column.y, column.w, h};
    canvas.fill(r, Ink::panel);
    canvas.ground(Ink::panel);
    draw_padlock(canvas, {r.x + 5.9, r.y + h / 2}, 7.0, Ink::text);
    Column inner{canvas, x, w, r.y + 1.4};
    inner.text(words.locked, style::bold, "step.locked.title");
    inner.text(step.locked, style::body, "step.locked");
    canvas.ground(Ink::paper);
    column.y += h;
}

// The latest first: it is the one that matters while one reads.
void draw_readings(Canvas& canvas, Column& column, StepView const& step, WordsView const& words)
{
    constexpr double number_w = 8.5;
    column.text(words.readings, style::muted, "readings.label");
    double longest = 0.0;
    for (auto const& reading : step.readings)
        longest = std::max(longest, canvas.measure(reading, style::bold));
    int const columns = std::clamp(static_cast<int>(column.w / (longest + number_w + 4.0)), 1, 3);
    double const w = column.w / columns;
    int const count = static_cast<int>(step.readings.size());
    for (int i = 0; i < count; i += columns) {
        double h = 0.0;
        for (int k = i; k < std::min(i + columns, count); ++k) {
            int const number = count - k;
            double const x = column.x + w * (k - i);
            auto const& reading = step.readings[static_cast<std::size_t>(number - 1)];
            canvas.text({x + number_w - 2.2, column.y + 4.0}, std::to_string(number),
                        style::muted.aligned(Align::right));
            h = std::max(h, canvas.paragraph({x + number_w, column.y + 0.4}, w - number_w - 1.0, reading,
                                             k == 0 ? style::bold : style::body,
                                             "reading." + std::to_string(number)));
        }
        column.y += h + 0.8;
        canvas.hline(column.x, column.x + column.w, column.y, Ink::faint);
    }
}

// Beside a field, on the baseline of what stands in its box.
void draw_countdown(Canvas& canvas, Point at, double width, StepView const& step)
{
    double const label_h = canvas.paragraph(at, width, step.countdown_label, style::muted, "countdown.label");
    double const baseline = field_baseline(at.y + label_h);
    if (step.reading_due) { // as a black box: seen from the corner of an eye, and without a blinking frame
        double const w = std::min(width, canvas.measure(step.countdown, style::digits) + 8.0);
        canvas.fill({at.x, baseline - 10.9, w, 15.6}, Ink::line);
        canvas.ground(Ink::line);
        canvas.text({at.x + 4.0, baseline}, step.countdown, style::digits.with(Ink::inverse), "countdown");
        canvas.ground(Ink::paper);
        return;
    }
    canvas.text({at.x, baseline}, step.countdown, style::digits, "countdown");
}

// The corners of a frame pulled apart, or pushed together.
void draw_spread_sign(Canvas& canvas, Point c, bool together)
{
    constexpr double reach = 2.2, leg = 1.3;
    for (double const side : {-1.0, 1.0}) {
        Point const tip{c.x + side * (together ? 0.7 : reach), c.y - side * (together ? 0.7 : reach)};
        double const turn = together ? side : -side;
        canvas.line({c.x + side * 0.6, c.y - side * 0.6}, {c.x + side * reach, c.y - side * reach},
                    Ink::muted, 0.3);
        canvas.polyline({{tip.x + turn * leg, tip.y}, tip, {tip.x, tip.y - turn * leg}}, Ink::muted, 0.3);
    }
}

} // namespace

void draw_step_picture(Canvas& canvas, Rect const& r, StepView const& step, bool large, Intent& intent)
{
    if (step.picture->width <= 0.0)
        return;
    Rect const touch{r.x, r.y + size::gap / 2, r.w, r.h - size::gap};
    if (canvas.target("panel.picture", ElementKind::panel, touch, step.picture->spoken)) {
        intent.kind = Intent::Kind::panel;
        intent.id = large ? std::string() : "picture";
    }
    paint_picture(canvas, *step.picture, r, "picture");
    draw_spread_sign(canvas, {r.right() - 2.8, r.y + 2.8}, large);
}

void StepPainter::prose(Column& column)
{
    draw_where(canvas, column, step, words());
    if (brief_cautions()) {
        gap(column, 2.6);
        column.y += draw_caution_titles(canvas, {column.x, column.y}, column.w, step.cautions);
    }
    draw_locked(canvas, column, step, words());
    if (!step.cautions.empty() && !brief_cautions())
        caution(column, 0);
}

void StepPainter::later_cautions(Column& column)
{
    std::size_t const across = cautions_across(column);
    for (std::size_t i = across; i < step.cautions.size() && !brief_cautions(); i += across)
        caution(column, i);
}

// On the whole width of a sheet they stand in pairs.
std::size_t StepPainter::cautions_across(Column const& column) const
{
    return column.w > size::whole_sheet && step.cautions.size() > 1 ? 2 : 1;
}

void StepPainter::caution(Column& column, std::size_t which)
{
    gap(column, which == 0 ? 2.6 : 1.6);
    std::size_t const across = cautions_across(column), end = std::min(which + across, step.cautions.size());
    double const pitch = (column.w + size::gap) / static_cast<double>(across), w = pitch - size::gap;
    auto const draw = [&](double least) {
        double h = least;
        for (std::size_t i = which; i < end; ++i)
            h = std::max(h, draw_caution(canvas, {column.x + static_cast<double>(i - which) * pitch, column.y}, w,
                                         step.cautions[i], "caution." + std::to_string(i), h));
        return h;
    };
    double const h = canvas.height_of([&] { return draw(0.0); });
    column.y += draw(h);
}

void StepPainter::picture(Column& column)
{
    gap(column);
    Rect const r{column.x, column.y, column.w, picture_h};
    if (!canvas.dry()) {
        if (!open_panel.empty())
            draw_panel(canvas, r, step, open_panel, words());
        else
            draw_step_picture(canvas, r, step, false, intent);
    }
    column.y += picture_h;
}

// A log's field and its countdown stand side by side when there is one of each.
void StepPainter::fields(Column& column)
{
    if (step.fields.size() == 1 && !step.countdown.empty()) {
        gap(column);
        double const w = (column.w - 5.0) * 0.54;
        double const field_h =
            draw_field(canvas, {column.x, column.y}, w, step.fields.front(), words(), open(), intent);
        draw_countdown(canvas, {column.x + w + 5.0, column.y}, column.w - w - 5.0, step);
        column.y += field_h;
    } else {
        if (countdown_in_line(step) && !countdown_beside_where(canvas, column.w, step)) {
            gap(column); // above the fields: results that come must not push it out of sight
            draw_countdown_line(canvas, {column.x, column.y}, column.y + 4.8, step);
            column.space(6.4);
        }
        if (!step.fields.empty()) {
            gap(column);
            column.y += draw_fields(canvas, {column.x, column.y}, column.w, step.fields, words(), open(),
                                    intent, tight > 1);
        }
    }
}

void StepPainter::answers(Column& column)
{
    if (!step.answers.empty()) {
        // A field above is touched as well, and targets keep their distance however tight the rest stands.
        if (column.y > column.top + 0.01)
            column.space(tight > 0 && step.fields.empty() ? 0.5 * block_gap : block_gap);
        column.y +=
            draw_answers(canvas, {column.x, column.y}, column.w, step.answers, open(), intent, tight > 1);
    }
}

void StepPainter::outcome(Column& column)
{
    if (!step.results.empty()) {
        gap(column);
        column.y += draw_results(canvas, {column.x, column.y}, column.w, step.results, tight > 1);
    }
    if (!step.rows.empty()) {
        gap(column);
        column.y += draw_rows(canvas, {column.x, column.y}, column.w, step.rows, "row");
    }
    if (!step.readings.empty()) {
        gap(column);
        draw_readings(canvas, column, step, words());
    }
}

void StepPainter::notes(Column& column)
{
    for (std::size_t i = 0; i < step.notes.size(); ++i) {
        gap(column, i == 0 ? block_gap : 1.0);
        column.text(step.notes[i], style::muted, "note." + std::to_string(i));
    }
}

void StepPainter::column(Column& c, unsigned blocks)
{
    if ((blocks & prose_block) != 0U)
        prose(c);
    if ((blocks & later_cautions_block) != 0U)
        later_cautions(c);
    if ((blocks & prose_block) != 0U && picture_h > 0.0)
        picture(c);
    if ((blocks & fields_block) != 0U)
        fields(c);
    if ((blocks & answers_block) != 0U)
        answers(c);
    if ((blocks & outcome_block) != 0U)
        outcome(c);
    if ((blocks & notes_block) != 0U)
        notes(c);
}

double StepPainter::height(double width, unsigned blocks)
{
    return canvas.height_of([&] {
        Column probe{canvas, 0.0, width, 0.0, 0.0};
        column(probe, blocks);
        return probe.y;
    });
}

bool StepPainter::fit(double width, double room, unsigned blocks, int tightest)
{
    for (tight = 0; tight < tightest; ++tight)
        if (height(width, blocks) <= room)
            return true;
    return height(width, blocks) <= room;
}

void StepPainter::give_picture(double width, double room, double most)
{
    // Readings may scroll, since the picture shows them; the field for the next one may not.
    unsigned const blocks = step.readings.empty() ? all_blocks : all_blocks & ~outcome_block;
    double const least = least_picture;
    if (!step.verdict && open())
        room -= verdict_reserve; // so that the picture does not jump when the verdict comes
    picture_h = least;
    bool const fits = fit(width, room, blocks);
    if (!fits && typing()) {
        picture_h = 0.0;
        return;
    }
    if (!fits && step.fields.empty()) {
        picture_h = std::min(scrolled_picture, most);
        return;
    }
    picture_h = std::clamp(room - (height(width, blocks) - least), least, most);
}

} // namespace isochore::screens
