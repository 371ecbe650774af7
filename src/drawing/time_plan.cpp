#include "drawing/time_plan.h"
#include "drawing/bar_rows.h"
#include "drawing/text.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

namespace {

constexpr double longest_min = 60.0 * 24.0 * 60.0; ///< no outage of this kind is planned over sixty days

double not_negative(double minutes)
{
    return drawable(minutes) ? std::clamp(minutes, 0.0, longest_min) : 0.0;
}

/// Marked in whole parts of an hour, or in hours and days where it is long.
Axis hours_axis(double end, double room)
{
    Axis axis;
    axis.high = std::max(end, 10.0);
    double const most = std::max(2.0, room);
    double step = 0.0;
    for (double const minutes : {15.0, 30.0, 60.0, 120.0, 240.0, 480.0, 1440.0, 2880.0, 14400.0, 28800.0}) {
        step = minutes;
        if (axis.high / minutes <= most)
            break;
    }
    axis.high = std::ceil(axis.high / step - 1e-9) * step;
    for (double t = 0.0; t <= axis.high + 1e-9 && axis.ticks.size() < 48; t += step) {
        axis.ticks.push_back(t);
        axis.texts.push_back(hours_text(t));
    }
    return axis;
}

double end_of(TimePlan const& plan)
{
    double end = not_negative(plan.window_min);
    for (auto const& task : plan.tasks)
        end = std::max(
            {end, not_negative(task.finish_min), not_negative(task.start_min) + not_negative(task.high_min)});
    if (plan.end)
        end = std::max({end, not_negative(plan.end->mean_min), not_negative(plan.end->high_min)});
    return end;
}

BarRow row_of(PlannedTask const& task)
{
    BarRow row;
    row.name = task.name;
    row.value = task.note;
    row.from = not_negative(task.start_min);
    row.to = std::max(row.from, not_negative(task.finish_min));
    row.look = task.people <= 0 ? BarRow::Look::hatched
               : task.critical  ? BarRow::Look::filled
                                : BarRow::Look::hollow;
    row.stripes = std::max(1, task.people);
    if (task.high_min > 0.0 && drawable(task.high_min)) {
        row.low = row.to;
        row.high = std::max(row.to, row.from + not_negative(task.high_min));
    }
    return row;
}

constexpr int flag = -1;

bool has_latest(TimePlan const& plan)
{
    return plan.latest_start_min && drawable(*plan.latest_start_min) && *plan.latest_start_min >= 0.0 &&
           std::any_of(plan.tasks.begin(), plan.tasks.end(),
                       [&](PlannedTask const& t) { return t.name == plan.latest_start_of; });
}

/// A staff with its flag to the left: until here.
void draw_flag(Picture& picture, double x, double top, double bottom)
{
    picture.line({x, top}, {x, bottom}, Ink::accent, 0.5);
    picture.area({{x, top}, {x - 2.2, top + 1.1}, {x, top + 2.2}}, Ink::accent);
}

/// What a kind of bar or mark means.
struct Sign {
    BarRow::Look look = BarRow::Look::filled;
    bool band = false;
    int strips = 1; ///< 0: words alone; `flag`: the flag of the last moment
    std::string text;
};

std::vector<Sign> signs_of(TimePlan const& plan)
{
    using Look = BarRow::Look;
    auto const any = [&](auto is) { return std::any_of(plan.tasks.begin(), plan.tasks.end(), is); };
    std::vector<Sign> signs;
    bool const critical = any([](auto const& t) { return t.critical; });
    if (critical)
        signs.push_back({Look::filled, false, 1, plan.critical_label});
    if (critical && any([](auto const& t) { return !t.critical && t.people > 0; }))
        signs.push_back({Look::hollow, false, 1, plan.slack_label});
    if (any([](auto const& t) { return t.people <= 0; }))
        signs.push_back({Look::hatched, false, 1, plan.wait_label});
    if (plan.end)
        signs.push_back({Look::filled, true, 1, plan.band_label});
    if (any([](auto const& t) { return t.people > 1; }))
        signs.push_back({critical ? Look::filled : Look::hollow, false, 2, plan.strip_label});
    if (has_latest(plan))
        signs.push_back(
            {Look::filled, false, flag, plan.latest_label + " " + hours_text(*plan.latest_start_min)});
    if (!plan.note_label.empty())
        signs.push_back({Look::filled, false, 0, plan.note_label});
    return signs;
}

void draw_sign(Picture& picture, Sign const& sign, Box box)
{
    if (sign.band) {
        picture.filled_rect({box.left, box.top - 0.4}, box.width(), box.height() + 0.8, Ink::accent_soft);
        double const middle = box.left + box.width() / 2.0;
        picture.line({middle, box.top - 0.4}, {middle, box.bottom + 0.4}, Ink::accent, 0.55, Dash::dashed);
        return;
    }
    if (sign.strips == flag)
        draw_flag(picture, box.left + 0.6 * box.width(), box.top - 0.7, box.bottom + 0.5);
    if (sign.strips <= 0)
        return;
    double const between = sign.strips > 1 ? 0.5 : 0.0;
    double const high = (box.height() - between * (sign.strips - 1)) / sign.strips;
    for (int i = 0; i < sign.strips; ++i) {
        double const top = box.top + i * (high + between);
        if (sign.look == BarRow::Look::filled) {
            picture.filled_rect({box.left, top}, box.width(), high, Ink::line);
            continue;
        }
        picture.rect({box.left, top}, box.width(), high, Ink::line, 0.4);
        if (sign.look == BarRow::Look::hatched)
            for (double x = box.left; x + high <= box.right; x += 1.5)
                picture.line({x, top + high}, {x + high, top}, Ink::line, 0.22);
    }
}

constexpr double legend_pitch = 1.3;    ///< of the rows of the legend, em
constexpr double line_words_rows = 1.3; ///< a second row of words above the bars
constexpr double sign_width = 5.0, sign_gap = 1.2;

/// The signs in rows from left to right; a picture of nullptr only counts the rows.
int lay_signs(std::vector<Sign> const& signs, double width, double top, double size,
              MeasureText const& measure, Picture* picture, Placement* placement)
{
    double x = 0.2;
    int row = 0;
    for (auto const& sign : signs) {
        if (sign.text.empty())
            continue;
        double const drawn = sign.strips != 0 ? sign_width + sign_gap : 0.0;
        std::string const text = shorten_text(sign.text, width - drawn - 0.6, Face::regular, size, measure);
        double const wide = drawn + measure(text, Face::regular, size);
        if (x > 1.0 && x + wide > width - 0.2) {
            ++row;
            x = 0.2;
        }
        if (picture != nullptr) {
            double const base = top + (row * legend_pitch + ink_above) * size;
            double const middle = base - 0.36 * size, half = 0.27 * size;
            draw_sign(*picture, sign, {x, middle - half, x + sign_width, middle + half});
            placement->put_fixed(*picture, {{x + drawn, base}, text, size, Ink::text, Face::regular});
        }
        x += wide + size;
    }
    return signs.empty() ? 0 : row + 1;
}

BarPlan bars_of(TimePlan const& plan, double width, double size)
{
    BarPlan bars;
    for (auto const& task : plan.tasks)
        bars.rows.push_back(row_of(task));
    bars.scale = hours_axis(end_of(plan), 0.55 * width / (3.2 * size));
    bars.titles = plan.x_titles;
    bars.corner_free = plan.print_mm > 0.0;
    if (plan.window_min > 0.0 && drawable(plan.window_min) && plan.window_min <= longest_min)
        bars.lines.push_back({plan.window_min, plan.window_label + " " + hours_text(plan.window_min),
                              Ink::accent, Dash::solid});
    if (plan.end && drawable(plan.end->mean_min)) {
        bars.lines.push_back({plan.end->mean_min, plan.end_label + " " + hours_text(plan.end->mean_min),
                              Ink::accent, Dash::dashed});
        if (drawable(plan.end->low_min) && drawable(plan.end->high_min) &&
            plan.end->high_min > plan.end->low_min)
            bars.band = {not_negative(plan.end->low_min), not_negative(plan.end->high_min)};
    }
    return bars;
}

/// The last moment to begin a task: a flag on its row; the legend says the time.
void draw_latest(TimePlan const& plan, BarRows const& rows, Picture& picture)
{
    if (!has_latest(plan))
        return;
    for (std::size_t i = 0; i < plan.tasks.size(); ++i)
        if (plan.tasks[i].name == plan.latest_start_of) {
            Box const bar = rows.bar(i);
            double const middle = (bar.top + bar.bottom) / 2.0,
                         half = std::max(1.6, bar.height() / 2.0 + 0.5);
            draw_flag(picture, rows.at(*plan.latest_start_min), middle - half, middle + half);
        }
}

std::string spoken(TimePlan const& plan)
{
    std::string text = fmt::format("Time plan of {} tasks", plan.tasks.size());
    for (auto const& task : plan.tasks)
        text += fmt::format("; {} {} to {}", task.name, hours_text(not_negative(task.start_min)),
                            hours_text(not_negative(task.finish_min)));
    if (plan.end)
        text += fmt::format("; {} {}", plan.end_label, hours_text(not_negative(plan.end->mean_min)));
    if (plan.window_min > 0.0)
        text += fmt::format("; {} {}", plan.window_label, hours_text(not_negative(plan.window_min)));
    return text + ".";
}

} // namespace

