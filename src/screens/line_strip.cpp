#include "screens/marks.h"
#include "screens/parts.h"
#include <algorithm>
#include <cmath>
#include <string>

/// The job as a single-line diagram: one switching device a stage (IEC 60617, make contact), from bus to bus.
/// Open until the stage is done; a job ready to hand back is an unbroken line.
namespace isochore::screens {

namespace {

constexpr double line_y = 6.4;    // below the top of the strip
constexpr double label_top = 8.4; // below the top of the strip
constexpr double half_gap = 3.4;  // from pivot to fixed contact, halved
constexpr double bus_half = 4.2;

double longest_word(Canvas& canvas, std::string const& label, TextStyle const& style)
{
    double longest = 0.0;
    std::size_t at = 0;
    while (at < label.size()) {
        std::size_t const end = std::min(label.find(' ', at), label.size());
        longest = std::max(longest, canvas.measure(label.substr(at, end - at), style));
        at = end + 1;
    }
    return longest;
}

// All labels in one size: the larger when each fits on one line.
struct Labels {
    double size = size::caption;
    int lines = 1;
};

Labels label_style(Canvas& canvas, double slot, std::vector<StageView> const& line)
{
    auto const fits = [&](double size) {
        return std::all_of(line.begin(), line.end(), [&](StageView const& s) {
            return canvas.measure(s.label, {Face::bold, size}) <= slot - 2.4;
        });
    };
    if (fits(size::body))
        return {size::body, 1};
    return {size::caption, fits(size::caption) ? 1 : 2};
}

// A stage must be wide enough for a finger and for its longest word.
double slot_width(Canvas& canvas, double room, std::vector<StageView> const& line)
{
    double needed = size::target_min + size::gap;
    for (auto const& stage : line)
        needed = std::max(needed, longest_word(canvas, stage.label, {Face::bold, size::caption}) + 2.6);
    double const all = room / static_cast<double>(line.size());
    if (all >= needed)
        return all;
    // Not all fit: show a whole number of stages and let the line be dragged.
    double const count = std::max(1.0, std::floor(room / needed));
    return room / count;
}

void draw_device(Canvas& canvas, Point at, bool closed)
{
    Point const pivot{at.x - half_gap, at.y};
    canvas.dot(pivot, 0.75, Ink::line);
    canvas.vline(at.x + half_gap, at.y - 1.6, at.y + 1.6, Ink::line, size::stroke);
    if (closed)
        canvas.hline(pivot.x, at.x + half_gap, at.y, Ink::line, size::stroke);
    else
        canvas.line(pivot, {at.x + half_gap - 1.0, at.y - 3.7}, Ink::line, size::stroke + 0.1);
}

void draw_stage(Canvas& canvas, Rect const& slot, StageView const& stage, Labels const& labels,
                Intent& intent)
{
    double const cx = slot.x + slot.w / 2, y = slot.y + line_y;
    Rect const touch{slot.x + size::gap / 2, slot.y, slot.w - size::gap, slot.h};
    if (canvas.target("stage." + stage.id, ElementKind::stage, touch, stage.label + "\n" + stage.flag,
                      stage.reachable)) {
        intent.kind = Intent::Kind::stage;
        intent.id = stage.id;
    }
    canvas.hline(slot.x, cx - half_gap, y, Ink::line, size::stroke);
    canvas.hline(cx + half_gap, slot.right(), y, Ink::line, size::stroke);
    draw_device(canvas, {cx, y}, stage.closed);
    if (!stage.flag.empty()) {
        Ink const ink = stage.flag_mark == Mark::none ? Ink::text : mark_ink(stage.flag_mark);
        double const w = canvas.measure(stage.flag, style::caption);
        bool const sign = stage.flag_mark != Mark::none;
        double const x = cx - (w + (sign ? 4.2 : 0.0)) / 2;
        if (sign)
            draw_mark(canvas, stage.flag_mark, {x + 1.5, slot.y + 1.15}, 3.2, ink);
        canvas.text({x + (sign ? 4.2 : 0.0), slot.y + 2.35}, stage.flag, style::caption.with(ink),
                    "stage." + stage.id + ".flag");
    }
    double const label_h =
        static_cast<double>(labels.lines) * labels.size * size::line_height + (labels.lines == 1 ? 2.0 : 0.2);
    Rect const label{slot.x + 0.6, slot.y + label_top, slot.w - 1.2, label_h};
    bool const dark = stage.current != (stage.reachable && canvas.pressed_in(touch));
    if (dark)
        canvas.fill(label, Ink::line);
    canvas.ground(dark ? Ink::line : Ink::paper);
    TextStyle const style{stage.current ? Face::bold : Face::regular, labels.size,
                          dark                            ? Ink::inverse
                          : stage.closed || stage.current ? Ink::text
                                                          : Ink::muted,
                          Align::centre};
    canvas.fitted({label.x + 0.4, label.y, label.w - 0.8, label.h}, stage.label, style, {labels.size},
                  "stage." + stage.id + ".label");
    canvas.ground(Ink::paper);
}

} // namespace

void draw_line_strip(Canvas& canvas, Rect const& place, std::vector<StageView> const& line, Intent& intent)
{
    if (line.empty())
        return;
    double const slot = slot_width(canvas, place.w, line), total = slot * static_cast<double>(line.size());
    auto const current = std::find_if(line.begin(), line.end(), [](auto const& s) { return s.current; });
    double const index = current == line.end() ? 0.0 : static_cast<double>(current - line.begin());
    double const shown = std::round(place.w / slot);
    // The stage in hand stands in the middle until one drags.
    double const home =
        slot * std::clamp(index - std::floor(shown / 2), 0.0, static_cast<double>(line.size()) - shown);
    Rect const window{place.x - 0.6, place.y - 0.8, place.w + 1.2, place.h + 1.6};
    // Turning the tablet is a new strip: where the old one was dragged to means nothing on it.
    std::string const key = "strip." + (current == line.end() ? std::string() : current->id) + "." +
                            std::to_string(std::lround(place.w));
    double const offset = canvas.begin_scroll_sideways(key, window, total + 1.2, home);
    double const x0 = place.x - offset;
    Labels const labels = label_style(canvas, slot, line);
    for (std::size_t i = 0; i < line.size(); ++i)
        draw_stage(canvas, {x0 + slot * static_cast<double>(i), place.y, slot, place.h}, line[i], labels,
                   intent);
    canvas.vline(x0, place.y + line_y - bus_half, place.y + line_y + bus_half, Ink::line, 1.0);
    canvas.vline(x0 + total, place.y + line_y - bus_half, place.y + line_y + bus_half, Ink::line, 1.0);
    canvas.end_scroll_sideways();
}

} // namespace isochore::screens
