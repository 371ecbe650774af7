#include "cli/answers.h"
#include "cli/profile_find.h"
#include "cli/stick_trust.h"
#include "files/profile_answers.h"
#include "files/profile_signing.h"
#include "seal/keys.h"
#include <fmt/format.h>
#include <ostream>

namespace isochore::cli {
namespace {

char const* signature_word(files::SignatureState state)
{
    switch (state) {
    case files::SignatureState::unsigned_:
        return "not signed";
    case files::SignatureState::fits:
        return "signature holds";
    case files::SignatureState::broken:
        return "SIGNATURE BROKEN";
    }
    return "not signed";
}

/// Whose key it is by what this tablet trusts; empty where nobody here knows it.
std::string owner_of(std::string const& key, media::Trust const& trust)
{
    auto const* known = trust.find(key);
    return known ? known->name : std::string();
}

Json show_json(files::LibraryEntry const& entry, std::vector<files::SignatureState> const& states,
               media::Trust const& trust)
{
    auto const& p = entry.profile;
    Json values = Json::array();
    for (auto const& field : model::profile_fields())
        if (auto const* v = p.find(field.path))
            values.push_back({{"path", field.path},
                              {"label", field.label},
                              {"value", v->value},
                              {"source", v->source},
                              {"confidence", v->confirmed ? "confirmed" : "unconfirmed"}});
    Json signoffs = Json::array();
    for (std::size_t i = 0; i < states.size(); ++i)
        signoffs.push_back({{"status", p.signoffs[i].status},
                            {"person", p.signoffs[i].person},
                            {"date", p.signoffs[i].date},
                            {"key", p.signoffs[i].key},
                            {"owner", owner_of(p.signoffs[i].key, trust)},
                            {"signature", signature_word(states[i])}});
    Json answer = files::to_json(entry);
    answer.update({{"author", p.author},
                   {"date", p.date},
                   {"parent", p.parent},
                   {"values", values},
                   {"signoffs", signoffs},
                   {"faults", files::to_json(entry.faults)}});
    return answer;
}

/// ", key 1a2b 3c4d 5e6f 7a8b (this tablet)".
std::string key_text(model::Signoff const& s, media::Trust const& trust)
{
    auto const owner = owner_of(s.key, trust);
    return ", key " + seal::fingerprint_of(s.key) +
           (owner.empty() ? " (NOT KNOWN HERE)" : " (" + owner + ")");
}

void show_text(std::ostream& out, files::LibraryEntry const& entry,
               std::vector<files::SignatureState> const& states, media::Trust const& trust)
{
    auto const& p = entry.profile;
    out << fmt::format("{} revision {}, {}\n{}\nby {} on {}\n", p.id, p.revision, p.status, p.title, p.author,
                       p.date);
    if (p.invented)
        out << "An invented demo model.\n";
    std::string_view group;
    for (auto const& field : model::profile_fields()) {
        auto const* v = p.find(field.path);
        if (!v)
            continue;
        if (field.group != group)
            out << '\n' << (group = field.group) << '\n';
        out << fmt::format("  {:<28} {:<20} {}; {}\n", field.label, v->value,
                           v->confirmed ? "confirmed" : "unconfirmed", v->source);
    }
    out << "\nSign-offs\n";
    for (std::size_t i = 0; i < states.size(); ++i)
        out << fmt::format("  {:<10} {} {}, {}", p.signoffs[i].status, p.signoffs[i].date,
                           p.signoffs[i].person, signature_word(states[i]))
            << (states[i] == files::SignatureState::unsigned_ ? "\n" : key_text(p.signoffs[i], trust) + "\n");
    if (states.empty())
        out << "  none\n";
    if (!entry.faults.empty())
        out << "\nFaults\n";
    say_faults(out, entry.faults);
}

} // namespace

int profile_show_command(Places const& places, ProfileOptions const& o, std::ostream& out)
{
    auto const disk = disk::system_disk();
    auto const entry = find_profile(*disk, places, o, o.profile);
    if (!entry)
        return say_error(out, entry.error(), o.json);
    auto const states = files::check_signatures(entry->profile, seal::signature_holds);
    auto const trust = stick_trust(*disk, places, {});
    if (!trust)
        return say_error(out, trust.error(), o.json);
    if (o.json)
        say_json(out, show_json(*entry, states, *trust));
    else
        show_text(out, *entry, states, *trust);
    return entry->faults.empty() ? 0 : 1;
}

} // namespace isochore::cli
