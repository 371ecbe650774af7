#pragma once
#include "screens/screen_parts.h"
#include <string>

/// The blocks a step is made of, as step_screen.cpp arranges them.
namespace isochore::screens {

inline constexpr double least_picture = 38.0;
inline constexpr double block_gap = 3.4;        ///< between the blocks of a column
inline constexpr double verdict_reserve = 15.2; ///< height of a verdict of one line, with its gap

/// The blocks of a step, of which a column holds some.
enum Block : unsigned {
    prose_block = 1,
    fields_block = 2,
    answers_block = 4,
    outcome_block = 8,
    notes_block = 16,
    later_cautions_block = 32 ///< all cautions but the first, which stands with the prose
};
inline constexpr unsigned all_blocks = 63;

/// The picture of a step; a tap spreads it over the sheet, and back.
void draw_step_picture(Canvas& canvas, Rect const& place, StepView const& step, bool large, Intent& intent);

/// Draws the blocks of one step into columns, looser or tighter.
struct StepPainter {
    Canvas& canvas;
    SheetView const& sheet;
    StepView const& step;
    Intent& intent;
    int tight = 0;          ///< 1: smaller gaps; 2: smaller figures as well
    double picture_h = 0.0; ///< portrait: the picture stands in the flow
    std::string open_panel;

    [[nodiscard]] WordsView const& words() const { return sheet.words; }
    /// While a log runs its cautions have been read: the next reading must not be pushed out of sight by
    /// them. Their words stay under "why".
    [[nodiscard]] bool brief_cautions() const
    {
        return tight > 0 && !step.cautions.empty() && !step.countdown.empty();
    }
    /// A value is typed here, outside a log: no picture may push its field out of sight.
    [[nodiscard]] bool typing() const { return !step.fields.empty() && step.countdown.empty() && open(); }
    [[nodiscard]] bool open() const { return step.locked.empty() && !step.recorded; }
    void gap(Column& column, double roomy = block_gap) const
    {
        if (column.y > column.top + 0.01)
            column.space(tight > 0 ? 0.5 * roomy : roomy);
    }

    /// Draws the blocks named, from the column's cursor down.
    void column(Column& column, unsigned blocks);
    double height(double width, unsigned blocks);
    /// Portrait: the picture takes what the rest leaves, between limits.
    void give_picture(double width, double room, double most);
    /// Tightens until the blocks fit, as far as it goes; says whether they do.
    bool fit(double width, double room, unsigned blocks, int tightest = 2);

private:
    void prose(Column& column);
    void later_cautions(Column& column);
    void caution(Column& column, std::size_t which); ///< and those beside it
    [[nodiscard]] std::size_t cautions_across(Column const& column) const;
    void picture(Column& column);
    void fields(Column& column);
    void answers(Column& column);
    void outcome(Column& column);
    void notes(Column& column);
};

} // namespace isochore::screens
