#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <string>

namespace isochore::drawing {

/// Symbols of IEC 60617 for vertical conductors, drawn around a centre at a scale in mm; each returns the
/// box it takes. The conductor meets the top and the bottom of the box at the centre's x.
class Symbols {
public:
    Symbols(Picture& picture, double scale, double stroke = 0.45)
        : m_picture(picture), m_scale(scale), m_stroke(stroke)
    {
    }
    [[nodiscard]] double scale() const { return m_scale; }

    Box make_contact(Point centre, Ink ink = Ink::line);  ///< S00227, open at rest
    Box break_contact(Point centre, Ink ink = Ink::line); ///< S00229, closed at rest
    Box resistor(Point centre, Ink ink = Ink::line);      ///< S00555
    Box coil(Point centre, Ink ink = Ink::line);          ///< S00305, operating device
    Box lamp(Point centre, Ink ink = Ink::line);          ///< S00965
    Box fuse(Point centre, Ink ink = Ink::line);          ///< S00362
    void node(Point centre, Ink ink = Ink::line);         ///< S00020, where conductors are joined
    void wire(Point a, Point b, Ink ink = Ink::line, Dash dash = Dash::solid);
    /// A switching device of the line diagram on a horizontal conductor; `gap` is the length it takes.
    void switch_in_line(Point left, double gap, bool closed, Ink ink = Ink::line);

private:
    [[nodiscard]] Box around(Point c, double half_width, double half_height) const;
    Picture& m_picture;
    double m_scale, m_stroke;
};

} // namespace isochore::drawing
