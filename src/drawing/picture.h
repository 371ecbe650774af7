#pragma once
#include <functional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace isochore::drawing {

/// Colours by role. Each theme, on screen or on paper, gives every role one colour; no picture names a
/// colour.
enum class Ink {
    paper,       ///< background of the sheet
    panel,       ///< background of a quiet panel
    line,        ///< frame and main lines
    text,        ///< body text
    muted,       ///< labels, axis numbers (still >= 7:1 on paper)
    faint,       ///< grid lines and rules; never text
    accent,      ///< live values and the point now
    accent_soft, ///< fill behind an accent
    inverse,     ///< text on a filled `line` area
    pass,
    fail,
    undecided,
};
inline constexpr int ink_count = 12;

enum class Face { regular, bold, mono };
enum class Align { left, centre, right };
enum class Dash { solid, dashed, dotted };

struct Point {
    double x = 0.0, y = 0.0;
};

/// Open or closed run of straight segments; width 0 with a fill draws the area only.
struct Polyline {
    std::vector<Point> points;
    Ink ink = Ink::line;
    double width = 0.4;
    Dash dash = Dash::solid;
    bool closed = false;
    bool filled = false;
    Ink fill = Ink::panel;
};

struct Circle {
    Point centre;
    double radius = 1.0;
    Ink ink = Ink::line;
    double width = 0.4;
    bool filled = false;
    Ink fill = Ink::line;
};

/// `at` is on the baseline. `size` is the em size in mm (B612 digits are about 0.72 of it high).
struct Label {
    Point at;
    std::string text;
    double size = 4.0;
    Ink ink = Ink::text;
    Face face = Face::regular;
    Align align = Align::left;
};

using Item = std::variant<Polyline, Circle, Label>;

/// A picture as a plain display list in millimetres, origin top left, y downward. Painted by ImGui on screen
/// and by cairo in the PDF from the same list.
struct Picture {
    double width = 0.0, height = 0.0;
    std::vector<Item> items;
    std::string spoken; ///< the same in one sentence, for the record and for those who cannot see it

    void line(Point a, Point b, Ink ink, double width, Dash dash = Dash::solid);
    void polyline(std::vector<Point> points, Ink ink, double width, Dash dash = Dash::solid);
    void area(std::vector<Point> points, Ink fill);
    void rect(Point top_left, double w, double h, Ink ink, double width);
    void filled_rect(Point top_left, double w, double h, Ink fill);
    void circle(Point centre, double radius, Ink ink, double width);
    void dot(Point centre, double radius, Ink fill);
    void label(Point at, std::string text, double size, Ink ink, Face face = Face::regular,
               Align align = Align::left);
};

/// Adds a picture to a larger one, its origin at `at`, everything in it `scale` times as large.
void append(Picture& onto, Picture const& picture, Point at, double scale = 1.0);

/// Width in mm of a text at an em size: given by the painter, so that layout agrees with what is drawn.
using MeasureText = std::function<double(std::string_view text, Face face, double size)>;

} // namespace isochore::drawing
