#pragma once
#include "drawing/axis.h"
#include "drawing/picture.h"
#include "drawing/placement.h"
#include "drawing/space.h"
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace isochore::drawing {

/// The same scale in another unit, on the right: other = value * scale + offset.
struct SecondScale {
    double scale = 1.0, offset = 0.0;
    std::vector<std::string> titles; ///< wordings, longest first
};

/// What a chart spans and how its axes are called.
struct ChartPlan {
    double x_low = 0.0, x_high = 1.0, y_low = 0.0, y_high = 1.0;
    int most_x = 9;                              ///< ticks along x
    bool grow_x = true, grow_y = true;           ///< move the ends out to round ticks
    std::vector<std::string> x_titles, y_titles; ///< wordings, longest first
    std::optional<SecondScale> second;
    std::function<std::string(double)> decade_text; ///< given: y runs in decades, and this writes a tick
};

/// A plot with axes inside a space. Draw fills first, then the grid, then lines, then the frame; the tick
/// labels and titles take their boxes in `placement` at once, so nothing is ever put over them.
class Chart {
public:
    Chart(Picture& picture, Placement& placement, ChartPlan const& plan, double size);

    [[nodiscard]] Box plot() const { return m_plot; }
    [[nodiscard]] Axis const& x() const { return m_x; }
    [[nodiscard]] Axis const& y() const { return m_y; }
    [[nodiscard]] double size() const { return m_size; }
    /// Where a value lies, in mm; may be outside the plot.
    [[nodiscard]] Point at(double x, double y) const;
    [[nodiscard]] Point at(Point value) const { return at(value.x, value.y); }
    /// The values that can be drawn, in mm, sorted by nothing.
    [[nodiscard]] std::vector<Point> at(std::vector<Point> const& values) const;

    void grid();
    void frame();
    /// A curve in values, cut at the edge of the plot; labels avoid it.
    void curve(std::vector<Point> const& values, Ink ink, double width, Dash dash = Dash::solid);
    void area(std::vector<Point> const& values, Ink fill);
    /// A filled or hollow reading; labels avoid it. Nothing is drawn outside the plot.
    void reading(Point value, double radius, Ink ink, bool filled);

private:
    void lay_out(ChartPlan const& plan);
    void lay_out_y(ChartPlan const& plan, double top, double bottom);
    void lay_out_x(ChartPlan const& plan);
    void label_axes(ChartPlan const& plan);
    void label_second(ChartPlan const& plan);
    [[nodiscard]] std::string second_title(ChartPlan const& plan) const;
    [[nodiscard]] double widest(std::vector<std::string> const& texts) const;

    Picture& m_picture;
    Placement& m_placement;
    double m_size;
    Box m_plot;
    Axis m_x, m_y;
    std::optional<Axis> m_second;
};

} // namespace isochore::drawing
