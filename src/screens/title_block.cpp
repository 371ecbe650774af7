#include "screens/parts.h"
#include <algorithm>

/// The title block of the drawing, bottom right as ISO 7200 has it.
namespace isochore::screens {

namespace {

// Names are typed by people and may be of any length; each stands whole on a sheet of its own, so here the
// end may go.
template <class Fits> std::string shortened(std::string value, Fits const& fits)
{
    if (fits(value))
        return value;
    while (!value.empty() && !fits(value + "…")) {
        while (!value.empty() && (static_cast<unsigned char>(value.back()) & 0xC0U) == 0x80U)
            value.pop_back();
        if (!value.empty())
            value.pop_back();
    }
    return value + "…";
}

constexpr TextStyle smallest = style::bold.sized(size::caption);

void cell(Canvas& canvas, Rect const& r, std::string const& name, std::string const& value,
          std::string const& id)
{
    double const w = r.w - 2.0;
    canvas.fitted({r.x + 1.4, r.y + 0.55, w, 3.85}, name, style::caption, {size::caption},
                  "block." + id + ".name");
    std::string const shown =
        shortened(value, [&](std::string const& text) { return canvas.measure(text, smallest) <= w; });
    canvas.fitted({r.x + 1.4, r.y + 4.3, w, r.h - 4.55}, shown, style::bold, {size::body, size::caption},
                  "block." + id);
}

/// The name of the sheet takes the whole cell where one line is too short for it.
void sheet_cell(Canvas& canvas, Rect const& r, std::string const& name, std::string const& sheet)
{
    Rect const whole{r.x + 1.4, r.y + 0.55, r.w - 2.0, r.h - 1.1};
    if (canvas.measure(sheet, smallest) <= whole.w)
        return cell(canvas, r, name, sheet, "sheet");
    std::string const shown = shortened(sheet, [&](std::string const& text) {
        return canvas.paragraph_height(text, smallest, whole.w) <= whole.h;
    });
    canvas.fitted(whole, shown, style::bold, {size::body, size::caption}, "block.sheet");
}

} // namespace

void draw_title_block(Canvas& canvas, Rect const& place, TitleBlockView const& block, WordsView const& words)
{
    canvas.frame(place, Ink::line, size::stroke);
    double const mid = place.y + place.h / 2, h = place.h / 2;
    double const c1 = place.x + place.w * 0.43, c2 = place.x + place.w * 0.63;
    canvas.hline(place.x, place.right(), mid, Ink::line, 0.25);
    canvas.vline(c1, place.y, mid, Ink::line, 0.25);
    canvas.vline(c2, place.y, mid, Ink::line, 0.25);
    // With a plan the lower row needs its width for the time, and the revision goes to the breaker.
    bool const plan = !block.slack.empty();
    bool const revision = !block.revision.empty();
    cell(canvas, {place.x, place.y, c1 - place.x, h}, words.station, block.station, "station");
    cell(canvas, {c1, place.y, c2 - c1, h}, words.bay, block.bay, "bay");
    cell(canvas, {c2, place.y, place.right() - c2, h},
         plan && revision ? words.breaker + ", " + words.revision : words.breaker,
         plan && revision ? block.breaker + ", " + block.revision : block.breaker, "breaker");
    // A job's number is how the paper finds it: it stands whole where a little more room lets it.
    double const job_needs = canvas.measure(block.job, style::bold.sized(size::caption)) + 2.6;
    double const job_end =
        plan ? place.x + std::clamp(job_needs, place.w * 0.25, place.w * 0.29) : c1;
    // The time is a few words in some languages; what it needs is taken from the slack, within reason.
    double const time_needs = canvas.measure(block.time_used, style::bold.sized(size::caption)) + 2.6;
    double const used_end =
        plan ? std::clamp(job_end + time_needs, job_end + place.w * 0.28, job_end + place.w * 0.34)
             : place.right();
    double job_right = job_end;
    if (revision && !plan) {
        job_right = place.x + (job_end - place.x) * 0.74;
        canvas.vline(job_right, mid, place.bottom(), Ink::line, 0.25);
        cell(canvas, {job_right, mid, job_end - job_right, h}, words.revision, block.revision, "revision");
    }
    cell(canvas, {place.x, mid, job_right - place.x, h}, words.job, block.job, "job");
    canvas.vline(job_end, mid, place.bottom(), Ink::line, 0.25);
    cell(canvas, {job_end, mid, used_end - job_end, h}, words.used, block.time_used, "used");
    if (!plan)
        return;
    Rect const slack{used_end, mid, place.right() - used_end, h};
    canvas.vline(used_end, mid, place.bottom(), Ink::line, 0.25);
    cell(canvas, slack, block.slack_name, block.slack, "slack");
    if (block.slack_bad)
        canvas.frame(slack.inset(0.5), Ink::line, 1.0);
}

void draw_product_block(Canvas& canvas, Rect const& place, std::string const& product,
                        std::string const& sheet, WordsView const& words)
{
    canvas.frame(place, Ink::line, size::stroke);
    if (sheet.empty()) {
        canvas.fitted(place.inset(2.0), product, style::strong, {size::strong, size::caption}, "block.product");
        return;
    }
    Rect name = place, below = place;
    if (canvas.portrait()) {
        name.w = below.x = place.w * 0.4;
        below.x += place.x;
        below.w = place.w - name.w;
        canvas.vline(below.x, place.y, place.bottom(), Ink::line, 0.25);
    } else {
        name.h = place.h * 0.44;
        below.y += name.h;
        below.h -= name.h;
        canvas.hline(place.x, place.right(), below.y, Ink::line, 0.25);
    }
    canvas.fitted({name.x + 1.4, name.y + 0.4, name.w - 2.0, name.h - 0.8}, product, style::strong,
                  {size::strong, size::caption}, "block.product");
    sheet_cell(canvas, below, words.sheet, sheet);
}

} // namespace isochore::screens
