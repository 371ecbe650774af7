#include "app/unit_habit.h"
#include "session/outage.h"
#include <algorithm>
#include <array>
#include <string_view>

namespace isochore::app {
namespace {

constexpr std::array<std::string_view, 9> customary{"psi", "inHg", "degF", "lb", "lbf", "in", "ft", "ksi", "oz"};

/// "psi g" without its reference.
std::string_view name_of(std::string_view unit)
{
    return unit.substr(0, unit.find(' '));
}

bool is_customary(std::string_view unit)
{
    return std::ranges::find(customary, name_of(unit)) != customary.end();
}

std::string_view reference_of(std::string_view unit)
{
    auto const space = unit.find(' ');
    return space == std::string_view::npos ? std::string_view() : unit.substr(space);
}

/// The unit of "75.02 psi g".
std::string_view unit_of(std::string_view typed)
{
    auto const space = typed.find(' ');
    return space == std::string_view::npos ? std::string_view() : typed.substr(space + 1);
}

} // namespace

std::string usual_unit(session::Outage const& outage, Dimension dimension,
                       std::vector<std::string> const& offered)
{
    if (offered.empty())
        return {};
    bool habit = false;
    std::int64_t latest = -1;
    for (auto const& [id, record] : outage.state().records) {
        model::Step const* step = outage.checklists().step(id);
        if (!step)
            continue;
        auto const take = [&](std::int64_t entry, std::string const& typed) {
            if (entry <= latest || unit_of(typed).empty())
                return;
            habit = is_customary(unit_of(typed));
            latest = entry;
        };
        if (step->dimension == dimension && !step->free_text)
            take(record.entry, record.typed);
        for (std::size_t c = 0; c < step->columns.size() && !record.readings.empty(); ++c)
            if (step->columns[c].dimension == dimension && c < record.readings.back().values.size())
                take(record.readings.back().entry, record.readings.back().values[c]);
    }
    if (habit)
        for (auto const& unit : offered)
            if (is_customary(unit) && reference_of(unit) == reference_of(offered.front()))
                return unit;
    return offered.front();
}

std::string unit_shown(Words const& words, std::string_view unit)
{
    auto const known = [](std::string_view name) {
        return std::ranges::find(all_units(), name, [](Unit const& u) { return u.name; });
    };
    std::string_view reference;
    if (known(unit) == all_units().end())
        for (std::string_view const ending : {" abs", " g"})
            if (unit.ends_with(ending)) {
                reference = ending;
                unit.remove_suffix(ending.size());
            }
    auto const it = known(unit);
    std::string const printed(it == all_units().end() ? unit : it->label());
    return words.sentence(printed + std::string(reference));
}

} // namespace isochore::app
