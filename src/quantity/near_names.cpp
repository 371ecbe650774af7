#include "quantity/near_names.h"
#include <algorithm>
#include <numeric>

namespace isochore {
namespace {

/// Letters put in, left out, changed, or two beside each other the wrong way round.
std::size_t edits(std::string_view a, std::string_view b)
{
    std::vector<std::size_t> earlier, before(b.size() + 1), row(b.size() + 1);
    std::iota(before.begin(), before.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            row[j] =
                std::min({before[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U), before[j] + 1, row[j - 1] + 1});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], earlier[j - 2] + 1);
        }
        earlier = before;
        before = row;
    }
    return before.back();
}

struct Candidate {
    std::size_t distance;
    std::string name;
};

/// Whether a slip of the hand leads from one to the other.
bool is_near(std::string_view wanted, Candidate const& c)
{
    std::string const name = folded(c.name);
    bool const part =
        wanted.size() >= 2 && (name.find(wanted) != std::string::npos ||
                               (name.size() >= 2 && wanted.find(name) != std::string_view::npos));
    return part || c.distance <= std::max<std::size_t>(1, std::max(wanted.size(), name.size()) / 3);
}

} // namespace

std::string folded(std::string_view text)
{
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
    return out;
}

std::string near_names(std::string_view wanted, std::vector<std::string> const& names, std::size_t most,
                       bool all_if_few)
{
    constexpr std::size_t longest = 100; // of what a person types; the rest tells nothing
    std::string const looked_for = folded(wanted.substr(0, longest));
    std::vector<Candidate> found;
    for (auto const& name : names)
        if (std::none_of(found.begin(), found.end(), [&](auto const& c) { return c.name == name; }))
            found.push_back({edits(looked_for, folded(std::string_view(name).substr(0, longest))), name});
    bool const few = found.size() <= most;
    auto const rest = std::stable_partition(found.begin(), found.end(),
                                            [&](Candidate const& c) { return is_near(looked_for, c); });
    if (rest != found.begin() || !all_if_few || !few)
        found.erase(rest, found.end());
    std::stable_sort(found.begin(), found.end(),
                     [](auto const& a, auto const& b) { return a.distance < b.distance; });
    std::string text;
    for (std::size_t i = 0; i < std::min(most, found.size()); ++i)
        text += (i ? ", " : "") + found[i].name;
    return text;
}

std::string near_it(std::string_view wanted, std::vector<std::string> const& names)
{
    std::string const near = near_names(wanted, names);
    return near.empty() ? near : "; near it: " + near;
}

} // namespace isochore
