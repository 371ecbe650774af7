#include "calc/usual.h"
#include "calc/counts.h"
#include "calc/part_data.h"
#include "json/member.h"
#include "json/read.h"
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace isochore::calc {
namespace {

using Key = std::pair<std::string, std::string>;

std::map<Key, Usual> const& all()
{
    static std::map<Key, Usual> const table = [] {
        std::map<Key, Usual> read;
        auto const file = read_json(part_data("usual"), "usual.json");
        if (file)
            for (Json const& one : member(*file, "values"))
                read[{text_member(one, "for"), text_member(one, "input")}] = {
                    text_member(one, "value"), text_member(one, "means"), text_member(one, "source"),
                    text_member(one, "confidence")};
        return read;
    }();
    return table;
}

std::string_view last_name(std::string_view input)
{
    return input.substr(input.rfind('.') + 1); // without a point: the whole of it
}

} // namespace

Usual const* usual(std::string_view calc, std::string_view input)
{
    auto const it = all().find({std::string(calc), std::string(input)});
    return it == all().end() ? nullptr : &it->second;
}

double usual_si(std::string_view calc, std::string_view input, Dimension dimension)
{
    Usual const* const found = usual(calc, input);
    auto const amount = found ? parse_amount(found->text, dimension, input)
                              : fail(Error::Code::not_found, std::string(input), "no usual value");
    return amount ? amount->si : 0.0;
}

void note_usual(Inputs& in, std::string_view calc, std::string_view input)
{
    if (Usual const* const found = usual(calc, input))
        in.note(fmt::format("\"{}\" not given: {} taken as {} ({})", input, found->means, found->text,
                            found->source));
}

double given_or_usual(Inputs& in, Inputs& from, std::string_view calc, std::string_view input,
                      Dimension dimension)
{
    if (auto const given = from.optional_quantity(last_name(input), dimension))
        return *given;
    note_usual(in, calc, input);
    return usual_si(calc, input, dimension);
}

int count_or_usual(Inputs& in, std::string_view calc, std::string_view input, int least, int most)
{
    int const otherwise = static_cast<int>(std::lround(usual_si(calc, input, Dimension::count)));
    int const count = read_count_or(in, input, least, most, otherwise);
    if (!in.has(input))
        note_usual(in, calc, input);
    return count;
}

double given_or_usual(Inputs& in, std::string_view calc, std::string_view input, Dimension dimension)
{
    return given_or_usual(in, in, calc, input, dimension);
}

} // namespace isochore::calc
