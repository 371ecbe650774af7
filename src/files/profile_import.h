#pragma once
#include "files/profile_library.h"

namespace isochore::files {

/// Why a file that brings nothing new is not taken.
inline constexpr std::string_view import_known = "already there";

/// What became of one file of an import.
struct ImportLine {
    std::string file, id;
    int revision = 0;
    bool taken = false;
    std::string why;                      ///< why not, or `import_known`
    std::string status = {}, sha256 = {}; ///< of what was stored
};

/// Stores every readable profile of another folder; what contradicts the library is refused line by line.
[[nodiscard]] std::vector<ImportLine> import_profiles(disk::Disk& disk, disk::Path const& from,
                                                      disk::Path const& into);
/// The same against a library that was read already and may hold more than the folder written to. Where
/// signatures can be verified, a profile with one that does not fit is refused. What is stored is made
/// durable in one go at the end; cancelled, the lines say what was taken and what was not.
[[nodiscard]] std::vector<ImportLine> import_profiles(disk::Disk& disk, disk::Path const& from,
                                                      disk::Path const& into, ProfileLibrary const& library,
                                                      Verifier const& verify, Advance const& advance = {});

} // namespace isochore::files
