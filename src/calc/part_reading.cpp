#include "calc/part_reading.h"
#include "calc/part_library.h"
#include "quantity/amount.h"
#include <fmt/format.h>
#include <numbers>

namespace isochore::calc {
namespace {

using namespace mechanical;
using Code = Error::Code;

std::string_view take_word(std::string_view& text)
{
    std::size_t const at = text.find_last_of(' ');
    if (at == std::string_view::npos)
        return {};
    std::string_view const word = text.substr(at + 1);
    text = text.substr(0, at);
    while (!text.empty() && (text.back() == ' ' || text.back() == ','))
        text.remove_suffix(1);
    return word;
}

std::optional<Form> usual_form(std::string const& family)
{
    if (family == "G" || family == "M")
        return Form::face;
    if (family == "tube")
        return Form::tube;
    if (family == "UN")
        return std::nullopt;
    return Form::taper;
}

/// A tube has no thread; its outside diameter stands in for it.
Result<Thread> tube_of(std::string_view id, std::string_view where)
{
    auto const outside = parse_amount(id.substr(5), Dimension::length, where);
    if (!outside)
        return tl::unexpected(outside.error());
    if (!(outside->si > 0.0))
        return fail(Code::out_of_range, std::string(where), "a tube's outside diameter must be above zero");
    Thread t;
    t.id = std::string(id);
    t.family = "tube";
    t.major_m = outside->si;
    t.pitch_m = 1e-3;
    t.flank_deg = 0.0;
    return t;
}

Result<Thread> thread_of(std::string_view id, std::string_view where)
{
    if (id.starts_with("tube "))
        return tube_of(id, where);
    if (Thread const* t = find_thread(id))
        return *t;
    return fail(
        Code::unknown, std::string(where),
        fmt::format(
            "\"{}\" is no thread of the library: write for example \"G 3/8\", \"R 1/2\", \"NPT 1/4\", "
            "\"M20x1.5\", \"UN 9/16-18\" or \"tube 10 mm\"",
            id));
}

} // namespace

Result<End> parse_end(std::string_view text, std::string_view where)
{
    std::string_view rest = text;
    std::string_view word = take_word(rest);
    std::optional<Form> form = form_by_name(word);
    if (form)
        word = take_word(rest);
    if (word != "male" && word != "female")
        return fail(
            Code::missing_input, std::string(where),
            fmt::format("\"{}\" does not say male or female: write for example \"G 3/8 female\"", text));
    auto const thread = thread_of(rest, where);
    if (!thread)
        return tl::unexpected(thread.error());
    if (!form)
        form = usual_form(thread->family);
    if (!form)
        return fail(
            Code::missing_input, std::string(where),
            fmt::format("\"{}\" does not say how it seals: add cone37, cone45 or boss; they share threads",
                        text));
    return End{*thread, word == "male" ? Gender::male : Gender::female, *form};
}

Part read_part(Inputs& in)
{
    Part p;
    p.id = in.text("id");
    p.name = in.text_or("name", p.id);
    p.kind = in.text_or("kind", "adapter");
    Json const& ends = in.raw("ends");
    if (!ends.is_array() || ends.empty())
        in.refuse(Code::missing_input, "ends",
                  "a part needs its ends, for example [\"G 3/8 male\", \"G 3/8 female\"]");
    else
        for (Json const& e : ends) {
            auto const end = e.is_string() ? parse_end(e.get<std::string>(), in.place("ends"))
                                           : fail(Code::invalid_input, in.place("ends"), "each end is text");
            if (!end)
                in.refuse(end.error().code, "ends", end.error().detail);
            else
                p.ends.push_back(*end);
        }
    p.length_m = in.quantity_or("length", Dimension::length, 0.0);
    p.diameter_m = in.quantity_or("diameter", Dimension::length, 0.0);
    auto const bore = in.optional_quantity("bore", Dimension::length);
    p.volume_m3 = in.quantity_or("volume", Dimension::volume,
                                 bore ? std::numbers::pi / 4.0 * *bore * *bore * p.length_m : 0.0);
    p.mass_kg = in.quantity_or("mass", Dimension::mass, 0.0);
    p.cost = in.quantity_or("cost", Dimension::count, 0.0);
    p.max_pressure_pa = in.optional_quantity("max_pressure", Dimension::pressure_difference);
    p.turns = p.kind == "elbow";
    for (char const* told : {"source", "confidence"})
        (void)in.raw(told);
    for (auto const& [name, value] : {std::pair{"length", p.length_m}, std::pair{"diameter", p.diameter_m},
                                      std::pair{"bore", bore.value_or(0.0)}, std::pair{"volume", p.volume_m3},
                                      std::pair{"mass", p.mass_kg}, std::pair{"cost", p.cost}})
        if (value < 0.0)
            in.refuse(Code::out_of_range, name, "cannot be negative");
    if (p.max_pressure_pa && !(*p.max_pressure_pa > 0.0))
        in.refuse(Code::out_of_range, "max_pressure", "must be above zero");
    return p;
}

namespace {

/// Read once: the entries are looked up again with every key the person types.
Result<PartTable> read_built_in()
{
    PartTable table;
    Inputs file(fitting_data(), "fittings.json");
    for (Inputs& one : file.list("parts")) {
        Part p = read_part(one);
        file.absorb(one);
        table.insert_or_assign(p.id, std::move(p));
    }
    if (file.error())
        return tl::unexpected(*file.error());
    return table;
}

} // namespace

PartTable read_part_table(Inputs& in)
{
    static Result<PartTable> const built_in = read_built_in();
    PartTable table = built_in ? *built_in : PartTable{};
    if (!built_in)
        in.refuse(built_in.error().code, "library", built_in.error().where + ": " + built_in.error().detail);
    for (Inputs& one : in.list("library")) {
        Part p = read_part(one);
        one.refuse_unread();
        in.absorb(one);
        table.insert_or_assign(p.id, std::move(p));
    }
    return table;
}

} // namespace isochore::calc
