#pragma once
#include "drawing/picture.h"
#include "drawing/space.h"
#include <cmath>
#include <string>
#include <vector>

namespace isochore::tests {

/// A stand-in for a font: every character `em` wide. 0.55 is B612's mean, 0.75 is wider than any text face.
inline drawing::MeasureText fixed_width(double em)
{
    return [em](std::string_view text, drawing::Face face, double size) {
        double characters = 0.0;
        for (char const c : text)
            characters += (static_cast<unsigned char>(c) & 0xc0) != 0x80 ? 1.0 : 0.0;
        return characters * size * (face == drawing::Face::bold ? em * 1.08 : em);
    };
}

struct Named {
    drawing::Box box;
    drawing::Label label;
};

inline std::vector<Named> labels_of(drawing::Picture const& picture, drawing::MeasureText const& measure)
{
    std::vector<Named> labels;
    for (auto const& item : picture.items)
        if (auto const* label = std::get_if<drawing::Label>(&item))
            labels.push_back({label_box(*label, measure(label->text, label->face, label->size)), *label});
    return labels;
}

/// What is wrong with the labels of a picture, in words; empty when nothing is.
inline std::string label_faults(drawing::Picture const& picture, drawing::MeasureText const& measure,
                                double least_size = 2.9)
{
    std::string faults;
    drawing::Box const sheet{0.0, 0.0, picture.width, picture.height};
    auto const labels = labels_of(picture, measure);
    for (std::size_t i = 0; i < labels.size(); ++i) {
        auto const& [box, label] = labels[i];
        if (label.text.empty())
            faults += "an empty label; ";
        if (!box.inside(sheet))
            faults += "outside: " + label.text + "; ";
        if (label.size < least_size - 1e-9)
            faults += "too small: " + label.text + "; ";
        for (std::size_t k = i + 1; k < labels.size(); ++k)
            if (box.grown(-0.05).overlaps(labels[k].box))
                faults += "over each other: " + label.text + " and " + labels[k].label.text + "; ";
    }
    return faults;
}

/// Points and circles with numbers that are not finite, or drawn off the sheet by more than a stroke.
inline std::string stroke_faults(drawing::Picture const& picture)
{
    std::string faults;
    drawing::Box const sheet = drawing::Box{0.0, 0.0, picture.width, picture.height}.grown(2.5);
    auto const check = [&](drawing::Point p) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y))
            faults += "a point that is not finite; ";
        else if (!sheet.holds(p))
            faults += "a point off the sheet: " + std::to_string(p.x) + ", " + std::to_string(p.y) + "; ";
    };
    for (auto const& item : picture.items) {
        if (auto const* run = std::get_if<drawing::Polyline>(&item))
            for (auto const p : run->points)
                check(p);
        if (auto const* circle = std::get_if<drawing::Circle>(&item))
            check(circle->centre);
    }
    return faults;
}

} // namespace isochore::tests
