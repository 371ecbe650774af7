#pragma once
#include <nlohmann/json.hpp>

namespace isochore {
/// Members keep the order in which they were written: answers and files read as a person laid them out.
using Json = nlohmann::ordered_json;
} // namespace isochore
