#pragma once
#include "files/checklist_file.h"
#include <map>
#include <string>
#include <string_view>

namespace isochore::files {

/// The file of a checklists folder that holds the cautions; every other *.json is a stage.
inline constexpr std::string_view cautions_file = "cautions.json";

using Cautions = std::map<std::string, model::Caution, std::less<>>;

/// Reads cautions.json: {"format":"isochore.cautions/1","cautions":[{"id","title","text"}]}.
[[nodiscard]] Cautions read_cautions(std::string_view text, std::string_view name, FileReport& report);

} // namespace isochore::files
