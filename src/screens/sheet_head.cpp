#include "screens/screen_parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double search_width = 74.0, beside_gap = 6.0;
constexpr double least_heading = 0.4; // of the width, beside filters

double draw_search(Canvas& canvas, Point at, double width, SheetHead const& head, WordsView const& words,
                   Intent& intent)
{
    FieldView const field{"search", words.search, *head.search, "", false, "", ""};
    return draw_field(canvas, at, width, field, words, true, intent) +
           (head.filters.empty() ? 2.0 : size::gap);
}

} // namespace

double draw_heading(Canvas& canvas, Point at, double width, std::string const& heading,
                    std::string const& text)
{
    Column column{canvas, at.x, width, at.y};
    column.text(heading, style::title, "heading");
    if (!text.empty()) {
        column.space(0.8);
        column.text(text, style::body, "heading.text");
    }
    return column.y - at.y;
}

double draw_head(Canvas& canvas, Point at, double width, SheetHead const& head, WordsView const& words,
                 Intent& intent)
{
    bool const search_beside = head.search != nullptr && !canvas.portrait();
    double const filters_w = filters_width(canvas, head.filters);
    bool const filters_beside = !canvas.portrait() && head.search == nullptr && !head.filters.empty() &&
                                filters_w <= (1.0 - least_heading) * width - beside_gap;
    double const beside = search_beside ? search_width : filters_beside ? filters_w : 0.0;
    double const heading_w = width - (beside > 0.0 ? beside + beside_gap : 0.0);
    double y = at.y + draw_heading(canvas, at, heading_w, head.heading, head.text) + 2.0;
    Point const right{at.x + width - beside, at.y};
    if (search_beside)
        y = std::max(y, at.y + draw_search(canvas, right, beside, head, words, intent));
    else if (head.search != nullptr)
        y += draw_search(canvas, {at.x, y}, width, head, words, intent);
    if (filters_beside)
        y = std::max(y, at.y + draw_filters(canvas, right, beside, head.filters, intent) + 2.4);
    else if (double const h = draw_filters(canvas, {at.x, y}, width, head.filters, intent); h > 0.0)
        y += h + 2.4;
    if (head.notice) {
        double const h = verdict_height(canvas, *head.notice, width);
        draw_verdict(canvas, {at.x, y, width, h}, *head.notice, "notice");
        y += h + 2.4;
    }
    return y - at.y;
}

} // namespace isochore::screens
