#pragma once
#include "mechanical/joint.h"

namespace isochore::calc {

/// How well threads are told apart by hand, and which look alike: from assets/parts/usual.json.
[[nodiscard]] mechanical::ThreadRules const& thread_rules();
[[nodiscard]] mechanical::ThreadGauges const& thread_gauges();

} // namespace isochore::calc
