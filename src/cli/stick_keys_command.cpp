#include "cli/answers.h"
#include "cli/bench.h"
#include "cli/stick_commands.h"
#include "seal/people.h"
#include "session/trust_store.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

/// Whoever answers for a key shows a PIN.
Result<seal::Person> person_with_pin(session::Workspace& workspace, StickOptions const& o)
{
    seal::People people(workspace.journal());
    auto const all = people.all();
    if (!all)
        return tl::unexpected(all.error());
    for (auto const& p : *all)
        if (p.name == o.who && !p.withdrawn)
            return people.check_pin(p.id, o.pin, workspace.clock().now().utc_ms);
    return fail(Error::Code::not_found, "--who",
                "nobody of the name \"" + o.who + "\" has a PIN on this tablet");
}

int change(Places const& places, StickOptions const& o, std::ostream& out,
           Result<void> (*act)(session::TrustStore&, StickOptions const&, std::string const&,
                               session::Now const&),
           char const* said)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    auto& workspace = *(*bench)->workspace;
    auto const person = person_with_pin(workspace, o);
    if (!person)
        return say_error(out, person.error(), o.json);
    session::TrustStore store(workspace.journal());
    if (auto const done = act(store, o, person->name, workspace.clock().now()); !done)
        return say_error(out, done.error(), o.json);
    if (o.json)
        say_json(out, {{"key", o.key}, {"fingerprint", media::key_fingerprint(o.key)}, {"done", said}});
    else
        out << media::key_fingerprint(o.key) << ": " << said << '\n';
    return 0;
}

} // namespace

int stick_keys_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    auto bench = open_bench(places);
    if (!bench)
        return say_error(out, bench.error(), o.json);
    auto const keys = session::known_keys(*(*bench)->workspace);
    if (!keys)
        return say_error(out, keys.error(), o.json);
    Json list = Json::array();
    for (auto const& k : *keys) {
        auto const fingerprint = media::key_fingerprint(k.key.key);
        list.push_back({{"key", k.key.key},
                        {"fingerprint", fingerprint},
                        {"name", k.key.name},
                        {"own", k.own},
                        {"added_by", k.added_by},
                        {"added_on", k.key.added_on},
                        {"newest_seen", k.key.newest_seen}});
        if (!o.json)
            out << fmt::format("{}  {:<24} {}\n", fingerprint, k.key.name,
                               k.key.newest_seen.empty() ? std::string("no set seen yet")
                                                         : "newest set seen " + k.key.newest_seen);
    }
    if (o.json)
        say_json(out, list);
    return 0;
}

int stick_trust_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    return change(
        places, o, out,
        [](session::TrustStore& store, StickOptions const& given, std::string const& by,
           session::Now const& now) { return store.add(given.key, given.name, by, now); },
        "trusted");
}

int stick_distrust_command(Places const& places, StickOptions const& o, std::ostream& out)
{
    return change(
        places, o, out,
        [](session::TrustStore& store, StickOptions const& given, std::string const& by,
           session::Now const& now) { return store.remove(given.key, by, now); },
        "not trusted any more");
}

} // namespace isochore::cli
