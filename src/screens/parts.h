#pragma once
#include "screens/canvas.h"
#include "screens/views.h"

/// Parts of a sheet that several screens share. Each draws into the place it is given.
namespace isochore::screens {

/// The styles of the sheet; nothing else is used for running text.
namespace style {
inline constexpr TextStyle body{};
inline constexpr TextStyle muted{Face::regular, size::body, Ink::muted};
inline constexpr TextStyle caption{Face::regular, size::caption, Ink::muted};
inline constexpr TextStyle strong{Face::bold, size::strong, Ink::text};
inline constexpr TextStyle bold{Face::bold, size::body, Ink::text};
inline constexpr TextStyle title{Face::bold, size::title, Ink::text};
inline constexpr TextStyle digits{Face::bold, size::digits, Ink::text};
} // namespace style

/// A cursor going down a column.
struct Column {
    Canvas& canvas;
    double x, w, y;
    double top = 0.0; ///< where it began

    void space(double mm) { y += mm; }
    void text(std::string const& words, TextStyle const& style, std::string id = {});
};

/// The actions along the bottom, left to right; the primary one takes the room that is left.
void draw_actions(Canvas& canvas, Rect const& place, std::vector<ActionView> const& actions,
                  WordsView const& words, Intent& intent);

/// Height the panel needs at a width.
[[nodiscard]] double verdict_height(Canvas& canvas, VerdictView const& verdict, double width);
/// The verdict: sign, words, reason, remedy.
void draw_verdict(Canvas& canvas, Rect const& place, VerdictView const& verdict, std::string const& id);

/// A caution at the step: bordered, with its triangle, `least` high. Returns the height used.
double draw_caution(Canvas& canvas, Point top_left, double width, CautionView const& caution,
                    std::string const& id, double least = 9.0);

/// Only the titles of cautions, side by side where they fit. Returns the height used.
double draw_caution_titles(Canvas& canvas, Point top_left, double width,
                           std::vector<CautionView> const& cautions);

/// One box for a value, label above and hint below. Returns the height used.
double draw_field(Canvas& canvas, Point top_left, double width, FieldView const& field,
                  WordsView const& words, bool enabled, Intent& intent);
/// The baseline of the value in a box whose top edge is here less the gap below its label.
[[nodiscard]] double field_baseline(double label_bottom);
/// Fields in as many columns as fit, `dense` in more. Returns the height used.
double draw_fields(Canvas& canvas, Point top_left, double width, std::vector<FieldView> const& fields,
                   WordsView const& words, bool enabled, Intent& intent, bool dense = false);

/// Answers to choose from, in one or two columns; `dense` takes two whenever their words can wrap. Returns
/// the height used.
double draw_answers(Canvas& canvas, Point top_left, double width, std::vector<AnswerView> const& answers,
                    bool enabled, Intent& intent, bool dense = false);

/// Results in big figures. Returns the height used.
double draw_results(Canvas& canvas, Point top_left, double width, std::vector<ResultView> const& results,
                    bool compact = false);

/// A ruled table with a sign at the end of each row. Returns the height used.
double draw_rows(Canvas& canvas, Point top_left, double width, std::vector<RowView> const& rows,
                 std::string const& id);

void draw_line_strip(Canvas& canvas, Rect const& place, std::vector<StageView> const& line, Intent& intent);

void draw_title_block(Canvas& canvas, Rect const& place, TitleBlockView const& block, WordsView const& words);
/// The block outside a job: the name of the program and of the sheet.
void draw_product_block(Canvas& canvas, Rect const& place, std::string const& product,
                        std::string const& sheet, WordsView const& words);

} // namespace isochore::screens
