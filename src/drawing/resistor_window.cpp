#include "drawing/resistor_window.h"
#include "drawing/axis.h"
#include "drawing/placement.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

bool usable(double ohm)
{
    return drawable(ohm) && ohm > 0.0;
}

/// The ruler: whole decades around everything that is to be seen on it.
struct Scale {
    double left, right; ///< mm
    int first, last;    ///< decades, as powers of ten
    [[nodiscard]] double at(double ohm) const
    {
        double const share = (std::log10(ohm) - first) / (last - first);
        return std::clamp(left + share * (right - left), left, right);
    }
};

Scale scale_for(ResistorRuler const& r, double left, double right)
{
    Extent e;
    auto const take = [&](double ohm) {
        if (usable(ohm))
            e.take(std::log10(ohm));
    };
    take(r.low_ohm);
    take(r.high_ohm);
    if (r.chosen_ohm)
        take(*r.chosen_ohm);
    for (double const ohm : r.preferred_ohm)
        take(ohm);
    for (auto const& b : r.bounds)
        take(b.limit_ohm);
    if (!e.any)
        e = {3.0, 5.0, true};
    Scale scale{left, right, static_cast<int>(std::floor(e.low - 0.02)),
                static_cast<int>(std::ceil(e.high + 0.02))};
    if (scale.last - scale.first < 2)
        (e.low - scale.first < scale.last - e.high ? scale.first : scale.last) +=
            e.low - scale.first < scale.last - e.high ? -1 : 1;
    return scale;
}

struct Ruler {
    ResistorRuler const& r;
    Picture& picture;
    Placement& placement;
    Scale scale;
    double size;
    double y; ///< of the ruler's line

    void line() const
    {
        picture.line({scale.left, y}, {scale.right, y}, Ink::line, 0.5);
        for (int decade = scale.first; decade < scale.last; ++decade)
            for (int digit = 2; digit < 10; ++digit) {
                double const x = scale.at(digit * std::pow(10.0, decade));
                picture.line({x, y - 0.8}, {x, y + 0.8}, Ink::line, 0.25);
            }
    }
    void decades() const
    {
        int const every = std::max(1, (scale.last - scale.first + 3) / 4);
        for (int decade = scale.first; decade <= scale.last; ++decade) {
            double const ohm = std::pow(10.0, decade);
            double const x = scale.at(ohm);
            picture.line({x, y - 1.6}, {x, y + 1.6}, Ink::line, 0.4);
            if ((decade - scale.first) % every != 0)
                continue;
            Label label{{x, y + 3.2 + ink_above * size},
                        ohm_text(ohm),
                        size,
                        Ink::muted,
                        Face::regular,
                        Align::centre};
            double const half = placement.measure()(label.text, label.face, size) / 2.0;
            label.at.x = std::clamp(x, half + 0.2, picture.width - half - 0.2);
            if (placement.free(label_box(label, 2.0 * half)))
                placement.put_fixed(picture, std::move(label));
        }
    }
    void window() const
    {
        double const low = usable(r.low_ohm) ? scale.at(r.low_ohm) : scale.left;
        double const high = usable(r.high_ohm) ? scale.at(r.high_ohm) : scale.right;
        if (r.low_ohm <= r.high_ohm) {
            Polyline box;
            box.points = {{low, y - 2.3}, {high, y - 2.3}, {high, y + 2.3}, {low, y + 2.3}};
            box.ink = Ink::accent;
            box.width = 0.5;
            box.closed = box.filled = true;
            box.fill = Ink::accent_soft;
            picture.items.emplace_back(std::move(box));
            return;
        }
        // Empty: from the highest maximum to the lowest minimum every value breaks one of the two.
        picture.rect({high, y - 2.3}, low - high, 4.6, Ink::fail, 0.5);
        for (double x = high; x < low - 0.4; x += 1.6) {
            double const end = std::min(low, x + 4.6);
            picture.line({x, y + 2.3}, {end, y + 2.3 - (end - x)}, Ink::fail, 0.25);
        }
    }
    void preferred() const
    {
        for (double const ohm : r.preferred_ohm)
            if (usable(ohm)) {
                double const x = scale.at(ohm);
                picture.line({x, y - 2.3}, {x, y - 0.9}, Ink::accent, 0.3);
            }
    }
    void chosen() const
    {
        std::string text;
        double x = (scale.left + scale.right) / 2.0;
        Ink ink = Ink::accent;
        if (r.low_ohm > r.high_ohm && usable(r.low_ohm) && usable(r.high_ohm)) {
            text = r.empty_label;
            x = (scale.at(r.low_ohm) + scale.at(r.high_ohm)) / 2.0;
            ink = Ink::fail;
        } else if (r.chosen_ohm && usable(*r.chosen_ohm)) {
            x = scale.at(*r.chosen_ohm);
            text = ohm_text(*r.chosen_ohm);
            picture.area({{x - 2.0, y - 6.4}, {x + 2.0, y - 6.4}, {x, y - 2.6}}, Ink::accent);
            placement.take({x - 2.1, y - 6.5, x + 2.1, y - 2.5});
        } else {
            return;
        }
        double const big = size * 1.25;
        double const width = placement.measure()(text, Face::bold, big);
        double const base = y - 3.2;
        double const lowest = width / 2.0 + 0.4;
        double const middle = std::clamp(x, lowest, std::max(lowest, picture.width - lowest));
        placement.put(picture, {{}, text, big, ink, Face::bold},
                      {{{x + 3.0, base}, Align::left, 0.0},
                       {{x - 3.0, base}, Align::right, 0.5},
                       {{middle, base}, Align::centre, 1.0},
                       {{middle, y - 7.0}, Align::centre, 1.2}});
    }
    /// One row a bound: a bar over the values it allows, its name and its limit; the window runs down
    /// through all of them as a band.
    void bounds(double top, double row) const
    {
        auto const fitting =
            std::min(r.bounds.size(), static_cast<std::size_t>((picture.height - top) / row + 1e-6));
        double const low = usable(r.low_ohm) ? scale.at(r.low_ohm) : scale.left;
        double const high = usable(r.high_ohm) ? scale.at(r.high_ohm) : scale.right;
        picture.filled_rect({std::min(low, high), top}, std::abs(high - low),
                            row * static_cast<double>(fitting) - 0.8,
                            low <= high ? Ink::accent_soft : Ink::panel);
        for (std::size_t i = 0; i < fitting; ++i)
            bound(r.bounds[i], top + row * static_cast<double>(i));
    }
    void bound(ResistorBound const& b, double top) const
    {
        double const bar = top + 1.1 * size + 1.0;
        bool const binds = usable(b.limit_ohm);
        double const x = !binds ? (b.is_minimum ? scale.left : scale.right) : scale.at(b.limit_ohm);
        double const end = b.is_minimum ? scale.right : scale.left;
        picture.line({x, bar}, {end, bar}, Ink::line, 0.6);
        double const tip = b.is_minimum ? -1.6 : 1.6;
        picture.polyline({{end + tip, bar - 1.0}, {end, bar}, {end + tip, bar + 1.0}}, Ink::line, 0.4);
        if (binds)
            picture.line({x, bar - 1.4}, {x, bar + 1.4}, Ink::line, 0.6);
        std::string const limit =
            binds ? (b.is_minimum ? "≥ " : "≤ ") + ohm_text(b.limit_ohm) : std::string("–");
        double const limit_width = placement.measure()(limit, Face::regular, size);
        double const base = top + ink_above * size + 0.2;
        placement.put_fixed(picture,
                            {{scale.right, base}, limit, size, Ink::text, Face::regular, Align::right});
        placement.put_fixed(picture, {{scale.left, base},
                                      shorten_text(b.label, scale.right - scale.left - limit_width - size,
                                                   Face::regular, size, placement.measure()),
                                      size,
                                      Ink::muted});
    }
};

