#pragma once
#include "drawing/picture.h"
#include "screens/fonts.h"
#include "screens/sizes.h"
#include "screens/theme.h"
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

struct ImDrawList;

namespace isochore::screens {

using drawing::Align;
using drawing::Face;
using drawing::Ink;
using drawing::Point;

/// In millimetres from the top left of the sheet.
struct Rect {
    double x = 0.0, y = 0.0, w = 0.0, h = 0.0;

    [[nodiscard]] double right() const { return x + w; }
    [[nodiscard]] double bottom() const { return y + h; }
    [[nodiscard]] Rect inset(double d) const { return {x + d, y + d, w - 2 * d, h - 2 * d}; }
    [[nodiscard]] bool contains(Point p) const
    {
        return p.x >= x && p.x < right() && p.y >= y && p.y < bottom();
    }
    [[nodiscard]] Rect cut(Rect const& by) const;
    [[nodiscard]] bool overlaps(Rect const& other, double tolerance = 0.05) const;
};

struct TextStyle {
    Face face = Face::regular;
    double size = size::body;
    Ink ink = Ink::text;
    Align align = Align::left;

    [[nodiscard]] constexpr TextStyle with(Ink other) const { return {face, size, other, align}; }
    [[nodiscard]] constexpr TextStyle sized(double mm) const { return {face, mm, ink, align}; }
    [[nodiscard]] constexpr TextStyle aligned(Align other) const { return {face, size, ink, other}; }
};

/// What fingers did since the last frame, already told apart by the gesture recogniser.
struct FrameInput {
    std::optional<Point> pressed; ///< a contact rests here and may still become a tap
    double held_s = 0.0;          ///< for how long
    std::optional<Point> tap;     ///< lifted in place
    std::optional<Point> hold;    ///< held long enough; given once
    struct Pan {
        Point origin; ///< where the contact began: it decides what scrolls
        double dx = 0.0, dy = 0.0;
    };
    std::optional<Pan> pan;
    std::vector<Point> drawn; ///< new points on a drawing pad
    bool drawing_began = false, drawing_ended = false;
};

enum class ElementKind {
    action,
    key,
    field,
    answer,
    row,
    stage,
    unit,
    panel,
    suggestion,
    pad,
    text,
    picture
};

/// One thing on the sheet, as the rehearsals and the size tests see it.
struct Element {
    std::string id;
    ElementKind kind = ElementKind::text;
    Rect rect;    ///< as laid out
    Rect visible; ///< what the clip leaves of it
    Rect clip;    ///< the clip itself: inside a scroll region, the region
    std::string text;
    bool enabled = true, hold = false;
    bool covered = false; ///< an overlay lies on it
    bool cut = false;     ///< text that did not fit its place: always a fault
    bool scrolls = false; ///< inside a scroll region, so it may be partly out of view
    double text_size = 0.0;
    Ink ink = Ink::text, ground = Ink::paper;
    int layer = 0;

    [[nodiscard]] bool touchable() const { return kind != ElementKind::text && kind != ElementKind::picture; }
};

/// How a button looks.
struct ButtonLook {
    bool filled = false; ///< the main thing to do
    bool chosen = false;
    bool enabled = true;
    bool hold = false;
    bool quiet = false; ///< regular type: a way to look, not a thing to do
    double label_size = size::strong;
    std::string small; ///< second, quiet line
    double border = size::stroke;
};

inline constexpr double hold_seconds = 0.6;

/// Draws in millimetres and theme inks through one ImGui draw list, and remembers all it drew.
class Canvas {
public:
    explicit Canvas(FontSet& fonts) : m_fonts(fonts) {}

    /// The list's target has been cleared to the theme's paper.
    void begin(ImDrawList& list, Theme const& theme, double width_mm, double height_mm, double px_per_mm,
               FrameInput input);
    void end();
    /// The sheet's size before the first frame, so that its layout can be asked for.
    void set_size(double width_mm, double height_mm)
    {
        m_width = width_mm;
        m_height = height_mm;
    }

    [[nodiscard]] double width() const { return m_width; }
    [[nodiscard]] double height() const { return m_height; }
    [[nodiscard]] bool portrait() const { return m_height > m_width; }
    [[nodiscard]] std::vector<Element> const& elements() const { return m_elements; }
    [[nodiscard]] FrameInput const& input() const { return m_input; }
    [[nodiscard]] FontSet& fonts() { return m_fonts; }
    [[nodiscard]] double px_per_mm() const { return m_scale; }

    /// True when the picture will differ next frame without any input (a scroll range just became known).
    [[nodiscard]] bool wants_frame() const { return m_wants_frame; }
    /// True when the pan of this frame moved something; a coasting pan that moves nothing should stop.
    [[nodiscard]] bool pan_moved() const { return m_pan_moved; }

    // Shapes. Horizontal and vertical edges are snapped to whole pixels.
    void fill(Rect const& r, Ink ink);
    void frame(Rect const& r, Ink ink, double width = size::stroke);
    void hline(double x0, double x1, double y, Ink ink, double width = size::hairline);
    void vline(double x, double y0, double y1, Ink ink, double width = size::hairline);
    void line(Point a, Point b, Ink ink, double width);
    void polyline(std::vector<Point> const& points, Ink ink, double width, bool closed = false);
    void area(std::vector<Point> const& points, Ink ink);  ///< convex
    void shape(std::vector<Point> const& points, Ink ink); ///< any simple polygon
    void circle(Point centre, double radius, Ink ink, double width);
    void dot(Point centre, double radius, Ink ink);
    /// Pales every ink drawn from here on, as under tracing paper: what an overlay will lie on. Mixed once an
    /// ink, since blending a whole sheet costs more than drawing it.
    void veil(bool on) { m_veiled = on; }

