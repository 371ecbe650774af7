#include "screens/marks.h"
#include "screens/screen_parts.h"
#include <algorithm>
#include <array>

/// The keypad for numbers and the keyboard for words. What is typed lives in the app; a key only says its
/// name.
namespace isochore::screens {

namespace {

void send(Intent& intent, std::string key)
{
    intent.kind = Intent::Kind::key;
    intent.text = std::move(key);
}

bool key(Canvas& canvas, Rect const& r, std::string const& id, std::string const& label, ButtonLook look = {})
{
    return canvas.button("key." + id, ElementKind::key, r, label, look);
}

void backspace_key(Canvas& canvas, Rect const& r, Intent& intent)
{
    ButtonLook look;
    if (key(canvas, r, "backspace", "", look))
        send(intent, "backspace");
    bool const pressed = canvas.pressed_in(r);
    draw_backspace(canvas, {r.x + r.w / 2, r.y + r.h / 2}, 8.0, pressed ? Ink::inverse : Ink::text);
}

void enter_key(Canvas& canvas, Rect const& r, SheetView const& sheet, EntryView const& entry, Intent& intent)
{
    ButtonLook look;
    look.filled = true;
    look.enabled = entry.can_enter;
    if (key(canvas, r, "enter", sheet.words.enter, look))
        send(intent, "enter");
}

void cancel_key(Canvas& canvas, Rect const& r, SheetView const& sheet, Intent& intent)
{
    if (key(canvas, r, "cancel", sheet.words.cancel))
        send(intent, "cancel");
}

// The signs of these two keys are too small in type.
void draw_key_sign(Canvas& canvas, Rect const& r, bool sign)
{
    Ink const ink = canvas.pressed_in(r) ? Ink::inverse : Ink::text;
    Point const c{r.x + r.w / 2, r.y + r.h / 2};
    if (!sign)
        return canvas.dot({c.x, c.y + 1.6}, 0.85, ink);
    canvas.line({c.x - 1.9, c.y - 1.1}, {c.x + 1.9, c.y - 1.1}, ink, 0.65);
    canvas.line({c.x, c.y - 3.0}, {c.x, c.y + 0.8}, ink, 0.65);
    canvas.line({c.x - 1.9, c.y + 2.5}, {c.x + 1.9, c.y + 2.5}, ink, 0.65);
}

// 7 8 9 / 4 5 6 / 1 2 3 / sign 0 point, with the keys that act in a column of their own.
void draw_keypad(Canvas& canvas, Point at, SheetView const& sheet, EntryView const& entry, Intent& intent)
{
    constexpr double s = size::action, pitch = size::action + size::gap;
    static constexpr std::array<char const*, 12> keys{"7", "8", "9", "4",    "5", "6",
                                                      "1", "2", "3", "sign", "0", "."};
    ButtonLook digit;
    digit.label_size = size::title;
    for (std::size_t i = 0; i < keys.size(); ++i) {
        std::string const name = keys[i];
        Rect const r{at.x + pitch * static_cast<double>(i % 3), at.y + pitch * static_cast<double>(i / 3), s,
                     s};
        bool const drawn = name == "sign" || name == ".";
        if (key(canvas, r, name == "." ? "point" : name, drawn ? "" : name, digit))
            send(intent, name);
        if (drawn)
            draw_key_sign(canvas, r, name == "sign");
    }
    double const x = at.x + 3 * pitch, w = 26.0;
    backspace_key(canvas, {x, at.y, w, s}, intent);
    if (key(canvas, {x, at.y + pitch, w, s}, "clear", sheet.words.clear))
        send(intent, "clear");
    enter_key(canvas, {x, at.y + 2 * pitch, w, 2 * s + size::gap}, sheet, entry, intent);
}

constexpr double keypad_w = 3 * (size::action + size::gap) + 26.0,
                 keypad_h = 4 * size::action + 3 * size::gap;

std::vector<std::string> const& labels_of(EntryView const& entry)
{
    return entry.unit_labels.size() == entry.units.size() ? entry.unit_labels : entry.units;
}

std::string chosen_label(EntryView const& entry)
{
    auto const at = std::ranges::find(entry.units, entry.unit) - entry.units.begin();
    return at < std::ssize(entry.units) ? labels_of(entry)[static_cast<std::size_t>(at)] : entry.unit;
}

// The value as it is being typed, with its unit, as large as it goes.
double draw_typed(Canvas& canvas, Rect const& r, EntryView const& entry)
{
    canvas.frame(r, Ink::accent, 0.8);
    std::string shown = entry.typed;
    if (entry.secret) {
        shown.clear();
        for (std::size_t i = 0; i < entry.typed.size(); ++i)
            shown += "●";
    }
    TextStyle const unit{Face::regular, size::strong, Ink::text, Align::right};
    std::string const unit_text = chosen_label(entry);
    double const unit_w = unit_text.empty() ? 0.0 : canvas.measure(unit_text, unit) + 2.5;
    double const room = r.w - 8.0 - unit_w;
    TextStyle value = style::digits;
    for (double const size : {size::digits, size::title, size::strong, size::body}) {
        value = style::digits.sized(size);
        if (canvas.measure(shown, value) + 1.0 <= room)
            break;
    }
    double const baseline = r.y + r.h / 2 + value.size * size::cap_height / 2;
    double w = canvas.measure(shown, value);
    canvas.begin_clip(r.inset(1.0));
    // Too long even then: the end, where one types, stays in view.
    double const x = r.x + 4.0 + std::min(0.0, room - 1.0 - w);
    canvas.text({x, baseline}, shown, value, "entry.typed");
    canvas.fill({x + w + 0.5, r.y + 3.0, 0.5, r.h - 6.0}, Ink::accent);
    canvas.end_clip();
    canvas.text({r.right() - 4.0, r.y + r.h / 2 + size::digits * size::cap_height / 2}, unit_text, unit,
                "entry.unit");
    return r.h;
}

double draw_echo(Canvas& canvas, Point at, double width, double bottom, EntryView const& entry)
{
    Column column{canvas, at.x, width, at.y};
    if (!entry.problem.empty()) {
        draw_mark(canvas, Mark::fail, {at.x + 2.4, at.y + 2.6}, 4.6, Ink::fail);
        column.y += canvas.paragraph({at.x + 6.4, at.y}, width - 6.4, entry.problem,
                                     style::bold.with(Ink::fail), "entry.problem");
    } else if (!entry.question.empty()) {
        draw_mark(canvas, Mark::undecided, {at.x + 2.4, at.y + 2.6}, 5.2, Ink::undecided);
        column.y += canvas.paragraph({at.x + 6.4, at.y}, width - 6.4, entry.question,
                                     style::bold.with(Ink::undecided), "entry.question");
    }
    // With a question and an answer below room is short, and below a long problem there is none.
    bool const room = column.y + canvas.paragraph_height(entry.echo, style::body, width) <= bottom + 0.01;
    if (room && (entry.question.empty() || !entry.foreseen))
        column.text(entry.echo, style::body, "entry.echo");
    return column.y - at.y;
}

/// What hangs on the value, worked out anew with each key: mark and verdict in bold, the figures below. It
/// stands under all that is tapped, so that nothing moves away, and what has no room above `bottom` is left
/// out whole.
void draw_foreseen(Canvas& canvas, Point at, double width, double bottom, EntryView const& entry)
{
    if (!entry.foreseen)
        return;
    auto const& seen = *entry.foreseen;
    bool const marked = seen.mark != Mark::none && seen.mark != Mark::recorded;
    double const inset = marked ? 6.4 : 0.0;
    Column column{canvas, at.x, width, at.y + size::gap};
    auto const fits = [&](std::string const& text, TextStyle const& style, double w) {
        return column.y + canvas.paragraph_height(text, style, w) <= bottom + 0.01;
    };
    if (!fits(seen.title, style::bold, width - inset))
        return;
    if (marked)
        draw_mark(canvas, seen.mark, {at.x + 2.4, column.y + 2.6}, 4.6, Ink::text);
    column.y +=
        canvas.paragraph({at.x + inset, column.y}, width - inset, seen.title, style::bold, "entry.foreseen");
    if (fits(seen.text, style::body, width))
        column.text(seen.text, style::body, "entry.foreseen.text");
    if (fits(seen.remedy, style::muted, width))
        column.text(seen.remedy, style::muted, "entry.foreseen.remedy");
}

/// How much wider than its text a chip is: less where that keeps all of them in one line.
double chip_padding(Canvas& canvas, double width, std::vector<std::string> const& chips)
{
    for (double const padding : {8.0, 5.0, 3.0}) {
        double row = -size::gap;
        for (auto const& chip : chips)
            row += std::max(canvas.measure(chip, style::bold) + padding, size::target_min) + size::gap;
        if (row <= width + 0.01)
            return padding;
    }
    return 8.0;
}

// Chips flow into as many lines as they need. Of suggestions, what does not fit is not offered: it can always be
// typed. A unit cannot, so every unit is there.
double draw_chips(Canvas& canvas, Point at, double width, std::vector<std::string> const& chips,
                  std::vector<std::string> const& labels, std::string const& chosen, bool units, double bottom,
                  Intent& intent)
{
    double x = at.x, y = at.y;
    double const padding = chip_padding(canvas, width, labels);
    for (std::size_t i = 0; i < chips.size(); ++i) {
        auto const& chip = chips[i];
        double const w = std::clamp(canvas.measure(labels[i], style::bold) + padding, size::target_min, width);
        if (x > at.x && x + w > at.x + width + 0.01) {
            x = at.x;
            y += size::target_min + size::gap;
        }
        if (!units && y + size::target_min > bottom + 0.01)
            break;
        ButtonLook look;
        look.chosen = units && chip == chosen;
        look.label_size = size::body;
        look.border = 0.35;
        if (canvas.button((units ? "unit." : "suggestion.") + chip,
                          units ? ElementKind::unit : ElementKind::suggestion, {x, y, w, size::target_min},
                          labels[i], look)) {
            intent.kind = units ? Intent::Kind::unit : Intent::Kind::suggestion;
            intent.text = chip;
        }
        x += w + size::gap;
    }
    return chips.empty() ? 0.0 : y + size::target_min - at.y;
}

void draw_number_entry(Canvas& canvas, Rect const& area, SheetView const& sheet, EntryView const& entry,
                       Intent& intent)
{
    bool const portrait = canvas.portrait();
    Point const pad = portrait ? Point{area.x + (area.w - keypad_w) / 2,
                                       area.bottom() - keypad_h - size::action - size::gap}
                               : Point{area.right() - keypad_w, area.bottom() - keypad_h};
    Rect const text = portrait
                          ? Rect{area.x, area.y, area.w, pad.y - area.y - size::gap}
                          : Rect{area.x, area.y, pad.x - area.x - 8.0, area.h - size::action - size::gap};
    Column column{canvas, text.x, text.w, text.y};
    column.text(entry.context, style::muted, "entry.context");
    column.space(0.6);
    column.text(entry.label, style::title, "entry.label");
    column.space(2.0);
    column.y += draw_typed(canvas, {column.x, column.y, column.w, 18.0}, entry);
    // The units stand right under the value: what is said of it grows and shrinks with each key, and nothing that
    // is tapped may move with it.
    if (!entry.units.empty()) {
        column.space(size::gap);
        column.y += draw_chips(canvas, {column.x, column.y}, column.w, entry.units, labels_of(entry), entry.unit,
                               true, text.bottom(), intent);
    }
    column.space(1.6);
    column.y += draw_echo(canvas, {column.x, column.y}, column.w, text.bottom(), entry);
    if (!entry.suggestions.empty()) {
        column.space(size::gap);
        column.y += draw_chips(canvas, {column.x, column.y}, column.w, entry.suggestions, entry.suggestions, "",
                               false, text.bottom(), intent);
    }
    draw_foreseen(canvas, {column.x, column.y}, column.w, text.bottom(), entry);
    draw_keypad(canvas, pad, sheet, entry, intent);
    Rect const cancel = portrait ? Rect{pad.x, area.bottom() - size::action, keypad_w, size::action}
                                 : Rect{area.x, area.bottom() - size::action, 44.0, size::action};
    cancel_key(canvas, cancel, sheet, intent);
}

struct Board {
    std::vector<std::vector<std::string>> rows;
};

Board letters(bool portrait, bool upper)
{
    Board board;
    if (portrait)
        board.rows = {{"1", "2", "3", "4", "5", "6", "7"}, {"8", "9", "0", "-", ".", ",", "/"},
                      {"a", "b", "c", "d", "e", "f", "g"}, {"h", "i", "j", "k", "l", "m", "n"},
                      {"o", "p", "q", "r", "s", "t", "u"}, {"v", "w", "x", "y", "z", "'"}};
    else
        board.rows = {{"1", "2", "3", "4", "5", "6", "7", "8", "9", "0"},
                      {"q", "w", "e", "r", "t", "y", "u", "i", "o", "p"},
                      {"a", "s", "d", "f", "g", "h", "j", "k", "l"},
                      {"z", "x", "c", "v", "b", "n", "m", ",", ".", "-"}};
    if (upper)
        for (auto& row : board.rows)
            for (auto& k : row)
                if (k.size() == 1 && k[0] >= 'a' && k[0] <= 'z')
                    k[0] = static_cast<char>(k[0] - 'a' + 'A');
    return board;
}

Board signs(bool portrait, bool upper)
{
    Board board;
    if (portrait)
        board.rows = {{"ä", "ö", "ü", "ß", "á", "é", "í"},
                      {"ó", "ú", "ñ", "ç", "à", "è", "ê"},
                      {"+", "=", "(", ")", "<", ">", "%"},
                      {"#", "&", "*", "@", "\"", "_", "?"},
                      {":", ";", "!", "°", "Ω", "µ"}};
    else
        board.rows = {{"ä", "ö", "ü", "ß", "á", "é", "í", "ó", "ú", "ñ"},
                      {"ç", "à", "è", "ê", "å", "ø", "æ", "°", "Ω", "µ"},
                      {"+", "=", "(", ")", "<", ">", "%", "±", "/"},
                      {"#", "&", "*", "@", "\"", "_", "?", "!", ":", ";"}};
    static std::array<std::array<char const*, 2>, 17> const capitals{{{"ä", "Ä"},
                                                                      {"ö", "Ö"},
                                                                      {"ü", "Ü"},
                                                                      {"á", "Á"},
                                                                      {"é", "É"},
                                                                      {"í", "Í"},
                                                                      {"ó", "Ó"},
                                                                      {"ú", "Ú"},
                                                                      {"ñ", "Ñ"},
                                                                      {"ç", "Ç"},
                                                                      {"à", "À"},
                                                                      {"è", "È"},
                                                                      {"ê", "Ê"},
                                                                      {"å", "Å"},
                                                                      {"ø", "Ø"},
                                                                      {"æ", "Æ"},
                                                                      {"ß", "ß"}}};
    if (upper)
        for (auto& row : board.rows)
            for (auto& k : row)
                for (auto const& pair : capitals)
                    if (k == pair[0]) {
                        k = pair[1];
                        break;
                    }
    return board;
}

void draw_keyboard(Canvas& canvas, Rect const& area, SheetView const& sheet, EntryView const& entry,
                   Intent& intent)
{
    bool const portrait = canvas.portrait();
    double& shift = canvas.memory("keyboard.shift");
    double& page = canvas.memory("keyboard.page");
    // A word begins with a capital unless one says otherwise.
    bool const begins = entry.typed.empty() || entry.typed.back() == ' ';
    bool const upper = (shift > 0.5) != begins;
    Board const board = page > 0.5 ? signs(portrait, upper) : letters(portrait, upper);
    std::size_t const columns = portrait ? 7 : 10;
    double const w = (area.w - size::gap * static_cast<double>(columns - 1)) / static_cast<double>(columns);
    double const pitch = size::target_min + size::gap;
    double y = area.bottom() - pitch * static_cast<double>(board.rows.size() + 1) + size::gap;
    ButtonLook look;
    look.border = 0.35;
    for (auto const& row : board.rows) {
        double const row_w = static_cast<double>(row.size()) * (w + size::gap) - size::gap;
        double x = area.x + (portrait || row.size() == columns ? 0.0 : (area.w - row_w - w - size::gap) / 2);
        for (auto const& k : row) {
            if (key(canvas, {x, y, w, size::target_min}, k, k, look)) {
                send(intent, k);
                shift = 0.0;
            }
            x += w + size::gap;
        }
        if (row.size() < columns && &row == &board.rows[portrait ? board.rows.size() - 1 : 2])
            backspace_key(canvas, {x, y, area.right() - x, size::target_min}, intent);
        y += pitch;
    }
    double const unit = (area.w - 4 * size::gap) / 10.0;
    ButtonLook chosen = look;
    chosen.chosen = shift > 0.5;
    Rect r{area.x, y, unit * 1.8, size::target_min};
    if (key(canvas, r, "cancel", sheet.words.cancel, look))
        send(intent, "cancel");
    r = {r.right() + size::gap, y, unit * 1.6, size::target_min};
    if (key(canvas, r, "shift", sheet.words.shift, chosen))
        shift = shift > 0.5 ? 0.0 : 1.0;
    chosen.chosen = page > 0.5;
    r = {r.right() + size::gap, y, unit * 1.6, size::target_min};
    if (key(canvas, r, "page", sheet.words.signs, chosen))
        page = page > 0.5 ? 0.0 : 1.0;
    r = {r.right() + size::gap, y, unit * 2.6, size::target_min};
    if (key(canvas, r, "space", sheet.words.space, look))
        send(intent, " ");
    r = {r.right() + size::gap, y, area.right() - r.right() - size::gap, size::target_min};
    enter_key(canvas, r, sheet, entry, intent);
}

void draw_text_entry(Canvas& canvas, Rect const& area, SheetView const& sheet, EntryView const& entry,
                     Intent& intent)
{
    bool const portrait = canvas.portrait();
    double const rows = portrait ? 7.0 : 5.0;
    double const board_h = rows * (size::target_min + size::gap) - size::gap;
    Rect const board{area.x, area.bottom() - board_h, area.w, board_h};
    Rect const top{area.x, area.y, area.w, board.y - area.y - size::gap};
    Column column{canvas, top.x, top.w, top.y};
    // The label stands beside the box where there is little height.
    if (portrait) {
        column.text(entry.context, style::muted, "entry.context");
        column.text(entry.label, style::title, "entry.label");
        column.space(1.6);
        column.y += draw_typed(canvas, {column.x, column.y, column.w, 16.0}, entry);
        column.space(1.4);
        column.y += draw_echo(canvas, {column.x, column.y}, column.w, top.bottom(), entry);
    } else {
        double const label_w = top.w * 0.28;
        double const context_h =
            canvas.paragraph({top.x, top.y}, top.w, entry.context, style::muted, "entry.context") + 0.8;
        double const box_h = 13.0;
        canvas.fitted({top.x, top.y + context_h, label_w, box_h}, entry.label, style::strong,
                      {size::strong, size::body, size::caption}, "entry.label");
        draw_typed(canvas, {top.x + label_w + 3.0, top.y + context_h, top.w - label_w - 3.0, box_h}, entry);
        column.y = top.y + context_h + box_h + 1.0;
        column.y += draw_echo(canvas, {column.x, column.y}, column.w, top.bottom(), entry);
    }
    if (!entry.suggestions.empty()) {
        column.space(1.6);
        column.y += draw_chips(canvas, {column.x, column.y}, column.w, entry.suggestions, entry.suggestions, "",
                               false, top.bottom(), intent);
    }
    draw_foreseen(canvas, {column.x, column.y}, column.w, top.bottom(), entry);
    draw_keyboard(canvas, board, sheet, entry, intent);
}

} // namespace

void draw_entry(Canvas& canvas, SheetView const& sheet, EntryView const& entry, Intent& intent)
{
    bool const line = !sheet.line.empty();
    double const top = line && !entry.text ? 3.0 + size::strip - 2.4 : size::frame + 0.5;
    canvas.ground(Ink::paper);
    Rect const area{size::margin, top + 2.4, canvas.width() - 2 * size::margin,
                    canvas.height() - size::margin + 0.4 - top - 2.4};
    if (entry.text)
        draw_text_entry(canvas, area, sheet, entry, intent);
    else
        draw_number_entry(canvas, area, sheet, entry, intent);
}

} // namespace isochore::screens