std::string spoken(ResistorRuler const& r)
{
    std::string text = "Resistor window: ";
    if (r.low_ohm > r.high_ohm)
        text += fmt::format("{}; at least {}, at most {}", r.empty_label, ohm_text(r.low_ohm),
                            ohm_text(r.high_ohm));
    else
        text += usable(r.high_ohm) ? fmt::format("{} to {}", ohm_text(r.low_ohm), ohm_text(r.high_ohm))
                                   : fmt::format("{} and more", ohm_text(r.low_ohm));
    if (r.chosen_ohm)
        text += "; chosen " + ohm_text(*r.chosen_ohm);
    return text + ".";
}

} // namespace

Picture resistor_window(ResistorRuler const& r, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(r);
    double const size = body_size(space);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    double const rows_below = 3.4 + 1.5 * size; // from the ruler's line to the first row
    double const least_row = 1.3 * size + 1.9;
    double const spare = space.height_mm - (7.2 + size + rows_below);
    bool const rows = !r.bounds.empty() && spare >= least_row;
    double const row =
        std::clamp(spare / std::max(1.0, static_cast<double>(r.bounds.size())), least_row, 2.0 * least_row);
    // Where height is short the words above the mark give way, not the figures of the ruler.
    double const top = rows ? 0.0 : spare < 0.0 ? std::max(-size, spare) : spare / 2.0;
    Ruler const ruler{r, picture, placement, scale_for(r, 2.6, space.width_mm - 2.6), size, top + 7.2 + size};
    ruler.line();
    ruler.window();
    ruler.decades();
    ruler.preferred();
    ruler.chosen();
    if (rows)
        ruler.bounds(ruler.y + rows_below, row);
    return picture;
}

} // namespace isochore::drawing