std::string hours_text(double minutes)
{
    auto const whole = static_cast<long>(std::lround(not_negative(minutes)));
    return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

double time_plan_height(TimePlan const& plan, double width_mm)
{
    double const size = plan.print_mm > 0.0 ? plan.print_mm : body_size({width_mm, width_mm});
    return bar_rows_height(plan.tasks.size(), true, true, size) + (line_words_rows + 2 * legend_pitch) * size;
}

Picture time_plan(TimePlan const& plan, Space space, MeasureText const& measure)
{
    Picture picture;
    picture.width = space.width_mm;
    picture.height = space.height_mm;
    picture.spoken = spoken(plan);
    Placement placement({0.0, 0.0, space.width_mm, space.height_mm}, measure);
    auto const signs = signs_of(plan);
    double const wanted = plan.print_mm > 0.0 ? plan.print_mm : body_size(space);
    double const least = std::min(wanted, body_size({0.0, 0.0})); // smaller is not read at arm's length
    // The largest print in which the legend has its place and every row its name; else the rows alone.
    for (double size = wanted;; size = std::max(least, size - 0.1)) {
        double const legend =
            lay_signs(signs, space.width_mm, 0.0, size, measure, nullptr, nullptr) * legend_pitch * size;
        BarPlan bars = bars_of(plan, space.width_mm, size);
        Box area{0.0, 0.0, space.width_mm, space.height_mm - legend};
        bool const fits = bar_rows_size(bars, area, size + 0.05, size, measure) > size;
        if (!fits && size > least)
            continue;
        bool const explained = fits || area.height() >= bar_rows_height(plan.tasks.size(), true, true, least);
        if (!explained) {
            area.bottom = space.height_mm;
            bars.titles.clear(); // hours and minutes speak for themselves
        }
        BarRows const rows(picture, placement, bars, area, size);
        draw_latest(plan, rows, picture);
        if (explained)
            lay_signs(signs, space.width_mm, area.bottom + 0.2 * size, size, measure, &picture, &placement);
        break;
    }
    return picture;
}

} // namespace isochore::drawing
