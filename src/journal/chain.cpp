#include "journal/chain.h"
#include "json/read.h"

namespace isochore::journal {
namespace {

std::string name_of(std::string_view job, std::int64_t n)
{
    return "journal " + std::string(job) + " entry " + std::to_string(n);
}

} // namespace

Json Entry::json() const
{
    auto parsed = read_json(body, name_of(job, n));
    return parsed ? std::move(*parsed) : Json(nullptr);
}

Result<Entry> make_entry(std::string_view job, std::int64_t n, std::string_view prev, Json body)
{
    std::string const where = name_of(job, n);
    if (!body.is_object())
        return fail(Error::Code::invalid_input, where, "an entry must be a JSON object");
    for (char const* own : {"job", "n", "prev"})
        if (body.contains(own))
            return fail(Error::Code::invalid_input, where,
                        "an entry must not bring its own \"" + std::string(own) + "\": the journal sets it");
    body["job"] = job;
    body["n"] = n;
    body["prev"] = prev;
    auto text = canonical_json(body);
    if (!text)
        return fail(Error::Code::invalid_input, where, text.error().detail);
    std::string hash = sha256_hex(*text);
    return Entry{std::string(job), n, std::move(*text), std::move(hash)};
}

Result<void> ChainCheck::next(Entry const& entry)
{
    std::string const where = name_of(m_job, m_n + 1);
    auto const broken = [&where](std::string const& why) {
        return fail(Error::Code::corrupt, where, "the chain is broken at " + where + ": " + why);
    };
    if (entry.n != m_n + 1)
        return broken("the next entry found is number " + std::to_string(entry.n));
    if (sha256_hex(entry.body) != entry.hash)
        return broken("its text does not match its hash");
    auto const body = read_json(entry.body, where);
    if (!body || !body->is_object())
        return broken("its text cannot be read");
    if (body->value("job", Json()) != m_job)
        return broken("it belongs to another job");
    if (body->value("n", Json()) != entry.n)
        return broken("it carries another number");
    if (body->value("prev", Json()) != m_prev)
        return broken("it does not follow the entry before it");
    m_prev = entry.hash;
    ++m_n;
    return {};
}

} // namespace isochore::journal
