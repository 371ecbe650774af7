#include "screens/parts.h"
#include "screens/marks.h"
#include <algorithm>
#include <numeric>

namespace isochore::screens {

void Column::text(std::string const& words, TextStyle const& style, std::string id)
{
    y += canvas.paragraph({x, y}, w, words, style, std::move(id));
}

namespace {

constexpr double bar_width = 2.0, sign_size = 9.0, sign_column = 14.2;

double gap_between(ActionView const& a, ActionView const& b)
{
    return a.hold || b.hold ? size::gap_guarded : size::gap;
}

// Width an action needs so that its words need not shrink.
double natural_width(Canvas& canvas, ActionView const& action)
{
    double label = canvas.measure(action.label, style::strong);
    double const small = canvas.measure(action.small, style::body);
    if (label > 27.0 && action.label.find(' ') != std::string::npos && action.small.empty())
        label *= 0.62; // two lines
    return std::max(size::action, std::max(label, small) + 7.0);
}

std::vector<double> action_widths(Canvas& canvas, double room, std::vector<ActionView> const& actions)
{
    std::vector<double> widths;
    for (auto const& action : actions)
        widths.push_back(natural_width(canvas, action));
    double const needed = std::accumulate(widths.begin(), widths.end(), 0.0);
    if (needed > room) { // words wrap instead
        double const base = size::action, spread = room - base * static_cast<double>(actions.size());
        double const over = needed - base * static_cast<double>(actions.size());
        for (auto& w : widths)
            w = base + (over > 0 ? std::max(0.0, spread) * (w - base) / over : 0.0);
        return widths;
    }
    auto const primary =
        std::find_if(actions.begin(), actions.end(), [](auto const& a) { return a.primary; });
    if (primary != actions.end() && actions.size() > 1) {
        // The row ends where the column above it does.
        widths[static_cast<std::size_t>(primary - actions.begin())] += room - needed;
        return widths;
    }
    double const extra = std::min(12.0, (room - needed) / static_cast<double>(actions.size()));
    for (auto& w : widths)
        w += extra;
    return widths;
}

} // namespace

void draw_actions(Canvas& canvas, Rect const& place, std::vector<ActionView> const& actions,
                  WordsView const& words, Intent& intent)
{
    if (actions.empty())
        return;
    double room = place.w;
    for (std::size_t i = 1; i < actions.size(); ++i)
        room -= gap_between(actions[i - 1], actions[i]);
    auto const widths = action_widths(canvas, room, actions);
    double x = place.x;
    for (std::size_t i = 0; i < actions.size(); ++i) {
        auto const& action = actions[i];
        ButtonLook look;
        look.filled = action.primary && actions.size() > 1; // emphasis tells apart: alone it says nothing
        look.enabled = action.enabled;
        look.hold = action.hold;
        look.small = action.small.empty() && action.hold ? words.hold : action.small;
        if (canvas.button("action." + action.id, ElementKind::action, {x, place.y, widths[i], place.h},
                          action.label, look)) {
            intent.kind = Intent::Kind::action;
            intent.id = action.id;
        }
        x += widths[i] + (i + 1 < actions.size() ? gap_between(action, actions[i + 1]) : 0.0);
    }
}

namespace {

/// What a lower layer says as a clause stands here as a sentence; a name, a path or a unit keeps its letters.
std::string as_sentence(std::string text)
{
    auto const small = [](char c) { return c >= 'a' && c <= 'z'; };
    std::size_t const end = std::min(text.find_first_of(" :,"), text.size());
    if (end > 1 && std::all_of(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(end), small) &&
        !text.starts_with("ppmv") && !text.starts_with("kg") && !text.starts_with("mm"))
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

/// Where the words begin: nothing is kept free for a mark that is not there.
double words_left(VerdictView const& verdict)
{
    return verdict.mark == Mark::none ? bar_width + 3.4 : sign_column;
}

/// Smaller where that keeps the title in one line.
TextStyle title_style(Canvas& canvas, VerdictView const& verdict, double width)
{
    bool const smaller = canvas.measure(verdict.title, style::strong) > width &&
                         canvas.measure(verdict.title, style::bold) <= width;
    return smaller ? style::bold : style::strong;
}

double text_height(Canvas& canvas, VerdictView const& verdict, double width)
{
    return canvas.paragraph_height(verdict.title, title_style(canvas, verdict, width), width) +
           canvas.paragraph_height(as_sentence(verdict.text), style::body, width) +
           canvas.paragraph_height(as_sentence(verdict.remedy), style::bold, width);
}

} // namespace

double verdict_height(Canvas& canvas, VerdictView const& verdict, double width)
{
    return std::max(text_height(canvas, verdict, width - words_left(verdict) - 2.0) + 3.4, sign_size + 3.0);
}

void draw_verdict(Canvas& canvas, Rect const& place, VerdictView const& verdict, std::string const& id)
{
    Ink const ink = mark_ink(verdict.mark), outer = canvas.ground();
    canvas.fill(place, Ink::panel);
    canvas.fill({place.x, place.y, bar_width, place.h}, ink);
    canvas.ground(Ink::panel);
    draw_mark(canvas, verdict.mark,
              {place.x + bar_width + (sign_column - bar_width) / 2, place.y + std::min(place.h / 2, 8.6)},
              sign_size, ink);
    double const left = words_left(verdict), width = place.w - left - 2.0;
    double const words_h = text_height(canvas, verdict, width);
    Column column{canvas, place.x + left, width, place.y + std::max(1.4, (place.h - words_h) / 2)};
    column.text(verdict.title, title_style(canvas, verdict, width).with(ink), id + ".title");
    column.text(as_sentence(verdict.text), style::body, id + ".text");
    column.text(as_sentence(verdict.remedy), style::bold, id + ".remedy");
    canvas.ground(outer);
}

double draw_caution(Canvas& canvas, Point at, double width, CautionView const& caution, std::string const& id,
                    double least)
{
    double const x = at.x + 11.5, w = width - 13.5;
    double const title_h = canvas.paragraph_height(caution.title, style::bold, w);
    double const h = std::max(least, title_h + canvas.paragraph_height(caution.text, style::body, w) + 2.6);
    canvas.frame({at.x, at.y, width, h}, Ink::line, size::stroke);
    draw_caution_sign(canvas, {at.x + 5.9, at.y + std::min(h / 2, 6.0)}, 7.0, Ink::text, Ink::paper);
    Column column{canvas, x, w, at.y + 1.3};
    column.text(caution.title, style::bold, id + ".title");
    column.text(caution.text, style::body, id + ".text");
    return h;
}

double draw_caution_titles(Canvas& canvas, Point at, double width, std::vector<CautionView> const& cautions)
{
    constexpr double sign_w = 9.0, pad = 2.0, between = 2.0;
    double const half = (width - between) / 2;
    bool const two =
        cautions.size() > 1 && std::all_of(cautions.begin(), cautions.end(), [&](CautionView const& c) {
            return canvas.measure(c.title, style::bold) <= half - sign_w - pad;
        });
    double const w = two ? half : width;
    double y = at.y, row_h = 0.0;
    for (std::size_t i = 0; i < cautions.size(); ++i) {
        bool const left = !two || i % 2 == 0;
        if (left && i > 0)
            y += row_h + 1.6;
        double const text_h = canvas.paragraph_height(cautions[i].title, style::bold, w - sign_w - pad);
        row_h = std::max(7.6, text_h + 2.0);
        Rect const r{left ? at.x : at.x + half + between, y, w, row_h};
        canvas.frame(r, Ink::line, size::stroke);
        draw_caution_sign(canvas, {r.x + 4.8, r.y + r.h / 2}, 5.4, Ink::text, Ink::paper);
        canvas.paragraph({r.x + sign_w, r.y + (r.h - text_h) / 2}, w - sign_w - pad, cautions[i].title,
                         style::bold, "caution." + std::to_string(i) + ".title");
    }
    return y + row_h - at.y;
}

namespace {

/// Answers in so many columns; a row is of one height.
struct AnswerGrid {
    AnswerGrid(double width, std::size_t n)
        : columns(n), pitch((width + size::gap) / static_cast<double>(n)), w(pitch - size::gap), text_w(w - 14.0)
    {
    }
    [[nodiscard]] double row_height(Canvas& canvas, std::vector<AnswerView> const& answers, std::size_t first) const
    {
        double h = size::target_min;
        for (std::size_t k = first; k < std::min(first + columns, answers.size()); ++k)
            h = std::max(h, canvas.paragraph_height(answers[k].label, style::strong, text_w) + 3.4);
        return h;
    }
    [[nodiscard]] double height(Canvas& canvas, std::vector<AnswerView> const& answers) const
    {
        double h = -size::gap;
        for (std::size_t i = 0; i < answers.size(); i += columns)
            h += row_height(canvas, answers, i) + size::gap;
        return h;
    }

