#pragma once
#include "calc/part_reading.h"
#include <vector>

namespace isochore::calc {

/// A part as used, with the material of the seal before it.
struct UsedPart {
    mechanical::Placed placed;
    std::string seal_material;
};

/// The port as text, or as {thread, gender, form}.
[[nodiscard]] Result<mechanical::End> read_port(Inputs& in);

/// "parts" from the port on, and "sensor" last. A part with one end in the middle is a gap and is refused.
[[nodiscard]] std::vector<UsedPart> read_run(Inputs& in, PartTable const& table);

} // namespace isochore::calc
