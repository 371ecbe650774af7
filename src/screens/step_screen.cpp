#include "screens/marks.h"
#include "screens/step_blocks.h"
#include <algorithm>
#include <iterator>

namespace isochore::screens {

namespace {

constexpr double under_verdict = 2.6;
constexpr double large_head = size::target_min + size::gap - 1.0; // above a picture spread over the sheet

Rect large_picture(Layout const& place)
{
    double const top = place.content.y + large_head + 1.0;
    return {place.content.x, top, place.content.w, place.content.bottom() - top};
}

struct Tab {
    std::string id, label;
};

/// `put_away`: the step has a picture that found no room beside what is typed or answered.
std::vector<Tab> tabs_of(StepView const& step, WordsView const& words, bool reasons_beside, bool put_away)
{
    std::vector<Tab> tabs;
    if (put_away)
        tabs.push_back({"picture", words.picture});
    if (!reasons_beside && has_reasons(step))
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
    double const n = static_cast<double>(std::max<std::size_t>(3, tabs.size()));
    double const w = (place.w - (n - 1) * size::gap) / n;
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

double pinned_height(Canvas& canvas, Rect const& r, StepView const& step)
{
    return step.verdict ? std::min(verdict_height(canvas, *step.verdict, r.w), r.h * 0.6) : 0.0;
}

void draw_pinned_verdict(Canvas& canvas, Rect const& r, StepView const& step)
{
    if (!step.verdict)
        return;
    double const h = pinned_height(canvas, r, step);
    draw_verdict(canvas, {r.x, r.bottom() - h, r.w, h}, *step.verdict, "verdict");
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
        column.h -= pinned_height(canvas, column, step) + under_verdict;
    return column;
}

double reasons_height(StepPainter const& painter, double width)
{
    return painter.canvas.height_of([&] {
        return draw_below(painter.canvas, {0.0, 0.0}, width, painter.step, painter.words());
    });
}

// An upright sheet often has room under what one does: the reasons stand there instead of behind a tab, as
// long as a verdict of a few lines can still come without driving them away.
bool reasons_fit_below(StepPainter& painter, Layout const& place)
{
    auto const& step = painter.step;
    if (step.picture || !has_reasons(step))
        return false;
    bool const tabs = !tabs_of(step, painter.words(), true, false).empty();
    double room = upright_column(painter.canvas, place, step, tabs).h;
    if (!step.verdict && painter.open())
        room -= verdict_reserve + 2 * size::body * size::line_height;
    double const w = place.left.w;
    return painter.height(w, all_blocks) + 2 * block_gap + reasons_height(painter, w) <= room;
}

bool upright_picture_put_away(StepPainter painter, Layout const& place)
{
    if (!painter.step.picture)
        return false;
    Rect const column = upright_column(painter.canvas, place, painter.step, true);
    painter.give_picture(column.w, column.h, place.picture.h);
    return painter.picture_h <= 0.0;
}

void draw_upright(Canvas& canvas, Layout const& place, StepPainter painter)
{
    auto const& step = painter.step;
    bool const below = reasons_fit_below(painter, place);
    auto const tabs = tabs_of(step, painter.words(), below, upright_picture_put_away(painter, place));
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
    else // with room for a verdict to come, so that no answer moves away from under the finger
        painter.fit(column.w,
                    column.h - (step.verdict || !painter.open() || step.answers.empty() ? 0.0 : verdict_reserve),
                    all_blocks);
    if (below && painter.open_panel.empty()) {
        double const h = reasons_height(painter, column.w);
        draw_below(canvas, {column.x, column.bottom() - h}, column.w, step, painter.words());
        column.h -= h + block_gap;
    }
    draw_column(canvas, painter, "step." + step.id, column, all_blocks);
}

/// Which blocks stand left and right of a step that has no picture; nothing right means the reasons do,
/// unless the one column is as wide as the sheet.
struct Split {
    unsigned left = all_blocks, right = 0;
    bool wide = false;
    int left_tight = 0, right_tight = 0;
};

/// The room for each kind of column.
struct Room {
    Rect left, right, wide;
};

// The arrangements of a step without a picture, best first: everything left with the reasons beside it, or
// what one does on the right, down to what one must read on the left and all else on the right. What is only
// read may take the whole width, and so may many answers where nothing else holds them.
constexpr unsigned doing = fields_block | answers_block | outcome_block;
constexpr unsigned judging = answers_block | outcome_block;
constexpr unsigned reading = prose_block | later_cautions_block;
constexpr Split splits[] = {{all_blocks, 0},
                            {all_blocks, 0, true},
                            {reading, doing | notes_block},
                            {reading | notes_block, doing},
                            {reading | fields_block | notes_block, judging},
                            {reading | fields_block, judging | notes_block},
                            {prose_block | notes_block, later_cautions_block | doing},
                            {prose_block, later_cautions_block | doing | notes_block},
                            {prose_block | fields_block, later_cautions_block | judging | notes_block},
                            {all_blocks, 0, true}};

bool only_read(StepView const& step)
{
    return step.fields.empty() && step.answers.empty() && !step.results.empty();
}

bool may_be_wide(StepView const& step, std::size_t split)
{
    return only_read(step) || (split + 1 == std::size(splits) && step.fields.empty() && !step.answers.empty());
}

bool fits(StepPainter& painter, Room const& room, Split& split, int tightest)
{
    Rect const& left = split.wide ? room.wide : room.left;
    bool const left_fits = painter.fit(left.w, left.h, split.left, tightest);
    split.left_tight = painter.tight;
    bool const right_fits =
        split.right == 0 || painter.fit(room.right.w, room.right.h, split.right, tightest);
    split.right_tight = painter.tight;
    return left_fits && right_fits;
}

std::size_t choose_split(StepPainter painter, Room const& room)
{
    for (int const tightest : {1, 2})
        for (std::size_t i = 0; i < std::size(splits); ++i)
            if (Split split = splits[i];
                (!split.wide || may_be_wide(painter.step, i)) && fits(painter, room, split, tightest))
                return i;
    return only_read(painter.step) ? 1 : 2;
}

void draw_zoom(Canvas& canvas, Rect const& r, char const* id, std::string const& label, bool enabled,
               Intent& intent)
{
    ButtonLook look;
    look.enabled = enabled;
    look.label_size = size::digits;
    if (canvas.button(id, ElementKind::panel, r, label, look)) {
        intent.kind = Intent::Kind::zoom;
        intent.text = label == "+" ? "in" : "out";
    }
}

// A tap on the picture spreads it over the sheet, and back; the buttons draw it larger still, to be dragged
// about in its frame.
void draw_large(Canvas& canvas, Layout const& place, StepPainter painter)
{
    auto const& step = painter.step;
    double const zoom = painter.sheet.picture_zoom, button = size::target_min;
    Rect const head{place.content.x, place.content.y, place.content.w - 2 * (button + size::gap), button};
    canvas.fitted(head, step.title, style::strong, {size::strong, size::body}, "step.title");
    draw_zoom(canvas, {head.right() + size::gap, head.y, button, button}, "zoom.out", "−", zoom > 1.0,
              painter.intent);
    draw_zoom(canvas, {head.right() + 2 * size::gap + button, head.y, button, button}, "zoom.in", "+",
              zoom < 3.0, painter.intent);
    Rect const frame = large_picture(place);
    if (zoom <= 1.0)
        return draw_step_picture(canvas, frame, step, true, painter.intent);
    std::string const key = "picture." + step.id + std::to_string(static_cast<int>(zoom * 100));
    Rect const whole{0, 0, frame.w * zoom, frame.h * zoom};
    double const down = canvas.begin_scroll(key, frame);
    double const right = canvas.begin_scroll_sideways(key + ".x", frame, whole.w, (whole.w - frame.w) / 2);
    draw_step_picture(canvas, {frame.x - right, frame.y - down, whole.w, whole.h}, step, true,
                      painter.intent);
    canvas.end_scroll_sideways();
    canvas.end_scroll(whole.h);
}

// Chosen once, when the step opens, with room for a verdict to come: nothing may jump under the finger that
// gives the answer.
Split kept_split(StepPainter painter, Room const& room, double verdict_h)
{
    double& kept = painter.canvas.keep("split." + painter.step.id);
    if (kept < 0.5) {
        bool const expected = !painter.step.recorded && painter.step.locked.empty();
        Room reserved = room;
        if (expected)
            reserved.left.h -= std::max(0.0, verdict_reserve - verdict_h);
        kept = 1.0 + static_cast<double>(choose_split(painter, reserved));
    }
    Split split = splits[static_cast<std::size_t>(kept - 0.5)];
    fits(painter, room, split, 2);
    return split;
}

// The whole width above whatever stands lower, the verdict or the tabs.
Rect wide_column(Layout const& place, double verdict_h)
{
    double const bottom = std::min(place.left.bottom() - verdict_h, place.picture.bottom());
    return {place.content.x, place.left.y, place.content.w - 2.4, bottom - place.left.y};
}

/// How a lying sheet is arranged.
struct Lying {
    Split split;
    Rect left, right, inner;  ///< columns; `inner`: the right one where it is scrolled
    Rect verdict;             ///< of no height: there is none
    Rect picture;             ///< of no height: there is none
    double verdict_h = 0.0;   ///< with its gap, as far as it stands in the left column
    bool beside = false;      ///< the reasons stand beside
    std::vector<Tab> tabs;
};

// A verdict of many lines would push what is typed out of sight: it takes the place of the reasons.
bool verdict_goes_right(StepPainter painter, Lying const& l)
{
    auto const& step = painter.step;
    if (!step.verdict || !l.beside || step.fields.empty())
        return false;
    Rect const without{l.left.x, l.left.y, l.left.w, l.left.h + l.verdict_h};
    return verdict_height(painter.canvas, *step.verdict, l.inner.w) <= l.inner.h &&
           !painter.fit(l.left.w, l.left.h, l.split.left) &&
           painter.fit(without.w, without.h, l.split.left);
}

// What is done on the right often leaves room for the picture below it.
Rect picture_below(StepPainter painter, Lying const& l)
{
    if (!painter.step.picture || l.split.right == 0)
        return {};
    painter.tight = l.split.right_tight;
    double const used = painter.height(l.inner.w, l.split.right) + block_gap;
    double const h = l.inner.h - used;
    return h < least_picture ? Rect{} : Rect{l.right.x, l.inner.y + used, l.right.w, h};
}

Lying arrange_lying(Layout const& place, StepPainter painter)
{
    auto const& step = painter.step;
    Lying l;
    l.left = place.left;
    l.right = place.picture;
    l.inner = {l.right.x, l.right.y, l.right.w - 2.4, place.tabs.y - size::gap - l.right.y};
    if (double const h = pinned_height(painter.canvas, l.left, step); h > 0.0) {
        l.verdict = {l.left.x, l.left.bottom() - h, l.left.w, h};
        l.verdict_h = h + under_verdict;
    }
    l.left.h -= l.verdict_h;
    bool const pictured = step.picture && (painter.fit(l.left.w, l.left.h, all_blocks) || !painter.typing());
    if (!pictured)
        l.split = kept_split(painter, {l.left, l.inner, wide_column(place, l.verdict_h)}, l.verdict_h);
    l.beside = !pictured && l.split.right == 0 && !l.split.wide;
    if (verdict_goes_right(painter, l)) {
        l.beside = false;
        l.left = place.left;
        double const h = verdict_height(painter.canvas, *step.verdict, l.inner.w);
        l.verdict = {l.inner.x, l.inner.bottom() - h, l.inner.w, h};
        l.verdict_h = 0.0;
        fits(painter, {l.left, l.inner, l.left}, l.split, 2);
    }
    l.picture = pictured ? l.right : picture_below(painter, l);
    bool const shown = l.picture.h > 0.0;
    l.tabs = tabs_of(step, painter.words(), l.beside, step.picture && !shown);
    if (l.tabs.empty()) {
        l.right.h = place.tabs.bottom() - l.right.y;
        l.picture.h += shown ? place.tabs.bottom() - l.picture.bottom() : 0.0;
    }
    return l;
}

void draw_lying(Canvas& canvas, Layout const& place, StepPainter painter)
{
    auto const& step = painter.step;
    Lying const l = arrange_lying(place, painter);
    painter.open_panel = known_panel(l.tabs, painter.sheet.open_panel);
    bool const panel = !painter.open_panel.empty();
    bool const verdict_right = l.verdict.x > l.left.x;
    if (step.verdict && !(panel && verdict_right))
        draw_verdict(canvas, l.verdict, *step.verdict, "verdict");
    draw_tabs(canvas, place.tabs, l.tabs, painter.open_panel, painter.intent);
    painter.tight = l.split.left_tight;
    if (l.split.wide && !panel)
        return draw_column(canvas, painter, "step." + step.id, wide_column(place, l.verdict_h), l.split.left);
    if (l.split.left == all_blocks && l.split.right == 0 && l.picture.h > 0.0)
        painter.fit(l.left.w, l.left.h, all_blocks);
    draw_column(canvas, painter, "step." + step.id, l.left, l.split.left);
    if (panel)
        return draw_panel(canvas, l.right, step, painter.open_panel, painter.words());
    if (l.beside)
        return draw_beside(canvas, l.right, step, painter.words());
    if (l.split.right != 0) {
        painter.tight = l.split.right_tight;
        Rect column = l.inner;
        if (l.picture.h > 0.0)
            column.h = l.picture.y - column.y;
        draw_column(canvas, painter, "inputs." + step.id, column, l.split.right);
    }
    if (l.picture.h > 0.0)
        draw_step_picture(canvas, l.picture, step, false, painter.intent);
}

} // namespace

void draw_step(Canvas& canvas, Layout const& place, SheetView const& sheet, StepView const& step,
               Intent& intent)
{
    StepPainter painter{canvas, sheet, step, intent, 0, 0.0, {}};
    if (step.picture && sheet.open_panel == "picture")
        draw_large(canvas, place, painter);
    else if (canvas.portrait())
        draw_upright(canvas, place, painter);
    else
        draw_lying(canvas, place, painter);
}

PictureSpace step_picture_space(Canvas& canvas, Layout const& place, SheetView const& sheet,
                                StepView const& step)
{
    if (sheet.open_panel == "picture")
        return {large_picture(place).w * sheet.picture_zoom, large_picture(place).h * sheet.picture_zoom};
    Intent none;
    StepPainter painter{canvas, sheet, step, none, 0, 0.0, {}};
    if (!canvas.portrait()) {
        if (Rect const r = arrange_lying(place, painter).picture; r.h > 0.0)
            return {r.w, r.h};
        bool const tabs = !tabs_of(step, sheet.words, false, false).empty();
        return {place.picture.w, tabs ? place.picture.h : place.tabs.bottom() - place.picture.y};
    }
    Rect const column = upright_column(canvas, place, step, !tabs_of(step, sheet.words, false, false).empty());
    painter.give_picture(column.w, column.h, place.picture.h);
    if (painter.picture_h <= 0.0) // behind its tab it stands large
        return {large_picture(place).w, large_picture(place).h};
    return {column.w, painter.picture_h};
}

} // namespace isochore::screens
