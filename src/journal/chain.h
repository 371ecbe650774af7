#pragma once
#include "journal/journal.h"

namespace isochore::journal {

/// The "prev" of a first entry.
inline constexpr std::string_view no_hash =
    "0000000000000000000000000000000000000000000000000000000000000000";

/// Makes the next entry of a job: adds "job", "n" and "prev" to the body, puts it in canonical form, hashes
/// it. Errors: invalid_input when the body is no object, has one of these members, or has no canonical form.
[[nodiscard]] Result<Entry> make_entry(std::string_view job, std::int64_t n, std::string_view prev,
                                       Json body);

/// Checks entries one after the other against the chain of their job.
class ChainCheck {
public:
    explicit ChainCheck(std::string job) : m_job(std::move(job)), m_prev(no_hash) {}
    /// Errors: corrupt, naming the entry and what does not hold.
    [[nodiscard]] Result<void> next(Entry const& entry);

private:
    std::string m_job;
    std::string m_prev;
    std::int64_t m_n = 0;
};

} // namespace isochore::journal
