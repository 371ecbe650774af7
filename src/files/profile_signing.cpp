#include "files/profile_signing.h"
#include "files/profile_text.h"
#include "json/hex.h"
#include "json/read.h"
#include <fmt/format.h>

namespace isochore::files {
namespace {

Json signoff_json(model::Signoff const& s, bool with_signature)
{
    Json out = {{"status", s.status}, {"person", s.person}, {"date", s.date}, {"key", s.key}};
    if (with_signature)
        out["signature"] = s.signature;
    return out;
}

} // namespace

Result<std::string> signoff_text(model::Profile const& p, std::size_t index)
{
    if (index >= p.signoffs.size())
        return fail(Error::Code::missing_input, p.id, "there is no such sign-off");
    Json document = {
        {"format", profile_format}, {"id", p.id},         {"revision", p.revision}, {"parent", p.parent},
        {"title", p.title},         {"author", p.author}, {"date", p.date},         {"invented", p.invented}};
    auto& values = document["values"] = Json::object();
    for (auto const& [path, v] : p.values)
        values[path] = {{"value", v.value}, {"source", v.source}, {"confirmed", v.confirmed}};
    auto& signoffs = document["signoffs"] = Json::array();
    for (std::size_t i = 0; i <= index; ++i)
        signoffs.push_back(signoff_json(p.signoffs[i], i < index));
    return canonical_json(document);
}

Result<model::Profile> sign_signoff(model::Profile profile, Signer const& signer)
{
    if (profile.signoffs.empty())
        return fail(Error::Code::missing_input, profile.id, "there is no sign-off to sign");
    auto& last = profile.signoffs.back();
    last.key = signer.public_key_hex;
    auto const text = signoff_text(profile, profile.signoffs.size() - 1);
    if (!text)
        return tl::unexpected(text.error());
    last.signature = signer.sign ? signer.sign(*text) : std::string{};
    if (!is_hex(last.signature, 128) || !is_hex(last.key, 64))
        return fail(Error::Code::denied, profile.id, "it could not be signed; unlock the signing key");
    return profile;
}

std::vector<SignatureState> check_signatures(model::Profile const& profile, Verifier const& verify)
{
    std::vector<SignatureState> out;
    for (std::size_t i = 0; i < profile.signoffs.size(); ++i) {
        auto const& s = profile.signoffs[i];
        if (s.signature.empty()) {
            out.push_back(SignatureState::unsigned_);
            continue;
        }
        auto const text = signoff_text(profile, i);
        bool const fits = text && verify && verify(s.key, *text, s.signature);
        out.push_back(fits ? SignatureState::fits : SignatureState::broken);
    }
    return out;
}

std::vector<Error> broken_signatures(model::Profile const& profile, std::string_view name,
                                     Verifier const& verify)
{
    return broken_signatures(profile, name, check_signatures(profile, verify));
}

std::vector<Error> broken_signatures(model::Profile const& profile, std::string_view name,
                                     std::vector<SignatureState> const& states)
{
    std::vector<Error> faults;
    for (std::size_t i = 0; i < states.size(); ++i)
        if (states[i] == SignatureState::broken)
            faults.push_back(
                {Error::Code::corrupt, fmt::format("{}: signoffs[{}]", name, i),
                 fmt::format("the signature of {} does not fit what it signs", profile.signoffs[i].person)});
    return faults;
}

} // namespace isochore::files
