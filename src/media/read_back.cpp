#include "media/unit_values.h"
#include <cmath>
#include <fmt/format.h>

namespace isochore::media {
namespace {

using State = ReadBackRow::State;
using Kind = model::ProfileField::Kind;

std::string_view trim(std::string_view text)
{
    while (!text.empty() && text.front() == ' ')
        text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ')
        text.remove_suffix(1);
    return text;
}

/// Half a step of the last digit written, in the unit it is written in: "40.0" stands for 39.95 to 40.05.
double half_step(std::string_view number)
{
    auto const exponent_at = number.find_first_of("eE");
    auto const mantissa = number.substr(0, exponent_at);
    auto const point = mantissa.find('.');
    int power = 0;
    if (point != std::string_view::npos)
        for (char const c : mantissa.substr(point + 1))
            power -= c >= '0' && c <= '9' ? 1 : 0;
    if (exponent_at != std::string_view::npos)
        if (auto const exponent = parse_number(number.substr(exponent_at + 1), "exponent"))
            power += static_cast<int>(*exponent);
    return 0.5 * std::pow(10.0, power);
}

std::string_view number_part(std::string_view text)
{
    auto const end = text.find_first_not_of("+-.0123456789eE");
    return text.substr(0, end);
}

void compare_amounts(ReadBackRow& row, Dimension dimension)
{
    auto const expected = parse_amount(row.expected, dimension, row.path);
    auto const shown = parse_amount(row.shown, dimension, row.path);
    if (!shown || !expected) {
        row.state = State::unreadable;
        row.detail = shown ? expected.error().detail : shown.error().detail;
        return;
    }
    if (shown->reference != expected->reference) {
        row.state = State::differs;
        row.detail =
            fmt::format("{} is shown where {} was loaded: absolute and gauge", row.shown, row.expected);
        return;
    }
    double const step =
        half_step(number_part(trim(row.shown))) * (shown->unit ? std::abs(shown->unit->factor) : 1.0);
    // The last term lets a value that lies exactly on the edge of a step pass on either side.
    bool const same = std::abs(shown->si - expected->si) <= step + 1e-9 * std::abs(expected->si);
    row.state = same ? State::same : State::differs;
    if (!same)
        row.detail = fmt::format("{} is shown where {} was loaded", row.shown, row.expected);
}

void compare_texts(ReadBackRow& row)
{
    bool const same = trim(row.shown) == trim(row.expected);
    row.state = same ? State::same : State::differs;
    if (!same)
        row.detail = fmt::format("\"{}\" is shown where \"{}\" was loaded", row.shown, row.expected);
}

} // namespace

char const* state_name(ReadBackRow::State state)
{
    switch (state) {
    case State::same:
        return "same";
    case State::differs:
        return "differs";
    case State::not_shown:
        return "not shown";
    case State::unreadable:
        return "unreadable";
    }
    return "not shown";
}

std::vector<ReadBackRow> compare_read_back(UnitSettings const& settings,
                                           std::map<std::string, std::string, std::less<>> const& shown)
{
    std::vector<ReadBackRow> rows;
    for (auto const& setting : settings.settings) {
        ReadBackRow row{setting.path, setting.label, setting.value, {}, State::not_shown, {}};
        auto const it = shown.find(setting.path);
        if (it == shown.end() || trim(it->second).empty()) {
            row.detail = "no value was read from the unit";
        } else {
            row.shown = it->second;
            if (setting.kind == Kind::amount)
                compare_amounts(row, setting.dimension);
            else
                compare_texts(row);
        }
        rows.push_back(std::move(row));
    }
    for (auto const& [path, value] : shown)
        if (!settings.find(path))
            rows.push_back(
                {path, path, {}, value, State::differs, "the unit shows a setting that was not loaded"});
    return rows;
}

} // namespace isochore::media
