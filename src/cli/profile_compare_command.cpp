#include "cli/answers.h"
#include "cli/profile_find.h"
#include "files/profile_answers.h"
#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

using Kind = model::ProfileDifference::Kind;

std::string shown(std::string const& text)
{
    return text.empty() ? "nothing" : text;
}

std::string line_of(model::ProfileDifference const& d)
{
    std::string line =
        fmt::format("{:<9} {:<44} {} | {}", model::kind_name(d.kind), d.label, shown(d.a), shown(d.b));
    auto const amount = d.amount();
    return amount.empty() ? line : line + "  " + amount;
}

bool another_value(model::ProfileDifference const& d)
{
    return d.kind == Kind::physical || d.kind == Kind::choice;
}

} // namespace

int profile_compare_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    auto const a = find_profile(*disk, places, o, o.profile);
    if (!a)
        return say_error(out, a.error(), o.json);
    auto const b = find_profile(*disk, places, o, o.other);
    if (!b)
        return say_error(out, b.error(), o.json);
    auto const differences = model::compare(a->profile, b->profile);
    if (o.json) {
        say_json(out, files::to_json(differences));
    } else {
        for (auto const& d : differences)
            out << line_of(d) << '\n';
        if (differences.empty())
            out << "No difference.\n";
    }
    return std::any_of(differences.begin(), differences.end(), another_value) ? 1 : 0;
}

} // namespace isochore::cli
