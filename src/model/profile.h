#pragma once
#include "quantity/amount.h"
#include "quantity/result.h"
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::model {

/// One value of a profile: as written, with where it comes from and how sure it is.
struct ProfileValue {
    std::string value;
    std::string source;
    bool confirmed = false;
};

/// One step of a profile's life, and who answers for it. The signature covers the values and every sign-off
/// before it (files/profile_signing.h); empty where nobody signed.
struct Signoff {
    std::string status, person, date;
    std::string key, signature; ///< Ed25519 (RFC 8032), lower-case hex
};

/// A breaker model: what every breaker of that model shares. Values are kept as written, by path
/// ("gas.nominal"); profile_fields() says what each path means, so the editor, the validator, the stick and
/// the comparison all walk one list.
struct Profile {
    std::string id; ///< file-safe name, [a-z0-9-]
    int revision = 1;
    int parent = 0; ///< revision this one was copied from; 0: none
    std::string title, author, date;
    std::string status = "draft";  ///< draft, checked, released, withdrawn
    bool invented = false;         ///< a demo model: said on every page
    std::vector<Signoff> signoffs; ///< in the order they were given; the last one's status is `status`
    std::map<std::string, ProfileValue, std::less<>> values;

    [[nodiscard]] ProfileValue const* find(std::string_view path) const;
    [[nodiscard]] std::string text(std::string_view path, std::string otherwise = {}) const;
    /// The value as an amount of its field's dimension. Errors: missing_input, or what parse_amount says.
    [[nodiscard]] Result<Amount> amount(std::string_view path) const;
};

/// What one path of a profile is.
struct ProfileField {
    enum class Kind { text, choice, amount, whole, flag };
    std::string_view path;  ///< "gas.nominal"
    std::string_view label; ///< "Filling pressure or density"
    std::string_view group; ///< heading in the editor
    Kind kind = Kind::text;
    Dimension dimension = Dimension::fraction; ///< for amounts
    bool required = false;
    std::vector<std::string_view> choices; ///< for choices
    bool limit = false;                    ///< decides a pass or a fail: must carry source and confidence
};
[[nodiscard]] std::span<ProfileField const> profile_fields();
[[nodiscard]] ProfileField const* profile_field(std::string_view path);

} // namespace isochore::model
