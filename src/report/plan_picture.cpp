#include "drawing/axis.h"
#include "drawing/text.h"
#include "report/flow.h"
#include "report/job_pack_pdf.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::report {

using namespace drawing;

namespace {

constexpr double size = paper_size::body;
constexpr double pitch = 6.0;
constexpr double head = 6.0;

double not_negative(double minutes)
{
    return drawable(minutes) ? std::max(0.0, minutes) : 0.0;
}

/// Axis over the plan and the window, marked in whole parts of an hour.
Axis time_axis(JobPack const& pack)
{
    double end = not_negative(pack.window_min);
    for (auto const& line : pack.plan)
        end = std::max(end, not_negative(line.start_min) +
                                std::max(not_negative(line.likely_min), not_negative(line.high_min)));
    Axis axis;
    axis.high = std::max(end, 10.0);
    double const step = axis.high > 600.0   ? 120.0
                        : axis.high > 240.0 ? 60.0
                        : axis.high > 120.0 ? 30.0
                                            : 15.0;
    axis.high = std::ceil(axis.high / step - 1e-9) * step;
    for (double t = 0.0; t <= axis.high + 1e-9 && axis.ticks.size() < 48; t += step) {
        auto const minutes = static_cast<int>(t);
        axis.ticks.push_back(t);
        axis.texts.push_back(fmt::format("{}:{:02}", minutes / 60, minutes % 60));
    }
    return axis;
}

struct Plan {
    Picture& picture;
    Axis axis;
    double left, right;
    MeasureText const& measure;

    double at(double minutes) const
    {
        return left + axis.share(std::min(minutes, axis.high)) * (right - left);
    }

    void scale(double bottom) const
    {
        double end = -1.0;
        for (std::size_t i = 0; i < axis.ticks.size(); ++i) {
            double const x = at(axis.ticks[i]);
            picture.line({x, head - 1.0}, {x, bottom}, Ink::faint, 0.18);
            double const half = measure(axis.texts[i], Face::regular, paper_size::small) / 2.0;
            if (x - half < end || x + half > picture.width)
                continue;
            picture.label({x, head - 2.2}, axis.texts[i], paper_size::small, Ink::muted, Face::regular,
                          Align::centre);
            end = x + half + 1.5;
        }
    }
    /// The bar to the likely end, whiskers to the shortest and the longest.
    void bar(PlanLine const& line, double top) const
    {
        double const start = not_negative(line.start_min);
        double const x0 = at(start), x1 = at(start + not_negative(line.likely_min));
        double const low = at(start + not_negative(line.low_min)),
                     high = at(start + not_negative(line.high_min));
        double const middle = top + pitch / 2.0;
        picture.filled_rect({x0, middle - 1.5}, std::max(0.3, x1 - x0), 3.0, Ink::line);
        picture.line({x1, middle}, {high, middle}, Ink::line, 0.3);
        picture.line({high, middle - 1.0}, {high, middle + 1.0}, Ink::line, 0.3);
        if (low > x0)
            picture.line({low, middle - 1.5}, {low, middle + 1.5}, Ink::paper, 0.4);
        picture.label({0.0, middle + 0.3 * size},
                      shorten_text(line.stage, left - 20.0, Face::regular, size, measure), size, Ink::text);
        picture.label({left - 2.0, middle + 0.3 * size},
                      fmt::format("{:.0f} / {:.0f} / {:.0f}", not_negative(line.low_min),
                                  not_negative(line.likely_min), not_negative(line.high_min)),
                      paper_size::small, Ink::muted, Face::regular, Align::right);
    }
};

} // namespace

Picture plan_picture(JobPack const& pack, double width_mm, MeasureText const& measure)
{
    auto const words = [&](char const* english) { return language::translated(pack.translate, english); };
    Picture picture;
    picture.width = width_mm;
    picture.height = head + pitch * static_cast<double>(pack.plan.size()) + 5.5;
    double const bottom = head + pitch * static_cast<double>(pack.plan.size());
    Plan const plan{picture, time_axis(pack), width_mm * 0.40, width_mm - 5.0, measure};
    plan.scale(bottom);
    double top = head;
    for (auto const& line : pack.plan) {
        plan.bar(line, top);
        top += pitch;
    }
    picture.label({plan.left - 5.0, head - 2.2}, words("minutes: least / likely / most"), paper_size::small,
                  Ink::muted, Face::regular, Align::right);
    if (pack.window_min > 0.0 && drawable(pack.window_min)) {
        double const x = plan.at(pack.window_min);
        picture.line({x, head - 1.0}, {x, bottom + 1.0}, Ink::accent, 0.6);
        std::string const text = words("end of the window");
        double const half = measure(text, Face::bold, paper_size::small) / 2.0;
        picture.label({std::min(x, picture.width - half), bottom + 4.2}, text, paper_size::small, Ink::accent,
                      Face::bold, Align::centre);
    }
    return picture;
}

} // namespace isochore::report
