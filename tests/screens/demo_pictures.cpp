#include "screens/demo_sheets.h"
#include <cmath>

namespace isochore::demo {

using drawing::Align;
using drawing::Dash;
using drawing::Face;
using drawing::Ink;
using drawing::Picture;
using drawing::Point;

namespace {

struct Axes {
    double x0, y0, w, h, xmin, xmax, ymin, ymax;
    [[nodiscard]] Point at(double x, double y) const
    {
        return {x0 + w * (x - xmin) / (xmax - xmin), y0 + h * (ymax - y) / (ymax - ymin)};
    }
};

void grid(Picture& p, Axes const& a, double dx, double dy, int decimals)
{
    for (double x = a.xmin; x <= a.xmax + 1e-9; x += dx) {
        Point const at = a.at(x, a.ymin);
        p.line(at, {at.x, a.y0}, Ink::faint, 0.18);
        p.label({at.x, at.y + 4.0}, std::to_string(std::lround(x)), 3.2, Ink::muted, Face::regular,
                Align::centre);
    }
    for (double y = a.ymin; y <= a.ymax + 1e-9; y += dy) {
        Point const at = a.at(a.xmin, y);
        p.line(at, {a.x0 + a.w, at.y}, Ink::faint, 0.18);
        std::string text = std::to_string(y);
        text.resize(text.find('.') + (decimals > 0 ? 1 + static_cast<std::size_t>(decimals) : 0));
        p.label({a.x0 - 1.2, at.y + 1.2}, text, 3.2, Ink::muted, Face::regular, Align::right);
    }
    p.rect({a.x0, a.y0}, a.w, a.h, Ink::line, 0.35);
}

} // namespace

Picture demo_isochores(screens::PictureSpace space)
{
    Picture p;
    p.width = space.width_mm;
    p.height = space.height_mm;
    p.spoken = "Pressure over temperature: the point lies below the filling line and above the warning line.";
    Axes const a{9.0, 6.0, p.width - 10.0, p.height - 16.0, -40, 60, 0.3, 0.9};
    std::vector<Point> wet{a.at(-40, 0.32), a.at(-36, 0.38), a.at(-30, 0.49),
                           a.at(-24, 0.6),  a.at(-18, 0.73), a.at(-11, 0.9)};
    auto area = wet;
    area.push_back(a.at(-40, 0.9));
    p.area(area, Ink::panel);
    grid(p, a, 20, 0.1, 1);
    p.polyline(wet, Ink::line, 0.6);
    p.polyline({a.at(-30, 0.488), a.at(60, 0.715)}, Ink::line, 0.55);
    p.polyline({a.at(-30, 0.445), a.at(60, 0.647)}, Ink::line, 0.45, Dash::dashed);
    p.polyline({a.at(-30, 0.378), a.at(60, 0.545)}, Ink::line, 0.45, Dash::dotted);
    p.line(a.at(11.5, 0.3), a.at(11.5, 0.9), Ink::accent, 0.25, Dash::dashed);
    p.dot(a.at(11.5, 0.562), 1.5, Ink::accent);
    p.label({a.x0, 3.6}, "pressure, MPa absolute", 3.5, Ink::text);
    p.label({a.x0 + a.w, p.height - 1.0}, "gas temperature, °C", 3.5, Ink::text, Face::regular, Align::right);
    p.label(a.at(-38, 0.84), "liquid", 3.5, Ink::muted);
    p.label(a.at(59, 0.735), "filling 40 kg/m³", 3.5, Ink::text, Face::regular, Align::right);
    p.label(a.at(59, 0.6), "warn 36", 3.5, Ink::text, Face::regular, Align::right);
    p.label(a.at(59, 0.49), "lockout 30", 3.5, Ink::text, Face::regular, Align::right);
    p.label(a.at(59, 0.38), "now 37.6 ± 0.3 kg/m³", 3.8, Ink::accent, Face::bold, Align::right);
    return p;
}

Picture demo_purge(screens::PictureSpace space)
{
    Picture p;
    p.width = space.width_mm;
    p.height = space.height_mm;
    p.spoken = "Purity over time: it has levelled off at 99.1 percent, above the limit.";
    Axes const a{9.0, 6.0, p.width - 10.0, p.height - 16.0, 0, 24, 60, 100};
    grid(p, a, 4, 10, 0);
    std::vector<Point> fit;
    for (int i = 0; i <= 96; ++i)
        fit.push_back(a.at(i / 4.0, 99.1 - 38.1 * std::exp(-(i / 4.0) / 3.0)));
    p.polyline({a.at(0, 98.5), a.at(24, 98.5)}, Ink::line, 0.4, Dash::dotted);
    p.polyline(fit, Ink::accent, 0.5);
    for (double t = 0; t <= 18; t += 2) {
        Point const c = a.at(t, 99.1 - 38.1 * std::exp(-t / 3.0));
        p.dot(c, 1.1, Ink::paper);
        p.circle(c, 1.1, Ink::line, 0.45);
    }
    p.label({a.x0, 3.6}, "purity, % by volume", 3.5, Ink::text);
    p.label({a.x0 + a.w, p.height - 1.0}, "minutes since the analyser was opened", 3.5, Ink::text,
            Face::regular, Align::right);
    p.label(a.at(22, 91), "plateau 99.1 ± 0.2 %", 3.8, Ink::accent, Face::bold, Align::right);
    return p;
}

Picture demo_wiring(screens::PictureSpace space)
{
    Picture p;
    p.width = space.width_mm;
    p.height = space.height_mm;
    p.spoken = "The trip input hangs on a contact of its own with an 18 kilohm resistor across it.";
    double const top = 8.0, base = p.height - 7.0, x1 = 16.0, x2 = 46.0, x3 = p.width - 15.0,
                 mid = (top + base) / 2;
    p.line({2, top}, {p.width - 2, top}, Ink::line, 0.5);
    p.line({2, base}, {p.width - 2, base}, Ink::line, 0.5);
    for (double const x : {x1, x2}) {
        p.dot({x, top}, 0.9, Ink::line);
        p.dot({x, base}, 0.9, Ink::line);
        p.line({x, top}, {x, top + 12}, Ink::line, 0.45);
        p.line({x - 3.4, top + 13}, {x, top + 20}, Ink::line, 0.5);
        p.line({x, top + 20}, {x, mid}, Ink::line, 0.45);
    }
    p.rect({x1 - 4, mid}, 8, 12, Ink::line, 0.5);
    p.line({x1, mid + 12}, {x1, base}, Ink::line, 0.45);
    p.rect({x2 - 3, mid + 5}, 6, 14, Ink::accent, 0.7);
    p.line({x2, mid}, {x2, mid + 5}, Ink::line, 0.45);
    p.line({x2, mid + 19}, {x2, base}, Ink::line, 0.45);
    p.dot({x2, mid}, 0.9, Ink::line);
    p.line({x2, mid}, {x3 - 12, mid}, Ink::line, 0.45);
    p.rect({x3 - 12, mid - 6}, 24, 28, Ink::line, 0.5);
    p.line({x3, mid + 22}, {x3, base}, Ink::line, 0.45);
    p.dot({x3, base}, 0.9, Ink::line);
    p.label({2, top - 2.2}, "+ 125 V dc", 3.6, Ink::text);
    p.label({2, base + 5.0}, "−", 3.6, Ink::text);
    p.label({x1 + 2.5, top + 18}, "trip", 3.6, Ink::text);
    p.label({x2 + 2.5, top + 15}, "trip, follows", 3.6, Ink::text);
    p.label({x2 + 2.5, top + 20}, "every path", 3.6, Ink::text);
    p.label({x1 + 5.5, mid + 7.2}, "trip coil", 3.6, Ink::text);
    p.label({x2 - 4.5, mid + 13.2}, "18 kΩ", 3.8, Ink::accent, Face::bold, Align::right);
    p.label({x3, mid + 1.0}, "unit", 3.6, Ink::muted, Face::regular, Align::centre);
    p.label({x3, mid + 9.0}, "trip", 4.0, Ink::text, Face::bold, Align::centre);
    p.label({x3, mid + 14.0}, "input", 4.0, Ink::text, Face::bold, Align::centre);
    return p;
}

} // namespace isochore::demo
