#pragma once
#include "files/checklist_file.h"
#include "model/profile.h"
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace isochore::files {

/// What helps to turn a nameplate into a profile, as data (profiles/schema/nameplate.json): no value of it
/// stands in the program.
struct NameplateHelp {
    /// Values that nameplates usually carry, for a pull-down beside free entry.
    struct Suggestion {
        std::string path;
        std::vector<std::string> values;
        std::string source;
    };
    /// A value that follows from a standard where the nameplate does not give it: a fixed one, or a share of
    /// another value; only where `when_path` has the value `when_value`, if that is given.
    struct Completion {
        std::string path, value, source;
        std::optional<double> share;
        std::string of, when_path, when_value;
    };
    std::vector<Suggestion> suggestions;
    std::vector<Completion> completions; ///< the first that fits a path counts
    [[nodiscard]] Suggestion const* find(std::string_view path) const;
};

/// All errors at once; every value must be one its field takes.
[[nodiscard]] NameplateHelp read_nameplate_help(std::string_view text, std::string_view name,
                                                FileReport& report);

/// The profile with what it lacks added, unconfirmed and with its source. Nothing given is replaced.
[[nodiscard]] model::Profile complete_profile(model::Profile profile, NameplateHelp const& help);

} // namespace isochore::files