    std::size_t columns;
    double pitch, w, text_w;
};

double widest_word(Canvas& canvas, std::string_view text, TextStyle const& how)
{
    double widest = 0.0;
    while (!text.empty()) {
        auto const end = std::min(text.find(' '), text.size());
        widest = std::max(widest, canvas.measure(text.substr(0, end), how));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return widest;
}

/// Two beside each other, their words wrapped, are lower than all below each other, and no word is broken.
bool lower_in_two(Canvas& canvas, double width, std::vector<AnswerView> const& answers)
{
    AnswerGrid const two(width, 2);
    return answers.size() > 1 && std::all_of(answers.begin(), answers.end(), [&](AnswerView const& answer) {
        return widest_word(canvas, answer.label, style::strong) <= two.text_w;
    }) && two.height(canvas, answers) < AnswerGrid(width, 1).height(canvas, answers);
}

/// How many answers stand side by side: two where their words let them, more only on a whole sheet's width.
std::size_t answer_columns(Canvas& canvas, double width, std::vector<AnswerView> const& answers, bool dense)
{
    double longest = 0.0;
    for (auto const& answer : answers)
        longest = std::max(longest, canvas.measure(answer.label, style::strong));
    for (std::size_t const n : {4U, 3U, 2U})
        if (longest + 16.0 <= AnswerGrid(width, n).w && n <= answers.size() && (n == 2 || width > size::whole_sheet))
            return n;
    return dense && lower_in_two(canvas, width, answers) ? 2 : 1;
}

} // namespace

double draw_answers(Canvas& canvas, Point at, double width, std::vector<AnswerView> const& answers,
                    bool enabled, Intent& intent, bool dense)
{
    if (answers.empty())
        return 0.0;
    std::size_t const columns = answer_columns(canvas, width, answers, dense);
    AnswerGrid const grid(width, columns);
    double const text_w = grid.text_w;
    double y = at.y, row_h = 0.0;
    for (std::size_t i = 0; i < answers.size(); ++i) {
        std::size_t const column = i % columns;
        if (column == 0) {
            y += i > 0 ? row_h + size::gap : 0.0;
            row_h = grid.row_height(canvas, answers, i);
        }
        auto const& answer = answers[i];
        Rect const r{at.x + grid.pitch * static_cast<double>(column), y, grid.w, row_h};
        if (canvas.target("answer." + answer.id, ElementKind::answer, r, answer.label, enabled)) {
            intent.kind = Intent::Kind::answer;
            intent.id = answer.id;
        }
        bool const dark = answer.chosen != (enabled && canvas.pressed_in(r));
        Ink const outer = canvas.ground();
        canvas.fill(r, dark ? Ink::line : Ink::paper);
        canvas.frame(r, enabled || answer.chosen ? Ink::line : Ink::faint);
        Ink const ink = dark ? Ink::inverse : enabled ? Ink::text : Ink::muted;
        canvas.circle({r.x + 7.2, r.y + r.h / 2}, 2.6, ink, 0.5);
        if (answer.chosen)
            canvas.dot({r.x + 7.2, r.y + r.h / 2}, 1.5, ink);
        canvas.ground(dark ? Ink::line : Ink::paper);
        double const text_h = canvas.paragraph_height(answer.label, style::strong, text_w);
        canvas.paragraph({r.x + 12.4, r.y + (r.h - text_h) / 2}, text_w, answer.label,
                         style::strong.with(ink), "answer." + answer.id + ".label");
        canvas.ground(outer);
    }
    return y + row_h - at.y;
}

namespace {

struct ResultSize {
    double value;
    bool beside; ///< the uncertainty stands on the same baseline, not below
};

// One size for all results of a step, so that they read as one table: the largest at which each fits.
ResultSize result_size(Canvas& canvas, double width, std::vector<ResultView> const& results, double largest)
{
    auto const fits = [&](double size, bool beside) {
        return std::all_of(results.begin(), results.end(), [&](ResultView const& r) {
            double const u =
                beside && !r.uncertainty.empty() ? canvas.measure(r.uncertainty, style::muted) + 1.4 : 0.0;
            return canvas.measure(r.value, style::digits.sized(size)) + u <= width;
        });
    };
    for (double const size : {size::digits, size::title, size::strong})
        for (bool const beside : {true, false})
            if (size <= largest && fits(size, beside) && (beside || size < size::digits))
                return {size, beside};
    return {size::body, false};
}

} // namespace

double draw_results(Canvas& canvas, Point at, double width, std::vector<ResultView> const& results,
                    bool compact)
{
    if (results.empty())
        return 0.0;
    constexpr double readable = 48.0; // width of a figure with its uncertainty beside it
    auto const columns = std::min(
        results.size(), static_cast<std::size_t>(std::clamp(width / (readable + size::gap), 2.0, 4.0)));
    double const pitch = (width + size::gap) / static_cast<double>(columns), w = pitch - size::gap;
    double const largest = compact || results.size() > 2 ? size::title : size::digits;
    ResultSize const how = result_size(canvas, w - 2.0, results, largest);
    double y = at.y;
    for (std::size_t i = 0; i < results.size(); i += columns) {
        bool below = false;
        double const baseline = y + 4.9 + how.value * 0.9;
        for (std::size_t k = i; k < std::min(i + columns, results.size()); ++k) {
            auto const& result = results[k];
            double const x = at.x + static_cast<double>(k - i) * pitch;
            std::string const id = "result." + std::to_string(k);
            canvas.fitted({x, y, w, 4.9}, result.label, style::muted, {size::body, size::caption},
                          id + ".label");
            double const value_w =
                canvas.text({x, baseline}, result.value, style::digits.sized(how.value), id + ".value");
            if (result.uncertainty.empty())
                continue;
            below = below || !how.beside;
            canvas.text(how.beside ? Point{x + value_w + 1.4, baseline} : Point{x, baseline + 5.2},
                        result.uncertainty, style::muted, id + ".uncertainty");
        }
        y = baseline + 2.4 + (below ? 5.2 : 0.0);
    }
    return y - at.y;
}

namespace {

struct RowColumns {
    double label, limit, value; ///< widths
};

RowColumns row_columns(Canvas& canvas, double width, std::vector<RowView> const& rows)
{
    RowColumns c{0, 0, 0};
    bool marks = false;
    for (auto const& row : rows) {
        c.label = std::max(c.label, canvas.measure(row.label, style::body));
        c.limit = std::max(c.limit, canvas.measure(row.limit, style::body));
        c.value = std::max(c.value, canvas.measure(row.value, style::body));
        marks = marks || row.mark != Mark::none;
    }
    double const room = width - (marks ? 8.0 : 0.0) - 6.0;
    // What is short keeps its width.
    double const sum = c.label + c.limit + c.value;
    if (sum <= room) {
        c.label += std::min(room - sum, 14.0);
        return c;
    }
    // A name may wrap between its words; what it says gets the room.
    constexpr double share = 0.3;
    double longest_word = 0.0;
    for (auto const& row : rows)
        longest_word = std::max(longest_word, widest_word(canvas, row.label, style::body));
    double const names = std::max({share * room, longest_word, room - c.limit - c.value});
    c.label = std::min(c.label, names);
    c.limit = std::min(c.limit, std::max(share * room, room - c.label - c.value));
    c.value = room - c.label - c.limit;
    return c;
}

} // namespace

double draw_rows(Canvas& canvas, Point at, double width, std::vector<RowView> const& rows,
                 std::string const& id)
{
    RowColumns const c = row_columns(canvas, width, rows);
    double y = at.y;
    double const x_limit = at.x + c.label + 3.0, x_value = x_limit + c.limit + (c.limit > 0 ? 3.0 : 0.0);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        auto const& row = rows[i];
        std::string const name = id + "." + std::to_string(i);
        double const h = std::max({canvas.paragraph_height(row.label, style::body, c.label + 0.1),
                                   canvas.paragraph_height(row.limit, style::body, c.limit + 0.1),
                                   canvas.paragraph_height(row.value, style::body, c.value + 0.1)}) +
                         1.0;
        canvas.paragraph({at.x, y + 0.5}, c.label + 0.1, row.label, style::body, name + ".label");
        canvas.paragraph({x_limit, y + 0.5}, c.limit + 0.1, row.limit, style::muted.aligned(Align::right),
                         name + ".limit");
        canvas.paragraph({x_value, y + 0.5}, c.value + 0.1, row.value, style::body, name + ".value");
        if (row.mark != Mark::none)
            draw_mark(canvas, row.mark, {at.x + width - 2.6, y + h / 2}, 4.2, mark_ink(row.mark));
        y += h;
        canvas.hline(at.x, at.x + width, y, Ink::faint);
    }
    return y - at.y;
}

} // namespace isochore::screens
