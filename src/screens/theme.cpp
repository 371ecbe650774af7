#include "screens/theme.h"
#include <algorithm>
#include <cmath>

namespace isochore::screens {

using drawing::Ink;

namespace {

// In the order of drawing::Ink: paper, panel, line, text, muted, faint, accent, accent_soft, inverse, pass,
// fail, undecided.
std::vector<Theme> make_themes()
{
    return {
        {"print",
         {{{255, 255, 255},
           {240, 240, 236},
           {0, 0, 0},
           {0, 0, 0},
           {74, 74, 74},
           {190, 190, 188},
           {11, 61, 145},
           {220, 230, 245},
           {255, 255, 255},
           {6, 88, 52},
           {150, 20, 20},
           {112, 66, 0}}}},
        {"blueprint",
         {{{11, 37, 69},
           {20, 49, 92},
           {244, 247, 251},
           {244, 247, 251},
           {180, 198, 224},
           {51, 82, 127},
           {156, 203, 255},
           {16, 53, 92},
           {11, 37, 69},
           {143, 227, 176},
           {255, 176, 168},
           {255, 210, 122}}}},
        {"plain",
         {{{0, 0, 0},
           {26, 26, 26},
           {255, 255, 255},
           {255, 255, 255},
           {214, 214, 214},
           {92, 92, 92},
           {255, 226, 80},
           {48, 44, 10},
           {0, 0, 0},
           {120, 235, 150},
           {255, 165, 155},
           {255, 200, 90}}}},
    };
}

double channel(std::uint8_t value)
{
    double const c = value / 255.0;
    return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance(Rgb colour)
{
    return 0.2126 * channel(colour.r) + 0.7152 * channel(colour.g) + 0.0722 * channel(colour.b);
}

} // namespace

std::vector<Theme> const& themes()
{
    static std::vector<Theme> const all = make_themes();
    return all;
}

Theme const& theme_named(std::string_view name)
{
    auto const found =
        std::find_if(themes().begin(), themes().end(), [&](Theme const& t) { return t.name == name; });
    return found == themes().end() ? themes().front() : *found;
}

double contrast(Rgb a, Rgb b)
{
    double const la = luminance(a), lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

std::vector<TextPair> const& text_pairs()
{
    static std::vector<TextPair> const pairs{
        {Ink::text, Ink::paper, true},   {Ink::text, Ink::panel, true}, {Ink::text, Ink::accent_soft, true},
        {Ink::inverse, Ink::line, true}, {Ink::muted, Ink::paper},      {Ink::muted, Ink::panel},
        {Ink::accent, Ink::paper},       {Ink::accent, Ink::panel},     {Ink::accent, Ink::accent_soft},
        {Ink::pass, Ink::paper},         {Ink::pass, Ink::panel},       {Ink::fail, Ink::paper},
        {Ink::fail, Ink::panel},         {Ink::undecided, Ink::paper},  {Ink::undecided, Ink::panel},
        {Ink::muted, Ink::accent_soft},
    };
    return pairs;
}

} // namespace isochore::screens
