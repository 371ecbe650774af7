#include "screens/sheet.h"
#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

// Frame of the drawing with the ticks of its zones (ISO 5457 divides the border into fields).
void draw_frame(Canvas& canvas)
{
    Rect const r = Rect{0, 0, canvas.width(), canvas.height()}.inset(size::frame);
    canvas.frame(r, Ink::line, 0.45);
    int const across = canvas.portrait() ? 4 : 8, down = canvas.portrait() ? 8 : 5;
    for (int i = 1; i < across; ++i) {
        double const x = r.x + r.w * i / across;
        canvas.vline(x, r.y, r.y + 0.9, Ink::line, 0.2);
        canvas.vline(x, r.bottom() - 0.9, r.bottom(), Ink::line, 0.2);
    }
    for (int i = 1; i < down; ++i) {
        double const y = r.y + r.h * i / down;
        canvas.hline(r.x, r.x + 0.9, y, Ink::line, 0.2);
        canvas.hline(r.right() - 0.9, r.right(), y, Ink::line, 0.2);
    }
}

std::vector<ActionView> const& actions_of(SheetView const& view)
{
    static std::vector<ActionView> const none;
    if (view.step)
        return view.step->actions;
    if (view.list)
        return view.list->actions;
    if (view.table)
        return view.table->actions;
    if (view.form)
        return view.form->actions;
    if (view.sign)
        return view.sign->actions;
    return none;
}

Layout layout_of(Canvas const& canvas, SheetView const& view)
{
    auto const& actions = actions_of(view);
    bool const guarded =
        std::any_of(actions.begin(), actions.end(), [](ActionView const& a) { return a.hold; });
    Layout place = layout(canvas.width(), canvas.height(), !view.line.empty(), guarded);
    if (!view.block && !canvas.portrait()) { // the name alone needs little room beside the actions
        constexpr double name_width = 42.0;
        double const right = place.block.right();
        place.block = {right - name_width, place.block.y, name_width, place.block.h};
        place.actions.w = place.block.x - size::gap_guarded - place.actions.x;
    }
    return place;
}

void draw_body(Canvas& canvas, Layout const& place, SheetView const& view, Intent& intent)
{
    if (view.step)
        draw_step(canvas, place, view, *view.step, intent);
    else if (view.list)
        draw_list(canvas, place, view, *view.list, intent);
    else if (view.table)
        draw_table(canvas, place, view, *view.table, intent);
    else if (view.form)
        draw_form(canvas, place, view, *view.form, intent);
    else if (view.progress)
        draw_progress(canvas, place, view, *view.progress, intent);
    else if (view.sign)
        draw_sign(canvas, place, view, *view.sign, intent);
}

std::string heading_of(SheetView const& view)
{
    return view.list     ? view.list->heading
           : view.table  ? view.table->heading
           : view.form   ? view.form->heading
           : view.step   ? view.step->title
                         : std::string();
}

// The title block names what the sheet is about, so it opens what can be done with the whole of it.
void draw_block(Canvas& canvas, Rect const& place, SheetView const& view, Intent& intent)
{
    if (view.block) {
        if (canvas.target("action.menu", ElementKind::panel, place, view.block->job))
            intent = {Intent::Kind::action, "menu", {}, {}};
        bool const pressed = canvas.pressed_in(place);
        if (pressed) {
            canvas.fill(place, Ink::accent_soft);
            canvas.ground(Ink::accent_soft);
        }
        draw_title_block(canvas, place, *view.block, view.words);
        for (double const y : {1.6, 2.6, 3.6})
            canvas.hline(place.right() - 4.2, place.right() - 1.4, place.y + y, Ink::line, 0.35);
        canvas.ground(Ink::paper);
    } else if (!view.product_line.empty()) {
        draw_product_block(canvas, place, view.product_line, heading_of(view), view.words);
    }
}

// What a keypad or keyboard covers is not drawn at all: it only keeps its scroll positions. The line stays in
// sight beside a keypad; a keyboard needs its room.
void draw_under(Canvas& canvas, Layout const& place, SheetView const& view, Intent& intent)
{
    bool const keyboard = view.entry && view.entry->text;
    auto const draw = [&] {
        if (keyboard)
            draw_line_strip(canvas, place.strip, view.line, intent);
        draw_body(canvas, place, view, intent);
        draw_actions(canvas, place.actions, actions_of(view), view.words, intent);
        draw_block(canvas, place.block, view, intent);
        return 0.0;
    };
    if (!keyboard)
        draw_line_strip(canvas, place.strip, view.line, intent);
    if (view.entry)
        canvas.height_of(draw);
    else
        draw();
}

} // namespace

Intent draw_sheet(Canvas& canvas, SheetView const& view)
{
    Intent intent;
    Layout const place = layout_of(canvas, view);
    canvas.deaf(view.busy || view.entry || view.question);
    canvas.veil(view.question.has_value());
    draw_frame(canvas);
    draw_under(canvas, place, view, intent);
    if (view.entry) {
        canvas.begin_overlay();
        canvas.deaf(view.busy || view.question);
        draw_entry(canvas, view, *view.entry, intent);
        canvas.end_overlay();
    }
    if (view.question) {
        canvas.begin_overlay();
        canvas.deaf(view.busy);
        canvas.veil(false);
        draw_question(canvas, view, *view.question, intent);
        canvas.end_overlay();
    }
    return intent;
}

PictureSpace picture_space(Canvas& canvas, SheetView const& view)
{
    Layout const place = layout_of(canvas, view);
    if (!view.step)
        return {place.picture.w, place.picture.h};
    return step_picture_space(canvas, place, view, *view.step);
}

} // namespace isochore::screens
