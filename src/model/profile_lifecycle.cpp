#include "model/profile_lifecycle.h"
#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace isochore::model {
namespace {

using Code = Error::Code;
constexpr std::array<std::string_view, 4> statuses = {"draft", "checked", "released", "withdrawn"};

/// Letters in lower case, spaces gone: enough to see one name in two spellings.
std::string folded(std::string_view name)
{
    std::string out;
    for (char const c : name)
        if (c >= 'A' && c <= 'Z')
            out += static_cast<char>(c - 'A' + 'a');
        else if (c != ' ')
            out += c;
    return out;
}

bool same_signoff(Signoff const& a, Signoff const& b)
{
    return a.status == b.status && a.person == b.person && a.date == b.date && a.key == b.key &&
           a.signature == b.signature;
}

bool same_value(ProfileValue const& a, ProfileValue const& b)
{
    return a.value == b.value && a.source == b.source && a.confirmed == b.confirmed;
}

/// The first path whose value differs, in either profile; empty where none does.
std::string changed_value(Profile const& a, Profile const& b)
{
    for (auto const& [path, value] : a.values)
        if (auto const* other = b.find(path); !other || !same_value(value, *other))
            return path;
    for (auto const& [path, value] : b.values)
        if (!a.find(path))
            return path;
    return {};
}

bool same_head(Profile const& a, Profile const& b)
{
    return a.parent == b.parent && a.title == b.title && a.author == b.author && a.date == b.date &&
           a.invented == b.invented;
}

} // namespace

bool same_person(std::string_view a, std::string_view b)
{
    return folded(a) == folded(b);
}

std::string_view next_status(std::string_view status)
{
    auto const it = std::find(statuses.begin(), statuses.end(), status);
    return it == statuses.end() || it + 1 == statuses.end() ? std::string_view{} : *(it + 1);
}

Result<Profile> advance(Profile profile, std::string_view to, std::string_view person, std::string_view date)
{
    if (next_status(profile.status) != to || to.empty())
        return fail(Code::denied, profile.id,
                    fmt::format("revision {} is \"{}\"; it cannot become \"{}\" from there", profile.revision,
                                profile.status, to));
    if (folded(person).empty())
        return fail(Code::denied, profile.id, "a sign-off needs the name of a person");
    if (to == "released") {
        bool const checker = std::any_of(profile.signoffs.begin(), profile.signoffs.end(),
                                         [&](Signoff const& s) { return same_person(s.person, person); });
        if (checker || same_person(profile.author, person))
            return fail(Code::denied, profile.id,
                        checker ? fmt::format("{} checked it; a second person must release it", person)
                                : fmt::format("{} wrote it; a second person must release it", person));
    }
    profile.status = to;
    profile.signoffs.push_back({std::string(to), std::string(person), std::string(date), {}, {}});
    return profile;
}

Profile copy_as_revision(Profile const& profile, int revision, std::string_view author, std::string_view date)
{
    Profile copy = profile;
    copy.parent = profile.revision;
    copy.revision = revision;
    copy.author = author;
    copy.date = date;
    copy.status = "draft";
    copy.signoffs.clear();
    return copy;
}

Result<void> may_replace(Profile const& stored, Profile const& next)
{
    auto const refuse = [&](std::string detail) {
        return fail(Code::denied, fmt::format("{} revision {}", stored.id, stored.revision),
                    std::move(detail));
    };
    if (stored.id != next.id || stored.revision != next.revision)
        return refuse(fmt::format("{} revision {} is another profile", next.id, next.revision));
    if (stored.status == "draft")
        return {};
    if (auto const path = changed_value(stored, next); !path.empty())
        return refuse(fmt::format("it is {} and never changes, but {} differs; make a new revision",
                                  stored.status, path));
    if (!same_head(stored, next))
        return refuse(
            fmt::format("it is {} and never changes, but its title, author or date differs", stored.status));
    if (next.signoffs.size() < stored.signoffs.size() ||
        !std::equal(stored.signoffs.begin(), stored.signoffs.end(), next.signoffs.begin(), same_signoff))
        return refuse("its sign-offs would be lost or changed");
    return {};
}

} // namespace isochore::model
