#pragma once
#include "report/type.h"
#include <array>
#include <pango/pangocairo.h>
#include <string>
#include <unordered_map>

namespace isochore::report {

/// What the painter and the measurer use in common.
struct Type::Shared {
    Shared();
    ~Shared();
    Shared(Shared const&) = delete;
    Shared& operator=(Shared const&) = delete;

    /// A layout holding one line of the text at the em size that `em_units` gives, in user units.
    [[nodiscard]] PangoLayout* line(std::string_view text, drawing::Face face);

    /// Text is shaped once at this em size and scaled by the painter.
    static constexpr double shaping_em = 100.0;

    PangoContext* context = nullptr;
    std::array<PangoLayout*, 3> layouts{};
    std::array<std::unordered_map<std::string, double>, 3> widths; ///< in em
};

} // namespace isochore::report
