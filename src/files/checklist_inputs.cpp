#include "files/checklist_inputs.h"
#include <fmt/format.h>

namespace isochore::files {
namespace {

using Kind = InputReference::Kind;

/// "fill.topup.mass_to_add": step ids are always two words, so a third one names a result.
std::optional<InputReference> read_step(std::string_view rest)
{
    auto const first = rest.find('.');
    if (first == 0 || first == std::string_view::npos || first + 1 == rest.size())
        return std::nullopt;
    auto const second = rest.find('.', first + 1);
    if (second == std::string_view::npos)
        return InputReference{Kind::step, std::string(rest), {}};
    if (second == first + 1 || second + 1 == rest.size())
        return std::nullopt;
    return InputReference{Kind::step, std::string(rest.substr(0, second)),
                          std::string(rest.substr(second + 1))};
}

void collect(Json const& value, std::string const& place, std::vector<InputText>& found)
{
    if (value.is_string()) {
        found.push_back({place, value.get<std::string>()});
    } else if (value.is_array()) {
        for (std::size_t i = 0; i < value.size(); ++i)
            collect(value[i], fmt::format("{}[{}]", place, i), found);
    } else if (value.is_object()) {
        for (auto const& [name, member] : value.items())
            collect(member, place.empty() ? name : place + "." + name, found);
    }
}

} // namespace

std::optional<InputReference> read_input_reference(std::string_view text)
{
    struct Word {
        std::string_view prefix;
        Kind kind;
    };
    static constexpr Word words[] = {
        {"profile:", Kind::profile}, {"step:", Kind::step}, {"job:", Kind::job}, {"series:", Kind::series}};
    for (auto const& word : words) {
        if (!text.starts_with(word.prefix))
            continue;
        auto const rest = text.substr(word.prefix.size());
        if (rest.empty() || rest.find(' ') != std::string_view::npos)
            return std::nullopt;
        if (word.kind == Kind::step)
            return read_step(rest);
        return InputReference{word.kind, std::string(rest), {}};
    }
    return InputReference{Kind::literal, std::string(text), {}};
}

std::vector<InputText> input_texts(Json const& inputs)
{
    std::vector<InputText> found;
    collect(inputs, {}, found);
    return found;
}

} // namespace isochore::files
