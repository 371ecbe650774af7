#include "drawing/reading_scale.h"
#include "session/picture_parts.h"
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace isochore::session {
namespace {

/// One scale for all values of the picture: the unit and the reference in which the reading is typed.
struct Scale {
    Unit const& unit;
    PressureReference reference;
    double air_pa;
    int decimals;

    [[nodiscard]] double of(double si, PressureReference from) const
    {
        bool const same = from == reference || from == PressureReference::none;
        double const shift = same ? 0.0 : reference == PressureReference::gauge ? -air_pa : air_pa;
        return unit.from_si(si + shift);
    }
    [[nodiscard]] double of(Amount const& amount) const { return of(amount.si, amount.reference); }
    [[nodiscard]] std::string name() const
    {
        std::string const label(unit.label());
        return reference == PressureReference::gauge      ? label + " g"
               : reference == PressureReference::absolute ? label + " abs"
                                                          : label;
    }
    [[nodiscard]] std::string text(double value) const { return show_fixed(value, decimals) + " " + name(); }
};

bool same_call(model::CalcCall const& a, model::CalcCall const& b)
{
    return a.calc == b.calc && a.inputs_json == b.inputs_json && a.result == b.result;
}

/// Readings of other steps of which the same is expected: the other phases at the same load.
void add_others(PictureQuestion const& q, Scale const& scale, drawing::ReadingScale& out)
{
    for (auto const& stage : q.context.checklists.stages)
        for (auto const& step : stage.steps) {
            if (step.id == q.step.id) {
                if (q.reading.read)
                    out.readings.push_back({q.words("as read"), scale.text(scale.of(*q.reading.read)),
                                            scale.of(*q.reading.read), true});
                continue;
            }
            if (!step.expected || step.dimension != q.step.dimension ||
                !same_call(*step.expected, *q.step.expected))
                continue;
            if (auto const read = reading_of(step, q.context.state.record(step.id)).read)
                out.readings.push_back(
                    {q.words(step.title), scale.text(scale.of(*read)), scale.of(*read), false});
        }
}

void add_limits(PictureQuestion const& q, Scale const& scale, drawing::ReadingScale& out)
{
    if (!q.step.limit)
        return;
    for (std::string const* reference : {&q.step.limit->min, &q.step.limit->max}) {
        if (reference->empty())
            continue;
        auto const text = resolve_text(q.context, *reference);
        auto const amount = parse_amount(text.value_or(""), q.step.dimension, q.step.id);
        if (amount)
            out.limits.push_back({scale.of(*amount), q.words("limit {}", {scale.text(scale.of(*amount))})});
    }
}

} // namespace

std::optional<drawing::Picture> reading_picture(PictureQuestion const& q)
{
    if (!q.step.expected)
        return std::nullopt;
    auto const expected = q.reading.expected ? q.reading.expected : predict(q.context, q.step);
    if (!expected)
        return std::nullopt;
    auto const& read = q.reading.read;
    Unit const& unit = read ? *read->unit : *expected->unit;
    double const half = (expected->high - expected->low) / 2.0 / unit.factor;
    Scale const scale{unit, read ? read->reference : expected->reference, air_of(q.context).pressure_pa,
                      half > 0.0 ? decimals_for(half / 2.0, 4) : 2};
    auto const on_scale = [&](double si) { return scale.of(si, expected->reference); };
    drawing::ReadingScale out;
    double const middle = on_scale(expected->value);
    out.low = on_scale(expected->low);
    out.high = on_scale(expected->high);
    out.expected = {q.words("expected"), scale.text(middle), middle, true};
    add_others(q, scale, out);
    add_limits(q, scale, out);
    if (read && half > 0.0) {
        double const outside = std::max(out.low - scale.of(*read), scale.of(*read) - out.high);
        out.conclusion =
            outside <= 0.0
                ? drawing::conclusion(q.words("inside the 95 % interval of what was expected"),
                                      drawing::Mark::pass)
                : drawing::conclusion(
                      q.words("{} outside the 95 % interval of what was expected",
                              {show_fixed(outside, scale.decimals) + " " + std::string(unit.label())}),
                      drawing::Mark::undecided);
    }
    out.titles = {q.words("{}, expected and read", {scale.name()}), scale.name()};
    return drawing::reading_scale(out, q.space, q.measure);
}

} // namespace isochore::session
