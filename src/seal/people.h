#pragma once
#include "journal/journal.h"
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::seal {

enum class Role { crew, supervisor, engineer };
[[nodiscard]] char const* role_name(Role role); ///< "crew", "supervisor", "engineer"
[[nodiscard]] std::optional<Role> role_from_name(std::string_view name);

struct Person {
    std::string id; ///< "p1", "p2", …: stays the same for ever
    std::string name;
    Role role = Role::crew;
    bool withdrawn = false; ///< may no longer sign; stays in old records
};

/// The people of a tablet, kept as entries of the journal job "@people": nothing is ever changed, a new PIN
/// or a withdrawal is one more entry. Supervisors and engineers look after the list; the first person of a
/// tablet must be one of them. `utc_ms` is the time now; no function waits.
class People {
public:
    explicit People(journal::Journal& store) : m_store(store) {}

    [[nodiscard]] Result<std::vector<Person>> all(); ///< in the order added, with the withdrawn
    [[nodiscard]] Result<Person> find(std::string_view id);

    /// `by` is the id of the supervisor or engineer who does it, already checked by PIN; empty for the first
    /// person only. Returns the new person. Errors: invalid_input (name, PIN), denied.
    [[nodiscard]] Result<Person> add(std::string_view name, Role role, std::string_view pin,
                                     std::string_view by, std::int64_t utc_ms);
    /// A new PIN, by the person after the old one was checked, or by a supervisor or engineer. Ends a delay.
    [[nodiscard]] Result<void> set_pin(std::string_view id, std::string_view pin, std::string_view by,
                                       std::int64_t utc_ms);
    /// Errors: denied for the last person who could look after the list.
    [[nodiscard]] Result<void> withdraw(std::string_view id, std::string_view reason, std::string_view by,
                                        std::int64_t utc_ms);

    /// Whether this is the person's PIN. A wrong try is in the journal before the answer is given, and after
    /// three in a row the next ones must wait; a clock set back starts the wait again.
    /// Errors: denied (wrong, withdrawn, or to wait: said how long), not_found, io (a try that cannot be
    /// written down is not taken).
    [[nodiscard]] Result<Person> check_pin(std::string_view id, std::string_view pin, std::int64_t utc_ms);
    /// Milliseconds until the next try is taken; 0 when at once.
    [[nodiscard]] Result<std::int64_t> wait_ms(std::string_view id, std::int64_t utc_ms);

private:
    struct Account {
        Person person;
        std::string pin_hash;
        int wrong = 0;             ///< tries in a row
        std::int64_t since_ms = 0; ///< the last of them, from which the delay runs
    };
    [[nodiscard]] Result<std::vector<Account>> replay();
    [[nodiscard]] Result<Account> account(std::string_view id);
    [[nodiscard]] Result<void> may_manage(std::vector<Account> const& accounts, std::string_view by) const;
    [[nodiscard]] Result<void> note(char const* kind, std::int64_t utc_ms, Json members);

    journal::Journal& m_store;
};

} // namespace isochore::seal
