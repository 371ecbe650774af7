#pragma once
#include "disk/disk.h"
#include <array>
#include <string>
#include <string_view>

namespace isochore::seal {

/// The tablet's signing key (Ed25519, RFC 8032). It never leaves the object but into its own file.
class TabletKey {
public:
    TabletKey(TabletKey&& other) noexcept = default;
    TabletKey& operator=(TabletKey&& other) noexcept = default;
    TabletKey(TabletKey const&) = delete;
    TabletKey& operator=(TabletKey const&) = delete;
    ~TabletKey(); ///< wipes the secret from memory

    /// A key from its 32 secret bytes, 64 hex digits (RFC 8032, 5.1.5). Errors: corrupt.
    [[nodiscard]] static Result<TabletKey> from_seed(std::string_view seed_hex);

    [[nodiscard]] std::string const& public_key() const { return m_public; } ///< 64 hex digits
    [[nodiscard]] std::string fingerprint() const;                           ///< see fingerprint_of
    [[nodiscard]] std::string sign(std::string_view message) const;          ///< 128 hex digits

private:
    friend Result<TabletKey> load_or_make_key(disk::Disk& disk, disk::Path const& folder);
    TabletKey() = default;
    std::array<unsigned char, 64> m_secret{};
    std::string m_public;
};

/// Reads tablet.key of the data folder, or makes it on first use: mode 0600, durable before it is returned,
/// so that nothing is ever signed with a key that a power cut takes away.
/// Errors: corrupt (damaged; it is left as it is), io, denied.
[[nodiscard]] Result<TabletKey> load_or_make_key(disk::Disk& disk, disk::Path const& folder);

/// Whether the signature (128 hex digits) of the message is by that public key (64 hex digits). Anything
/// malformed is false; so are the forms RFC 8032 lets a verifier refuse (S out of range, small order).
[[nodiscard]] bool signature_holds(std::string_view public_key, std::string_view message,
                                   std::string_view signature);

/// What two people read out to compare keys: the first 8 bytes of SHA-256 of the public key, "3f2a 91c0 …".
[[nodiscard]] std::string fingerprint_of(std::string_view public_key);

} // namespace isochore::seal
