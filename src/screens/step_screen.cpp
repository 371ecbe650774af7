#include "screens/marks.h"
#include "screens/paint_picture.h"
#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double block_gap = 3.4; // between the blocks of the text column

// A step that is closed carries a stamp, as a drawing carries one when it is released.
double draw_stamp(Canvas& canvas, Column const& column, StepView const& step, WordsView const& words)
{
    if (!step.recorded)
        return 0.0;
    std::string label = words.recorded;
    if (!step.history.empty())
        label += "  " + step.history.back().when + "  " + step.history.back().who;
    double const w = canvas.measure(label, style::bold.sized(size::caption)) + 4.0;
    Rect const r{column.x + column.w - w, column.y - 0.6, w, 5.8};
    canvas.frame(r, Ink::text, 0.35);
    canvas.text({r.x + 2.0, r.y + 4.15}, label, {Face::bold, size::caption}, "step.stamp");
    return w + 3.0;
}

void draw_where(Canvas& canvas, Column& column, StepView const& step, WordsView const& words)
{
    double const stamp = draw_stamp(canvas, column, step, words);
    column.y += canvas.paragraph({column.x, column.y}, column.w - stamp, step.where, style::muted, "step.where");
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
    double const h = std::max(10.0, canvas.paragraph_height(words.locked, style::bold, w) + canvas.paragraph_height(step.locked, style::body, w) + 2.8);
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

void draw_readings(Canvas& canvas, Column& column, StepView const& step, WordsView const& words)
{
    if (step.readings.empty())
        return;
    column.space(block_gap);
    column.text(words.readings, style::muted);
    // The latest first: it is the one that matters while one reads.
    int number = static_cast<int>(step.readings.size());
    for (auto it = step.readings.rbegin(); it != step.readings.rend(); ++it, --number) {
        double const h = canvas.paragraph_height(*it, style::body, column.w - 10.0) + 1.0;
        canvas.text({column.x + 6.0, column.y + 4.0}, std::to_string(number), style::muted.aligned(Align::right));
        canvas.paragraph({column.x + 9.0, column.y + 0.5}, column.w - 10.0, *it, number == static_cast<int>(step.readings.size()) ? style::bold : style::body,
                         "reading." + std::to_string(number));
        column.y += h;
        canvas.hline(column.x, column.x + column.w, column.y, Ink::faint);
    }
}

void draw_countdown(Canvas& canvas, Column& column, StepView const& step)
{
    if (step.countdown.empty())
        return;
    column.space(block_gap);
    column.y += draw_results(canvas, {column.x, column.y}, column.w, {{step.countdown_label, step.countdown, ""}});
}

// A log's field and its countdown stand side by side when there is one of each.
void draw_fields_and_countdown(Canvas& canvas, Column& column, StepView const& step, WordsView const& words, Intent& intent)
{
    bool const open = step.locked.empty() && !step.recorded;
    if (step.fields.size() == 1 && !step.countdown.empty()) {
        column.space(block_gap);
        double const w = (column.w - 5.0) * 0.54;
        double const field_h = draw_field(canvas, {column.x, column.y}, w, step.fields.front(), words, open, intent);
        double const timer_h = draw_results(canvas, {column.x + w + 5.0, column.y}, column.w - w - 5.0, {{step.countdown_label, step.countdown, ""}});
        column.y += std::max(field_h, timer_h);
        return;
    }
    if (!step.fields.empty()) {
        column.space(block_gap);
        column.y += draw_fields(canvas, {column.x, column.y}, column.w, step.fields, words, open, intent);
    }
    draw_countdown(canvas, column, step);
}

void draw_text_column(Canvas& canvas, Column& column, StepView const& step, WordsView const& words, bool with_picture, Intent& intent,
                      double picture_h, std::string const& open_panel)
{
    draw_where(canvas, column, step, words);
    for (std::size_t i = 0; i < step.cautions.size(); ++i) {
        column.space(i == 0 ? 2.6 : 1.6);
        column.y += draw_caution(canvas, {column.x, column.y}, column.w, step.cautions[i], "caution." + std::to_string(i));
    }
    draw_locked(canvas, column, step, words);
    if (with_picture) { // portrait: the picture stands in the flow
        column.space(block_gap);
        Rect const r{column.x, column.y, column.w, picture_h};
        if (!open_panel.empty())
            draw_panel(canvas, r, step, open_panel, words);
        else
            paint_picture(canvas, *step.picture, r, "picture");
        column.y += picture_h;
    }
    draw_fields_and_countdown(canvas, column, step, words, intent);
    if (!step.answers.empty()) {
        column.space(block_gap);
        column.y += draw_answers(canvas, {column.x, column.y}, column.w, step.answers, step.locked.empty() && !step.recorded, intent);
    }
    if (!step.results.empty()) {
        column.space(block_gap);
        column.y += draw_results(canvas, {column.x, column.y}, column.w, step.results);
    }
    if (!step.rows.empty()) {
        column.space(block_gap);
        column.y += draw_rows(canvas, {column.x, column.y}, column.w, step.rows, "row");
    }
    draw_readings(canvas, column, step, words);
    for (std::size_t i = 0; i < step.notes.size(); ++i) {
        column.space(i == 0 ? block_gap : 1.0);
        column.text(step.notes[i], style::muted, "note." + std::to_string(i));
    }
}

struct Tab {
    std::string id, label;
};

std::vector<Tab> tabs_of(StepView const& step, WordsView const& words, bool portrait)
{
    std::vector<Tab> tabs;
    bool const beside = !step.picture && !portrait; // then the reasons stand there anyway
    if (!beside && !(step.why.empty() && step.wrong.empty() && step.source.empty()))
        tabs.push_back({"why", words.why});
    if (!step.working.empty() || !step.budget.empty())
        tabs.push_back({"working", words.working});
    if (!step.history.empty())
        tabs.push_back({"history", words.history});
    return tabs;
}

void draw_tabs(Canvas& canvas, Rect const& place, std::vector<Tab> const& tabs, std::string const& open, Intent& intent)
{
    double const w = (place.w - 2 * size::gap) / 3;
    for (std::size_t i = 0; i < tabs.size(); ++i) {
        Rect const r{place.x + static_cast<double>(i) * (w + size::gap), place.y, w, place.h};
        ButtonLook look;
        look.chosen = tabs[i].id == open;
        look.label_size = size::body;
        look.border = 0.3;
        if (canvas.button("panel." + tabs[i].id, ElementKind::panel, r, tabs[i].label, look)) {
            intent.kind = Intent::Kind::panel;
            intent.id = look.chosen ? std::string() : tabs[i].id;
        }
    }
}

} // namespace

