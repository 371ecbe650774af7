#pragma once
#include "quantity/result.h"
#include "json/value.h"
#include <cstddef>
#include <string>
#include <string_view>

namespace isochore {

/// How much a document may ask of its reader. The defaults suit our own files; media uses tighter ones.
struct JsonLimits {
    std::size_t bytes = 64u << 20;
    int depth = 64;
};

/// Parses one JSON document strictly: UTF-8 only, no duplicate names in an object (RFC 8785 refuses them
/// too), no trailing text, depth and size bounded. Never throws.
/// Errors: corrupt, with `where` = "name:line:column".
[[nodiscard]] Result<Json> read_json(std::string_view text, std::string_view name, JsonLimits limits = {});

/// SHA-256 as 64 lower-case hex digits.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

/// RFC 8785 canonical form: members sorted by UTF-16 code units, no spaces, ECMAScript numbers.
/// Errors: invalid_input for NaN, infinity or text that is not UTF-8.
[[nodiscard]] Result<std::string> canonical_json(Json const& value);

} // namespace isochore
