#pragma once
#include "drawing/picture.h"
#include <memory>
#include <string>
#include <string_view>

namespace isochore::report {

/// The type of everything on paper: B612, with the system's fallback for the few signs it lacks. Metrics are
/// unhinted, so a text is as wide at every zoom as it was when it was laid out. One object a thread.
class Type {
public:
    Type();
    ~Type();
    Type(Type&&) noexcept;
    Type& operator=(Type&&) noexcept;

    /// Width in mm of a text at an em size in mm. Widths are remembered by text.
    [[nodiscard]] double width(std::string_view text, drawing::Face face, double size_mm);

    /// The same as a function for the pictures; valid as long as this object.
    [[nodiscard]] drawing::MeasureText measure();

    struct Shared;
    [[nodiscard]] Shared& shared() { return *m_shared; }

private:
    std::unique_ptr<Shared> m_shared;
};

/// The text with every byte that is not UTF-8 replaced by U+FFFD, and NUL left out: what a font can set and a
/// PDF file can hold.
[[nodiscard]] std::string printable(std::string_view text);

} // namespace isochore::report