void draw_step(Canvas& canvas, Layout const& place, SheetView const& sheet, StepView const& step, Intent& intent)
{
    bool const portrait = canvas.portrait();
    auto const tabs = tabs_of(step, sheet.words, portrait);
    bool const known = std::any_of(tabs.begin(), tabs.end(), [&](Tab const& t) { return t.id == sheet.open_panel; });
    std::string const open = known ? sheet.open_panel : std::string();

    Rect left = place.left;
    if (portrait && tabs.empty())
        left.h = place.content.h;
    if (step.verdict) {
        double const h = std::min(verdict_height(canvas, *step.verdict, left.w), left.h * 0.6);
        Rect const r{left.x, left.bottom() - h, left.w, h};
        draw_verdict(canvas, r, *step.verdict, "verdict");
        left.h -= h + 2.6;
    }
    bool const flow_picture = portrait && step.picture.has_value();
    double const offset = canvas.begin_scroll("step." + step.id, {left.x - 0.5, left.y, left.w + 2.5, left.h});
    Column column{canvas, left.x, left.w, left.y - offset};
    if (portrait && !step.picture && !open.empty()) {
        draw_where(canvas, column, step, sheet.words);
        column.space(block_gap);
        draw_panel(canvas, {column.x, column.y, column.w, place.picture.h}, step, open, sheet.words);
        column.y += place.picture.h;
    } else {
        draw_text_column(canvas, column, step, sheet.words, flow_picture, intent, place.picture.h, open);
    }
    canvas.end_scroll(column.y + offset - left.y + 1.0);

    draw_tabs(canvas, place.tabs, tabs, open, intent);
    if (portrait)
        return;
    Rect right = place.picture;
    if (tabs.empty())
        right.h = place.tabs.bottom() - right.y;
    if (!open.empty())
        draw_panel(canvas, right, step, open, sheet.words);
    else if (step.picture)
        paint_picture(canvas, *step.picture, right, "picture");
    else
        draw_beside(canvas, right, step, sheet.words);
}

} // namespace isochore::screens
