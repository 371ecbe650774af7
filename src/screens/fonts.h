#pragma once
#include "drawing/picture.h"
#include "quantity/result.h"
#include <set>
#include <string>
#include <string_view>
#include <vector>

struct ImFont;
struct ImFontAtlas;

namespace isochore::screens {

/// The type of the program: B612, with DejaVu Sans for the signs it lacks, baked at the few sizes in use.
/// A size or a character met for the first time is noted; `needs_baking` then tells the window to bake again
/// between two frames, so that start-up pays only for what the first sheet shows.
class FontSet {
public:
    /// Reads the font files into memory. not_found names the file and the package that brings it.
    [[nodiscard]] static Result<FontSet> load();

    /// Bakes all wanted sizes into `atlas` (cleared first). Call outside a frame.
    void bake(ImFontAtlas& atlas, double px_per_mm);

    struct Pick {
        ImFont* font = nullptr;
        double size_mm = 0.0; ///< the size really drawn: the nearest baked one
    };
    /// The baked font for a face at about this em size, noting the size when none is near.
    [[nodiscard]] Pick pick(drawing::Face face, double size_mm);

    /// Notes characters that are not baked yet.
    void want(std::string_view utf8);

    [[nodiscard]] bool needs_baking() const { return m_needs_baking; }
    /// Counts bakes: widths measured before the last one no longer hold.
    [[nodiscard]] int bakes() const { return m_bakes; }

    /// Characters asked for that no font file has; they are drawn as a box.
    [[nodiscard]] std::set<unsigned> const& unknown() const { return m_unknown; }

    /// Width in mm of a run of text. A `FontSet` must have been baked.
    [[nodiscard]] double measure(std::string_view text, drawing::Face face, double size_mm);

private:
    struct Baked {
        drawing::Face face;
        double size_mm;
        ImFont* font = nullptr;
    };
    struct File {
        std::string bytes;
        double height_in_em = 1.0; ///< ascender less descender, what the rasteriser calls its pixel height
    };
    [[nodiscard]] static Result<File> read_file(std::string const& path, std::string const& package);
    void add_font(ImFontAtlas& atlas, Baked& baked, double px_per_mm);

    std::vector<File> m_main;     ///< by Face
    std::vector<File> m_fallback; ///< by Face
    std::vector<Baked> m_baked;
    std::set<unsigned> m_wanted, m_unknown;
    std::vector<unsigned short> m_ranges; ///< must outlive the build of the atlas
    double m_px_per_mm = 1.0;
    int m_bakes = 0;
    bool m_needs_baking = true;
};

/// The code points of a UTF-8 text; a broken byte gives U+FFFD.
[[nodiscard]] std::vector<unsigned> code_points(std::string_view utf8);

} // namespace isochore::screens
