#pragma once
#include "drawing/placement.h"
#include <string>
#include <vector>

namespace isochore::drawing {

/// A paragraph of a text block.
struct BlockText {
    std::string text;
    double size = 3.2;
    Ink ink = Ink::text;
    Face face = Face::regular;
};

enum class Side { right, left, above, below };

/// Puts paragraphs, wrapped when needed, beside a symbol on the first side with room, in as few lines as
/// possible. A side where lines run through the text is taken only when no other is left. False when no
/// side has room.
bool put_block(Picture& picture, Placement& placement, std::vector<BlockText> const& paragraphs, Box symbol,
               std::vector<Side> const& sides);

/// Writes paragraphs into a box, wrapped and centred both ways; shortened when they do not fit.
void fill_box(Picture& picture, Placement& placement, std::vector<BlockText> const& paragraphs, Box box);

} // namespace isochore::drawing
