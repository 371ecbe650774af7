#include "report/cairo_painter.h"
#include "report/type_shared.h"
#include <algorithm>
#include <cairo.h>
#include <cmath>
#include <numbers>

namespace isochore::report {

using namespace drawing;

namespace {

constexpr Colour rgb(unsigned hex)
{
    return {((hex >> 16) & 0xff) / 255.0, ((hex >> 8) & 0xff) / 255.0, (hex & 0xff) / 255.0};
}

struct Painter {
    cairo_t* cr;
    Palette const& palette;
    Type::Shared& type;

    void ink(Ink role) const
    {
        Colour const& c = palette[static_cast<std::size_t>(role)];
        cairo_set_source_rgb(cr, c.red, c.green, c.blue);
    }

    void dash(Dash kind, double width) const
    {
        if (kind == Dash::solid) {
            cairo_set_dash(cr, nullptr, 0, 0.0);
            return;
        }
        double const unit = std::max(width, 0.25);
        std::array<double, 2> const dashes =
            kind == Dash::dashed ? std::array{unit * 4.5, unit * 2.5} : std::array{unit * 0.9, unit * 2.1};
        cairo_set_dash(cr, dashes.data(), 2, 0.0);
    }

    void operator()(Polyline const& run) const
    {
        bool const broken = std::any_of(run.points.begin(), run.points.end(),
                                        [](Point p) { return !std::isfinite(p.x) || !std::isfinite(p.y); });
        if (run.points.size() < 2 || broken)
            return;
        cairo_new_path(cr);
        for (Point const p : run.points)
            cairo_line_to(cr, p.x, p.y);
        if (run.closed)
            cairo_close_path(cr);
        finish(run.filled, run.fill, run.ink, run.width, run.dash);
    }

    void operator()(Circle const& circle) const
    {
        if (!std::isfinite(circle.centre.x) || !std::isfinite(circle.centre.y) || !(circle.radius > 0.0))
            return;
        cairo_new_path(cr);
        cairo_arc(cr, circle.centre.x, circle.centre.y, circle.radius, 0.0, 2.0 * std::numbers::pi);
        finish(circle.filled, circle.fill, circle.ink, circle.width, Dash::solid);
    }

    void operator()(Label const& label) const
    {
        if (label.text.empty() || !std::isfinite(label.at.x) || !std::isfinite(label.at.y))
            return;
        PangoLayout* const layout = type.line(label.text, label.face);
        PangoLayoutLine* const line = pango_layout_get_line_readonly(layout, 0);
        double const scale = label.size / Type::Shared::shaping_em;
        double left = label.at.x;
        if (label.align != Align::left) {
            PangoRectangle logical;
            pango_layout_line_get_extents(line, nullptr, &logical);
            double const width = static_cast<double>(logical.width) / PANGO_SCALE * scale;
            left -= label.align == Align::centre ? width / 2.0 : width;
        }
        ink(label.ink);
        cairo_save(cr);
        cairo_translate(cr, left, label.at.y);
        cairo_scale(cr, scale, scale);
        cairo_move_to(cr, 0.0, 0.0);
        pango_cairo_show_layout_line(cr, line);
        cairo_restore(cr);
    }

    void finish(bool filled, Ink fill, Ink stroke, double width, Dash kind) const
    {
        if (filled) {
            ink(fill);
            if (width > 0.0)
                cairo_fill_preserve(cr);
            else
                cairo_fill(cr);
        }
        if (width > 0.0) {
            ink(stroke);
            cairo_set_line_width(cr, width);
            dash(kind, width);
            cairo_stroke(cr);
        }
    }
};

cairo_status_t append(void* closure, unsigned char const* data, unsigned length)
{
    static_cast<std::string*>(closure)->append(reinterpret_cast<char const*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

} // namespace

Palette const& paper_palette()
{
    static Palette const palette{
        rgb(0xffffff), // paper
        rgb(0xf0f0ec), // panel
        rgb(0x000000), // line
        rgb(0x000000), // text
        rgb(0x4d4d4d), // muted
        rgb(0xc4c4c4), // faint
        rgb(0x0a3d91), // accent
        rgb(0xdbe6f7), // accent_soft
        rgb(0xffffff), // inverse
        rgb(0x0b5a36), // pass
        rgb(0xa01414), // fail
        rgb(0x754400), // undecided
    };
    return palette;
}

void paint(cairo_t* context, Picture const& picture, Palette const& palette, Type& type)
{
    cairo_save(context);
    cairo_set_line_cap(context, CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(context, CAIRO_LINE_JOIN_MITER);
    cairo_set_miter_limit(context, 4.0);
    Painter const painter{context, palette, type.shared()};
    for (auto const& item : picture.items)
        std::visit(painter, item);
    cairo_restore(context);
}

std::string picture_png(Picture const& picture, Palette const& palette, double pixels_per_mm, Type& type)
{
    double const width = std::ceil(picture.width * pixels_per_mm);
    double const height = std::ceil(picture.height * pixels_per_mm);
    if (!(width >= 1.0 && width <= 20000.0 && height >= 1.0 && height <= 20000.0))
        return {};
    cairo_surface_t* const surface =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(width), static_cast<int>(height));
    cairo_t* const cr = cairo_create(surface);
    Colour const& paper = palette[static_cast<std::size_t>(Ink::paper)];
    cairo_set_source_rgb(cr, paper.red, paper.green, paper.blue);
    cairo_paint(cr);
    cairo_scale(cr, pixels_per_mm, pixels_per_mm);
    paint(cr, picture, palette, type);
    std::string bytes;
    cairo_surface_write_to_png_stream(surface, append, &bytes);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    return bytes;
}

} // namespace isochore::report
