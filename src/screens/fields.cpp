#include "screens/marks.h"
#include "screens/parts.h"
#include <algorithm>

namespace isochore::screens {

namespace {

constexpr double box_height = 15.6, pad = 3.4;

TextStyle unit_style(bool enabled)
{
    return {Face::regular, size::strong, enabled ? Ink::text : Ink::muted, Align::right};
}

// What the box leaves a value beside its unit.
double value_room(Canvas& canvas, double box_width, FieldView const& field)
{
    double const unit_w = field.unit.empty() ? 0.0 : canvas.measure(field.unit, unit_style(true)) + 2.0;
    return box_width - 2 * pad - unit_w;
}

// A box grows with words that need several lines: nothing that was typed may be cut.
double box_height_for(Canvas& canvas, double width, FieldView const& field)
{
    TextStyle const smallest = style::digits.sized(size::body);
    double const room = value_room(canvas, width, field);
    if (field.typed.empty() || canvas.measure(field.typed, smallest) <= room)
        return box_height;
    return std::max(box_height, canvas.paragraph_height(field.typed, smallest, room) + 3.0);
}

// The value as large as it fits beside its unit.
void draw_value(Canvas& canvas, Rect const& box, FieldView const& field, WordsView const& words, bool enabled)
{
    std::string const id = "field." + field.id;
    double const room = value_room(canvas, box.w, field);
    if (field.typed.empty()) {
        if (enabled &&
            canvas.measure(words.enter_value, style::muted) <= room) // a narrow empty box speaks for itself
            canvas.text({box.x + pad, box.y + box.h / 2 + size::body * size::cap_height / 2},
                        words.enter_value, style::muted, id + ".empty");
    } else {
        double size = size::digits;
        for (double const s : {size::digits, size::title, size::strong, size::body}) {
            size = s;
            if (canvas.measure(field.typed, style::digits.sized(s)) <= room)
                break;
        }
        TextStyle const style = style::digits.sized(size);
        if (canvas.measure(field.typed, style) <= room)
            canvas.text({box.x + pad, box.y + box.h / 2 + size * size::cap_height / 2}, field.typed, style,
                        id + ".value");
        else
            canvas.paragraph({box.x + pad, box.y + 1.5}, room, field.typed, style, id + ".value");
    }
    canvas.text({box.right() - pad, box.y + box.h / 2 + size::digits * size::cap_height / 2}, field.unit,
                unit_style(enabled), id + ".unit");
}

constexpr double label_gap = 0.6;

double field_box(Canvas& canvas, Point at, double width, FieldView const& field, WordsView const& words,
                 bool enabled, Intent& intent)
{
    std::string const id = "field." + field.id;
    double y = at.y;
    y += canvas.paragraph({at.x, y}, width, field.label, style::muted, id + ".label") + label_gap;
    Rect const box{at.x, y, width, box_height_for(canvas, width, field)};
    std::string spoken = field.label + "\n" + field.typed + " " + field.unit;
    if (!field.problem.empty())
        spoken += "\n" + field.problem;
    if (canvas.target(id, ElementKind::field, box, spoken, enabled)) {
        intent.kind = Intent::Kind::field;
        intent.id = field.id;
    }
    bool const pressed = enabled && canvas.pressed_in(box);
    Ink const outer = canvas.ground();
    if (pressed || field.active) {
        canvas.fill(box, Ink::accent_soft);
        canvas.ground(Ink::accent_soft);
    }
    canvas.frame(box,
                 field.active ? Ink::accent
                 : enabled    ? Ink::line
                              : Ink::faint,
                 field.active ? 0.8 : size::stroke);
    draw_value(canvas, box, field, words, enabled);
    canvas.ground(outer);
    y = box.bottom() + 0.6;
    if (field.problem.empty())
        y += canvas.paragraph({at.x, y}, width, field.hint, style::muted, id + ".hint");
    return y - at.y;
}

/// Label and words inside one box, where height is short: names of people, which have no unit.
double name_box(Canvas& canvas, Point at, double width, FieldView const& field, WordsView const& words,
                bool enabled, Intent& intent)
{
    std::string const id = "field." + field.id;
    Rect const box{at.x, at.y, width, size::target_min};
    if (canvas.target(id, ElementKind::field, box, field.label + "\n" + field.typed, enabled)) {
        intent.kind = Intent::Kind::field;
        intent.id = field.id;
    }
    Ink const outer = canvas.ground();
    if (enabled && canvas.pressed_in(box)) {
        canvas.fill(box, Ink::accent_soft);
        canvas.ground(Ink::accent_soft);
    }
    canvas.frame(box, enabled ? Ink::line : Ink::faint);
    double const room = width - 2 * pad;
    canvas.text({box.x + pad, box.y + 5.4}, field.label, style::caption, id + ".label");
    bool const empty = field.typed.empty();
    canvas.fitted({box.x + pad, box.y + 6.6, room, box.h - 7.4}, empty ? words.enter_value : field.typed,
                  empty ? style::muted : style::strong, {size::strong, size::body, size::caption},
                  id + (empty ? ".empty" : ".value"));
    canvas.ground(outer);
    return box.h;
}

/// Whether the fields may stand as name_box draws them.
bool are_names(Canvas& canvas, double width, std::vector<FieldView> const& fields)
{
    double const room = width - 2 * pad;
    return std::all_of(fields.begin(), fields.end(), [&](FieldView const& f) {
        return f.unit.empty() && f.hint.empty() && f.problem.empty() && !f.active &&
               canvas.measure(f.label, style::caption) <= room &&
               canvas.measure(f.typed, style::strong.sized(size::caption)) <= room;
    });
}

double field_problem(Canvas& canvas, Point at, double width, FieldView const& field)
{
    if (field.problem.empty())
        return 0.0;
    draw_mark(canvas, Mark::fail, {at.x + 2.1, at.y + 2.5}, 4.0, Ink::fail);
    return canvas.paragraph({at.x + 5.4, at.y}, width - 5.4, field.problem, style::body.with(Ink::fail),
                            "field." + field.id + ".problem");
}

} // namespace

double draw_field(Canvas& canvas, Point at, double width, FieldView const& field, WordsView const& words,
                  bool enabled, Intent& intent)
{
    double const h = field_box(canvas, at, width, field, words, enabled, intent);
    return h + field_problem(canvas, {at.x, at.y + h}, width, field);
}

double field_baseline(double label_bottom)
{
    return label_bottom + label_gap + box_height / 2 + size::digits * size::cap_height / 2;
}

double draw_fields(Canvas& canvas, Point at, double width, std::vector<FieldView> const& fields,
                   WordsView const& words, bool enabled, Intent& intent, bool dense)
{
    if (fields.empty())
        return 0.0;
    double const least = dense ? 38.0 : 44.0; // narrower than this a value with its unit must shrink
    auto const most = static_cast<std::size_t>(std::max(1.0, (width + size::gap) / (least + size::gap)));
    std::size_t const columns = std::min({most, fields.size() == 4 ? std::size_t{2} : fields.size(),
                                          width < 150.0 ? std::size_t{2} : std::size_t{3}});
    double const w =
        columns == 1 ? std::min(width, 90.0)
                     : (width - size::gap * static_cast<double>(columns - 1)) / static_cast<double>(columns);
    double y = at.y, tallest = 0.0;
    for (std::size_t i = 0; i < fields.size(); i += columns) {
        std::size_t const end = std::min(i + columns, fields.size());
        tallest = 0.0;
        if (dense && fields.size() > 1 && are_names(canvas, w, fields)) {
            for (std::size_t k = i; k < end; ++k)
                tallest = name_box(canvas, {at.x + static_cast<double>(k - i) * (w + size::gap), y}, w,
                                   fields[k], words, enabled, intent);
            y += tallest + (end < fields.size() ? size::gap : 0.0);
            continue;
        }
        // Boxes of one row stand on one line although a label beside them may wrap.
        double label_h = 0.0;
        for (std::size_t k = i; k < end; ++k)
            label_h = std::max(label_h, canvas.paragraph_height(fields[k].label, style::muted, w));
        for (std::size_t k = i; k < end; ++k) {
            double const own = canvas.paragraph_height(fields[k].label, style::muted, w);
            Point const p{at.x + static_cast<double>(k - i) * (w + size::gap), y + label_h - own};
            tallest =
                std::max(tallest, label_h - own + field_box(canvas, p, w, fields[k], words, enabled, intent));
        }
        y += tallest;
        // What is wrong with a value takes the whole width: it must be read.
        for (std::size_t k = i; k < end; ++k)
            y += field_problem(canvas, {at.x, y}, width, fields[k]);
        y += (end < fields.size() ? size::gap : 0.0);
    }
    return y - at.y;
}

} // namespace isochore::screens
