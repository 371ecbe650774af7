#pragma once
#include "media/signing.h"
#include "quantity/result.h"
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::media {

/// What one set on a stick may hold; more is refused before it is read.
inline constexpr std::size_t most_files = 20'000;
inline constexpr std::size_t most_file_bytes = 4u << 20;
inline constexpr std::size_t most_set_bytes = 256u << 20;
inline constexpr std::size_t most_manifest_bytes = 8u << 20;

struct ManifestFile {
    std::string name; ///< safe by is_safe_name
    std::uint64_t bytes = 0;
    std::string sha256;
};

/// The last file of a set: what the set is, and the only names a reader trusts in it.
struct Manifest {
    std::string set;     ///< name of the folder it stands in: a manifest copied elsewhere is refused
    std::string made_at; ///< UTC, 2025-03-31T14:05:06Z
    std::vector<ManifestFile> files;
    std::string key, signature; ///< Ed25519 over the canonical form (RFC 8785) of all other members
};

/// The text to write: signed, canonical. Errors: denied when the signer gives nothing; invalid_input for a
/// name, time or key that a reader would refuse.
[[nodiscard]] Result<std::string> write_manifest(Manifest const& manifest, Signer const& signer);

/// Reads a hostile text. All of: known format, known members only, names safe and different in any case,
/// sizes within bounds, the set's own name, and a signature that fits its own key.
/// Whether that key is trusted is for the caller. Errors: corrupt, unknown (another version), denied
/// (signature).
[[nodiscard]] Result<Manifest> read_manifest(std::string_view text, std::string_view name,
                                             std::string_view set, Verifier const& verify);

/// True for a UTC time as written above.
[[nodiscard]] bool is_utc_time(std::string_view text);

} // namespace isochore::media
