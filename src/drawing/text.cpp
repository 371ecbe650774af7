#include "drawing/text.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::drawing {

std::size_t character_length(std::string_view text, std::size_t at)
{
    auto const lead = static_cast<unsigned char>(text[at]);
    std::size_t const told = lead < 0x80 ? 1 : lead < 0xe0 ? 2 : lead < 0xf0 ? 3 : 4;
    std::size_t length = 1;
    while (length < told && at + length < text.size() &&
           (static_cast<unsigned char>(text[at + length]) & 0xc0) == 0x80)
        ++length;
    return length;
}

namespace {

struct Wrapper {
    double width;
    Face face;
    double size;
    MeasureText const& measure;
    std::vector<std::string> lines{};
    std::string line{};
    double line_width = 0.0;

    double wide(std::string_view s) const { return measure(s, face, size); }

    void end_line()
    {
        lines.push_back(std::move(line));
        line.clear();
        line_width = 0.0;
    }
    void add_broken(std::string_view word)
    {
        for (std::size_t at = 0; at < word.size();) {
            std::size_t const length = character_length(word, at);
            std::string_view const piece = word.substr(at, length);
            double const w = wide(piece);
            if (!line.empty() && line_width + w > width)
                end_line();
            line += piece;
            line_width += w;
            at += length;
        }
    }
    void add_word(std::string_view word)
    {
        double const w = wide(word);
        double const space = wide(" ");
        if (!line.empty() && line_width + space + w <= width) {
            line += ' ';
            line += word;
            line_width += space + w;
            return;
        }
        if (!line.empty())
            end_line();
        if (w > width) {
            add_broken(word);
            return;
        }
        line = word;
        line_width = w;
    }
};

std::string_view without_stop(std::string_view word)
{
    while (!word.empty() && std::string_view(".,;:").find(word.back()) != std::string_view::npos)
        word.remove_suffix(1);
    return word;
}

std::string_view inside_bracket(std::string_view word)
{
    word.remove_prefix(std::min(word.find_first_not_of('('), word.size()));
    return word;
}

bool is_number(std::string_view word)
{
    word = inside_bracket(word);
    return !word.empty() && word.find_first_not_of("0123456789.,+-") == std::string_view::npos &&
           word == without_stop(word); // a stop ends the thought
}

/// "± 3", "≥ 8.88": a sign stands before its number.
bool is_sign(std::string_view word)
{
    for (std::string_view const sign : {"±", "≥", "≤", "<", ">", "="})
        if (word.ends_with(sign))
            return true;
    return false;
}

/// A short word that can be a unit; digits start a new thought.
bool is_unit(std::string_view word)
{
    return !word.empty() && word.size() <= 6 && !is_sign(word) && (word.front() < '0' || word.front() > '9');
}

/// "G 1/2", "(NPT 3/8": the name of a thread and its size are read as one.
bool is_thread(std::string_view word, std::string_view next)
{
    word = inside_bracket(word);
    bool const sized = !next.empty() && next.front() >= '0' && next.front() <= '9';
    return sized && (word == "G" || word == "R" || word == "Rp" || word == "Rc" || word == "NPT" || word == "NPTF");
}

} // namespace

std::size_t end_of_word(std::string_view text)
{
    std::size_t stop = std::min(text.find(' '), text.size());
    bool after_number = false;
    for (std::size_t start = 0; stop < text.size();) {
        std::string_view const word = text.substr(start, stop - start);
        std::size_t const end = std::min(text.find(' ', stop + 1), text.size());
        std::string_view const next = text.substr(stop + 1, end - stop - 1);
        std::string_view const bare = without_stop(next);
        bool const reference = after_number && (bare == "g" || bare == "abs");
        after_number = is_number(word);
        if (!(is_sign(word) && is_number(without_stop(next))) && !is_thread(word, next) && !(after_number && is_unit(bare)) &&
            !reference)
            break;
        start = stop + 1;
        stop = end;
    }
    return stop;
}

std::vector<std::string> wrap_text(std::string_view text, double width, Face face, double size,
                                   MeasureText const& measure)
{
    Wrapper wrapper{width, face, size, measure};
    std::size_t at = 0;
    while (at <= text.size()) {
        std::size_t const end = std::min(text.find('\n', at), text.size());
        std::string_view paragraph = text.substr(at, end - at);
        while (!paragraph.empty()) {
            std::size_t const stop = end_of_word(paragraph);
            if (stop > 0)
                wrapper.add_word(paragraph.substr(0, stop));
            paragraph.remove_prefix(std::min(stop + 1, paragraph.size()));
        }
        wrapper.end_line();
        at = end + 1;
    }
    return std::move(wrapper.lines);
}

double longest_word(std::string_view text, Face face, double size, MeasureText const& measure)
{
    double longest = 0.0;
    while (!text.empty()) {
        std::size_t const stop = end_of_word(text);
        longest = std::max(longest, measure(text.substr(0, stop), face, size));
        text.remove_prefix(std::min(stop + 1, text.size()));
    }
    return longest;
}

std::string shorten_text(std::string_view text, double width, Face face, double size,
                         MeasureText const& measure)
{
    if (measure(text, face, size) <= width)
        return std::string(text);
    std::string best = "…";
    std::string start;
    for (std::size_t at = 0; at < text.size();) {
        std::size_t const length = character_length(text, at);
        start += text.substr(at, length);
        if (measure(start + "…", face, size) > width)
            break;
        best = start + "…";
        at += length;
    }
    return best;
}

std::string first_fitting(std::vector<std::string> const& wordings, double width, Face face, double size,
                          MeasureText const& measure)
{
    for (auto const& wording : wordings)
        if (!wording.empty() && measure(wording, face, size) <= width)
            return wording;
    for (auto it = wordings.rbegin(); it != wordings.rend(); ++it)
        if (!it->empty())
            return shorten_text(*it, width, face, size, measure);
    return {};
}

std::string ohm_text(double ohm)
{
    if (!std::isfinite(ohm) || ohm < 0.0)
        return "?";
    if (ohm >= 999500.0)
        return fmt::format("{:.3g} MΩ", ohm / 1e6);
    if (ohm >= 999.5)
        return fmt::format("{:.3g} kΩ", ohm / 1e3);
    return fmt::format("{:.3g} Ω", ohm);
}

} // namespace isochore::drawing
