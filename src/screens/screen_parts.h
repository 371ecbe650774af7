#pragma once
#include "screens/layout.h"
#include "screens/parts.h"

/// One function a screen; each stands in the file of its name.
namespace isochore::screens {

void draw_step(Canvas& canvas, Layout const& place, SheetView const& sheet, StepView const& step,
               Intent& intent);
/// Room for the picture of a step, which in portrait is what the words leave.
[[nodiscard]] PictureSpace step_picture_space(Canvas& canvas, Layout const& place, SheetView const& sheet,
                                              StepView const& step);
void draw_list(Canvas& canvas, Layout const& place, SheetView const& sheet, ListView const& list,
               Intent& intent);
void draw_table(Canvas& canvas, Layout const& place, SheetView const& sheet, TableView const& table,
                Intent& intent);
void draw_form(Canvas& canvas, Layout const& place, SheetView const& sheet, FormView const& form,
               Intent& intent);
void draw_progress(Canvas& canvas, Layout const& place, SheetView const& sheet, ProgressView const& progress,
                   Intent& intent);
void draw_sign(Canvas& canvas, Layout const& place, SheetView const& sheet, SignView const& sign,
               Intent& intent);
void draw_entry(Canvas& canvas, SheetView const& sheet, EntryView const& entry, Intent& intent);
void draw_question(Canvas& canvas, SheetView const& sheet, QuestionView const& question, Intent& intent);

/// The panel a tab opens over the picture: "why", "working" or "history".
void draw_panel(Canvas& canvas, Rect const& place, StepView const& step, std::string const& name,
                WordsView const& words);
/// What stands beside a step that has no picture.
void draw_beside(Canvas& canvas, Rect const& place, StepView const& step, WordsView const& words);
[[nodiscard]] bool has_reasons(StepView const& step);
/// The same reasons under a rule, as wide as the sheet; returns the height taken.
double draw_below(Canvas& canvas, Point at, double width, StepView const& step, WordsView const& words);

/// What stands above the rows of a list or a table.
struct SheetHead {
    std::string const &heading, &text;
    std::vector<FilterView> const& filters;
    std::optional<VerdictView> const& notice;
    std::string const* search = nullptr; ///< as typed; null without a search field
};

/// Search field or filters stand beside the heading where there is room; returns the height used.
double draw_head(Canvas& canvas, Point top_left, double width, SheetHead const& head, WordsView const& words,
                 Intent& intent);

/// Heading and introduction of a list, form or signature; returns the height used.
double draw_heading(Canvas& canvas, Point top_left, double width, std::string const& heading,
                    std::string const& text);

/// Of all filters in one row.
[[nodiscard]] double filters_width(Canvas& canvas, std::vector<FilterView> const& filters);
/// Filters in one or more rows of boxes; returns the height used, 0 without any.
double draw_filters(Canvas& canvas, Point top_left, double width, std::vector<FilterView> const& filters,
                    Intent& intent);

} // namespace isochore::screens
