#include "session/profile_release.h"
#include "session/profile_step.h"
#include "session/stick.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::session {

using Code = Error::Code;
using Keys = ReleaseStanding::Keys;

namespace {

void add_once(std::vector<std::string>& list, std::string text)
{
    if (std::find(list.begin(), list.end(), text) == list.end())
        list.push_back(std::move(text));
}

bool only_blanks(std::string_view text)
{
    return text.find_first_not_of(' ') == std::string_view::npos;
}

} // namespace

std::vector<std::string> ReleaseStanding::sentences() const
{
    std::vector<std::string> out;
    if (!practice && keys == Keys::none)
        out.push_back(fmt::format("Revision {} was released by name only: nobody signed it.", revision));
    if (!practice && keys == Keys::unknown)
        out.push_back(
            fmt::format("Revision {} was released with a key this tablet does not know, fingerprint {}.",
                        revision, media::key_fingerprint(unknown.front())));
    if (withdrawn > 0)
        out.push_back(fmt::format("Revision {} was withdrawn by \"{}\" on {}; revision {} is older.",
                                  withdrawn, withdrawn_by, withdrawn_on, revision));
    return out;
}

std::string ReleaseStanding::say() const
{
    std::string text;
    for (auto const& sentence : sentences())
        text += (text.empty() ? "" : " ") + sentence;
    return text;
}

std::string ReleaseStanding::in_short() const
{
    if (keys == Keys::none || fingerprints.empty())
        return "by name only, nobody signed it";
    std::string text = "signed with key ";
    for (std::size_t i = 0; i < fingerprints.size(); ++i)
        text += (i ? " and " : "") + fingerprints[i];
    return keys == Keys::known ? text : text + ", not known here";
}

ReleaseStanding standing_of(model::Profile const& profile, std::vector<files::SignatureState> const& states,
                            media::Trust const& trust)
{
    ReleaseStanding standing;
    standing.practice = profile.invented;
    standing.revision = profile.revision;
    bool broken = false, by_name = states.empty();
    for (std::size_t i = 0; i < states.size(); ++i) {
        std::string const& key = profile.signoffs[i].key;
        broken = broken || states[i] == files::SignatureState::broken;
        by_name = by_name || states[i] == files::SignatureState::unsigned_;
        if (states[i] != files::SignatureState::fits)
            continue;
        add_once(standing.fingerprints, media::key_fingerprint(key));
        if (!trust.find(key))
            add_once(standing.unknown, key);
    }
    standing.keys = broken                      ? Keys::broken
                    : !standing.unknown.empty() ? Keys::unknown
                    : by_name                   ? Keys::none
                                                : Keys::known;
    return standing;
}

ReleaseStanding standing_of(files::LibraryEntry const& entry, files::ProfileLibrary const& library,
                            media::Trust const& trust)
{
    auto standing = standing_of(entry.profile, entry.signatures, trust);
    for (auto const* other : library.revisions(entry.profile.id)) {
        auto const& p = other->profile;
        if (p.revision <= entry.profile.revision || p.status != "withdrawn" || p.signoffs.empty())
            continue;
        standing.withdrawn = p.revision;
        standing.withdrawn_by = p.signoffs.back().person;
        standing.withdrawn_on = p.signoffs.back().date;
    }
    return standing;
}

Result<ReleaseStanding> standing_of(Workspace& workspace, files::LibraryEntry const& entry)
{
    auto const trust = tablet_trust(workspace);
    if (!trust)
        return tl::unexpected(trust.error());
    return standing_of(entry, workspace.library(), *trust);
}

Result<void> may_begin_on(ReleaseStanding const& standing, AcceptedRelease const& accepted, bool pins)
{
    constexpr char const* where = "profile";
    if (standing.refused())
        return fail(Code::denied, where,
                    standing.say() +
                        " Compare it with its owner, then trust the key or take another profile.");
    if (!standing.to_accept())
        return {};
    if (accepted.by.empty() && accepted.why.empty())
        return fail(Code::denied, where,
                    standing.say() + " A person must accept that by name and with a reason.");
    if (only_blanks(accepted.by) || only_blanks(accepted.why))
        return fail(Code::missing_input, where,
                    standing.say() + " Say who accepts that, and give the reason.");
    if (pins && !accepted.pin_checked)
        return fail(Code::denied, where, "people on this tablet have PINs: accepting a release needs one");
    return {};
}

Result<ReleaseStanding> standing_to_begin(Workspace& workspace, files::LibraryEntry const& entry,
                                          AcceptedRelease const& accepted)
{
    auto standing = standing_of(workspace, entry);
    if (!standing)
        return standing;
    auto const pins = pins_are_kept(workspace);
    if (!pins)
        return tl::unexpected(pins.error());
    if (auto const may = may_begin_on(*standing, accepted, *pins); !may)
        return tl::unexpected(may.error());
    return standing;
}

void enter_release(Json& body, ReleaseStanding const& standing, AcceptedRelease const& accepted)
{
    body["facts"]["release"] = standing.in_short();
    body["release"] = {{"keys", standing.fingerprints}, {"signed", standing.in_short()}};
    if (!standing.to_accept())
        return;
    body["facts"]["release_accepted"] = standing.say();
    body["facts"]["release_accepted_by"] = accepted.by;
    body["facts"]["release_accepted_why"] = accepted.why;
    body["release"]["accepted"] = {{"by", accepted.by},
                                   {"why", accepted.why},
                                   {"pin", accepted.pin_checked},
                                   {"withdrawn_revision", standing.withdrawn}};
}

Result<void> may_move_to(Workspace& workspace, files::LibraryEntry const& entry)
{
    auto const standing = standing_of(workspace, entry);
    if (!standing)
        return tl::unexpected(standing.error());
    if (standing->refused() || (!standing->practice && standing->keys == ReleaseStanding::Keys::none))
        return fail(Code::denied, entry.profile.id,
                    standing->say() + " An outage under way does not move to it.");
    return {};
}

} // namespace isochore::session
