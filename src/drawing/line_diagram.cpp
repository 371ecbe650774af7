#include "drawing/line_diagram.h"
#include "drawing/placement.h"
#include "drawing/symbols.h"
#include "drawing/text.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

constexpr double row_height = 14.0;   ///< comfortable
constexpr double least_height = 11.8; ///< flag, device and label just clear of the next row
constexpr double bus = 1.2;           ///< margin in which the bus stands

/// The fewest rows on which every label fits its stage's share of the width.
std::size_t rows_for(std::vector<LineStage> const& stages, double width, MeasureText const& measure,
                     double size)
{
    double longest = 1.0;
    for (auto const& stage : stages) {
        longest = std::max(longest, measure(stage.label, Face::bold, size) + 0.5 * size);
        longest = std::max(longest, measure(stage.flag, Face::regular, size) + 1.0);
    }
    auto const each = std::max<std::size_t>(1, static_cast<std::size_t>((width - 2.0 * bus) / longest));
    return std::max<std::size_t>(1, (stages.size() + each - 1) / each);
}

struct Row {
    Picture& picture;
    Placement& placement;
    double y;    ///< of the conductor
    double size; ///< em of the labels

    void stage(LineStage const& stage, double left, double pitch) const
    {
        Symbols symbols(picture, 1.0, 0.5);
        double const gap = std::clamp(pitch * 0.36, 3.0, 7.0);
        double const start = left + (pitch - gap) / 2.0, middle = left + pitch / 2.0;
        picture.line({left, y}, {start, y}, Ink::line, 0.5);
        symbols.switch_in_line({start, y}, gap, stage.closed);
        picture.line({start + gap, y}, {left + pitch, y}, Ink::line, 0.5);
        name(stage, middle, pitch);
        if (!stage.flag.empty())
            placement.put_fixed(
                picture, {{middle, y - 4.2},
                          shorten_text(stage.flag, pitch - 0.6, Face::regular, size, placement.measure()),
                          size,
                          Ink::undecided,
                          Face::regular,
                          Align::centre});
    }
    void name(LineStage const& stage, double middle, double pitch) const
    {
        auto const& measure = placement.measure();
        Face const face = stage.current ? Face::bold : Face::regular;
        std::string const text = shorten_text(stage.label, pitch - 0.3 * size, face, size, measure);
        double const base = y + 2.3 + ink_above * size;
        if (stage.current) {
            double const half = measure(text, face, size) / 2.0 + 1.0;
            picture.filled_rect({middle - half, base - 0.95 * size}, 2.0 * half, 1.3 * size, Ink::line);
        }
        Ink const ink = stage.current ? Ink::inverse : stage.closed ? Ink::text : Ink::muted;
        placement.put_fixed(picture, {{middle, base}, text, size, ink, face, Align::centre});
    }
    void end_bus(double x) const { picture.line({x, y - 3.6}, {x, y + 3.6}, Ink::line, 1.0); }
    /// Where the line goes on in the next row.
    void continues(double x) const
    {
        picture.area({{x + 1.1, y}, {x - 0.9, y - 1.1}, {x - 0.9, y + 1.1}}, Ink::line);
    }
};

} // namespace

double line_diagram_height(std::vector<LineStage> const& stages, double width_mm, MeasureText const& measure,
                           double size)
{
    return row_height * static_cast<double>(rows_for(stages, width_mm, measure, size));
}

Picture line_diagram(std::vector<LineStage> const& stages, Space space, MeasureText const& measure,
                     double size)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    auto const most = std::max<std::size_t>(1, static_cast<std::size_t>(space.height_mm / least_height));
    std::size_t const rows = std::min(most, rows_for(stages, space.width_mm, measure, size));
    std::size_t const each = stages.empty() ? 1 : (stages.size() + rows - 1) / rows;
    double const height = std::min(space.height_mm / static_cast<double>(rows), 1.3 * row_height);
    double const top = (space.height_mm - height * static_cast<double>(rows)) / 2.0;
    double const pitch = (space.width_mm - 2.0 * bus) / static_cast<double>(each);
    std::size_t done = 0;
    std::string left;
    for (std::size_t r = 0; r < rows; ++r) {
        Row const row{picture, placement, top + height * (static_cast<double>(r) + 0.55), size};
        std::size_t const first = r * each, last = std::min(stages.size(), first + each);
        for (std::size_t i = first; i < last; ++i)
            row.stage(stages[i], bus + pitch * static_cast<double>(i - first), pitch);
        double const end = bus + pitch * static_cast<double>(last > first ? last - first : each);
        if (r == 0)
            row.end_bus(bus);
        if (r + 1 == rows)
            row.end_bus(end);
        else
            row.continues(end);
    }
    for (auto const& stage : stages) {
        done += stage.closed ? 1 : 0;
        if (!stage.closed)
            left += (left.empty() ? "" : ", ") + stage.label;
    }
    picture.spoken = fmt::format("The outage line: {} of {} stages closed", done, stages.size()) +
                     (left.empty() ? "." : "; open: " + left + ".");
    return picture;
}

} // namespace isochore::drawing
