#include "seal/people.h"
#include "seal/moment.h"
#include "seal/pin.h"
#include <algorithm>

namespace isochore::seal {
namespace {

using Code = Error::Code;

constexpr std::string_view people_job = "@people";
constexpr std::size_t longest_name = 80;

bool manages(Person const& person)
{
    return !person.withdrawn && (person.role == Role::supervisor || person.role == Role::engineer);
}

std::string text_of(Json const& body, char const* name)
{
    auto const at = body.find(name);
    return at != body.end() && at->is_string() ? at->get<std::string>() : std::string();
}

std::string wait_words(std::int64_t ms)
{
    std::int64_t const seconds = (ms + 999) / 1000;
    return seconds < 120 ? std::to_string(seconds) + " s" : std::to_string((seconds + 59) / 60) + " min";
}

// What is left of a delay that began at `since`. A clock that stands before `since` was set back.
std::int64_t left_ms(int wrong, std::int64_t since_ms, std::int64_t now_ms)
{
    std::int64_t const elapsed = std::max<std::int64_t>(now_ms - since_ms, 0);
    return std::max<std::int64_t>(pin_delay_ms(wrong) - elapsed, 0);
}

} // namespace

char const* role_name(Role role)
{
    switch (role) {
    case Role::supervisor:
        return "supervisor";
    case Role::engineer:
        return "engineer";
    case Role::crew:
        break;
    }
    return "crew";
}

std::optional<Role> role_from_name(std::string_view name)
{
    for (Role const role : {Role::crew, Role::supervisor, Role::engineer})
        if (name == role_name(role))
            return role;
    return std::nullopt;
}

Result<std::vector<People::Account>> People::replay()
{
    auto const entries = m_store.entries(people_job);
    if (!entries)
        return tl::unexpected<Error>(entries.error());
    std::vector<Account> accounts;
    for (journal::Entry const& entry : *entries) {
        Json const body = entry.json();
        std::string const kind = text_of(body, "kind"), id = text_of(body, "person");
        auto const role = role_from_name(text_of(body, "role"));
        auto const at = moment_ms(text_of(body, "at"));
        auto const known = std::find_if(accounts.begin(), accounts.end(),
                                        [&](Account const& account) { return account.person.id == id; });
        bool const adds = kind == "person.added";
        if (!at || (adds ? !role || known != accounts.end() : known == accounts.end()))
            return fail(Code::corrupt, "journal @people entry " + std::to_string(entry.n),
                        "an entry about people cannot be read: " + kind);
        if (adds)
            accounts.push_back({{id, text_of(body, "name"), *role, false}, text_of(body, "pin"), 0, 0});
        else if (kind == "person.pin")
            known->pin_hash = text_of(body, "pin"), known->wrong = 0;
        else if (kind == "person.withdrawn")
            known->person.withdrawn = true;
        else if (kind == "pin.wrong")
            ++known->wrong, known->since_ms = *at;
        else if (kind == "pin.right")
            known->wrong = 0;
        else if (kind == "pin.clock-set-back")
            known->since_ms = *at;
    }
    return accounts;
}

Result<People::Account> People::account(std::string_view id)
{
    auto accounts = replay();
    if (!accounts)
        return tl::unexpected<Error>(accounts.error());
    for (Account& account : *accounts)
        if (account.person.id == id)
            return std::move(account);
    return fail(Code::not_found, "people", "nobody on this tablet is called " + std::string(id));
}

Result<std::vector<Person>> People::all()
{
    auto const accounts = replay();
    if (!accounts)
        return tl::unexpected<Error>(accounts.error());
    std::vector<Person> out;
    for (Account const& account : *accounts)
        out.push_back(account.person);
    return out;
}

Result<Person> People::find(std::string_view id)
{
    auto found = account(id);
    if (!found)
        return tl::unexpected<Error>(found.error());
    return found->person;
}

Result<void> People::may_manage(std::vector<Account> const& accounts, std::string_view by) const
{
    for (Account const& account : accounts)
        if (account.person.id == by && manages(account.person))
            return {};
    return fail(Code::denied, "people", "only a supervisor or an engineer may change the list of people");
}

Result<void> People::note(char const* kind, std::int64_t utc_ms, Json members)
{
    Json body{{"kind", kind}, {"at", moment_text(utc_ms)}};
    body.update(members);
    auto entry = m_store.append(people_job, std::move(body));
    if (!entry)
        return tl::unexpected<Error>(entry.error());
    return {};
}

Result<Person> People::add(std::string_view name, Role role, std::string_view pin, std::string_view by,
                           std::int64_t utc_ms)
{
    auto const accounts = replay();
    if (!accounts)
        return tl::unexpected<Error>(accounts.error());
    if (name.empty() || name.size() > longest_name || name.front() == ' ' || name.back() == ' ')
        return fail(Code::invalid_input, "people", "a name must be 1 to 80 bytes without spaces around it");
    for (Account const& account : *accounts)
        if (account.person.name == name && !account.person.withdrawn)
            return fail(Code::invalid_input, "people",
                        std::string(name) +
                            " is on this tablet already: add something that tells the two apart");
    Person person{"p" + std::to_string(accounts->size() + 1), std::string(name), role, false};
    if (accounts->empty() && !manages(person))
        return fail(
            Code::denied, "people",
            "the first person of a tablet must be a supervisor or an engineer, who then adds the crew");
    if (!accounts->empty())
        if (auto allowed = may_manage(*accounts, by); !allowed)
            return tl::unexpected<Error>(allowed.error());
    if (auto good = check_pin_rules(pin); !good)
        return tl::unexpected<Error>(good.error());
    auto hash = hash_pin(pin);
    if (!hash)
        return tl::unexpected<Error>(hash.error());
    auto noted =
        note("person.added", utc_ms,
             {{"person", person.id}, {"name", name}, {"role", role_name(role)}, {"pin", *hash}, {"by", by}});
    if (!noted)
        return tl::unexpected<Error>(noted.error());
    return person;
}

Result<void> People::set_pin(std::string_view id, std::string_view pin, std::string_view by,
                             std::int64_t utc_ms)
{
    auto const known = account(id);
    if (!known)
        return tl::unexpected<Error>(known.error());
    if (known->person.withdrawn)
        return fail(Code::denied, "people", known->person.name + " was withdrawn from this tablet");
    if (by != id) {
        auto const accounts = replay();
        if (!accounts)
            return tl::unexpected<Error>(accounts.error());
        if (auto allowed = may_manage(*accounts, by); !allowed)
            return allowed;
    }
    if (auto good = check_pin_rules(pin); !good)
        return good;
    auto hash = hash_pin(pin);
    if (!hash)
        return tl::unexpected<Error>(hash.error());
    return note("person.pin", utc_ms, {{"person", id}, {"pin", *hash}, {"by", by}});
}

Result<void> People::withdraw(std::string_view id, std::string_view reason, std::string_view by,
                              std::int64_t utc_ms)
{
    auto const accounts = replay();
    if (!accounts)
        return tl::unexpected<Error>(accounts.error());
    if (auto allowed = may_manage(*accounts, by); !allowed)
        return allowed;
    auto const known = account(id);
    if (!known)
        return tl::unexpected<Error>(known.error());
    if (known->person.withdrawn)
        return fail(Code::denied, "people", known->person.name + " was withdrawn already");
    auto const managers = std::count_if(accounts->begin(), accounts->end(),
                                        [](Account const& account) { return manages(account.person); });
    if (manages(known->person) && managers == 1)
        return fail(Code::denied, "people",
                    known->person.name +
                        " is the last who can look after the people of this tablet: add another "
                        "supervisor or engineer first");
    return note("person.withdrawn", utc_ms, {{"person", id}, {"reason", reason}, {"by", by}});
}

Result<Person> People::check_pin(std::string_view id, std::string_view pin, std::int64_t utc_ms)
{
    auto const known = account(id);
    if (!known)
        return tl::unexpected<Error>(known.error());
    if (known->person.withdrawn)
        return fail(Code::denied, "people", known->person.name + " was withdrawn from this tablet");
    std::int64_t const left = left_ms(known->wrong, known->since_ms, utc_ms);
    if (left > 0) {
        if (utc_ms < known->since_ms)
            if (auto noted = note("pin.clock-set-back", utc_ms, {{"person", id}}); !noted)
                return tl::unexpected<Error>(noted.error());
        return fail(Code::denied, "people",
                    std::to_string(known->wrong) + " wrong tries: the next is taken in " + wait_words(left));
    }
    if (!pin_matches(pin, known->pin_hash)) {
        if (auto noted = note("pin.wrong", utc_ms, {{"person", id}}); !noted)
            return tl::unexpected<Error>(noted.error());
        std::int64_t const delay = pin_delay_ms(known->wrong + 1);
        return fail(Code::denied, "people",
                    delay == 0 ? std::string("this is not the PIN of ") + known->person.name
                               : "this is not the PIN of " + known->person.name +
                                     ": the next try is taken in " + wait_words(delay));
    }
    if (known->wrong > 0)
        if (auto noted = note("pin.right", utc_ms, {{"person", id}}); !noted)
            return tl::unexpected<Error>(noted.error());
    return known->person;
}

Result<std::int64_t> People::wait_ms(std::string_view id, std::int64_t utc_ms)
{
    auto const known = account(id);
    if (!known)
        return tl::unexpected<Error>(known.error());
    return left_ms(known->wrong, known->since_ms, utc_ms);
}

} // namespace isochore::seal
