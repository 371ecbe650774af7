#pragma once
#include "journal/journal.h"
#include "seal/keys.h"
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::seal {

inline constexpr std::string_view record_format = "isochore.record/1";

/// What the seal proves and what it does not; stands at the foot of every record.
inline constexpr std::string_view record_footer =
    "Sealed with the key of the tablet named here. The seal shows whether anything was changed after "
    "sealing. "
    "It does not prove who held the tablet: a person is known only by the PIN entered on it.";

/// A record that was verified. The views point into the text given to verify_record.
struct Record {
    std::string job;
    std::vector<std::string_view> entries;   ///< bodies, canonical JSON, in order
    std::map<std::string, std::string> kept; ///< texts the entries refer to, by SHA-256
    std::string head;                        ///< hash of the last entry
    std::string signed_by;                   ///< public key, 64 hex digits
    std::string signature;                   ///< 128 hex digits
    [[nodiscard]] std::string fingerprint() const { return fingerprint_of(signed_by); }
};

/// The sealed record of a job: one RFC 8785 canonical JSON object with "count", "entries", "format", "head",
/// "job", "kept", "signature", "signed_by". The signature is over head, count, job and the hash of everything
/// but the entries, which the chain holds to the head. The chain is verified first.
/// `kept_hashes` name the texts to go with it; all must be kept in the journal.
/// Errors: not_found (no such job or text), corrupt (the chain is broken), invalid_input.
[[nodiscard]] Result<std::string> build_record(journal::Journal& store, std::string_view job,
                                               std::span<std::string const> kept_hashes,
                                               TabletKey const& key);

/// The same from entries already at hand.
[[nodiscard]] Result<std::string> seal_entries(std::string_view job, std::span<journal::Entry const> entries,
                                               std::map<std::string, std::string> const& kept,
                                               TabletKey const& key);

/// Whether a text is a whole, unchanged record; any flipped, dropped, added or moved byte is found. With
/// `expected_key` not empty, whether it was sealed by that tablet. The text must outlive the Record.
/// Errors: unknown (a format this program does not know, by name), corrupt (says what does not hold), denied
/// (sealed by another key than expected).
[[nodiscard]] Result<Record> verify_record(std::string_view text, std::string_view expected_key = {});

/// Verifies a record, then writes it whole under a new name (disk/whole_file.h) and reads it back.
/// Errors: those of verify_record and disk::write_whole.
[[nodiscard]] Result<void> write_record(disk::Disk& disk, disk::Path const& file, std::string_view text);

} // namespace isochore::seal
