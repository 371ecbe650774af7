#pragma once

/// All measures of the sheet in millimetres. Nothing in the screens is given in pixels.
namespace isochore::screens::size {

// Touch. Common practice for gloved hands, no single source: the gain in speed and errors flattens at 20 mm
// (Colle and Hiszem 2004, Ergonomics 47(13)).
inline constexpr double action = 20.0;     ///< actions and keypad keys
inline constexpr double target_min = 15.0; ///< nothing one must touch is smaller
inline constexpr double gap = 3.0;         ///< between touch targets
inline constexpr double gap_guarded = 6.0; ///< beside an act that cannot be taken back

// Em sizes. B612 capitals are 0.75 em high: body is 2.9 mm, 20.1 minutes of arc at 500 mm; caption 2.4 mm,
// 16.5 minutes, the least ISO 9241-3 allows, and used only for the names of fields in the title block, for
// axis numbers and the like.
inline constexpr double caption = 3.2;
inline constexpr double body = 3.9;
inline constexpr double strong = 4.7;
inline constexpr double title = 6.1;
inline constexpr double digits = 8.2;
inline constexpr double line_height = 1.2; ///< of the em size
inline constexpr double cap_height = 0.75; ///< of the em size, B612

// The sheet.
inline constexpr double frame = 1.7;  ///< from the edge to the frame
inline constexpr double margin = 5.0; ///< from the edge to what is inside
inline constexpr double strip = 18.6; ///< height of the line diagram
inline constexpr double stroke = 0.5; ///< main lines
inline constexpr double hairline = 0.18;
inline constexpr double whole_sheet = 150.0; ///< wider than any one column of a lying sheet

} // namespace isochore::screens::size