    // Text. Every run is recorded; `ground` is the ink it is drawn on.
    void ground(Ink ink) { m_ground = ink; }
    [[nodiscard]] Ink ground() const { return m_ground; }
    [[nodiscard]] double measure(std::string_view text, TextStyle const& style);
    /// One line; `at` is on the baseline. Returns its width.
    double text(Point at, std::string_view text, TextStyle const& style, std::string id = {});
    /// Breaks at spaces, and inside a word only when the word alone is too wide.
    /// The answer is kept, since most of a sheet stays as it is from frame to frame.
    [[nodiscard]] std::vector<std::string> const& wrap(std::string_view text, TextStyle const& style,
                                                       double width);
    /// Wrapped text from a top edge; returns the height used.
    double paragraph(Point top_left, double width, std::string_view text, TextStyle const& style,
                     std::string id = {});
    [[nodiscard]] double paragraph_height(std::string_view text, TextStyle const& style, double width);
    /// Centres text in a rectangle, wrapping and then stepping down through `sizes`; when nothing fits the
    /// element is marked as cut. Returns the height used.
    double fitted(Rect const& r, std::string_view text, TextStyle const& style,
                  std::vector<double> const& sizes, std::string id = {});

    // Touch.
    /// Records an element and says whether it was tapped (or, with `hold`, held) in this frame.
    bool target(std::string id, ElementKind kind, Rect const& r, std::string text, bool enabled = true,
                bool hold = false);
    [[nodiscard]] bool pressed_in(Rect const& r) const;
    bool button(std::string const& id, ElementKind kind, Rect const& r, std::string const& label,
                ButtonLook const& look = {});
    /// A picture or another thing that is looked at, not touched.
    void note(std::string id, ElementKind kind, Rect const& r, std::string text);

    /// Whatever is drawn until the matching call lies over the rest, which takes no touches any more.
    void begin_overlay();
    void end_overlay();
    /// Touches are not for what is drawn now (work in progress, or an overlay is to follow).
    void deaf(bool deaf) { m_deaf = deaf; }

    /// While dry nothing is drawn, recorded or touched: what is called only says how high it would be.
    [[nodiscard]] bool dry() const { return m_dry; }
    template <class Draw> double height_of(Draw&& draw)
    {
        bool const before = m_dry;
        m_dry = true;
        double const height = draw();
        m_dry = before;
        return height;
    }

    // Clip and scroll.
    void begin_clip(Rect const& r);
    void end_clip();
    /// Scrolls vertically by drag; returns how far the content is moved up. `key` names the position kept:
    /// a new key starts at the top.
    double begin_scroll(std::string const& key, Rect const& r);
    void end_scroll(double content_height);
    /// The same sideways; `home` is the offset to start from whenever the key is new.
    double begin_scroll_sideways(std::string const& key, Rect const& r, double content_width, double home);
    void end_scroll_sideways();

    /// A small number a screen keeps between frames: shift state, page of the keyboard. Never work.
    double& memory(std::string const& key) { return m_memory[key]; }
    /// The same, forgotten as soon as a frame does not ask for it: how a step was laid out when it opened. 0
    /// at first.
    double& keep(std::string const& key);
    /// Numbers that are dear to measure: made once for a key that names all they were measured from, and again
    /// with other type. Forgotten like the above.
    template <class Make> std::vector<double> const& measured(std::size_t key, Make&& make)
    {
        Measured& kept = m_measured[key];
        if (kept.seen == 0 || kept.bake != m_fonts.bakes()) {
            kept.values = make();
            kept.bake = m_fonts.bakes();
        }
        kept.seen = m_frame;
        return kept.values;
    }

private:
    struct Scroll {
        double offset = 0.0, content = 0.0;
        int seen = 0;
    };
    struct Kept {
        double value = 0.0;
        int seen = 0;
    };
    struct Measured {
        std::vector<double> values;
        int bake = 0, seen = 0;
    };
    struct Wrapped {
        std::string text;
        Face face = Face::regular;
        double size = 0.0, width = 0.0;
        std::vector<std::string> lines;
    };
    struct Region {
        std::string key;
        Rect rect;
    };
    [[nodiscard]] unsigned colour(Ink ink, double alpha = 1.0) const;
    [[nodiscard]] double snap(double mm) const;
    [[nodiscard]] bool hit(Rect const& visible, Point p) const;
    [[nodiscard]] std::vector<std::string> break_lines(std::string_view text, TextStyle const& style,
                                                       double width);
    void scroll_mark(Rect const& r, Scroll const& scroll);
    void fade(Rect const& r, bool from_top);
    void record_text(Rect const& r, std::string_view text, TextStyle const& style, std::string id, bool cut);

    FontSet& m_fonts;
    ImDrawList* m_list = nullptr;
    Theme m_theme;
    double m_width = 0.0, m_height = 0.0, m_scale = 1.0;
    FrameInput m_input;
    std::vector<Element> m_elements;
    std::vector<Rect> m_clips;
    std::vector<Region> m_regions;
    std::map<std::string, Scroll> m_scrolls;
    std::map<std::string, double> m_memory;
    std::map<std::string, Kept> m_kept;
    std::unordered_map<std::size_t, Measured> m_measured;
    std::unordered_map<std::size_t, Wrapped> m_wrapped;
    int m_bake = 0; ///< of the type the wrapped lines were measured with
    Ink m_ground = Ink::paper;
    bool m_veiled = false;
    int m_frame = 0, m_layer = 0;
    bool m_deaf = false, m_cut = false, m_dry = false, m_wants_frame = false, m_pan_moved = false;
};

} // namespace isochore::screens
