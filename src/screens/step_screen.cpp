#include "screens/marks.h"
#include "screens/paint_picture.h"
#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double block_gap = 3.4; // between the blocks of the text column
constexpr double least_picture = 38.0, least_log_picture = 60.0;

// A step that is closed carries a stamp, as a drawing carries one when it is released.
double draw_stamp(Canvas& canvas, Column const& column, StepView const& step, WordsView const& words)
{
    if (!step.recorded)
        return 0.0;
    std::string label = words.recorded;
    if (!step.history.empty())
        label += "  " + step.history.back().when + "  " + step.history.back().who;
    double const w = canvas.measure(label, style::bold.sized(size::caption)) + 4.0;
    Rect const r{column.x + column.w - w, column.y - 0.7, w, 5.3};
    canvas.frame(r, Ink::text, 0.35);
    canvas.text({r.x + 2.0, r.y + 3.85}, label, {Face::bold, size::caption}, "step.stamp");
    return w + 3.0;
}

void draw_where(Canvas& canvas, Column& column, StepView const& step, WordsView const& words)
{
    double const stamp = draw_stamp(canvas, column, step, words);
    column.y +=
        canvas.paragraph({column.x, column.y}, column.w - stamp, step.where, style::muted, "step.where");
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
    canvas.text({at.x, field_baseline(at.y + label_h)}, step.countdown, style::digits, "countdown");
}

/// The blocks of a step, of which a column holds some.
enum Block : unsigned {
    prose_block = 1,
    fields_block = 2,
    answers_block = 4,
    outcome_block = 8,
    notes_block = 16
};
constexpr unsigned all_blocks = 31;

struct StepPainter {
    Canvas& canvas;
    SheetView const& sheet;
    StepView const& step;
    Intent& intent;
    int tight = 0;          ///< 1: smaller gaps; 2: smaller figures as well
    double picture_h = 0.0; ///< portrait: the picture stands in the flow
    std::string open_panel;

    [[nodiscard]] WordsView const& words() const { return sheet.words; }
    [[nodiscard]] bool open() const { return step.locked.empty() && !step.recorded; }
    void gap(Column& column, double roomy = block_gap) const
    {
        if (column.y > column.top + 0.01)
            column.space(tight > 0 ? 0.5 * roomy : roomy);
    }

    void prose(Column& column);
    void picture(Column& column);
    void fields(Column& column);
    void answers(Column& column);
    void outcome(Column& column);
    void notes(Column& column);
    void column(Column& column, unsigned blocks);
    double height(double width, unsigned blocks);
    /// Portrait: the picture takes what the rest leaves, between limits.
    void give_picture(double width, double room, double most);
    /// Tightens until the column fits, as far as it goes.
    bool fit(double width, double room, unsigned blocks, int tightest = 2);
};

void StepPainter::prose(Column& column)
{
    draw_where(canvas, column, step, words());
    for (std::size_t i = 0; i < step.cautions.size(); ++i) {
        gap(column, i == 0 ? 2.6 : 1.6);
        column.y += draw_caution(canvas, {column.x, column.y}, column.w, step.cautions[i],
                                 "caution." + std::to_string(i));
    }
    draw_locked(canvas, column, step, words());
}

void StepPainter::picture(Column& column)
{
    gap(column);
    Rect const r{column.x, column.y, column.w, picture_h};
    if (!canvas.dry()) {
        if (!open_panel.empty())
            draw_panel(canvas, r, step, open_panel, words());
        else
            paint_picture(canvas, *step.picture, r, "picture");
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
        if (!step.fields.empty()) {
            gap(column);
            column.y += draw_fields(canvas, {column.x, column.y}, column.w, step.fields, words(), open(),
                                    intent, tight > 1);
        }
        if (!step.countdown.empty()) {
            gap(column);
            draw_countdown(canvas, {column.x, column.y}, column.w, step);
            column.y += field_baseline(size::body * size::line_height) + 2.0;
        }
    }
}

