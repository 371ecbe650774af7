#pragma once
#include "drawing/axis.h"
#include "drawing/picture.h"
#include "drawing/placement.h"
#include "drawing/space.h"
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace isochore::drawing {

/// One row: a bar from `from` to `to`, and the interval its end lies in where that is known.
struct BarRow {
    enum class Look {
        filled,  ///< a solid bar
        hollow,  ///< its outline
        hatched, ///< outline and slanting lines
        points,  ///< a mark at each of `points`; no bar
    };
    std::string name;  ///< at the left, or above the bar where the space is narrow
    std::string value; ///< at the right, or above the bar; may be empty
    double from = 0.0, to = 0.0;
    std::optional<double> low, high; ///< of `to`
    Look look = Look::filled;
    Ink ink = Ink::line;
    int stripes = 1;     ///< the bar lies in so many strips, one for each person at it
    bool strong = false; ///< name and value in bold
    std::vector<double> points = {};
};

/// A line down through all rows, with its words above them.
struct BarLine {
    double at = 0.0;
    std::string label;
    Ink ink = Ink::text;
    Dash dash = Dash::solid;
};

/// What rows of bars share: the scale under them, lines and shaded stretches across them.
struct BarPlan {
    std::vector<BarRow> rows;
    std::vector<BarLine> lines;
    std::optional<std::pair<double, double>> band; ///< shaded behind the bars
    Axis scale;
    std::vector<std::string> titles; ///< of the scale, longest first
    bool corner_free = false;        ///< nothing else stands in the upper right corner, as on paper
};

/// Rows of bars over one scale, in a box of a picture. Names and values stand beside the bars where these
/// keep the larger part of the width, else above each bar. What has no room is shortened or left out; nothing
/// lies over anything else.
class BarRows {
public:
    BarRows(Picture& picture, Placement& placement, BarPlan const& plan, Box area, double size);

    /// Where the bars are, without names, scale and the words of the lines.
    [[nodiscard]] Box plot() const { return m_plot; }
    /// x of a value in mm, kept inside the plot; the left end for what cannot be drawn.
    [[nodiscard]] double at(double value) const;
    /// True where names stand beside the bars, not above them.
    [[nodiscard]] bool beside() const { return m_beside; }
    /// The bar of a row as drawn.
    [[nodiscard]] Box bar(std::size_t row) const { return m_bars[row]; }

private:
    /// The words of a line in their row above the bars, counted from below.
    struct LineWords {
        std::string text;
        double left, right, x;
        int row;
        Ink ink;
    };
    struct WordsSoFar {
        std::vector<LineWords> words;
        double cost = 0.0;
    };

    void choose_sides();
    [[nodiscard]] static bool apart(LineWords const& a, LineWords const& b);
    void place_words(std::size_t next, WordsSoFar& now, WordsSoFar& best) const;
    void lay_out_lines();
    [[nodiscard]] double below_corner(double rows) const;
    void lay_out_rows();
    void draw_scale();
    void draw_lines();
    void draw_bar(BarRow const& row, Box box);
    void draw_interval(BarRow const& row, Box box);
    void write_row(BarRow const& row, std::size_t index);
    [[nodiscard]] double width_of(std::string const& text, bool strong) const;

    Picture& m_picture;
    Placement& m_placement;
    BarPlan const& m_plan;
    Box m_area, m_plot;
    double m_size;
    bool m_beside = true;
    double m_names = 0.0, m_values = 0.0; ///< widths beside the bars
    double m_pitch = 0.0, m_thick = 0.0;
    std::vector<Box> m_bars;
    std::vector<LineWords> m_words;
};

/// The least height rows of bars need at a text size where names stand beside them, mm; `lines`: words of
/// lines stand above them.
[[nodiscard]] double bar_rows_height(std::size_t rows, bool lines, bool titles, double size);

/// The largest text size, up to `most` and not below `least`, at which rows stand in a box without crowding.
[[nodiscard]] double bar_rows_size(BarPlan const& plan, Box area, double most, double least,
                                   MeasureText const& measure);

} // namespace isochore::drawing
