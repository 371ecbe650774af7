#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

void section(Column& column, std::string const& heading, std::string const& text, std::string const& id)
{
    if (text.empty())
        return;
    column.text(heading, style::muted);
    column.space(0.4);
    column.text(text, style::body, id);
    column.space(3.6);
}

void draw_reasons(Column& column, StepView const& step, WordsView const& words)
{
    section(column, words.why, step.why, "panel.why.text");
    section(column, words.if_wrong, step.wrong, "panel.wrong.text");
    section(column, words.source, step.source, "panel.source.text");
    if (!step.countdown.empty()) // a running log shows only their titles
        for (auto const& caution : step.cautions)
            section(column, caution.title, caution.text, "panel.caution.text");
}

void draw_budget(Column& column, StepView const& step, WordsView const& words)
{
    if (step.budget.empty())
        return;
    column.text(words.budget, style::muted);
    column.space(0.8);
    for (std::size_t i = 0; i < step.budget.size(); ++i) {
        auto const& part = step.budget[i];
        double const w = column.w;
        std::string const id = "budget." + std::to_string(i);
        double const text_w = column.canvas.measure(part.text, style::muted);
        column.canvas.text({column.x + w, column.y + 4.0}, part.text, style::muted.aligned(Align::right),
                           id + ".text");
        column.y += column.canvas.paragraph({column.x, column.y}, std::max(20.0, w - text_w - 3.0),
                                            part.input, style::body, id);
        double const bar = std::clamp(part.share, 0.0, 1.0) * w;
        column.canvas.fill({column.x, column.y + 0.2, w, 1.6}, Ink::panel);
        column.canvas.fill({column.x, column.y + 0.2, std::max(bar, 0.3), 1.6}, Ink::accent);
        column.space(3.4);
    }
}

void draw_working(Column& column, StepView const& step, WordsView const& words)
{
    for (std::size_t i = 0; i < step.working.size(); ++i) {
        auto const& line = step.working[i];
        std::string const id = "working." + std::to_string(i);
        column.text(line.formula, style::bold, id + ".formula");
        column.text(line.numbers, style::body, id + ".numbers");
        column.text(line.source, style::muted, id + ".source");
        column.space(1.4);
        column.canvas.hline(column.x, column.x + column.w, column.y, Ink::faint);
        column.space(1.6);
    }
    draw_budget(column, step, words);
}

void draw_history(Column& column, StepView const& step)
{
    for (std::size_t i = 0; i < step.history.size(); ++i) {
        auto const& entry = step.history[i];
        std::string const id = "history." + std::to_string(i);
        column.text(entry.when + "   " + entry.who, style::muted, id + ".when");
        column.text(entry.what, style::body, id + ".what");
        column.space(1.2);
        column.canvas.hline(column.x, column.x + column.w, column.y, Ink::faint);
        column.space(1.4);
    }
}

} // namespace

void draw_panel(Canvas& canvas, Rect const& place, StepView const& step, std::string const& name,
                WordsView const& words)
{
    canvas.fill(place, Ink::panel);
    canvas.fill({place.x, place.y, 0.8, place.h}, Ink::line);
    canvas.ground(Ink::panel);
    Rect const inner{place.x + 4.0, place.y + 2.0, place.w - 6.0, place.h - 3.0};
    double const offset = canvas.begin_scroll("panel." + name + "." + step.id, inner);
    Column column{canvas, inner.x, inner.w - 3.0, inner.y - offset};
    if (name == "why")
        draw_reasons(column, step, words);
    else if (name == "working")
        draw_working(column, step, words);
    else
        draw_history(column, step);
    canvas.end_scroll(column.y + offset - inner.y);
    canvas.ground(Ink::paper);
}

bool has_reasons(StepView const& step)
{
    return !(step.why.empty() && step.wrong.empty() && step.source.empty());
}

void draw_beside(Canvas& canvas, Rect const& place, StepView const& step, WordsView const& words)
{
    if (!has_reasons(step))
        return;
    canvas.vline(place.x, place.y + 1.0, place.bottom(), Ink::faint, 0.3);
    Rect const inner{place.x + 5.0, place.y, place.w - 5.0, place.h};
    double const offset = canvas.begin_scroll("beside." + step.id, inner);
    Column column{canvas, inner.x, inner.w - 3.0, inner.y - offset};
    draw_reasons(column, step, words);
    canvas.end_scroll(column.y + offset - inner.y);
}

double draw_below(Canvas& canvas, Point at, double width, StepView const& step, WordsView const& words)
{
    constexpr double under_rule = 2.4;
    canvas.hline(at.x, at.x + width, at.y, Ink::faint, 0.3);
    Column column{canvas, at.x, width, at.y + under_rule};
    draw_reasons(column, step, words);
    return column.y - at.y;
}

} // namespace isochore::screens