void StepPainter::answers(Column& column)
{
    if (!step.answers.empty()) {
        gap(column);
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
    if ((blocks & prose_block) != 0U) {
        prose(c);
        if (picture_h > 0.0)
            picture(c);
    }
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
    // Readings may scroll: the picture shows them.
    double const least = step.readings.empty() ? least_picture : least_log_picture;
    picture_h = least;
    fit(width, room, all_blocks);
    picture_h = std::clamp(room - (height(width, all_blocks) - least), least, most);
}

struct Tab {
    std::string id, label;
};

std::vector<Tab> tabs_of(StepView const& step, WordsView const& words, bool reasons_beside)
{
    std::vector<Tab> tabs;
    if (!reasons_beside && !(step.why.empty() && step.wrong.empty() && step.source.empty()))
        tabs.push_back({"why", words.why});
    if (!step.working.empty() || !step.budget.empty())
        tabs.push_back({"working", words.working});
    if (!step.history.empty())
        tabs.push_back({"history", words.history});
    return tabs;
}

void draw_tabs(Canvas& canvas, Rect const& place, std::vector<Tab> const& tabs, std::string const& open,
               Intent& intent)
{
    double const w = (place.w - 2 * size::gap) / 3;
    for (std::size_t i = 0; i < tabs.size(); ++i) {
        Rect const r{place.x + static_cast<double>(i) * (w + size::gap), place.y, w, place.h};
        ButtonLook look;
        look.chosen = tabs[i].id == open;
        look.label_size = size::body;
        look.border = 0.25;
        look.quiet = true;
        if (canvas.button("panel." + tabs[i].id, ElementKind::panel, r, tabs[i].label, look)) {
            intent.kind = Intent::Kind::panel;
            intent.id = look.chosen ? std::string() : tabs[i].id;
        }
    }
}

// A scrolled column with a little head room for the stamp.
void draw_column(Canvas& canvas, StepPainter& painter, std::string const& key, Rect const& r, unsigned blocks)
{
    constexpr double head = 1.0;
    double const offset = canvas.begin_scroll(key, {r.x - 0.5, r.y - head, r.w + 2.6, r.h + head});
    Column column{canvas, r.x, r.w, r.y - offset, r.y - offset};
    painter.column(column, blocks);
    canvas.end_scroll(column.y + offset - r.y + head);
}

double draw_pinned_verdict(Canvas& canvas, Rect const& r, StepView const& step)
{
    if (!step.verdict)
        return 0.0;
    double const h = std::min(verdict_height(canvas, *step.verdict, r.w), r.h * 0.6);
    draw_verdict(canvas, {r.x, r.bottom() - h, r.w, h}, *step.verdict, "verdict");
    return h + 2.6;
}

std::string known_panel(std::vector<Tab> const& tabs, std::string const& open)
{
    bool const known = std::any_of(tabs.begin(), tabs.end(), [&](Tab const& t) { return t.id == open; });
    return known ? open : std::string();
}

// What is left of the column above the tabs and the verdict.
Rect upright_column(Canvas& canvas, Layout const& place, StepView const& step, bool tabs)
{
    Rect column = place.left;
    if (!tabs)
        column.h = place.content.h;
    if (step.verdict)
        column.h -= std::min(verdict_height(canvas, *step.verdict, column.w), column.h * 0.6) + 2.6;
    return column;
}

void draw_upright(Canvas& canvas, Layout const& place, StepPainter painter)
{
    auto const& step = painter.step;
    auto const tabs = tabs_of(step, painter.words(), false);
    painter.open_panel = known_panel(tabs, painter.sheet.open_panel);
    draw_pinned_verdict(
        canvas, tabs.empty() ? Rect{place.left.x, place.left.y, place.left.w, place.content.h} : place.left,
        step);
    Rect column = upright_column(canvas, place, step, !tabs.empty());
    draw_tabs(canvas, place.tabs, tabs, painter.open_panel, painter.intent);
    if (!step.picture && !painter.open_panel.empty()) {
        double const h = std::min(place.picture.h, column.h * 0.6);
        draw_panel(canvas, {column.x, column.bottom() - h, column.w, h}, step, painter.open_panel,
                   painter.words());
        column.h -= h + 2.6;
    }
    if (step.picture)
        painter.give_picture(column.w, column.h, place.picture.h);
    else
        painter.fit(column.w, column.h, all_blocks);
    draw_column(canvas, painter, "step." + step.id, column, all_blocks);
}

/// Which blocks stand left and right of a step that has no picture; nothing right means the reasons do.
struct Split {
    unsigned left = all_blocks, right = 0;
    int left_tight = 0, right_tight = 0;
};

// The first arrangement in which nothing has to scroll: everything left with the reasons beside it, or what
// one does on the right, down to what one must read on the left and all else on the right.
Split choose_split(StepPainter painter, Rect const& left, Rect const& right)
{
    constexpr unsigned doing = fields_block | answers_block | outcome_block;
    constexpr unsigned judging = answers_block | outcome_block;
    Split const candidates[] = {{all_blocks, 0},
                                {prose_block | notes_block, doing},
                                {prose_block | fields_block | notes_block, judging},
                                {prose_block, doing | notes_block},
                                {prose_block | fields_block, judging | notes_block}};
    for (int const tightest : {1, 2})
        for (Split split : candidates) {
            bool const left_fits = painter.fit(left.w, left.h, split.left, tightest);
            split.left_tight = painter.tight;
            bool const right_fits = split.right == 0 || painter.fit(right.w, right.h, split.right, tightest);
            split.right_tight = painter.tight;
            if (left_fits && right_fits)
                return split;
        }
    return {prose_block | notes_block, doing, 2, 2};
}

void draw_lying(Canvas& canvas, Layout const& place, StepPainter painter)
{
    auto const& step = painter.step;
    Rect left = place.left, right = place.picture;
    left.h -= draw_pinned_verdict(canvas, left, step);
    Rect const inner{right.x, right.y, right.w - 2.4, right.h};
    Split split;
    if (step.picture)
        painter.fit(left.w, left.h, all_blocks);
    else
        split = choose_split(painter, left, inner);
    bool const beside = !step.picture && split.right == 0;
    auto const tabs = tabs_of(step, painter.words(), beside);
    painter.open_panel = known_panel(tabs, painter.sheet.open_panel);
    if (tabs.empty())
        right.h = place.tabs.bottom() - right.y;
    draw_tabs(canvas, place.tabs, tabs, painter.open_panel, painter.intent);
    if (!step.picture)
        painter.tight = split.left_tight;
    draw_column(canvas, painter, "step." + step.id, left, split.left);
    if (!painter.open_panel.empty())
        return draw_panel(canvas, right, step, painter.open_panel, painter.words());
    if (step.picture)
        return paint_picture(canvas, *step.picture, right, "picture");
    if (beside)
        return draw_beside(canvas, right, step, painter.words());
    painter.tight = split.right_tight;
    draw_column(canvas, painter, "inputs." + step.id, inner, split.right);
}

} // namespace

void draw_step(Canvas& canvas, Layout const& place, SheetView const& sheet, StepView const& step,
               Intent& intent)
{
    StepPainter painter{canvas, sheet, step, intent, 0, 0.0, {}};
    if (canvas.portrait())
        draw_upright(canvas, place, painter);
    else
        draw_lying(canvas, place, painter);
}

PictureSpace step_picture_space(Canvas& canvas, Layout const& place, SheetView const& sheet,
                                StepView const& step)
{
    if (!canvas.portrait()) {
        bool const tabs = !tabs_of(step, sheet.words, false).empty();
        return {place.picture.w, tabs ? place.picture.h : place.tabs.bottom() - place.picture.y};
    }
    Intent none;
    StepPainter painter{canvas, sheet, step, none, 0, 0.0, {}};
    Rect const column = upright_column(canvas, place, step, !tabs_of(step, sheet.words, false).empty());
    painter.give_picture(column.w, column.h, place.picture.h);
    return {column.w, painter.picture_h};
}

} // namespace isochore::screens
