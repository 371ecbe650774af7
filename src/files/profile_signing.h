#pragma once
#include "files/signing.h"
#include "model/profile.h"
#include "quantity/result.h"
#include <string>
#include <string_view>
#include <vector>

namespace isochore::files {

/// What sign-off number `index` signs: the profile with all its values and the sign-offs up to this one, this
/// one's signature left out, in canonical form (RFC 8785). Numbers of a breaker stand in it as written.
[[nodiscard]] Result<std::string> signoff_text(model::Profile const& profile, std::size_t index);

/// Signs the newest sign-off. Errors: missing_input where there is none, denied where the signer gives
/// nothing.
[[nodiscard]] Result<model::Profile> sign_signoff(model::Profile profile, Signer const& signer);

enum class SignatureState { unsigned_, fits, broken };
/// One state for each sign-off, in order. Whether a key belongs to the person named is for the trust store.
[[nodiscard]] std::vector<SignatureState> check_signatures(model::Profile const& profile,
                                                           Verifier const& verify);

/// Sign-offs whose signature does not fit what they sign, as faults; `states` are those of check_signatures.
[[nodiscard]] std::vector<Error> broken_signatures(model::Profile const& profile, std::string_view name,
                                                   std::vector<SignatureState> const& states);
/// The same, verified here.
[[nodiscard]] std::vector<Error> broken_signatures(model::Profile const& profile, std::string_view name,
                                                   Verifier const& verify);

} // namespace isochore::files
