#include "drawing/text.h"
#include "screens/canvas.h"
#include <algorithm>
#include <cmath>
#include <imgui/imgui.h>

/// The half of the canvas that sets type.
namespace isochore::screens {

namespace {

constexpr double descent = 0.22; // of the em size, B612: g, p, y reach this far below the baseline

// The first byte of the next character.
std::size_t next_character(std::string_view text, std::size_t at)
{
    ++at;
    while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U)
        ++at;
    return at;
}

} // namespace

double Canvas::measure(std::string_view text, TextStyle const& style)
{
    return m_fonts.measure(text, style.face, style.size);
}

void Canvas::record_text(Rect const& r, std::string_view text, TextStyle const& style, std::string id,
                         bool cut)
{
    if (m_dry)
        return;
    Element element;
    element.id = std::move(id);
    element.rect = r;
    element.visible = r.cut(m_clips.back());
    element.clip = m_clips.back();
    element.text = std::string(text);
    element.cut = cut;
    element.scrolls = !m_regions.empty();
    element.text_size = style.size;
    element.ink = style.ink;
    element.ground = m_ground;
    element.layer = m_layer;
    m_elements.push_back(std::move(element));
}

double Canvas::text(Point at, std::string_view text, TextStyle const& style, std::string id)
{
    if (text.empty())
        return 0.0;
    m_fonts.want(text);
    auto const picked = m_fonts.pick(style.face, style.size);
    double const width = measure(text, style);
    double const x = style.align == Align::left    ? at.x
                     : style.align == Align::right ? at.x - width
                                                   : at.x - width / 2;
    if (picked.font != nullptr && !m_dry) {
        ImVec2 const pos{
            static_cast<float>(std::round(x * m_scale)),
            static_cast<float>(std::round(at.y * m_scale - static_cast<double>(picked.font->Ascent)))};
        m_list->AddText(picked.font, picked.font->FontSize, pos, colour(style.ink), text.data(),
                        text.data() + text.size());
    }
    TextStyle const drawn = style.sized(picked.size_mm);
    record_text({x, at.y - size::cap_height * drawn.size, width, (size::cap_height + descent) * drawn.size},
                text, drawn, std::move(id), m_cut);
    return width;
}

std::vector<std::string> const& Canvas::wrap(std::string_view text, TextStyle const& style, double width)
{
    constexpr std::size_t most_kept = 60000;
    if (m_bake != m_fonts.bakes() || m_wrapped.size() > most_kept) {
        m_wrapped.clear();
        m_bake = m_fonts.bakes();
    }
    std::size_t key = std::hash<std::string_view>{}(text);
    for (double const value : {style.size, width, static_cast<double>(style.face)})
        key = key * 1000003U ^ std::hash<double>{}(value);
    Wrapped& kept = m_wrapped[key];
    if (kept.lines.empty() || kept.text != text || kept.face != style.face || kept.size != style.size ||
        kept.width != width) {
        m_fonts.want(text);
        kept = {std::string(text), style.face, style.size, width, break_lines(text, style, width)};
    }
    return kept.lines;
}

std::vector<std::string> Canvas::break_lines(std::string_view text, TextStyle const& style, double width)
{
    std::vector<std::string> lines;
    std::string line;
    auto const flush = [&] {
        lines.push_back(line);
        line.clear();
    };
    // A word wider than the line is broken at a hyphen of its own, or where it must be; nothing is ever left
    // out.
    auto const add_long_word = [&](std::string_view word) {
        std::size_t start = 0;
        for (std::size_t i = 0; i < word.size();) {
            std::size_t const next = next_character(word, i);
            if (i > start && measure(std::string(word.substr(start, next - start)) + "-", style) > width) {
                std::size_t const own = word.substr(start, i - start).rfind('-');
                bool const at_own = own != std::string_view::npos && own > 0;
                std::size_t const stop = at_own ? start + own + 1 : i;
                line = std::string(word.substr(start, stop - start)) + (at_own ? "" : "-");
                flush();
                start = i = stop;
                continue;
            }
            i = next;
        }
        line = word.substr(start);
    };
    std::size_t at = 0;
    while (at <= text.size()) {
        std::size_t const line_end = std::min(text.find('\n', at), text.size());
        std::size_t end = at + drawing::end_of_word(text.substr(at, line_end - at));
        if (measure(text.substr(at, end - at), style) > width)
            end = std::min(text.find_first_of(" \n", at), text.size());
        std::string_view const word = text.substr(at, end - at);
        std::string const longer = line.empty() ? std::string(word) : line + " " + std::string(word);
        if (measure(longer, style) <= width) {
            line = longer;
        } else {
            if (!line.empty())
                flush();
            if (measure(word, style) <= width)
                line = word;
            else
                add_long_word(word);
        }
        if (end < text.size() && text[end] == '\n')
            flush();
        at = end + 1;
    }
    if (!line.empty() || lines.empty())
        flush();
    return lines;
}

double Canvas::paragraph_height(std::string_view text, TextStyle const& style, double width)
{
    return text.empty()
               ? 0.0
               : static_cast<double>(wrap(text, style, width).size()) * style.size * size::line_height;
}

double Canvas::paragraph(Point top_left, double width, std::string_view text, TextStyle const& style,
                         std::string id)
{
    if (text.empty())
        return 0.0;
    double const pitch = style.size * size::line_height;
    double const x = style.align == Align::left    ? top_left.x
                     : style.align == Align::right ? top_left.x + width
                                                   : top_left.x + width / 2;
    double baseline = top_left.y + (pitch + style.size * (size::cap_height - descent)) / 2;
    auto const& lines = wrap(text, style, width);
    double const height = static_cast<double>(lines.size()) * pitch;
    for (auto const& line : lines) {
        this->text({x, baseline}, line, style, id);
        baseline += pitch;
    }
    return height;
}

double Canvas::fitted(Rect const& r, std::string_view text, TextStyle const& style,
                      std::vector<double> const& sizes, std::string id)
{
    if (text.empty())
        return 0.0;
    auto const longest_word_fits = [&](TextStyle const& s) {
        std::size_t at = 0;
        while (at < text.size()) {
            std::size_t const end = std::min(text.find_first_of(" \n", at), text.size());
            if (measure(text.substr(at, end - at), s) > r.w + 0.01)
                return false;
            at = end + 1;
        }
        return true;
    };
    TextStyle chosen = style;
    bool fits = false;
    // First without breaking a word, then, at the smallest size, breaking words as well.
    for (double const size : sizes) {
        chosen = style.sized(size);
        fits = longest_word_fits(chosen) && paragraph_height(text, chosen, r.w) <= r.h + 0.05;
        if (fits)
            break;
    }
    double const height = paragraph_height(text, chosen, r.w);
    m_cut = !fits && height > r.h + 0.05;
    paragraph({r.x, r.y + (r.h - height) / 2}, r.w, text, chosen, std::move(id));
    m_cut = false;
    return height;
}

} // namespace isochore::screens
